// Rejecting needs a reason: one key for the usual ones, or in words.
import { html, useLayoutEffect, useRef, useState } from "../html.js";
import { useKeys } from "../keys.js";

const REASONS = [
  "misheard: it was not said like this",
  "side talk, not an observation",
  "in order as I saw it",
  "already covered by another finding",
  "does not apply at this place",
];

export function RejectPanel({ onReject, onCancel }) {
  const [text, setText] = useState("");
  const form = useRef(null);
  useLayoutEffect(() => form.current.querySelector("button").focus(), []);
  useKeys("Reject", [
    { key: "1-9", does: "choose a reason", run: (event) => REASONS[Number(event.key) - 1] && onReject(REASONS[Number(event.key) - 1]) },
    { key: "Escape", does: "leave it", run: onCancel },
  ]);
  const submit = (event) => {
    event.preventDefault();
    if (text.trim()) onReject(text.trim());
  };
  return html`
    <form class="reject" ref=${form} onSubmit=${submit} aria-label="Reject, with a reason">
      <h3>Why not?</h3>
      <div class="stack tight">
        ${REASONS.map((reason, index) => html`<button type="button" class="choice" onClick=${() => onReject(reason)}><kbd>${index + 1}</kbd> ${reason}</button>`)}
      </div>
      <div class="row nowrap">
        <label class="only-heard" for="reject-reason">Another reason</label>
        <input id="reject-reason" type="text" placeholder="or another reason" value=${text} onInput=${(event) => setText(event.target.value)}
               onKeyDown=${(event) => { if (event.key === "Escape") { event.stopPropagation(); onCancel(); } }} />
        <button type="submit" disabled=${!text.trim()}>Reject</button>
        <button type="button" class="bare" onClick=${onCancel}>Leave it <kbd>Esc</kbd></button>
      </div>
    </form>`;
}
