// A finding that the inspector adds by hand: the section is searched by its words, the rest is as in any finding.
import { html, useMemo, useState } from "../html.js";
import { change } from "../desk.js";
import { newKey } from "../saving.js";
import { rulesNamed } from "../rules.js";
import { placeClock } from "../visit.js";
import { className } from "../words.js";
import { Dialog } from "./dialog.js";
import { FieldForm, FINDING_FIELDS } from "./fields.js";

const FIELDS = FINDING_FIELDS.filter((field) => !["provision", "correct_by"].includes(field.name));
const SHOWN = 12;

/** Where a section has several classes by paragraph, it is asked which; left open, the desk asks again. */
const classField = ({ classes }) => ({ name: "class", label: "Class", type: "choice", choices: [["", "not chosen yet"], ...classes.map((one) => [one, className(one)])] });

/** Sections that hold all the words; without words those of the form item that it is for. */
function matching(provisions, words, item) {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (!wanted.length) return item ? provisions.filter((one) => one.form_item === item.number) : [];
  return provisions.filter((one) => {
    const text = `${one.section} ${one.title} ${one.reason ?? ""}`.toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

const Classes = ({ of }) => of.classes.map((one) => html`<span class=${`tag ${one}`}>${one}</span> `);

export function AddFinding({ desk, first = {}, onClose }) {
  const rules = rulesNamed(desk.rules);
  const [words, setWords] = useState("");
  const [section, setSection] = useState(first.provision ?? null);
  const found = useMemo(() => matching(rules.provisions, words, first.item), [rules, words]);
  const chosen = rules.provisions.find((one) => one.section === section);
  const fields = chosen?.classes.length > 1 ? [classField(chosen), ...FIELDS] : FIELDS;
  const start = { provision: section, what: first.what ?? "", when: first.when ?? null, where: first.where ?? null, why: chosen?.reason ?? "" };
  const add = (values, more) => {
    const key = newKey();
    const body = Object.fromEntries(Object.entries({ ...values, provision: section, key }).filter(([, value]) => value !== null));
    change("POST", "findings", body, { subject: `new finding ${key}`, says: `Added: ${body.what}`, ...more });
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
            <span><b>${one.section}</b> ${one.title} <${Classes} of=${one} /></span></button></li>`)}
        </ul>
        ${found.length > SHOWN && html`<p class="note">The first ${SHOWN} are shown; more words narrow it.</p>`}`}
      ${chosen && html`
        <div class="row spread"><p><b>${chosen.section}</b> ${chosen.title} <${Classes} of=${chosen} /></p>
          <button type="button" class="bare" onClick=${() => setSection(null)}>Another section</button></div>
        <${FieldForm} key=${section} fields=${fields} from=${start} clock=${placeClock(desk)} all saves="Add it" first="what" onSave=${add} onDone=${onClose} />`}
    <//>`;
}
