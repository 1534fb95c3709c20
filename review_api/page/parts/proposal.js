// One proposal in full, and the row of things to do with it.
import { html, useLayoutEffect, useRef, useState } from "../html.js";
import { decide, isSealed, openAfter, openSubjects, said, stateOf, subjects, titleOf } from "../desk.js";
import { useKeys } from "../keys.js";
import { again, loaded, play, playing, stretch as asked, toggle } from "../player.js";
import { address } from "../route.js";
import { stretchOf } from "../subjects.js";
import { className, wallTime } from "../words.js";
import { ChooseClass } from "./choose-class.js";
import { ChooseNumber, choicesOf } from "./choose-number.js";
import { Figures } from "./figures.js";
import { Heard } from "./heard.js";
import { Measured } from "./measured.js";
import { Others } from "./others.js";
import { attach, candidates, PhotoStrip } from "./photo-strip.js";
import { goTo } from "./proposal-list.js";
import { answer, Ask, Questions } from "./questions.js";
import { RejectPanel } from "./reject.js";
import { choiceOf, EditSubject, FindingText } from "./report-text.js";
import { Decision, Icon } from "./shapes.js";

function Head({ desk, subject }) {
  const { of } = subject;
  const place = subjects.value.findIndex((other) => other.id === subject.id) + 1;
  const state = stateOf(subject);
  return html`
    <header class="proposal-head">
      <p class="note tiny">${subject.kind === "finding" ? "Finding" : subject.kind === "reading" ? "Reading" : "Question"} ${place} of ${subjects.value.length}${of.where || of.place ? ` · ${of.where ?? of.place}` : ""}${of.at || of.when ? ` · ${wallTime(of.at ?? of.when)}` : ""}</p>
      <h1 tabindex="-1" class="break">${titleOf(subject)}</h1>
      ${subject.kind === "finding" && html`
        <p class="row section-line"><span class=${`tag ${of.class}`}>${className(of.class)} (${of.class})</span> <b>${of.provision}</b> <span>${of.title}</span>
          ${of.form_item && html`<a class="note" href=${address(desk.id, "sheet", String(of.form_item))}>item ${of.form_item}</a>`}
          ${of.corrected_on_site && html`<span class="tag">Corrected on site</span>`}${of.repeat && html`<span class="tag">Repeat</span>`}</p>`}
      ${state !== "proposed" && html`
        <div class="row decided-line"><${Decision} state=${state} />${of.decision?.reason && html`<span class="break">“${of.decision.reason}”</span>`}
          ${of.decision?.proposal_changed && html`<span class="state near"><${Icon} name="warn" /> the program now reads this differently; your decision stands</span>`}
          ${subject.kind !== "question" && state !== "saving" && !of.by_hand && html`<button type="button" class="bare" onClick=${() => decide(subject, "reopen")}>Open it again</button>`}</div>`}
    </header>`;
}

function QuestionBody({ subject, onFinding, onDone }) {
  const question = subject.of;
  return html`
    <section class="block" aria-label="Answer">
      <${Ask} question=${question} first keys onDone=${onDone} />
      ${question.provisions.length > 0 && !question.answer && html`
        <p><b>If it is a violation, write it under:</b></p>
        <div class="stack tight">${question.provisions.map((section) => html`<button type="button" class="choice" onClick=${() => onFinding(section, question)}><${Icon} name="plus" /> ${section}</button>`)}</div>`}
    </section>`;
}

export function Proposal({ desk, subject, onFinding }) {
  const [mode, setMode] = useState("look");
  const [first, setFirst] = useState(null);
  const [chosen, setChosen] = useState({});
  const pane = useRef(null);
  // Before the next key can come: an E right after a proposal has come up would open a form that closes again.
  useLayoutEffect(() => {
    setMode("look");
    setChosen({});
    pane.current?.scrollTo?.(0, 0);
  }, [subject.id]);

  // Leaving a form takes the focused field away: the focus goes to the heading instead of nowhere.
  const before = useRef(mode);
  useLayoutEffect(() => {
    if (mode === "look" && before.current !== "look" && document.activeElement === document.body) pane.current.querySelector("h1").focus();
    before.current = mode;
  }, [mode]);

  const sound = stretchOf(desk, subject);
  const lacking = subject.doubted ? subject.readings.filter((reading) => reading.choices.length && chosen[reading.id] === undefined) : [];
  const decided = stateOf(subject) !== "proposed" || isSealed(desk);
  const next = () => {
    const to = openAfter(subject.id);
    if (to) goTo(desk, to.id);
    else if (!openSubjects.peek().length) said.value = "All decided.";
  };
  const listen = () => {
    if (!sound) return;
    const same = loaded.peek() === sound.recording && asked.peek()?.start === sound.start && asked.peek()?.end === sound.end;
    if (same && playing.peek()) toggle();
    else play(sound.recording, sound.start, sound.end);
  };
  const lacksNumber = () => {
    if (!lacking.length) return false;
    said.value = "First choose which number was said.";
    document.querySelector(".choose button.number")?.focus();
    return true;
  };
  const confirm = () => {
    if (decided) {
      next();
      return;
    }
    if (subject.kind === "question") {
      document.querySelector("[data-question=first]")?.focus();
      said.value = "A question is answered, not confirmed.";
      return;
    }
    if (lacksNumber()) return;
    decide(subject, "confirm", choiceOf(subject, chosen));
    next();
  };
  const edit = (field = null) => {
    if (subject.kind === "question" || isSealed(desk)) return;
    setFirst(field);
    setMode("edit");
  };
  const choose = (id, value) => {
    if (subject.kind === "reading" && mode !== "edit") {
      // A reading is its number: choosing it is the whole decision.
      decide(subject, "confirm", { choice: value });
      next();
      return;
    }
    setChosen((before) => ({ ...before, [id]: value }));
  };
  const take = (changes) => {
    if (lacksNumber()) return false;
    decide(subject, "edit", { changes, ...choiceOf(subject, chosen) });
    return true;
  };
  const nearest = subject.kind === "finding" ? candidates(desk, subject).find((one) => !one.attached) : null;

  useKeys("This proposal", [
    { key: "Enter", does: "confirm and go on", run: confirm, when: () => mode === "look" },
    { key: " ", does: "listen to exactly these seconds", run: listen, when: () => Boolean(sound) },
    { key: "e", does: "edit in place", run: () => edit(), when: () => mode === "look" },
    { key: "x", does: "reject, with a reason", run: () => setMode("reject"), when: () => mode === "look" && subject.kind !== "question" },
    { key: "1-9", does: "choose the number that was said", run: (event) => {
      const choice = choicesOf(subject)[Number(event.key) - 1];
      if (choice) choose(choice.reading.id, choice.value);
    }, when: () => subject.doubted && mode === "look" },
    { key: "1-9", does: "give that answer", run: (event) => {
      const choice = subject.of.choices[Number(event.key) - 1];
      if (!choice) return;
      answer(subject.of, choice);
      next();
    }, when: () => subject.kind === "question" && !decided },
    { key: "q", does: "answer the first open question", run: () => document.querySelector("[data-question=first]")?.focus() },
    { key: "a", does: "attach the nearest photo", run: () => attach(subject.id, nearest.photo.sha256, true), when: () => Boolean(nearest) },
    { key: "g", does: "hear it again", run: again },
  ]);

  const editor = html`<${EditSubject} subject=${subject} desk=${desk} first=${first} chosen=${chosen} lacking=${lacking.length > 0} onDone=${(changed) => { setMode("look"); if (changed) next(); }} />`;
  return html`
    <article class="proposal" ref=${pane} aria-label=${titleOf(subject)}>
      <${Head} desk=${desk} subject=${subject} />
      <${ChooseNumber} subject=${subject} chosen=${chosen} editing=${mode === "edit"} onChoose=${choose} />
      ${subject.kind === "finding" && !isSealed(desk) && html`<${ChooseClass} finding=${subject.of} onChoose=${(one) => take({ class: one })} />`}
      <${Heard} key=${subject.id} desk=${desk} subject=${subject} />
      ${subject.kind === "question" && html`<${QuestionBody} subject=${subject} onFinding=${onFinding} onDone=${next} />`}
      ${subject.readings.length > 0 && html`
        <section class="block" aria-label="Measured">
          <h2>${subject.kind === "reading" ? "Measured" : subject.readings.length > 1 ? "The readings" : "The reading"}</h2>
          ${subject.readings.map((reading) => html`<${Measured} key=${reading.id} reading=${reading} alone=${subject.kind === "reading"} several=${subject.readings.length > 1} desk=${desk} />`)}
          <${Figures} figures=${desk.figures} readings=${subject.readings} />
          ${subject.kind === "reading" && mode === "edit" && editor}
        </section>`}
      ${subject.kind === "finding" && html`
        <section class="block" aria-label="The report will say">
          <div class="row spread"><h2>The report will say</h2>
            ${mode !== "edit" && !isSealed(desk) && html`<button type="button" class="bare" onClick=${() => edit()}><${Icon} name="pen" /> Edit</button>`}</div>
          ${mode === "edit" ? editor : html`<${FindingText} finding=${subject.of} />`}
        </section>
        <${Questions} finding=${subject.of} />
        <${PhotoStrip} desk=${desk} subject=${subject} />
        <${Others} desk=${desk} subject=${subject} lacking=${lacking.length > 0} onTake=${(section) => take({ provision: section }) && next()} />`}
      ${mode === "reject"
        ? html`<div class="doing"><${RejectPanel} onCancel=${() => setMode("look")} onReject=${(reason) => { decide(subject, "reject", { reason }); setMode("look"); next(); }} /></div>`
        : mode === "look" && !isSealed(desk) && html`
        <div class="doing" role="group" aria-label="Decide">
          ${subject.kind !== "question" && html`
            <button type="button" class="main confirm" onClick=${confirm} aria-describedby=${lacking.length ? "needs-choice" : undefined}>
              <${Icon} name=${decided ? "next" : "check"} size=${20} /> ${decided ? "Next to decide" : "Confirm"} <kbd>Enter</kbd></button>
            <button type="button" onClick=${() => edit()}><${Icon} name="pen" /> Edit <kbd>E</kbd></button>
            <button type="button" onClick=${() => setMode("reject")}><${Icon} name="cross" /> Reject <kbd>X</kbd></button>`}
          ${subject.kind === "question" && html`<button type="button" onClick=${next}><${Icon} name="next" /> Next to decide <kbd>Enter</kbd></button>`}
          ${sound && html`<button type="button" class="ear" onClick=${listen}><${Icon} name=${playing.value ? "pause" : "play"} /> <span>${playing.value ? "Pause" : "Listen"}</span> <kbd>Space</kbd></button>`}
          ${lacking.length > 0 && html`<p id="needs-choice" class="note grow">Choose the number first.</p>`}
        </div>`}
    </article>`;
}
