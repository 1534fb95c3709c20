// Ready or not: what is missing, the facts of the visit, what was discussed, and the draft itself.
import { html, useState } from "../html.js";
import { paths, send } from "../api.js";
import { change, desk as deskNow, isSealed, newestReport, readDesk, said } from "../desk.js";
import { useKeys } from "../keys.js";
import { allSaved, unsaved, waiting } from "../saving.js";
import { address } from "../route.js";
import { placeClock } from "../visit.js";
import { count, wallDate, wallTime } from "../words.js";
import { FieldForm } from "../parts/fields.js";
import { Lines } from "../parts/lines.js";
import { Ask } from "../parts/questions.js";
import { SealedReport } from "../parts/sealed.js";
import { Icon } from "../parts/shapes.js";

const FACTS = [
  { name: "establishment", label: "Establishment", type: "line" },
  { name: "address", label: "Address", type: "line" },
  { name: "permit", label: "Permit", type: "line" },
  { name: "risk_category", label: "Risk category", type: "number", limits: { min: 1, max: 5, step: 1 } },
  { name: "person_in_charge", label: "Person in charge", type: "line" },
  { name: "inspector", label: "Inspector", type: "line" },
  { name: "purpose", label: "Purpose of the visit", type: "line" },
  { name: "time_in", label: "Time in", type: "moment" },
  { name: "time_out", label: "Time out", type: "moment" },
  { name: "revisit", label: "Revisit", type: "moment" },
];
const GROUPS = { undecided: "Undecided proposals", question: "Open questions", mark: "Unmarked items", stretch: "Voice not understood", fact: "Facts of the visit", photo: "Photos", gap: "What the report would lack or contradict" };

/** Where a missing thing is mended. */
function placeOf(desk, missing) {
  if (missing.code === "mark") return address(desk.id, "sheet", missing.subject);
  if (missing.code === "stretch") return address(desk.id, "words");
  if (missing.code === "photo") return address(desk.id, "photos", missing.subject);
  if (missing.code === "fact") return null;
  if (missing.code === "question") {
    const question = desk.questions.find((one) => one.id === missing.subject);
    return address(desk.id, "desk", question?.finding ?? missing.subject);
  }
  if (missing.code === "gap" && missing.subject === "visit") return null;
  if (missing.code === "gap" && /^\d+$/.test(missing.subject)) return address(desk.id, "sheet", missing.subject);
  return address(desk.id, "desk", missing.subject);
}

/** The open questions in one place, under what they belong to, to be answered here. */
function Gathered({ desk, list }) {
  const open = list.map((one) => desk.questions.find((question) => question.id === one.subject)).filter(Boolean);
  const owners = [...new Set(open.map((question) => question.finding))];
  return html`
    <div class="stack">${owners.map((id) => {
      const finding = desk.findings.find((one) => one.id === id);
      return html`<section class="stack tight" key=${id}>
        ${finding && html`<p><a href=${address(desk.id, "desk", id)}>${finding.what}</a></p>`}
        ${open.filter((question) => question.finding === id).map((question) => html`<${Ask} key=${question.id} question=${question} />`)}</section>`;
    })}</div>`;
}

function Missing({ desk }) {
  if (!desk.missing.length) return html`<p class="notice within"><span><${Icon} name="check" /> Nothing is missing.</span></p>`;
  const groups = Object.keys(GROUPS).map((code) => [code, desk.missing.filter((one) => one.code === code)]).filter(([, list]) => list.length);
  return html`
    <div class="missing">
      ${groups.map(([code, list]) => html`
        <details class="card" open=${list.length <= 6}>
          <summary><b>${GROUPS[code]}</b> <span class="tag">${list.length}</span></summary>
          ${code === "question" ? html`<${Gathered} desk=${desk} list=${list} />` : html`<ul class="stack tight">${list.map((one) => {
            const to = placeOf(desk, one);
            return html`<li class="break">${to ? html`<a href=${to}>${one.text}</a>` : one.text}</li>`;
          })}</ul>`}
        </details>`)}
    </div>`;
}

function Facts({ desk }) {
  const [editing, setEditing] = useState(false);
  const { facts } = desk;
  const save = (changes, more) => change("PUT", "facts", changes, { subject: "facts", says: "Facts of the visit changed", ...more });
  if (editing) return html`<${FieldForm} fields=${FACTS} from=${facts} clock=${placeClock(desk)} saves="Save" onSave=${save} onDone=${() => setEditing(false)} />`;
  return html`
    <dl class="text">${FACTS.map(({ name, label, type }) => html`<div><dt>${label}</dt><dd class="break">${type === "moment" && facts[name] ? `${wallDate(facts[name])}, ${wallTime(facts[name])}` : facts[name] ?? html`<span class="absent">not known yet</span>`}</dd></div>`)}</dl>
    <div><button type="button" onClick=${() => setEditing(true)}><${Icon} name="pen" /> ${unsaved.value.has("facts") ? "Saving…" : "Change"}</button></div>`;
}

/** Makes a draft from what is decided now, once everything on its way is saved. */
function useDrafting(desk) {
  const [state, setState] = useState(null);
  const draft = async () => {
    setState({ busy: true });
    try {
      await allSaved();
      await readDesk(desk.id);
      await send("POST", `/api/inspections/${desk.id}/report`, { revision: deskNow.peek().revision });
      setState(null);
      said.value = "The draft report is made.";
      await readDesk(desk.id);
    } catch (error) {
      setState({ message: error.message });
    }
  };
  return [state, draft];
}

export function ReportView({ desk }) {
  const [drafting, draft] = useDrafting(desk);
  const ready = !drafting?.busy;
  useKeys("The report", [{ key: "d", does: "write the draft report", run: draft, when: () => ready && !isSealed(desk) }]);
  const { report: newest, fresh } = newestReport(desk);
  const cited = desk.findings.filter((finding) => finding.by_hand ? finding.decision.state !== "rejected" : ["confirmed", "edited"].includes(finding.decision.state)).length;
  if (isSealed(desk)) return html`<div class="page stack loose"><h1 tabindex="-1">Report ${desk.number}</h1><${SealedReport} desk=${desk} /></div>`;
  return html`
    <div class="page stack loose">
      <h1 tabindex="-1">Report</h1>
      <section class="stack"><h2>${desk.missing.length ? `Still missing (${desk.missing.length})` : "Ready"}</h2><${Missing} desk=${desk} /></section>
      <div class="halves">
        <section class="stack card"><h2>The visit</h2><${Facts} desk=${desk} /></section>
        <section class="stack card"><h2>Talked over</h2>
          <${Lines} name="education" label="Discussed as education" note="One line each." lines=${desk.education} />
          <${Lines} name="remarks" label="What the operator said" note="As it was said, one line each." lines=${desk.remarks} />
        </section>
      </div>
      <section class="stack card">
        <h2>Draft</h2>
        <p>It holds what you decided and typed, nothing else: ${count(cited, "violation")} cited.</p>
        <div class="row">
          <button type="button" class="main" onClick=${draft} disabled=${!ready}>${drafting?.busy ? (waiting.value.length ? "Saving first…" : "Writing…") : newest ? "Write the draft again" : "Write the draft report"} <kbd>D</kbd></button>
          ${newest && html`
            <a class="button" href=${paths.report(desk.id, "pdf")} target="_blank" rel="noopener">PDF</a>
            <a class="button" href=${paths.report(desk.id, "html")} target="_blank" rel="noopener">HTML</a>
            <a class="button" href=${paths.report(desk.id, "json")} target="_blank" rel="noopener">JSON</a>
            <a class="button" href=${`${paths.inspection(desk.id)}/courtesy.pdf?language=es`} target="_blank" rel="noopener">Courtesy copy in Spanish</a>`}
        </div>
        <div><a class="button" href=${address(desk.id, "sign")}><${Icon} name="pen" /> Go over it with the operator, sign and seal</a></div>
        ${drafting?.message && html`<p class="notice over" role="alert">${drafting.message}</p>`}
        ${newest && !fresh && html`<p class="notice near"><span><${Icon} name="warn" /> Something was changed since this draft was written. Write it again.</span></p>`}
        ${newest && html`<iframe class="preview" title="The draft report" src=${`${paths.report(desk.id, "html")}?report=${newest.id}`}></iframe>`}
      </section>
    </div>`;
}
