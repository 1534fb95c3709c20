// Lines for the report, one a line; saved when the field is left.
import { html, useEffect, useState } from "../html.js";
import { change } from "../desk.js";
import { useDraft } from "../draft.js";
import { unsaved } from "../saving.js";

const linesOf = (text) => text.split("\n").map((line) => line.trim()).filter(Boolean);
const joined = (text) => linesOf(text).join("\n");

export function Lines({ name, label, note, lines }) {
  const draft = useDraft({ text: lines.join("\n") }, { same: (one, other) => joined(one) === joined(other) });
  const [trouble, setTrouble] = useState(null);
  const subject = `notes ${name}`;
  const save = () => {
    const { text } = draft.now();
    const onItsWay = unsaved.peek().get(subject)?.body[name].join("\n");
    if (!draft.touched().length || joined(text) === onItsWay) return;
    setTrouble(null);
    const follow = draft.settle({ text });
    const settled = (outcome, message) => {
      follow(outcome);
      if (outcome === "refused") setTrouble(message);
      return false;
    };
    // The service holds all notes as one thing.
    change("PUT", "notes", { [name]: linesOf(text) }, { subject, thing: "notes", says: `${label} changed`, ...draft.over(), settled });
  };
  useEffect(() => save, []);
  const state = unsaved.value.has(subject) ? "Saving…" : trouble ? `Not saved: ${trouble}` : draft.touched().length ? "Saved when you leave the field." : "";
  return html`
    <div class="field"><label for=${name}>${label}</label>
      <p class="note" id=${`${name}-note`}>${note} ${state}</p>
      <textarea id=${name} aria-describedby=${`${name}-note`} rows="3" value=${draft.values.text} onInput=${(event) => draft.set({ text: event.target.value })} onBlur=${save}></textarea></div>`;
}
