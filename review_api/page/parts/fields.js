// What can be changed by hand on a finding and a reading, and the form that changes it in place.
//
// A field may be `needed` (the form is not saved without it) and may hold `limits` for its input; `empty` is what an
// emptied one is sent as, null where nothing is said.
import { html, useLayoutEffect, useRef, useState } from "../html.js";
import { useDraft } from "../draft.js";
import { stages, unitName } from "../words.js";

const UNITS = ["degF", "degC", "ppm", "pH", "inch", "foot", "foot_candle", "lux", "minute", "hour", "day", "psi", "aw"];
const AGENTS = ["chlorine", "quat", "iodine", "peracetic", "lactic", "hot_water"];

export const FINDING_FIELDS = [
  { name: "provision", label: "Section", type: "provision", needed: true },
  { name: "what", label: "What", type: "text", needed: true },
  { name: "item", label: "Food or object", type: "line" },
  { name: "where", label: "Where", type: "line" },
  { name: "when", label: "When", type: "moment" },
  { name: "who", label: "Who", type: "line" },
  { name: "why", label: "Why", type: "text", empty: "" },
  { name: "corrected_on_site", label: "Corrected on site", type: "tick" },
  { name: "correction", label: "Correction", type: "text" },
  { name: "correct_by", label: "Correct by", type: "moment" },
  { name: "repeat", label: "Repeat of an earlier violation", type: "tick" },
];

export const READING_FIELDS = [
  { name: "value", label: "Value", type: "number", needed: true },
  { name: "unit", label: "Unit", type: "choice", choices: UNITS.map((unit) => [unit, unitName(unit)]) },
  { name: "stage", label: "Stage", type: "choice", choices: stages },
  { name: "item", label: "Food or object", type: "line" },
  { name: "place", label: "Place", type: "line" },
  { name: "agent", label: "Agent", type: "choice", choices: [["", "none"], ...AGENTS.map((agent) => [agent, agent.replaceAll("_", " ")])] },
];

/** An ISO time as <input type=datetime-local> takes it: the wall clock of its own offset. */
const local = (iso) => (iso ? iso.slice(0, 16) : "");

/** Back to ISO, with the offset that the clock of the visit's place has then (visit.js). */
export function moment(text, clock) {
  if (!text) return null;
  const offset = clock.at(text);
  const sign = offset < 0 ? "-" : "+";
  const [hours, minutes] = [Math.floor(Math.abs(offset) / 60), Math.abs(offset) % 60];
  const two = (number) => String(number).padStart(2, "0");
  return `${text.length === 16 ? `${text}:00` : text}${sign}${two(hours)}:${two(minutes)}`;
}

function shown(field, value) {
  if (field.type === "moment") return local(value);
  if (field.type === "tick") return Boolean(value);
  return String(value ?? "");
}

function given(field, value, clock) {
  if (field.type === "tick") return value;
  if (field.type === "number") return value === "" ? null : Number(value);
  if (field.type === "moment") return moment(value, clock);
  return value.trim() === "" ? (field.empty ?? null) : value;
}

function Input({ field, value, set, id, provisions }) {
  const common = { id, value, required: field.needed, ...field.limits, onInput: (event) => set(event.target.value) };
  if (field.type === "text") return html`<textarea rows="2" ...${common}></textarea>`;
  if (field.type === "number") return html`<input type="number" step="any" inputmode="decimal" ...${common} />`;
  if (field.type === "moment") return html`<input type="datetime-local" ...${common} />`;
  if (field.type === "choice") return html`<select ...${common} onInput=${undefined} onChange=${(event) => set(event.target.value)}>${field.choices.map(([key, name]) => html`<option value=${key}>${name}</option>`)}</select>`;
  if (field.type === "provision") {
    return html`<input list=${`${id}-list`} autocomplete="off" spellcheck=${false} ...${common} />
      <datalist id=${`${id}-list`}>${provisions.map((one) => html`<option value=${one.section}>${one.title}</option>`)}</datalist>`;
  }
  return html`<input type="text" maxlength="500" ...${common} />`;
}

/**
 * A form over `fields` with the values of `from`. Calls `onSave(changes, more)` with what the person changed (`all`:
 * with everything); `more` goes to the change, so that the form hears of it. It stays open until the service has stored
 * it, with its text where the service refuses; then, or where the service does not answer, it calls `onDone(true)`.
 * `clock`: of the visit's place. `check(changes)` may name what has to be done first. `standing`: what else was decided while the form is open.
 * Ctrl+Enter saves, Esc leaves; both work while typing.
 */
export function FieldForm({ fields, from, onSave, onDone, check = () => null, standing = null, saves = "Save", provisions = [], clock, children, all = false, first = null }) {
  const draft = useDraft(Object.fromEntries(fields.map((field) => [field.name, shown(field, from[field.name])])), { standing });
  const { values } = draft;
  const [trouble, setTrouble] = useState(null);
  const [busy, setBusy] = useState(false);
  const form = useRef(null);
  useLayoutEffect(() => form.current.querySelector(`#field-${first ?? fields[0].name}`)?.focus(), []);
  const changes = () => {
    const sent = fields.filter((field) => all || draft.touched().includes(field.name));
    return Object.fromEntries(sent.map((field) => [field.name, given(field, values[field.name], clock)]));
  };
  const settled = (outcome, message) => {
    if (!form.current) return false;
    setBusy(false);
    if (outcome === "refused") setTrouble(`Not saved. ${message}`);
    else onDone(outcome !== "dropped");
    return true;
  };
  const submit = (event) => {
    event?.preventDefault();
    if (busy) return;
    const section = fields.some((field) => field.type === "provision") ? values.provision.trim() : null;
    const changed = changes();
    const wanting = check(changed);
    const blank = fields.find((field) => field.needed && field.type !== "provision" && !values[field.name].trim());
    if (section !== null && provisions.length && !provisions.some((one) => one.section === section)) setTrouble(`“${section}” is no section of these rules. Choose one from the list.`);
    else if (blank) setTrouble(`“${blank.label}” cannot be empty.`);
    else if (!Object.keys(changed).length) onDone(false);
    else if (wanting) setTrouble(wanting);
    else {
      setTrouble(null);
      setBusy(true);
      onSave(changed, { ...draft.over(), settled });
    }
  };
  const keyed = (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      event.stopPropagation();
      event.currentTarget.requestSubmit();
    } else if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      onDone(false);
    }
  };
  return html`
    <form class="fields" ref=${form} onSubmit=${submit} onKeyDown=${keyed}>
      ${fields.map((field) => {
        const id = `field-${field.name}`;
        const set = (value) => draft.set({ [field.name]: value });
        if (field.type === "tick") {
          return html`<label class="tick"><input type="checkbox" checked=${values[field.name]} onChange=${(event) => set(event.target.checked)} /> ${field.label}</label>`;
        }
        const title = field.type === "provision" ? provisions.find((one) => one.section === values.provision)?.title : null;
        return html`<div class=${`field ${field.type}`}>
          <label for=${id}>${field.label}</label>
          <${Input} field=${field} id=${id} value=${values[field.name]} set=${set} provisions=${provisions} />
          ${title && html`<p class="note">${title}</p>`}
        </div>`;
      })}
      ${typeof children === "function" ? children(values) : children}
      ${trouble && html`<p class="notice over" role="alert">${trouble}</p>`}
      <div class="row actions">
        <button type="submit" class="main">${busy ? "Saving…" : saves} <kbd>Ctrl Enter</kbd></button>
        <button type="button" onClick=${() => onDone(false)}>Leave as it was <kbd>Esc</kbd></button>
      </div>
    </form>`;
}
