// The list on the left: one entry a proposal. It is one stop for Tab; arrows move in it.
import { html, useEffect, useRef, useState } from "../html.js";
import { change, isOpen, openSubjects, stateOf, subjects, titleOf } from "../desk.js";
import { hideDecided, order } from "../settings.js";
import { address, go } from "../route.js";
import { quantity, stageName, wallTime } from "../words.js";
import { Decision, Icon, Verdict } from "./shapes.js";

const KINDS = { finding: "Finding", reading: "Reading", question: "Question" };

/** The worst verdict among the readings of a subject. */
function worst(readings) {
  const rank = ["violates", "borderline", "undetermined", "meets", "none"];
  const found = readings.map((reading) => reading.check?.verdict ?? "none").sort((one, other) => rank.indexOf(one) - rank.indexOf(other));
  return found[0] ?? null;
}

function Entry({ subject, desk, selected, tabbable }) {
  const { of } = subject;
  const [over, setOver] = useState(false);
  const entry = useRef(null);
  const said = desk.utterances[of.utterance ?? of.evidence?.find((part) => Number.isInteger(part.utterance))?.utterance];
  const verdict = worst(subject.readings);
  const state = stateOf(subject);
  const takesPhotos = subject.kind === "finding";
  useEffect(() => {
    if (selected) entry.current.scrollIntoView({ block: "nearest" });
  }, [selected]);
  const dropped = (event) => {
    event.preventDefault();
    setOver(false);
    const sha = event.dataTransfer.getData("text/x-probeside-photo");
    if (sha) change("PUT", `findings/${subject.id}/photos/${sha}`, null, { subject: `photo ${subject.id} ${sha}`, says: "Photo attached" });
  };
  const dragged = (event) => {
    if (!takesPhotos || !event.dataTransfer.types.includes("text/x-probeside-photo")) return;
    event.preventDefault();
    setOver(true);
  };
  return html`
    <li>
      <a ref=${entry} class=${`item ${state} ${over ? "over" : ""}`} href=${address(desk.id, "desk", subject.id)} data-keys data-subject=${subject.id}
         aria-current=${selected ? "true" : undefined} tabindex=${tabbable ? 0 : -1}
         onDragOver=${dragged} onDragLeave=${() => setOver(false)} onDrop=${takesPhotos ? dropped : undefined}>
        <span class="top">
          <span class="note tiny">${wallTime(of.at ?? said?.at ?? of.when)} ${KINDS[subject.kind]}</span>
          ${subject.kind === "finding" && html`<span class=${`tag ${of.class}`}>${of.class}</span>`}
          ${subject.doubted && html`<span class="state near"><${Icon} name="doubt" />Doubted</span>`}
        </span>
        <span class="title">${titleOf(subject)}</span>
        <span class="foot">
          ${subject.readings.length > 0 && html`<b>${subject.readings.slice(0, 3).map((reading) => quantity(reading.value, reading.unit)).join(", ")}${subject.readings.length > 3 ? "…" : ""}</b>`}
          ${subject.kind === "finding" && html`<span class="note tiny">${of.provision}</span>`}
          ${subject.kind === "reading" && html`<span class="note tiny">${stageName(of.stage)}</span>`}
          ${verdict && verdict !== "none" && html`<${Verdict} verdict=${verdict} short=${subject.kind === "finding"} />`}
          ${state === "proposed" ? html`<span class="only-heard">To decide</span>` : html`<${Decision} state=${state} />`}
        </span>
      </a>
    </li>`;
}

/** The subjects that the list shows now. */
function shownSubjects(selected) {
  return hideDecided.value ? subjects.value.filter((subject) => isOpen(subject) || subject.id === selected) : subjects.value;
}

export function ProposalList({ desk, selected, onAdd }) {
  const list = shownSubjects(selected);
  const open = openSubjects.value.length;
  const done = subjects.value.length - open;
  const focusable = list.some((subject) => subject.id === selected) ? selected : list[0]?.id;
  return html`
    <section class="list" aria-label="Proposals">
      <div class="list-head">
        <div class="row spread">
          <h2>${open ? `${open} to decide` : "All decided"}</h2>
          <button type="button" class="bare" onClick=${onAdd}><${Icon} name="plus" /> Add finding <kbd>N</kbd></button>
        </div>
        <progress max=${subjects.value.length || 1} value=${done} aria-label=${`${done} of ${subjects.value.length} decided`}></progress>
        <div class="row">
          <label class="row order"><span class="note">Order</span>
            <select value=${order.value} onChange=${(event) => { order.value = event.target.value; }}>
              <option value="visit">as visited</option>
              <option value="weight">by weight</option>
            </select>
          </label>
          <label class="tick note"><input type="checkbox" checked=${hideDecided.value} onChange=${(event) => { hideDecided.value = event.target.checked; }} /> only to decide</label>
        </div>
      </div>
      <ol>
        ${list.map((subject) => html`<${Entry} key=${subject.id} subject=${subject} desk=${desk} selected=${subject.id === selected} tabbable=${subject.id === focusable} />`)}
      </ol>
      ${list.length === 0 && html`<p class="note empty">${subjects.value.length ? "Nothing left to decide." : "The program proposes nothing for this visit. Add a finding by hand, or look at the words."}</p>`}
    </section>`;
}

/** Moves through the list by one; keeps the focus in it when it was there. */
export function step(desk, selected, by) {
  const list = shownSubjects(selected);
  const from = list.findIndex((subject) => subject.id === selected);
  const next = list[from < 0 ? 0 : Math.min(list.length - 1, Math.max(0, from + by))];
  if (next) goTo(desk, next.id);
}

/** Shows a subject; the focus follows when it was in the list. */
export function goTo(desk, id) {
  const inList = document.activeElement?.closest?.("[data-subject]");
  go(address(desk.id, "desk", id), { replace: true });
  if (inList) requestAnimationFrame(() => document.querySelector(`[data-subject="${CSS.escape(id)}"]`)?.focus());
}
