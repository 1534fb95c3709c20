// A doubted number: what was heard, as one-key choices. The proposal cannot be confirmed without one.
import { html } from "../html.js";
import { quantity } from "../words.js";
import { Listen } from "./player-bar.js";
import { Icon } from "./shapes.js";

/** Readings of a subject that need a choice, each with its values; numbered through, for the keys 1 to 9. */
export function choicesOf(subject) {
  const list = [];
  for (const reading of subject.readings) for (const value of reading.choices) list.push({ reading, value });
  return list;
}

/** Only one number was heard, and the doubt is of something else: the stage, the item, or whether it was measured. */
function question(reading) {
  return reading.choices.length > 1 ? "Which number was said" : "Is this reading right";
}

export function ChooseNumber({ subject, chosen, editing = false, onChoose }) {
  const list = choicesOf(subject);
  if (!subject.doubted || !list.length) return null;
  const readings = subject.readings.filter((reading) => reading.choices.length);
  return html`
    <section class="block choose notice near" aria-label="Choose the number">
      ${readings.map((reading) => html`
        <div class="stack">
          <div class="row spread">
            <h2><${Icon} name="doubt" size=${18} /> ${question(reading)}${readings.length > 1 ? ` for ${reading.item ?? reading.stage}` : ""}?</h2>
            <${Listen} recording=${reading.recording} start=${reading.start} end=${reading.end} label="Hear it" />
          </div>
          ${reading.doubts.map((doubt) => html`<p>${doubt.why}</p>`)}
          <div class="row" role="group" aria-label="Values heard">
            ${list.map((choice, index) => choice.reading === reading && html`
              <button type="button" class="number" aria-pressed=${chosen[reading.id] === choice.value} onClick=${() => onChoose(reading.id, choice.value)}>
                ${quantity(choice.value, reading.unit)} ${index < 9 && !editing && html`<kbd>${index + 1}</kbd>`}
              </button>`)}
            <span class="note">${editing ? "It is saved with the form." : subject.kind === "reading" ? "Choosing confirms it and goes on; or edit it." : "Then confirm; or reject."}</span>
          </div>
        </div>`)}
    </section>`;
}
