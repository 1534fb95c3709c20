// A reading against its limit: value, verdict, limit, margin, and the sum opened up.
import { html } from "../html.js";
import { agentName, limitText, marginText, quantity, sentenceCase, stageName } from "../words.js";
import { LimitScale } from "./limit-scale.js";
import { Listen } from "./player-bar.js";
import { Decision, Icon, Verdict } from "./shapes.js";

export function Measured({ reading, alone, several, desk, children }) {
  const { check } = reading;
  const changed = Object.entries(reading.proposed ?? {}).filter(([name]) => ["value", "unit", "stage", "item", "place", "agent"].includes(name));
  const said = desk.utterances[reading.utterance];
  return html`
    <div class="measured">
      <div class="amounts">
        <p class="value">${quantity(reading.value, reading.unit)}</p>
        <div class="stack tight grow">
          ${!alone && html`<p><b>${sentenceCase(reading.item ?? stageName(reading.stage))}</b>${reading.place ? `, ${reading.place}` : ""} ${reading.decision.state !== "proposed" && html`<${Decision} state=${reading.decision.state} />`}</p>`}
          ${check && html`<p class="verdict"><${Verdict} verdict=${check.verdict} />
            ${marginText(check) && html`<b>${marginText(check)}</b>`}
            ${limitText(check) && html`<span>${check.operator === "+-" ? "has" : "limit"} ${limitText(check)}${alone && check.section ? ` (${check.section})` : ""}</span>`}</p>`}
          <p class="note">${stageName(reading.stage)}${reading.agent ? `, ${agentName(reading.agent)}` : ""}${reading.clock ? `, at ${reading.clock}` : ""} · said “${reading.said}”</p>
        </div>
        ${check && html`<${LimitScale} reading=${reading} />`}
      </div>
      ${!alone && several && reading.recording && reading.start !== null && html`<div><${Listen} recording=${reading.recording} start=${reading.start} end=${reading.end ?? said?.end} label="Hear this one" /></div>`}
      ${changed.length > 0 && html`<p class="note">The program read: ${changed.map(([name, value]) => `${name} ${value ?? "none"}`).join(", ")}.</p>`}
      ${!reading.choices.length && reading.doubts.map((doubt) => html`<p class="doubt-why"><${Icon} name="doubt" /> ${doubt.why}</p>`)}
      ${children}
      ${check && html`
        ${check.missing.length > 0 && html`<p class="notice unknown"><b>To tell, this is needed:</b> ${check.missing.join("; ")}</p>`}
        ${check.why && html`<p class="sum break">${sentenceCase(check.why)}.</p>`}
      `}
    </div>`;
}
