// Lines for the report, one a line; saved when the field is left.
import { html, useState } from "../html.js";
import { change } from "../desk.js";
import { unsaved } from "../saving.js";

export function Lines({ name, label, note, lines }) {
  const [text, setText] = useState(lines.join("\n"));
  const subject = `notes ${name}`;
  const save = () => {
    const next = text.split("\n").map((line) => line.trim()).filter(Boolean);
    if (next.join("\n") !== lines.join("\n")) change("PUT", "notes", { [name]: next }, { subject, says: `${label} changed` });
  };
  return html`
    <div class="field"><label for=${name}>${label}</label>
      <p class="note" id=${`${name}-note`}>${note} ${unsaved.value.has(subject) && "Saving…"}</p>
      <textarea id=${name} aria-describedby=${`${name}-note`} rows="3" value=${text} onInput=${(event) => setText(event.target.value)} onBlur=${save}></textarea></div>`;
}
