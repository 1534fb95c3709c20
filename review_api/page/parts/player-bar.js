// The sound at the foot of the page: where it stands, its wave, slower, again.
import { html, useEffect, useRef } from "../html.js";
import { get, paths } from "../api.js";
import { again, fetching, loaded, play, playing, position, skip, sound, stretch, toggle, trouble } from "../player.js";
import { speed } from "../settings.js";
import { clockOf } from "../words.js";
import { Icon } from "./shapes.js";

const colour = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

/** The wave of the loaded recording, drawn from the service's peaks so that a long one need not be decoded here. */
function Wave({ recording }) {
  const place = useRef(null);
  useEffect(() => {
    let gone = false;
    let wave = null;
    const stopped = new AbortController();
    (async () => {
      const [{ default: WaveSurfer }, drawn] = await Promise.all([
        import("wavesurfer.js"),
        get(paths.peaks(recording.sha256), { signal: stopped.signal }),
      ]);
      if (gone) return;
      wave = WaveSurfer.create({
        container: place.current, media: sound, peaks: [drawn.peaks], duration: recording.duration_s,
        height: 44, normalize: true, minPxPerSec: 24, autoScroll: true, autoCenter: true, hideScrollbar: true, dragToSeek: false,
        waveColor: colour("--edge"), progressColor: colour("--accent"), cursorColor: colour("--over"), cursorWidth: 2,
      });
      wave.on("interaction", (seconds) => {
        stretch.value = { start: seconds, end: null };
      });
    })().catch(() => {
      /* Without a wave the words and the times still work; playing says itself when it cannot. */
    });
    return () => {
      gone = true;
      stopped.abort();
      wave?.destroy();
    };
  }, [recording.sha256]);
  return html`<div class="wave" ref=${place} aria-hidden="true"></div>`;
}

const SPEEDS = [0.5, 0.75, 1, 1.25, 1.5];

export function PlayerBar({ recordings }) {
  const recording = recordings.find((one) => one.sha256 === loaded.value);
  if (!recording) return null;
  return html`
    <section class="player" aria-label="Sound">
      <button type="button" onClick=${toggle} aria-label=${playing.value ? "Pause" : "Play"}><${Icon} name=${playing.value ? "pause" : "play"} size=${20} /></button>
      <button type="button" class="bare" onClick=${again} aria-label="Again: the last stretch once more"><${Icon} name="again" size=${18} /></button>
      <button type="button" class="bare back" onClick=${() => skip(-3)} aria-label="3 seconds back">−3 s</button>
      <span class="where"><b>${clockOf(position.value, { tenths: true })}</b> <span class="note" role="status">${fetching.value ? "getting the sound…" : recording.name}</span></span>
      <${Wave} recording=${recording} />
      <label class="row speed"><span class="only-heard">Speed</span>
        <select value=${speed.value} onChange=${(event) => { speed.value = Number(event.target.value); }}>
          ${SPEEDS.map((one) => html`<option value=${one}>${one === 1 ? "as spoken" : `× ${one}`}</option>`)}
        </select>
      </label>
      ${trouble.value && html`<p class="notice over grow" role="alert">${trouble.value}</p>`}
    </section>`;
}

/** A button that plays exactly these seconds, and says so. */
export function Listen({ recording, start, end, hint, label = "Listen", shown = null }) {
  if (!recording || start === null || start === undefined) return null;
  const asked = loaded.value === recording && stretch.value?.start === start && stretch.value?.end === end;
  const on = asked && playing.value;
  return html`
    <button type="button" class="listen" onClick=${() => (on ? toggle() : play(recording, start, end))}
            aria-label=${`${on ? "Pause" : label}, ${clockOf(start, { tenths: true })} to ${clockOf(end, { tenths: true })}`}>
      <${Icon} name=${on ? "pause" : "play"} /> ${shown ?? html`${on ? "Pause" : label} <span class="note tiny">${clockOf(start, { tenths: true })}–${clockOf(end, { tenths: true })}</span>`}
      ${hint && html`<kbd>${hint}</kbd>`}
    </button>`;
}
