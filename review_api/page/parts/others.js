// The runners-up: other sections that the words might mean, taken over by one press.
import { html } from "../html.js";
import { rulesNamed, titleOfSection } from "../rules.js";

const SURENESS = [[0.85, "The words point clearly here."], [0.6, "The words point here, but others are possible."], [0, "The program is not sure of this section."]];

export function Others({ desk, subject, lacking, onTake }) {
  const finding = subject.of;
  const sure = SURENESS.find(([from]) => finding.confidence >= from)[1];
  rulesNamed(desk.rules);
  return html`
    <section class="block" aria-label="Why this section">
      <h2>Why this section</h2>
      ${finding.reason && html`<p>${finding.reason}</p>`}
      ${!finding.by_hand && html`<p class="note">${sure}</p>`}
      ${finding.alternatives.length > 0 && html`
        <p><b>It might also be:</b> ${lacking && html`<span class="note">choose the number first</span>`}</p>
        <ul class="stack tight">
          ${finding.alternatives.map((section) => html`
            <li><button type="button" class="choice" onClick=${() => onTake(section)}>
              <span><b>${section}</b> ${titleOfSection(desk.rules, section)}</span></button></li>`)}
        </ul>`}
      ${finding.trace.length > 0 && html`
        <details><summary>Which words and rules made this</summary>
          <ul class="stack tight trace">${finding.trace.map((one) => html`<li><code>${one.rule}</code> “${one.text}”</li>`)}</ul>
        </details>`}
    </section>`;
}
