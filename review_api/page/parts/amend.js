// Writing an amendment: several places at once, who approved it and when, how the operator was told and when.
import { html, useState } from "../html.js";
import { said } from "../desk.js";
import { offsetOf } from "../visit.js";
import { moment } from "./fields.js";
import { Icon } from "./shapes.js";
import { useSending } from "./sending.js";

const PLACE = { where: "", was: "", now: "" };
const PLACE_FIELDS = [["where", "Which place in the report", "line"], ["was", "What it says", "text"], ["now", "What it shall say", "text"]];
const WHO_FIELDS = [
  ["why", "Why", "text"], ["approved_by", "Approved by", "line"], ["approved", "Approved at", "moment"],
  ["operator_told_who", "Operator who was told", "line"], ["operator_told_how", "Told how", "line"], ["operator_told", "Told at", "moment"],
];

/** This moment on the clock of the visit. */
function nowAt(offset) {
  return new Date(Date.now() + offset * 60_000).toISOString().slice(0, 16);
}

function Field({ id, label, type, value, set }) {
  const common = { id, required: true, value, onInput: (event) => set(event.target.value) };
  const drawn = { text: html`<textarea rows="2" ...${common}></textarea>`, moment: html`<input type="datetime-local" ...${common} />`, line: html`<input type="text" maxlength="200" ...${common} />` };
  return html`<div class=${`field ${type}`}><label for=${id}>${label}</label>${drawn[type]}</div>`;
}

export function Amend({ desk }) {
  const offset = offsetOf(desk.facts.time_in ?? desk.recordings[0]?.started ?? desk.photos[0]?.taken);
  const empty = () => ({ why: "", approved_by: "", approved: nowAt(offset), operator_told_who: desk.facts.person_in_charge ?? "", operator_told_how: "", operator_told: nowAt(offset) });
  const [open, setOpen] = useState(false);
  const [places, setPlaces] = useState([PLACE]);
  const [form, setForm] = useState(empty);
  const [state, submit] = useSending(desk, "amendments", (answer) => {
    said.value = `The amendment ${answer.number} is sealed.`;
    setOpen(false);
    setPlaces([PLACE]);
  });
  const begin = () => {
    setForm(empty());
    setOpen(true);
  };
  const put = (index, name, value) => setPlaces(places.map((place, at) => (at === index ? { ...place, [name]: value } : place)));
  const amend = (event) => {
    event.preventDefault();
    submit({
      revision: desk.revision, changes: places, ...form,
      approved: moment(form.approved, offset), operator_told: moment(form.operator_told, offset),
      inspector_signature: { name: desk.facts.inspector || "the inspector", role: "inspector" },
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
        ${state.message && html`<p class="notice over" role="alert">${state.message}</p>`}
        <div class="row actions"><button type="submit" class="main" disabled=${state.busy}>${state.busy ? "Sealing…" : "Seal the amendment"}</button>
          <button type="button" onClick=${() => setOpen(false)}>Leave it</button></div></form>`}
    </section>`;
}
