// Open questions in plain words, answered by choice or text; the answer goes into the finding at once.
import { html, useState } from "../html.js";
import { change } from "../desk.js";
import { useDraft } from "../draft.js";
import { unsaved } from "../saving.js";
import { FINDING_FIELDS } from "./fields.js";
import { Icon } from "./shapes.js";

export function answer(question, text, more = {}) {
  change("PUT", `questions/${encodeURIComponent(question.id)}`, { answer: text }, { subject: question.id, says: text ? `Answered: ${question.text}` : "Answer taken back", ...more });
}

const partNamed = (name) => FINDING_FIELDS.find((field) => field.name === name).label;

/** Where the answer went, so that nobody has to look for it. */
function Went({ question }) {
  if (!question.finding || question.stands === undefined) return null;
  if (question.stands) return html`<span class="note tiny">stands in “${partNamed(question.fills)}”</span>`;
  if (question.fills) return html`<span class="note tiny">your later words in “${partNamed(question.fills)}” took its place</span>`;
  return html`<span class="note tiny">printed beside its question</span>`;
}

/** `keys`: the choices can be given by number, and show it. */
export function Ask({ question, first = false, keys = false, onDone }) {
  const [again, setAgain] = useState(false);
  const draft = useDraft({ text: question.answer ?? "" });
  const { text } = draft.values;
  const waits = unsaved.value.has(question.id);
  const id = `answer-${question.id}`;
  if (question.answer && !again) {
    return html`
      <div class="ask answered">
        <p>${question.text}</p>
        <div class="row"><${Icon} name="check" /> <b class="break">${question.answer}</b> <${Went} question=${question} />
          <button type="button" class="bare" onClick=${() => setAgain(true)}>Change</button></div>
      </div>`;
  }
  const give = (given) => {
    draft.set({ text: given });
    answer(question, given, { ...draft.over(), settled: draft.settle({ text: given }) });
    setAgain(false);
    onDone?.();
  };
  const submit = (event) => {
    event.preventDefault();
    if (text.trim()) give(text.trim());
  };
  return html`
    <form class="ask" onSubmit=${submit}>
      <label for=${id}>${question.text}</label>
      ${question.choices.length > 0 && html`<div class="row">
        ${question.choices.map((choice, index) => html`<button type="button" class="choice" onClick=${() => give(choice)}>${choice}${keys && html` <kbd>${index + 1}</kbd>`}</button>`)}
      </div>`}
      <div class="row nowrap">
        <input id=${id} data-question=${first ? "first" : undefined} type="text" value=${text} placeholder=${question.choices.length ? "or in your own words" : "Answer"} onInput=${(event) => draft.set({ text: event.target.value })}
               onKeyDown=${(event) => event.key === "Escape" && event.target.blur()} />
        <button type="submit" disabled=${!text.trim() || waits}>${waits ? "Saving…" : "Answer"}</button>
      </div>
    </form>`;
}

export function Questions({ finding }) {
  if (!finding.questions.length && !finding.lacks.length) return null;
  const open = finding.questions.filter((question) => !question.answer);
  // An open question says by itself that its answer is lacking.
  const asked = new Set(finding.questions.map((question) => question.text));
  const lacks = finding.lacks.filter((one) => !asked.has(one));
  return html`
    <section class="block" aria-label="Open questions">
      <h2>${open.length ? `To be answered (${open.length})` : "Answered"} ${open.length > 0 && html`<kbd>Q</kbd>`}</h2>
      ${open.length > 0 && html`<p class="note">The report lacks this until it is answered.</p>`}
      ${lacks.length > 0 && html`<p class="notice unknown"><span><b>The report lacks:</b> ${lacks.join("; ")}.</span></p>`}
      ${finding.questions.map((question) => html`<${Ask} key=${question.id} question=${question} first=${question === open[0]} />`)}
    </section>`;
}
