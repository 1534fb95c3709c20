// A finding that the inspector adds by hand: the section is searched by its words, the rest is as in any finding.
import { html, useMemo, useState } from "../html.js";
import { change } from "../desk.js";
import { rulesNamed } from "../rules.js";
import { offsetOf } from "../visit.js";
import { Dialog } from "./dialog.js";
import { FieldForm, FINDING_FIELDS } from "./fields.js";

const FIELDS = FINDING_FIELDS.filter((field) => !["provision", "correct_by"].includes(field.name));
const SHOWN = 12;

/** Sections that hold all the words; without words those of the form item that it is for. */
function matching(provisions, words, item) {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (!wanted.length) return item ? provisions.filter((one) => one.form_item === item.number) : [];
  return provisions.filter((one) => {
    const text = `${one.section} ${one.title} ${one.reason ?? ""}`.toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

export function AddFinding({ desk, first = {}, onClose }) {
  const rules = rulesNamed(desk.rules);
  const [words, setWords] = useState("");
  const [section, setSection] = useState(first.provision ?? null);
  const found = useMemo(() => matching(rules.provisions, words, first.item), [rules, words]);
  const chosen = rules.provisions.find((one) => one.section === section);
  const offset = offsetOf(desk.recordings[0]?.started ?? desk.photos[0]?.taken);
  const start = { provision: section, what: first.what ?? "", when: first.when ?? null, where: first.where ?? null, why: chosen?.reason ?? "" };
  const add = (values) => {
    const body = Object.fromEntries(Object.entries({ ...values, provision: section }).filter(([, value]) => value !== null));
    change("POST", "findings", body, { subject: `new finding ${section} ${Date.now()}`, says: `Added: ${body.what}` });
    onClose();
  };
  return html`
    <${Dialog} title="Add a finding" onClose=${onClose}>
      ${!chosen && html`
        <div class="field">
          <label for="find-section">Which section? Search by number or words</label>
          <input id="find-section" type="search" autofocus value=${words} onInput=${(event) => setWords(event.target.value)} />
        </div>
        <p class="note" aria-live="polite">${(words || first.item) && `${found.length} of ${rules.provisions.length} sections`}</p>
        <ul class="stack tight">
          ${found.slice(0, SHOWN).map((one) => html`<li><button type="button" class="choice" onClick=${() => setSection(one.section)}>
            <span><b>${one.section}</b> ${one.title} <span class=${`tag ${one.classes[0]}`}>${one.classes[0]}</span></span></button></li>`)}
        </ul>
        ${found.length > SHOWN && html`<p class="note">The first ${SHOWN} are shown; more words narrow it.</p>`}`}
      ${chosen && html`
        <div class="row spread"><p><b>${chosen.section}</b> ${chosen.title} <span class=${`tag ${chosen.classes[0]}`}>${chosen.classes[0]}</span></p>
          <button type="button" class="bare" onClick=${() => setSection(null)}>Another section</button></div>
        <${FieldForm} key=${section} fields=${FIELDS} from=${start} offset=${offset} all saves="Add it" first="what" onSave=${add} onCancel=${onClose} />`}
    <//>`;
}
