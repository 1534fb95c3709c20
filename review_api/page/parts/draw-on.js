// Boxes, arrows and covered areas on a photo. Drawn by pointer, or placed and moved by keys; the original stays as it is.
import { html, useRef, useState } from "../html.js";

const LEAST = 0.015;
const STEP = 0.02;
const clamp = (value) => Math.min(1, Math.max(0, value));
const rounded = (shape) => Object.fromEntries(Object.entries(shape).map(([name, value]) => [name, typeof value === "number" ? Math.round(value * 10_000) / 10_000 : value]));

/** The shape between two points; null when it is too small to be meant. */
function shapeBetween(kind, from, to) {
  if (Math.hypot(to.x - from.x, to.y - from.y) < LEAST) return null;
  if (kind === "arrow") return { kind, x: from.x, y: from.y, to_x: to.x, to_y: to.y };
  return { kind, x: Math.min(from.x, to.x), y: Math.min(from.y, to.y), width: Math.abs(to.x - from.x), height: Math.abs(to.y - from.y) };
}

/** A shape to begin with in the middle, for the keyboard. */
export function firstShape(kind) {
  if (kind === "arrow") return { kind, x: 0.3, y: 0.7, to_x: 0.5, to_y: 0.5 };
  return { kind, x: 0.4, y: 0.4, width: 0.2, height: 0.2 };
}

function moved(shape, dx, dy) {
  if (shape.kind === "arrow") return { ...shape, x: clamp(shape.x + dx), y: clamp(shape.y + dy), to_x: clamp(shape.to_x + dx), to_y: clamp(shape.to_y + dy) };
  return { ...shape, x: Math.min(1 - shape.width, clamp(shape.x + dx)), y: Math.min(1 - shape.height, clamp(shape.y + dy)) };
}

function sized(shape, dx, dy) {
  if (shape.kind === "arrow") return { ...shape, to_x: clamp(shape.to_x + dx), to_y: clamp(shape.to_y + dy) };
  return { ...shape, width: Math.min(1 - shape.x, Math.max(LEAST, shape.width + dx)), height: Math.min(1 - shape.y, Math.max(LEAST, shape.height + dy)) };
}

const NAMES = { box: "Box", arrow: "Arrow", cover: "Covered area" };

function Shape({ shape, width, height }) {
  if (shape.kind === "arrow") {
    const [x1, y1, x2, y2] = [shape.x * width, shape.y * height, shape.to_x * width, shape.to_y * height];
    const angle = Math.atan2(y2 - y1, x2 - x1);
    const head = Math.max(width, height) * 0.03;
    const wing = (turn) => `${x2 - head * Math.cos(angle + turn)} ${y2 - head * Math.sin(angle + turn)}`;
    const path = `M${x1} ${y1}L${x2} ${y2}M${wing(0.5)}L${x2} ${y2}L${wing(-0.5)}`;
    return html`<path class="halo" d=${path} /><path class="stroke" d=${path} />`;
  }
  const box = { x: shape.x * width, y: shape.y * height, width: shape.width * width, height: shape.height * height };
  if (shape.kind === "cover") return html`<rect class="cover" ...${box} />`;
  return html`<rect class="halo" ...${box} /><rect class="stroke" ...${box} />`;
}

/** The overlay: `shapes` in parts of the picture; `tool` is what a drag draws, or null; `onChange(before => after)`. */
export function DrawOn({ photo, shapes, tool, onChange }) {
  const [drag, show] = useState(null);
  // Kept beside the state: a quick hand lets go before the page is drawn again.
  const held = useRef(null);
  const setDrag = (next) => {
    held.current = next;
    show(next);
  };
  const overlay = useRef(null);
  const [width, height] = [1000, (1000 * photo.height) / photo.width];
  const pointOf = (event) => {
    const box = overlay.current.getBoundingClientRect();
    return { x: clamp((event.clientX - box.left) / box.width), y: clamp((event.clientY - box.top) / box.height) };
  };
  const down = (event) => {
    if (!tool) return;
    event.preventDefault();
    overlay.current.setPointerCapture(event.pointerId);
    setDrag({ from: pointOf(event), to: pointOf(event) });
  };
  const up = (event) => {
    if (!held.current) return;
    const shape = shapeBetween(tool, held.current.from, pointOf(event));
    setDrag(null);
    if (shape) onChange((before) => [...before, rounded(shape)]);
  };
  const keyed = (event, index) => {
    const by = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] }[event.key];
    if (by) {
      event.preventDefault();
      event.stopPropagation();
      onChange((before) => before.map((shape, at) => (at === index ? rounded((event.shiftKey ? sized : moved)(shape, ...by)) : shape)));
    } else if (event.key === "Delete" || event.key === "Backspace") {
      event.preventDefault();
      event.stopPropagation();
      onChange((before) => before.filter((_, at) => at !== index));
    }
  };
  const growing = drag && shapeBetween(tool, drag.from, drag.to);
  return html`
    <svg ref=${overlay} class=${tool ? "overlay drawing" : "overlay"} viewBox=${`0 0 ${width} ${height}`} role="group" aria-label="Drawn on the copy"
         onPointerDown=${down} onPointerMove=${(event) => held.current && setDrag({ ...held.current, to: pointOf(event) })} onPointerUp=${up} onPointerCancel=${() => setDrag(null)}>
      ${shapes.map((shape, index) => html`
        <g key=${index} class="shape" tabindex="0" role="button" data-arrows onKeyDown=${(event) => keyed(event, index)}
           aria-label=${`${NAMES[shape.kind]} ${index + 1} of ${shapes.length}; arrows move it, Shift and arrows size it, Delete takes it off`}>
          <${Shape} shape=${shape} width=${width} height=${height} /></g>`)}
      ${growing && html`<g class="growing"><${Shape} shape=${growing} width=${width} height=${height} /></g>`}
    </svg>`;
}
