// What follows the seal: the documents, whether they still hold, handing over, changing in the open.
import { html, useEffect, useState } from "../html.js";
import { get, paths } from "../api.js";
import { said } from "../desk.js";
import { wallDate, wallTime } from "../words.js";
import { Amend } from "./amend.js";
import { useSending } from "./sending.js";
import { Icon } from "./shapes.js";

const WAYS = ["in person", "printed", "file", "e-mail", "mail"];
const when = (iso) => `${wallDate(iso, { weekday: false })}, ${wallTime(iso)}`;

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
