// A section that has several classes by paragraph: until somebody says which, the mildest is taken, and it is asked.
import { html } from "../html.js";
import { className } from "../words.js";
import { Icon } from "./shapes.js";

export function ChooseClass({ finding, onChoose }) {
  if (!finding.class_choices?.length) return null;
  return html`
    <section class="block choose notice near" aria-label="Choose the class">
      <h2><${Icon} name="doubt" size=${18} /> Which class is it?</h2>
      <p>Section ${finding.provision} has several, by paragraph. Until you choose, the report says ${className(finding.class)}.</p>
      <div class="row" role="group" aria-label="Classes of this section">
        ${finding.class_choices.map((one) => html`<button type="button" onClick=${() => onChoose(one)}>${className(one)} (${one})</button>`)}
      </div>
    </section>`;
}
