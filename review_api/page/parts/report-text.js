// What the report will say of a finding, read and changed in the same place; and the form that changes a reading.
import { html, useState } from "../html.js";
import { decide } from "../desk.js";
import { wallDate, wallTime } from "../words.js";
import { rulesNamed } from "../rules.js";
import { placeClock } from "../visit.js";
import { FieldForm, FINDING_FIELDS, READING_FIELDS } from "./fields.js";
import { corrections, kindOf, remember, RememberTicks } from "./remember.js";

const absent = html`<span class="absent">not known yet</span>`;
const momentText = (iso) => (iso ? `${wallDate(iso)}, ${wallTime(iso)}` : null);

function Line({ name, label, finding, children }) {
  const was = finding.proposed?.[name];
  const answered = finding.questions.some((question) => question.stands && question.fills === name);
  return html`
    <div><dt>${label}</dt>
      <dd class="break">${children}${answered && html` <span class="note tiny">(from your answer)</span>`}${was !== undefined && html` <span class="note tiny">(proposed: ${was === null || was === "" ? "nothing" : String(was)})</span>`}</dd></div>`;
}

export function FindingText({ finding }) {
  const of = { finding };
  return html`
    <dl class="text">
      <${Line} name="what" label="What" ...${of}>${finding.what}<//>
      ${(finding.item || finding.proposed?.item) && html`<${Line} name="item" label="Food or object" ...${of}>${finding.item ?? absent}<//>`}
      <${Line} name="where" label="Where" ...${of}>${finding.where ?? absent}<//>
      <${Line} name="when" label="When" ...${of}>${momentText(finding.when) ?? absent}<//>
      <${Line} name="who" label="Who" ...${of}>${finding.who ?? absent}<//>
      <${Line} name="why" label="Why" ...${of}>${finding.why || absent}<//>
      <${Line} name=${finding.corrected_on_site ? "correction" : "corrected_on_site"} label="Corrected on site" ...${of}>${finding.corrected_on_site ? `Yes${finding.correction ? `: ${finding.correction}` : ""}` : "No"}<//>
      ${!finding.corrected_on_site && html`
        <${Line} name="correction" label="Correction" ...${of}>${finding.correction ?? finding.usual_correction ?? absent}<//>
        <${Line} name="correct_by" label="Correct by" ...${of}>${momentText(finding.correct_by) ?? absent}<//>`}
      ${finding.repeat && html`<div><dt>Repeat</dt><dd>Cited in an earlier report</dd></div>`}
    </dl>`;
}

/** What a decision sends of the numbers chosen for a subject, beside what else it changes. */
export function choiceOf(subject, chosen, changes = {}) {
  if (!subject.doubted) return {};
  if (subject.kind === "finding") return { choices: chosen };
  return chosen[subject.id] === undefined || "value" in changes ? {} : { choice: chosen[subject.id] };
}

/** The same lines as a form. `chosen`: the doubted numbers chosen so far, by reading; `lacking`: one is not. */
export function EditSubject({ subject, desk, onDone, first, chosen, lacking }) {
  const [kept, setKept] = useState({});
  const { of } = subject;
  const isReading = subject.kind === "reading";
  const provisions = rulesNamed(desk.rules).provisions;
  const save = (changes, { settled, ...more }) => {
    const after = (outcome, message) => {
      if (outcome === "saved" || outcome === "waits") {
        for (const { name, heard, meant } of corrections(of, { ...of, ...changes })) if (kept[name]) remember(heard, meant, kindOf(name));
      }
      return settled(outcome, message);
    };
    decide(subject, "edit", { changes, ...choiceOf(subject, chosen, changes) }, { ...more, settled: after });
  };
  // The service takes no decision over a number in doubt without being told which it is.
  const check = (changes) => (lacking && !(isReading && "value" in changes) ? "First choose above which number was said; then save." : null);
  return html`
    <${FieldForm} fields=${isReading ? READING_FIELDS : FINDING_FIELDS} from=${of} clock=${placeClock(desk)} provisions=${provisions} first=${first}
      standing=${of.decision.state === "rejected"} saves="Save and go on" check=${check} onSave=${save} onDone=${onDone}>
      ${(values) => html`<${RememberTicks} from=${of} values=${values} chosen=${kept} setChosen=${setKept} />`}
    <//>`;
}
