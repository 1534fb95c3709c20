// A misheard sentence put right: what was heard stays beside it, and the whole visit is understood anew.
import { html, useLayoutEffect, useRef, useState } from "../html.js";
import { change, isSealed } from "../desk.js";
import { useDraft } from "../draft.js";
import { unsaved } from "../saving.js";
import { wallDate, wallTime } from "../words.js";
import { remember } from "./remember.js";
import { Icon } from "./shapes.js";

const FIGURE = /\d|\b(?:zero|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\w+teen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred|thousand)\b/i;

const subjectOf = (said) => `words ${said.index}`;

/** What differs between two sentences, whole words: {heard, meant}, or null when more than a few words differ. */
function changedWords(before, after) {
  const [old, now] = [before.trim().split(/\s+/), after.trim().split(/\s+/)];
  while (old.length && now.length && old[0] === now[0]) [old, now].forEach((list) => list.shift());
  while (old.length && now.length && old.at(-1) === now.at(-1)) [old, now].forEach((list) => list.pop());
  const bare = (list) => list.join(" ").replace(/^[.,;:!?]+|[.,;:!?]+$/g, "");
  const [heard, meant] = [bare(old), bare(now)];
  return heard && meant && old.length <= 4 && now.length <= 4 && heard.length <= 80 && meant.length <= 80 ? { heard, meant } : null;
}

/** The sentence as a field. `word`: the spoken word that was clicked last, to be chosen in it. */
function Form({ said, word, onClose }) {
  const draft = useDraft({ text: said.text });
  const { text } = draft.values;
  const [keep, setKeep] = useState(false);
  const field = useRef(null);
  const id = `words-${said.index}`;
  useLayoutEffect(() => {
    const wanted = said.words[word]?.text.trim();
    const from = wanted ? said.text.indexOf(wanted) : -1;
    field.current.focus();
    if (from >= 0) field.current.setSelectionRange(from, from + wanted.length);
  }, []);
  const differs = changedWords(said.text, text);
  // A figure that was misheard here may be right the next time.
  const lasting = differs && !FIGURE.test(differs.heard) && !FIGURE.test(differs.meant);
  const submit = (event) => {
    event?.preventDefault();
    if (keep && lasting) remember(differs.heard, differs.meant, "word");
    if (text.trim() && draft.touched().length) change("PUT", `utterances/${said.index}`, { text: text.trim() }, { subject: subjectOf(said), says: "Sentence corrected", ...draft.over() });
    onClose();
  };
  const keyed = (event) => {
    event.stopPropagation();
    if (event.key === "Escape") onClose();
    else if (event.key === "Enter" && !event.shiftKey) {
      event.preventDefault();
      if (!event.repeat) submit();
    }
  };
  return html`
    <form class="stack correcting" onSubmit=${submit}>
      <div class="field"><label for=${id}>What was really said</label>
        <textarea id=${id} ref=${field} rows="3" maxlength="10000" value=${text} onInput=${(event) => draft.set({ text: event.target.value })} onKeyDown=${keyed}></textarea></div>
      ${lasting && html`<label class="tick"><input type="checkbox" checked=${keep} onChange=${(event) => setKeep(event.target.checked)} />
        <span>Next time, understand “${differs.heard}” as “${differs.meant}”</span></label>`}
      <div class="row"><button type="submit" class="main" disabled=${!text.trim()}>Correct it <kbd>Enter</kbd></button>
        <button type="button" class="bare" onClick=${onClose}>Leave it <kbd>Esc</kbd></button></div>
    </form>`;
}

/** The button under a sentence, and what it leads to. */
export function CorrectWords({ desk, said, word = -1 }) {
  const [open, setOpen] = useState(false);
  if (!said.recording || isSealed(desk)) return null;
  if (open) return html`<${Form} said=${said} word=${word} onClose=${() => setOpen(false)} />`;
  if (unsaved.value.has(subjectOf(said))) return html`<p class="note tiny"><${Icon} name="wait" /> Not saved yet: ${unsaved.value.get(subjectOf(said)).body.text}</p>`;
  const back = () => change("PUT", `utterances/${said.index}`, { text: "" }, { subject: subjectOf(said), says: "As it was heard" });
  return html`
    <button type="button" class="bare" onClick=${() => setOpen(true)}><${Icon} name="pen" /> Misheard?</button>
    ${said.corrected && html`<button type="button" class="bare" onClick=${back}><${Icon} name="undo" /> As it was heard</button>`}`;
}

/** What was heard, where the words are other ones now, and whose they are. */
export function AsHeard({ said }) {
  if (!said.heard || said.heard === said.text) return null;
  const by = said.corrected ? ` · corrected by ${said.corrected.who}, ${wallDate(said.corrected.at, { weekday: false })}, ${wallTime(said.corrected.at)}` : "";
  return html`<p class="note tiny">Heard as “${said.heard}”${by}</p>`;
}
