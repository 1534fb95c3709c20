// The same thing was changed in two places: both are shown, the person chooses.
import { html } from "../html.js";
import { conflict, refused, settle } from "../saving.js";
import { Dialog } from "./dialog.js";
import { sentenceCase } from "../words.js";

const HIDDEN = ["revision", "at", "id", "key", "proposal_changed"];

/** What the person wanted, without what only goes along with it. */
const yours = ({ body, own, says }) => (body ? Object.fromEntries(Object.entries(body).filter(([name]) => !own || own.includes(name))) : { change: says });

function plain(value) {
  if (value === null || value === undefined || value === "") return "nothing";
  if (value === true) return "yes";
  if (value === false) return "no";
  if (Array.isArray(value)) return value.length ? value.map(plain).join(", ") : "none";
  if (typeof value === "object") return Object.entries(value).map(([name, part]) => `${name.replaceAll("_", " ")}: ${plain(part)}`).join("; ") || "none";
  return String(value);
}

function Side({ title, values }) {
  return html`
    <section class="card stack"><h3>${title}</h3>
      <dl class="text">${Object.entries(values ?? {}).filter(([name, value]) => !HIDDEN.includes(name) && value !== null && plain(value) !== "none").map(([name, value]) => html`<div><dt>${sentenceCase(name.replaceAll("_", " "))}</dt><dd class="break">${plain(value)}</dd></div>`)}</dl>
    </section>`;
}

export function Conflict() {
  if (!conflict.value) return null;
  const { change, current } = conflict.value;
  const saved = current?.decision ?? current ?? {};
  return html`
    <${Dialog} title="Changed in two places" onClose=${() => settle("theirs")}>
      <p>While you looked at this, it was changed elsewhere: another tab, or another person. Nothing of yours was saved over it. <b>${change.says}</b></p>
      <div class="sides">
        <${Side} title="Saved now" values=${saved} />
        <${Side} title="Yours, not saved" values=${yours(change)} />
      </div>
      <div class="actions">
        <button type="button" autofocus onClick=${() => settle("theirs")}>Keep what is saved</button>
        <button type="button" class="main" onClick=${() => settle("mine")}>Save mine over it</button>
      </div>
    <//>`;
}

export function Refused() {
  if (!refused.value) return null;
  const close = () => {
    refused.value = null;
  };
  return html`
    <${Dialog} title="Not saved" onClose=${close}>
      <p>${refused.value.message}</p>
      <p class="note">It was: ${refused.value.change.says}.</p>
      ${Object.keys(refused.value.change.body ?? {}).length > 0 && html`<${Side} title="Yours, not saved" values=${yours(refused.value.change)} />`}
      <div class="actions"><button type="button" class="main" autofocus onClick=${close}>Go on</button></div>
    <//>`;
}
