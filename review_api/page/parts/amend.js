// Writing an amendment: several places at once, who approved it and when, how the operator was told and when,
// and the inspector's signature.
import { html, useState } from "../html.js";
import { said } from "../desk.js";
import { placeClock } from "../visit.js";
import { moment } from "./fields.js";
import { Icon } from "./shapes.js";
import { useSending } from "./sending.js";
import { Signature } from "./signature.js";

const PLACE = { where: "", was: "", now: "" };
const PLACE_FIELDS = [["where", "Which place in the report", "line"], ["was", "What it says", "text"], ["now", "What it shall say", "text"]];
const WHO_FIELDS = [
  ["why", "Why", "text"], ["approved_by", "Approved by", "line"], ["approved", "Approved at", "moment"],
  ["operator_told_who", "Operator who was told", "line"], ["operator_told_how", "Told how", "line"], ["operator_told", "Told at", "moment"],
];

/** Nobody has signed an amendment before it is written: the name is not filled in beforehand. */
const UNSIGNED = { name: "", role: "inspector", strokes: [], aspect: 3 };

const trimmed = (values) => Object.fromEntries(Object.entries(values).map(([name, text]) => [name, text.trim()]));

/** The first thing that is missing, in words; null when it can be sealed. A blank entry counts as none. */
function lacksOf(places, form, inspector) {
  for (const [index, place] of places.entries()) {
    const lacking = PLACE_FIELDS.find(([name]) => !place[name].trim());
    if (lacking) return `“${lacking[1]}” is missing${places.length > 1 ? ` in change ${index + 1}` : ""}.`;
  }
  const lacking = WHO_FIELDS.find(([name]) => !form[name].trim());
  if (lacking) return `“${lacking[1]}” is missing.`;
  return inspector.name.trim() ? null : "Your signature is missing: write your name, and sign in the field if you like.";
}

function Field({ id, label, type, value, set }) {
  const common = { id, required: true, value, onInput: (event) => set(event.target.value) };
  const drawn = { text: html`<textarea rows="2" ...${common}></textarea>`, moment: html`<input type="datetime-local" ...${common} />`, line: html`<input type="text" maxlength="200" ...${common} />` };
  return html`<div class=${`field ${type}`}><label for=${id}>${label}</label>${drawn[type]}</div>`;
}

export function Amend({ desk }) {
  const clock = placeClock(desk);
  const empty = () => ({ why: "", approved_by: "", approved: clock.now(), operator_told_who: desk.facts.person_in_charge ?? "", operator_told_how: "", operator_told: clock.now() });
  const [open, setOpen] = useState(false);
  const [places, setPlaces] = useState([PLACE]);
  const [form, setForm] = useState(empty);
  const [inspector, setInspector] = useState(UNSIGNED);
  const [state, submit] = useSending(desk, "amendments", (answer) => {
    said.value = `The amendment ${answer.number} is sealed.`;
    setOpen(false);
    setPlaces([PLACE]);
  });
  const begin = () => {
    setForm(empty());
    setInspector(UNSIGNED);
    setOpen(true);
  };
  const put = (index, name, value) => setPlaces(places.map((place, at) => (at === index ? { ...place, [name]: value } : place)));
  const lacks = lacksOf(places, form, inspector);
  const amend = (event) => {
    event.preventDefault();
    if (lacks || state.busy) return;
    submit({
      revision: desk.revision, changes: places.map(trimmed), ...trimmed(form),
      approved: moment(form.approved, clock), operator_told: moment(form.operator_told, clock),
      inspector_signature: { ...inspector, name: inspector.name.trim() },
    });
  };
  return html`
    <section class="stack card"><h2>Change it in the open</h2>
      <p class="note">An amendment is a document of its own: it names what it changes, and is sealed likewise. The sealed report stays as it is.</p>
      ${!open && html`<div><button type="button" onClick=${begin}><${Icon} name="pen" /> Write an amendment</button></div>`}
      ${open && html`<form class="fields" onSubmit=${amend}>
        ${places.map((place, index) => html`
          <fieldset class="fields place" key=${index}><legend>${places.length > 1 ? `Change ${index + 1} of ${places.length}` : "The change"}</legend>
            ${PLACE_FIELDS.map(([name, label, type]) => html`<${Field} id=${`amend-${name}-${index}`} label=${label} type=${type} value=${place[name]} set=${(value) => put(index, name, value)} />`)}
            ${places.length > 1 && html`<div><button type="button" class="bare" onClick=${() => setPlaces(places.filter((_, at) => at !== index))}><${Icon} name="bin" /> Leave out change ${index + 1}</button></div>`}
          </fieldset>`)}
        <div><button type="button" onClick=${() => setPlaces([...places, PLACE])}><${Icon} name="plus" /> Another place</button></div>
        ${WHO_FIELDS.map(([name, label, type]) => html`<${Field} id=${`amend-${name}`} label=${label} type=${type} value=${form[name]} set=${(value) => setForm({ ...form, [name]: value })} />`)}
        <div class="whole-row"><${Signature} id="amending" legend="You, the inspector" value=${inspector} onChange=${setInspector} /></div>
        ${state.message && html`<p class="notice over" role="alert">${state.message}</p>`}
        <div class="row actions"><button type="submit" class="main" disabled=${Boolean(lacks) || state.busy}>${state.busy ? "Sealing…" : "Seal the amendment"}</button>
          <button type="button" onClick=${() => setOpen(false)}>Leave it</button>
          <p class="note" role="status">${lacks ?? "Ready to seal."}</p></div></form>`}
    </section>`;
}
