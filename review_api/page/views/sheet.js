// The check sheet: every form item, what marks it and why; what nobody mentioned is in sight of the whole.
import { html, useLayoutEffect, useState } from "../html.js";
import { change, subjects } from "../desk.js";
import { useKeys } from "../keys.js";
import { asksFor, unmarkedOf } from "../marks.js";
import { unsaved } from "../saving.js";
import { address, route } from "../route.js";
import { count, markName, quantity } from "../words.js";
import { AddFinding } from "../parts/add-finding.js";
import { Listen } from "../parts/player-bar.js";
import { Icon } from "../parts/shapes.js";

const key = (number) => `mark ${number}`;

function setMark(item, mark) {
  change("PUT", `marks/${item.number}`, { mark }, { subject: key(item.number), says: mark ? `Item ${item.number}: ${markName(mark)}` : `Item ${item.number}: your mark taken back` });
}

/** What the mark rests on, each with a way to it. */
function Why({ desk, item }) {
  const parts = [];
  for (const id of item.findings) {
    const finding = desk.findings.find((one) => one.id === id);
    if (finding) parts.push(html`<a href=${address(desk.id, "desk", id)}>finding ${finding.provision}</a>`);
  }
  item.evidence.forEach((part) => {
    const reading = part.reading && desk.readings.find((one) => one.id === part.reading);
    if (reading) {
      const its = subjects.value.find((subject) => subject.readings.some((one) => one.id === reading.id));
      parts.push(html`<a href=${address(desk.id, "desk", its?.id ?? reading.id)}>${quantity(reading.value, reading.unit)}${reading.item ? `, ${reading.item}` : ""}</a>`);
      return;
    }
    const said = desk.utterances[part.utterance];
    if (said) parts.push(html`<span class="row quote"><q class="break">${part.span ? said.text.slice(...part.span) : said.text}</q> <${Listen} recording=${said.recording} start=${said.start} end=${said.end} /></span>`);
  });
  const origin = { person: "Set by you.", finding: "From what you decided:", reading: "From a reading:", remark: item.accepted ? "From what was said:" : "Proposed from what was said:" }[item.origin];
  if (!item.mark) return html`<p class="note">${asksFor(item) ? "Not looked at, or not said." : "Marked only when out of compliance."}</p>`;
  return html`<div class="row why note"><span>${origin ?? ""}</span>${parts.map((part) => html`<span>${part}</span>`)}</div>`;
}

function Item({ desk, item, onFinding }) {
  const waits = unsaved.value.get(key(item.number));
  const mark = waits ? waits.body.mark : item.mark;
  const id = `item-${item.number}`;
  return html`
    <div class=${`item-row ${mark ?? (asksFor(item) ? "unmarked" : "")}`} id=${id} data-item=${item.number} role="radiogroup" aria-labelledby=${`${id}-text`}>
      <p class="item-text" id=${`${id}-text`}><b class="number">${item.number}</b> <span>${item.text}</span></p>
      <div class="marks">
        ${item.allowed.map((one) => html`
          <label class="mark-choice" title=${markName(one)}>
            <input type="radio" name=${id} checked=${mark === one} onChange=${() => setMark(item, one)} />
            <span aria-hidden="true">${one}</span><span class="only-heard">${markName(one)}</span></label>`)}
        <span class="state plain tiny" aria-live="polite">${waits ? html`<${Icon} name="wait" /> not saved yet` : ""}</span>
        ${item.corrected_on_site && html`<span class="tag">Corrected on site</span>`}${item.repeat && html`<span class="tag">Repeat</span>`}
        ${item.origin === "person" && !waits && html`<button type="button" class="bare" onClick=${() => setMark(item, null)}>Take back</button>`}
        ${item.origin === "remark" && !item.accepted && html`<button type="button" onClick=${() => setMark(item, item.mark)}><${Icon} name="check" /> Accept</button>`}
        ${mark === "OUT" && !item.findings.length && html`<button type="button" onClick=${() => onFinding(item)}><${Icon} name="plus" /> Its finding</button>`}
      </div>
      <${Why} desk=${desk} item=${item} />
    </div>`;
}

function Whole({ marks }) {
  return html`
    <ol class="whole" aria-label="All items at a glance">
      ${marks.map((item) => html`<li><a class=${`cell ${item.mark ?? (asksFor(item) ? "unmarked" : "")}`} href=${`#item-${item.number}`} aria-label=${`Item ${item.number}: ${item.mark ? markName(item.mark) : asksFor(item) ? "not marked" : "not out"}`}
        onClick=${(event) => { event.preventDefault(); focusItem(item.number); }}><span>${item.number}</span><b>${item.mark ?? (asksFor(item) ? "–" : "·")}</b></a></li>`)}
    </ol>`;
}

function focusItem(number) {
  const row = document.getElementById(`item-${number}`);
  row?.scrollIntoView({ block: "center" });
  (row?.querySelector("input:checked") ?? row?.querySelector("input"))?.focus();
}

export function SheetView({ desk }) {
  const [only, setOnly] = useState("all");
  const [adding, setAdding] = useState(null);
  const { marks } = desk;
  const unmarked = unmarkedOf(marks);
  const proposed = marks.filter((item) => item.origin === "remark" && !item.accepted);
  const shown = marks.filter((item) => only === "all" || (only === "unmarked" ? unmarked.includes(item) : item.mark === "OUT"));
  useLayoutEffect(() => {
    if (route.value.subject) focusItem(route.value.subject);
  }, [route.value.subject]);

  const here = () => Number(document.activeElement?.closest?.("[data-item]")?.dataset.item ?? 0);
  const byKey = (mark) => ({
    key: { IN: "i", OUT: "o", NO: "n", NA: "a" }[mark], does: `mark the item in focus ${mark} and go to the next unmarked`,
    when: () => marks.find((item) => item.number === here())?.allowed.includes(mark),
    run: () => {
      const item = marks.find((one) => one.number === here());
      setMark(item, mark);
      const next = [...unmarked.filter((one) => one.number > item.number), ...unmarked.filter((one) => one.number < item.number)][0];
      if (next) focusItem(next.number);
    },
  });
  useKeys("The check sheet", [
    { key: "j", repeats: true, does: "next unmarked item", run: () => focusItem((unmarked.find((item) => item.number > here()) ?? unmarked[0])?.number) },
    byKey("IN"), byKey("OUT"), byKey("NO"), byKey("NA"),
  ]);

  const groups = [];
  for (const item of shown) {
    const last = groups.at(-1);
    if (last?.group === item.group && last.heading === item.heading) last.items.push(item);
    else groups.push({ group: item.group, heading: item.heading, items: [item], opens: last?.group !== item.group });
  }
  return html`
    <div class="page stack loose">
      <div class="row spread"><h1 tabindex="-1">Check sheet</h1>
        <p>${["IN", "OUT", "NO", "NA"].map((mark) => html`<span class="tally"><b>${marks.filter((item) => item.mark === mark).length}</b> ${mark}</span>`)}<span class="tally"><b>${unmarked.length}</b> not marked</span></p></div>
      <${Whole} marks=${marks} />
      <div class="row wide">
        <label class="row"><span class="note">Show</span>
          <select value=${only} onChange=${(event) => setOnly(event.target.value)}>
            <option value="all">all items</option><option value="unmarked">not marked (${unmarked.length})</option><option value="out">out of compliance</option></select></label>
        ${proposed.length > 0 && html`<button type="button" class="main" onClick=${() => change("POST", "marks/accept", { items: proposed.map((item) => item.number) }, { subject: "marks", says: `${count(proposed.length, "mark")} taken over` })}>
          <${Icon} name="check" /> Accept ${proposed.length === 1 ? "the mark" : `the ${proposed.length} marks`} proposed from what was said</button>`}
        <p class="note hint">In an item: <kbd>I</kbd> in, <kbd>O</kbd> out, <kbd>N</kbd> not observed, <kbd>A</kbd> not applicable; <kbd>J</kbd> next unmarked</p>
      </div>
      ${groups.map(({ group, heading, items, opens }) => html`
        <section class="stack tight">
          ${opens && html`<h2 class="group">${group[0].toUpperCase() + group.slice(1)}</h2>`}
          <h3>${heading}</h3>
          ${items.map((item) => html`<${Item} key=${item.number} desk=${desk} item=${item} onFinding=${(one) => setAdding({ what: "", item: one })} />`)}
        </section>`)}
      ${adding && html`<${AddFinding} desk=${desk} first=${adding} onClose=${() => setAdding(null)} />`}
    </div>`;
}
