// A name put under the report: written on glass and kept as vector, or typed.
import { html, useEffect, useRef, useState } from "../html.js";
import { Icon } from "./shapes.js";

const colour = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
const share = (value) => Math.round(Math.min(1, Math.max(0, value)) * 10_000) / 10_000;

/** The strokes as the service keeps them: each a list of [x, y], as shares of the glass. */
function strokesOf(pad, width, height) {
  return pad.toData().map((group) => group.points.map(({ x, y }) => [share(x / width), share(y / height)]));
}

/** The glass. Calls `onChange({strokes, aspect})` after each stroke; what is drawn survives turning the phone. */
function Glass({ label, onChange, clears }) {
  const canvas = useRef(null);
  const pad = useRef(null);
  const kept = useRef([]);
  const told = useRef(onChange);
  told.current = onChange; // the glass is set up once; what it tells goes to the form as it is now
  useEffect(() => {
    let gone = false;
    const fit = () => {
      const { offsetWidth: width, offsetHeight: height } = canvas.current;
      const ratio = Math.max(1, devicePixelRatio);
      canvas.current.width = width * ratio;
      canvas.current.height = height * ratio;
      canvas.current.getContext("2d").scale(ratio, ratio);
      pad.current.clear();
      pad.current.fromData(kept.current.map((stroke) => ({
        penColor: pad.current.penColor, dotSize: 0, minWidth: 0.8, maxWidth: 2.6, velocityFilterWeight: 0.7, compositeOperation: "source-over",
        points: stroke.map(([x, y]) => ({ x: x * width, y: y * height, time: 0, pressure: 0.5 })),
      })));
    };
    const watch = new ResizeObserver(() => canvas.current && pad.current && fit());
    (async () => {
      const { default: SignaturePad } = await import("signature_pad");
      if (gone) return;
      pad.current = new SignaturePad(canvas.current, { penColor: colour("--ink"), minWidth: 0.8, maxWidth: 2.6 });
      pad.current.addEventListener("endStroke", () => {
        const { offsetWidth: width, offsetHeight: height } = canvas.current;
        kept.current = strokesOf(pad.current, width, height);
        told.current({ strokes: kept.current, aspect: Math.round((width / height) * 1000) / 1000 });
      });
      fit();
      watch.observe(canvas.current);
    })();
    return () => {
      gone = true;
      watch.disconnect();
      pad.current?.off();
    };
  }, []);
  useEffect(() => {
    kept.current = [];
    pad.current?.clear();
  }, [clears]);
  return html`<canvas ref=${canvas} class="glass" role="img" aria-label=${label}></canvas>`;
}

/**
 * A name with or without strokes. `value` is {name, role, strokes, aspect}; typing the name alone is a signature too.
 */
export function Signature({ legend, id, value, onChange, roles }) {
  const [clears, setClears] = useState(0);
  const wipe = () => {
    setClears(clears + 1);
    onChange({ ...value, strokes: [] });
  };
  return html`
    <fieldset class="stack">
      <legend><h3>${legend}</h3></legend>
      <div class="fields">
        <div class="field"><label for=${`${id}-name`}>Name</label>
          <input id=${`${id}-name`} type="text" autocomplete="off" maxlength="200" value=${value.name} onInput=${(event) => onChange({ ...value, name: event.target.value })} /></div>
        ${roles && html`<div class="field"><label for=${`${id}-role`}>Is</label>
          <select id=${`${id}-role`} value=${value.role} onChange=${(event) => onChange({ ...value, role: event.target.value })}>${roles.map((role) => html`<option>${role}</option>`)}</select></div>`}
      </div>
      <p class="note">Sign in the field, or let the typed name stand as the signature.</p>
      <${Glass} label=${`Field to sign in: ${value.strokes.length ? "signed" : "empty"}`} clears=${clears} onChange=${(drawn) => onChange({ ...value, ...drawn })} />
      <div class="row"><button type="button" disabled=${!value.strokes.length} onClick=${wipe}><${Icon} name="bin" /> Wipe it</button>
        <span class="note" role="status">${value.strokes.length ? "Signed by hand." : value.name.trim() ? "The typed name stands." : "Not signed yet."}</span></div>
    </fieldset>`;
}
