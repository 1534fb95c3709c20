// One photo in full: look, draw on its copy, cover what must not leave, say what it shows, attach it.
import { html, useEffect, useRef, useState } from "../html.js";
import { paths } from "../api.js";
import { change } from "../desk.js";
import { alike, useDraft } from "../draft.js";
import { unsaved } from "../saving.js";
import { wallTime } from "../words.js";
import { Dialog } from "./dialog.js";
import { DrawOn, firstShape } from "./draw-on.js";
import { altOf, attach, attaching } from "./photo-strip.js";
import { Icon } from "./shapes.js";

const ORIGINS = { exif: "its own data", container: "its own data", file_name: "its file name", file_date: "the file's date, less sure", given: "inspection.toml" };
const PAUSE_MS = 700;

const valuesOf = (photo) => ({ caption: photo.caption, alternative_text: photo.alternative_text, shapes: [...photo.covers, ...photo.drawn] });
const bodyOf = ({ caption, alternative_text, shapes }) => ({
  caption, alternative_text,
  covers: shapes.filter((shape) => shape.kind === "cover"), drawn: shapes.filter((shape) => shape.kind !== "cover"),
});
const SENT_AS = { caption: ["caption"], alternative_text: ["alternative_text"], shapes: ["covers", "drawn"] };

/** The service holds covers and drawings apart: their order among each other says nothing. */
const asSent = (value) => (Array.isArray(value) ? bodyOf({ shapes: value }) : value);

/** What the person says of the photo, saved by itself a moment after the last change: [draft, draw, state]. */
function usePhotoDraft(photo) {
  const draft = useDraft(valuesOf(photo), { same: (one, other) => alike(asSent(one), asSent(other)) });
  const [trouble, setTrouble] = useState(null);
  const timer = useRef(0);
  const open = useRef(false);
  const subject = `photo ${photo.sha256}`;
  const flush = () => {
    clearTimeout(timer.current);
    const touched = draft.touched();
    if (!open.current || !touched.length) return;
    open.current = false;
    const now = draft.now();
    const follow = draft.settle(Object.fromEntries(touched.map((name) => [name, now[name]])));
    const settled = (outcome, message) => {
      follow(outcome);
      setTrouble(outcome === "refused" ? message : null);
      return false;
    };
    const own = touched.flatMap((name) => SENT_AS[name]);
    change("PUT", `photos/${photo.sha256}`, bodyOf(now), { subject, says: `Photo ${photo.number} changed`, ...draft.over(), own, settled });
  };
  useEffect(() => flush, []);
  const set = (more) => {
    draft.set(more);
    open.current = true;
    clearTimeout(timer.current);
    timer.current = setTimeout(flush, PAUSE_MS);
  };
  const draw = (make) => set({ shapes: make(draft.now().shapes) });
  const waits = unsaved.value.has(subject) || (open.current && draft.touched().length > 0);
  return [draft.values, set, draw, waits ? "Saving…" : trouble ? `Not saved: ${trouble}` : "Saved"];
}

export function PhotoFull({ desk, photo, onClose, onStep }) {
  const [draft, set, draw, state] = usePhotoDraft(photo);
  const [tool, setTool] = useState(null);
  const wantsIt = (id) => {
    const waits = unsaved.value.get(attaching(id, photo.sha256));
    return waits ? waits.method === "PUT" : photo.findings.includes(id);
  };
  const draws = (kind, icon, word) => html`
    <button type="button" aria-pressed=${tool === kind} onClick=${(event) => {
      // From the keyboard a shape is placed at once, to be moved by arrows; by pointer the tool is taken up.
      if (event.detail === 0) draw((shapes) => [...shapes, firstShape(kind)]);
      else setTool(tool === kind ? null : kind);
    }}><${Icon} name=${icon} /> ${word}</button>`;
  const keys = [
    { key: "ArrowRight", repeats: true, does: "next photo", run: () => onStep(1) },
    { key: "ArrowLeft", repeats: true, does: "photo before", run: () => onStep(-1) },
  ];
  return html`
    <${Dialog} title=${`Photo ${photo.number} of ${desk.photos.length}`} onClose=${onClose} keys=${keys} wide>
      <div class="photo-full">
        <div class="stack">
          <div class="row" role="group" aria-label="Draw on the copy">
            ${draws("box", "box", "Box")} ${draws("arrow", "arrow", "Arrow")} ${draws("cover", "cover", "Cover")}
            <button type="button" class="bare" disabled=${!draft.shapes.length} onClick=${() => draw((shapes) => shapes.slice(0, -1))}><${Icon} name="bin" /> Last one off</button>
          </div>
          <div class="picture" style=${{ "--ratio": photo.width / photo.height }}>
            <img src=${paths.photo(photo.sha256, "page")} alt=${altOf({ ...photo, ...draft })} width=${photo.width} height=${photo.height} />
            <${DrawOn} photo=${photo} shapes=${draft.shapes} tool=${tool} onChange=${draw} />
          </div>
          <div class="row spread">
            <button type="button" onClick=${() => onStep(-1)}><${Icon} name="back" /> Before</button>
            <p class="note tiny break">${photo.name}, ${wallTime(photo.taken, { seconds: true })} from ${ORIGINS[photo.taken_from] ?? photo.taken_from}</p>
            <button type="button" onClick=${() => onStep(1)}>Next <${Icon} name="next" /></button>
          </div>
        </div>
        <div class="stack">
          ${photo.warnings.map((warning) => html`<p class="notice near"><span><${Icon} name="warn" /> ${warning}</span></p>`)}
          ${photo.has_place && html`<p class="note">The original holds the place where it was taken. Copies that leave never do.</p>`}
          <div class="field"><label for="caption">Caption</label>
            <input id="caption" type="text" maxlength="500" value=${draft.caption} onInput=${(event) => set({ caption: event.target.value })} /></div>
          <div class="field"><label for="alternative">What it shows, for those who cannot see it</label>
            <textarea id="alternative" rows="3" value=${draft.alternative_text} onInput=${(event) => set({ alternative_text: event.target.value })}></textarea></div>
          <p class="note tiny" role="status">${state}</p>
          <fieldset class="stack tight"><legend><h3>Belongs to</h3></legend>
            ${desk.findings.length === 0 && html`<p class="note">There is no finding yet.</p>`}
            ${desk.findings.filter((finding) => finding.decision.state !== "rejected").map((finding) => html`
              <label class="tick"><input type="checkbox" checked=${wantsIt(finding.id)} onChange=${(event) => attach(finding.id, photo.sha256, event.target.checked)} />
                <span><b>${finding.provision}</b> ${finding.what} ${unsaved.value.has(attaching(finding.id, photo.sha256)) && html`<span class="note tiny">saving…</span>`}</span></label>`)}
          </fieldset>
        </div>
      </div>
    <//>`;
}
