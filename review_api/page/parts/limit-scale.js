// A reading beside its limit, to scale. The drawing repeats what the words beside it say, so it is described once.
import { html } from "../html.js";
import { figure, limitText, marginText, quantity, unitName, VERDICTS } from "../words.js";

const WIDTH = 320;
const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500];

function domain(value, limit) {
  const reach = Math.max(Math.abs(value - limit) * 1.6, Math.abs(limit) * 0.12, 1);
  const low = Math.min(value, limit) - reach * 0.35;
  const high = Math.max(value, limit) + reach * 0.35;
  return [low, high];
}

function ticks(low, high) {
  const step = STEPS.find((one) => (high - low) / one <= 7) ?? 1000;
  const list = [];
  for (let at = Math.ceil(low / step) * step; at <= high; at += step) list.push(Math.round(at * 1000) / 1000);
  return list;
}

export function LimitScale({ reading }) {
  const check = reading.check;
  if (!check || check.limit === null || check.limit === undefined || check.unit !== reading.unit) return null;
  if (!["<=", "<", ">=", ">"].includes(check.operator)) return null;
  const [low, high] = domain(reading.value, check.limit);
  const x = (value) => 8 + ((value - low) / (high - low)) * (WIDTH - 16);
  const below = check.operator.startsWith("<");
  const { tone } = VERDICTS[check.verdict] ?? VERDICTS.none;
  const [from, to] = below ? [8, x(check.limit)] : [x(check.limit), WIDTH - 8];
  const close = Math.abs(x(reading.value) - x(check.limit)) < 30;
  const rightOfLimit = reading.value >= check.limit;
  const told = `${quantity(reading.value, reading.unit)} against ${limitText(check)}: ${marginText(check)}.`;
  return html`
    <figure class=${`scale ${tone}`}>
      <svg viewBox=${`0 0 ${WIDTH} 74`} role="img" aria-label=${told}>
        <rect class="allowed" x=${from} y="30" width=${Math.max(0, to - from)} height="14" />
        <line class="axis" x1="8" x2=${WIDTH - 8} y1="44" y2="44" />
        ${ticks(low, high).map((at) => html`<g><line class="axis" x1=${x(at)} x2=${x(at)} y1="44" y2="49" /><text class="tick" x=${x(at)} y="62" text-anchor="middle">${figure(at)}</text></g>`)}
        <line class="limit" x1=${x(check.limit)} x2=${x(check.limit)} y1="20" y2="50" />
        <text class="limit-word" x=${x(check.limit) + (close ? (rightOfLimit ? -4 : 4) : 0)} y="15" text-anchor=${close ? (rightOfLimit ? "end" : "start") : "middle"}>limit ${figure(check.limit)}</text>
        <path class="needle" d=${`M${x(reading.value)} 44l-6-14h12Z`} />
        <text class="value" x=${x(reading.value) + (close ? (rightOfLimit ? 4 : -4) : 0)} y="25" text-anchor=${close ? (rightOfLimit ? "start" : "end") : "middle"}>${figure(reading.value)} ${unitName(reading.unit)}</text>
      </svg>
    </figure>`;
}
