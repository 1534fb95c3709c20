// What frames every view: where you are, whether all is saved, the theme, the keys.
import { html, useState } from "../html.js";
import { canRedo, canUndo, desk, isSealed, openSubjects, redo, said, undo } from "../desk.js";
import { offered, useKeys } from "../keys.js";
import { unmarkedOf } from "../marks.js";
import { saving, tryNow, waiting } from "../saving.js";
import { address, route } from "../route.js";
import { count, wallDate } from "../words.js";
import { Conflict, Refused } from "./conflict.js";
import { Help } from "./help.js";
import { Icon } from "./shapes.js";

const TABS = [["desk", "Proposals"], ["words", "Words"], ["photos", "Photos"], ["sheet", "Check sheet"], ["report", "Report"]];

function Saved() {
  const number = waiting.value.length;
  const shown = {
    saved: html`<span class="state plain"><${Icon} name="check" /> Saved</span>`,
    saving: html`<span class="state plain"><${Icon} name="wait" /> Saving…</span>`,
    conflict: html`<span class="state near"><${Icon} name="warn" /> Not saved: changed elsewhere</span>`,
    stopped: html`<span class="state over"><${Icon} name="warn" /> Not saved: ${count(number, "change")}</span>`,
  };
  return html`<p class="saved" role="status">${shown[saving.value]}</p>`;
}

function Stopped() {
  if (saving.value !== "stopped") return null;
  return html`
    <div class="notice over stopped" role="alert">
      <p><b>The service does not answer.</b> ${count(waiting.value.length, "change")} of yours ${waiting.value.length === 1 ? "waits" : "wait"} in this page and ${waiting.value.length === 1 ? "is" : "are"} not saved yet; it is tried again by itself. Start the service with “probeside serve”, and keep this page open.</p>
      <div><button type="button" onClick=${tryNow}>Try now</button></div>
    </div>`;
}

function Tabs({ open, view }) {
  const waits = isSealed(open) ? {} : { desk: openSubjects.value.length, sheet: unmarkedOf(open.marks).length };
  return html`
    <nav class="tabs" aria-label="Views of this visit">
      ${TABS.map(([name, word]) => html`
        <a href=${address(open.id, name)} aria-current=${view === name ? "page" : undefined}>${word}${waits[name] > 0 && html` <span class="tag">${waits[name]}<span class="only-heard"> ${name === "desk" ? "to decide" : "not marked"}</span></span>`}</a>`)}
    </nav>`;
}

export function Shell({ children }) {
  const [help, setHelp] = useState(null);
  const { inspection, view } = route.value;
  const open = inspection ? desk.value : null;
  const showHelp = () => setHelp([...offered.peek()]);
  useKeys("Everywhere", [
    { key: "u", does: "take the last change back", run: undo, when: () => Boolean(desk.peek()) },
    { key: "z", typed: true, does: "take the last change back", run: undo, when: () => Boolean(desk.peek()) },
    { key: "y", does: "do again what was taken back", run: redo, when: () => Boolean(desk.peek()) },
    { key: "y", typed: true, does: "do again what was taken back", run: redo, when: () => Boolean(desk.peek()) },
    { key: "z", typed: true, shift: true, does: "do again what was taken back", run: redo, when: () => Boolean(desk.peek()) },
    { key: "?", does: "show these keys, and choose light or dark", run: showHelp },
  ]);
  const when = open?.facts.time_in ?? open?.recordings[0]?.started ?? open?.photos[0]?.taken;
  return html`
    <header class="shell">
      <a class="home" href="#/"><img src="icon.svg" alt="" width="28" height="28" /> <span>Probeside</span></a>
      ${open && html`<p class="visit-name"><b class="break">${open.facts.establishment ?? open.number}</b> <span class="note">${wallDate(when)}</span></p>`}
      <div class="row shell-right">
        ${open && !isSealed(open) && html`<${Saved} />
          <button type="button" class="bare undo" onClick=${undo} disabled=${!canUndo.value} title=${open.undo.what ? `Takes back: ${open.undo.what}` : undefined}><${Icon} name="undo" size=${18} /> <span>Undo</span> <kbd>U</kbd></button>
          <button type="button" class="bare undo" onClick=${redo} disabled=${!canRedo.value} title=${open.redo.what ? `Does again: ${open.redo.what}` : undefined}><${Icon} name="redo" size=${18} /> <span>Redo</span> <kbd>Y</kbd></button>`}
        <button type="button" class="bare keys-button" onClick=${showHelp}><${Icon} name="keys" size=${20} /> <span>Keys and look</span> <kbd>?</kbd></button>
      </div>
      ${open && open.state !== "received" && open.state !== "working" && html`<${Tabs} open=${open} view=${view} />`}
    </header>
    <${Stopped} />
    ${children}
    <p class="only-heard" aria-live="polite" role="log">${said.value}</p>
    <${Conflict} /><${Refused} />
    ${help && html`<${Help} sets=${help} onClose=${() => setHelp(null)} />`}`;
}
