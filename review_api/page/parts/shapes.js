// Small drawings. A verdict's shape says what its colour says: triangle outside, half diamond on the line, disc within.
import { html } from "../html.js";
import { VERDICTS } from "../words.js";

const box = (inside, size = 16) =>
  html`<svg viewBox="0 0 16 16" width=${size} height=${size} aria-hidden="true" focusable="false">${inside}</svg>`;
const line = { fill: "none", stroke: "currentColor", "stroke-width": 1.8, "stroke-linecap": "round", "stroke-linejoin": "round" };

const SHAPES = {
  over: html`<path d="M8 1.5 15 14.5H1Z" fill="currentColor" />`,
  near: html`<path d="M8 1 15 8 8 15 1 8Z" ...${line} /><path d="M8 1 15 8 8 15Z" fill="currentColor" />`,
  within: html`<circle cx="8" cy="8" r="6.2" fill="currentColor" />`,
  unknown: html`<circle cx="8" cy="8" r="6" ...${line} stroke-dasharray="2.6 2.6" />`,
  plain: html`<path d="M3 8h10" ...${line} />`,
};

/** The verdict as word and shape. */
export function Verdict({ verdict, short = false }) {
  const { tone, word } = VERDICTS[verdict] ?? VERDICTS.none;
  return html`<span class=${`state ${tone}`}>${box(SHAPES[tone])}<span class=${short ? "only-heard" : ""}>${word}</span></span>`;
}

const ICONS = {
  play: html`<path d="M4 2.5v11l9-5.5Z" fill="currentColor" />`,
  pause: html`<path d="M4 2.5h3v11H4zM9 2.5h3v11H9z" fill="currentColor" />`,
  again: html`<path d="M3 8a5 5 0 1 1 1.6 3.7M3 13v-3h3" ...${line} />`,
  check: html`<path d="m2.5 8.5 3.8 4 7-9" ...${line} stroke-width="2.2" />`,
  cross: html`<path d="m3.5 3.5 9 9m0-9-9 9" ...${line} stroke-width="2.2" />`,
  pen: html`<path d="M2.5 13.5l.8-3.2 7.4-7.4 2.4 2.4-7.4 7.4Z" ...${line} />`,
  undo: html`<path d="M5.5 3 2.5 6l3 3M3 6h6.5a3.5 3.5 0 0 1 0 7H6" ...${line} />`,
  redo: html`<path d="m10.5 3 3 3-3 3M13 6H6.5a3.5 3.5 0 0 0 0 7H10" ...${line} />`,
  doubt: html`<path d="M5.3 5.4a2.8 2.8 0 1 1 4 2.5c-.9.5-1.3 1-1.3 2" ...${line} stroke-width="2" /><circle cx="8" cy="13" r="1.3" fill="currentColor" />`,
  photo: html`<path d="M1.8 4.5h3l1-1.7h4.4l1 1.7h3v8.7H1.8Z" ...${line} /><circle cx="8" cy="8.6" r="2.4" ...${line} />`,
  back: html`<path d="M10 2.5 4.5 8l5.5 5.5" ...${line} />`,
  next: html`<path d="M6 2.5 11.5 8 6 13.5" ...${line} />`,
  plus: html`<path d="M8 2.5v11M2.5 8h11" ...${line} stroke-width="2" />`,
  warn: html`<path d="M8 1.8 15 14H1Z" ...${line} /><path d="M8 6v3.6M8 11.9v.2" ...${line} />`,
  keys: html`<path d="M1.5 4h13v8.5h-13Z" ...${line} /><path d="M4 7h.1M6.6 7h.1M9.3 7h.1M12 7h.1M5 10h6" ...${line} />`,
  sun: html`<circle cx="8" cy="8" r="3" ...${line} /><path d="M8 1v1.6M8 13.4V15M1 8h1.6M13.4 8H15M3 3l1.2 1.2M11.8 11.8 13 13M13 3l-1.2 1.2M4.2 11.8 3 13" ...${line} />`,
  dot: html`<circle cx="8" cy="8" r="3.4" ...${line} />`,
  arrow: html`<path d="M3 13 13 3M6.5 3H13v6.5" ...${line} />`,
  box: html`<path d="M2.5 3.5h11v9h-11Z" ...${line} />`,
  cover: html`<path d="M2.5 3.5h11v9h-11Z" fill="currentColor" />`,
  bin: html`<path d="M2.5 4h11M6 4V2.5h4V4M4 4l.7 9.5h6.6L12 4" ...${line} />`,
  wait: html`<path d="M4 2h8M4 14h8M5 2c0 4 6 4 6 6s-6 2-6 6M11 2c0 4-6 4-6 6s6 2 6 6" ...${line} stroke-width="1.4" />`,
};

/** A drawing beside a word; never alone without a name on its button. */
export function Icon({ name, size = 16 }) {
  return box(ICONS[name], size);
}

/** What a person made of a proposal, as word and shape. */
const DECISIONS = {
  confirmed: ["check", "Confirmed"],
  edited: ["pen", "Edited"],
  rejected: ["cross", "Rejected"],
  added: ["plus", "Added by hand"],
  proposed: ["dot", "To decide"],
  saving: ["wait", "Not saved yet"],
};

export function Decision({ state }) {
  const [icon, word] = DECISIONS[state] ?? DECISIONS.proposed;
  return html`<span class=${`state decision ${state}`}><${Icon} name=${icon} />${word}</span>`;
}
