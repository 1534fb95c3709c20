// What follows the seal: the documents, whether they still hold, handing over, changing in the open.
import { html, useEffect, useState } from "../html.js";
import { get, paths, send } from "../api.js";
import { readDesk, said } from "../desk.js";
import { wallDate, wallTime } from "../words.js";
import { Icon } from "./shapes.js";

const WAYS = ["in person", "printed", "file", "e-mail", "mail"];
const when = (iso) => `${wallDate(iso, { weekday: false })}, ${wallTime(iso)}`;

/** Sends a form's body and reads the inspection again; [{busy, message}, submit]. */
function useSending(desk, path, done) {
  const [state, setState] = useState({});
  const submit = async (json) => {
    setState({ busy: true });
    try {
      const answer = await send("POST", `${paths.inspection(desk.id)}/${path}`, json);
      await readDesk(desk.id);
      setState({});
      done(answer);
    } catch (error) {
      setState({ message: error.message });
    }
  };
  return [state, submit];
}

function Whole({ desk }) {
  const [seal, setSeal] = useState(null);
  useEffect(() => {
    get(`${paths.inspection(desk.id)}/seal`).then(setSeal, (error) => setSeal({ message: error.message }));
  }, [desk.revision]);
  if (!seal) return html`<p class="note" role="status">Checking the seal…</p>`;
  if (seal.message) return html`<p class="notice over" role="alert">${seal.message}</p>`;
  if (seal.whole) return html`<p class="notice within" role="status"><span><${Icon} name="check" /> The seal is whole: file, log and database agree.</span></p>`;
  return html`<div class="notice over" role="alert"><p><${Icon} name="warn" /> <b>The seal does not hold.</b></p><ul class="stack tight">${seal.disagreements.map((one) => html`<li class="break">${one}</li>`)}</ul></div>`;
}

function HandOver({ desk, report }) {
  const [how, setHow] = useState(WAYS[0]);
  const [toWhom, setToWhom] = useState(desk.facts.person_in_charge ?? "");
  const [state, submit] = useSending(desk, "hand-overs", () => {
    said.value = "Taken down that it was handed over.";
  });
  return html`
    <section class="stack card"><h2>Handed over</h2>
      ${desk.hand_overs.length === 0 && html`<p class="state near wrap"><${Icon} name="wait" /> Not yet: due by the end of the visit's day, at the latest the next business day</p>`}
      <ul class="stack tight">${desk.hand_overs.map((one) => html`<li><b>${when(one.at)}</b> ${one.how}, to ${one.to_whom} ${one.note && html`<span class="note">${one.note}</span>`}</li>`)}</ul>
      <form class="fields" onSubmit=${(event) => { event.preventDefault(); submit({ how, to_whom: toWhom.trim() }); }}>
        <div class="field"><label for="how">How</label><select id="how" value=${how} onChange=${(event) => setHow(event.target.value)}>${WAYS.map((way) => html`<option>${way}</option>`)}</select></div>
        <div class="field"><label for="to-whom">To whom</label><input id="to-whom" type="text" required maxlength="200" value=${toWhom} onInput=${(event) => setToWhom(event.target.value)} /></div>
        ${state.message && html`<p class="notice over" role="alert">${state.message}</p>`}
        <div class="row actions"><button type="submit" disabled=${state.busy}>${state.busy ? "Saving…" : "Take down the hand-over"}</button></div>
      </form>
      <${Mail} desk=${desk} report=${report} /></section>`;
}

/** The sealed document as an unsent message, to be opened by the person's own mail program. */
function Mail({ desk, report }) {
  const [to, setTo] = useState("");
  const [courtesy, setCourtesy] = useState(false);
  const asked = new URLSearchParams({ to: to.trim(), report: String(report.id), ...(courtesy ? { courtesy: "es" } : {}) });
  const ready = /^\S+@\S+$/.test(to.trim());
  return html`
    <div class="stack"><h3>By e-mail</h3>
      <p class="note">Makes a message with the sealed PDF in it. Open it with your own mail program, look at it and send it.</p>
      <div class="field"><label for="mail-to">To</label><input id="mail-to" type="email" autocomplete="off" value=${to} onInput=${(event) => setTo(event.target.value)} /></div>
      <label class="tick"><input type="checkbox" checked=${courtesy} onChange=${(event) => setCourtesy(event.target.checked)} /> with the courtesy copy in Spanish</label>
      <div>${ready ? html`<a class="button" href=${`${paths.inspection(desk.id)}/mail.eml?${asked}`}>Make the message</a>` : html`<button type="button" disabled>Make the message</button> <span class="note">after the address</span>`}</div></div>`;
}

const EMPTY = { where: "", was: "", now: "", why: "", approved_by: "", operator_told_who: "", operator_told_how: "" };
const FIELDS = [
  ["where", "Which place in the report", "line"], ["was", "What it says", "text"], ["now", "What it shall say", "text"], ["why", "Why", "text"],
  ["approved_by", "Approved by", "line"], ["operator_told_who", "Operator who was told", "line"], ["operator_told_how", "Told how", "line"],
];

function Amend({ desk }) {
  const [open, setOpen] = useState(false);
  const [form, setForm] = useState({ ...EMPTY, operator_told_who: desk.facts.person_in_charge ?? "" });
  const [state, submit] = useSending(desk, "amendments", (answer) => {
    said.value = `The amendment ${answer.number} is sealed.`;
    setOpen(false);
    setForm(EMPTY);
  });
  const amend = (event) => {
    event.preventDefault();
    const now = new Date().toISOString();
    const { where, was, now: shall, ...rest } = form;
    submit({
      revision: desk.revision, changes: [{ where, was, now: shall }], ...rest, approved: now, operator_told: now,
      inspector_signature: { name: desk.facts.inspector || "the inspector", role: "inspector" },
    });
  };
  return html`
    <section class="stack card"><h2>Change it in the open</h2>
      <p class="note">An amendment is a document of its own: it names what it changes, and is sealed likewise. The sealed report stays as it is.</p>
      ${!open && html`<div><button type="button" onClick=${() => setOpen(true)}><${Icon} name="pen" /> Write an amendment</button></div>`}
      ${open && html`<form class="fields" onSubmit=${amend}>
        ${FIELDS.map(([name, label, type]) => {
          const common = { id: `amend-${name}`, required: true, value: form[name], onInput: (event) => setForm({ ...form, [name]: event.target.value }) };
          return html`<div class=${`field ${type}`}><label for=${common.id}>${label}</label>${type === "text" ? html`<textarea rows="2" ...${common}></textarea>` : html`<input type="text" maxlength="200" ...${common} />`}</div>`;
        })}
        ${state.message && html`<p class="notice over" role="alert">${state.message}</p>`}
        <div class="row actions"><button type="submit" class="main" disabled=${state.busy}>${state.busy ? "Sealing…" : "Seal the amendment"}</button>
          <button type="button" onClick=${() => setOpen(false)}>Leave it</button></div></form>`}
    </section>`;
}

export function SealedReport({ desk }) {
  const documents = desk.reports.filter((report) => report.kind !== "draft");
  const newest = documents.at(-1);
  const file = (report, format) => `${paths.report(desk.id, format)}?report=${report.id}`;
  return html`
    <section class="stack card"><h2>Sealed</h2>
      <${Whole} desk=${desk} />
      <ul class="stack">${documents.map((report) => html`
        <li class="stack tight"><p><b>${report.kind === "amendment" ? "Amendment" : "Report"}</b> sealed ${when(report.made)}</p>
          <div class="row"><a class="button" href=${file(report, "pdf")} target="_blank" rel="noopener">PDF</a>
            <a class="button" href=${file(report, "html")} target="_blank" rel="noopener">HTML</a><a class="button" href=${file(report, "json")} target="_blank" rel="noopener">JSON</a></div>
          <p class="note tiny break">SHA-256 ${report.sha256}</p></li>`)}</ul>
      <p class="row"><a href=${`${paths.inspection(desk.id)}/log`}>The log of all that was done</a> <a href="/api/certificate.pem">The department's certificate</a>
        <a href=${`${paths.inspection(desk.id)}/courtesy.pdf?language=es`} target="_blank" rel="noopener">Courtesy copy in Spanish</a></p>
    </section>
    <div class="halves"><${HandOver} desk=${desk} report=${newest} /><${Amend} desk=${desk} /></div>
    ${newest && html`<iframe class="preview" title="The sealed report" src=${file(newest, "html")}></iframe>`}`;
}
