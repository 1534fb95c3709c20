// The visit on one line. A slider to the keyboard: arrows go from one happening to the next, Enter plays it.
import { html, useComputed, useMemo, useRef, useState } from "../html.js";
import { clockOf, count, VERDICTS } from "../words.js";
import { boundsOf, happenings, heardAt, instantOf, offsetOf, scaleOf, wallClock } from "../visit.js";
import { loaded, play, position } from "../player.js";
import { Verdict } from "./shapes.js";

const percent = (share) => `${(share * 100).toFixed(3)}%`;

function describe(one, offset) {
  const clock = wallClock(one.at, offset);
  if (one.kind === "speech") return `${clock}, ${one.doubtful ? "doubtful: " : ""}“${one.text}”`;
  return `${clock}, ${one.text}`;
}

function foldName(fold) {
  const minutes = Math.round(fold.ms / 60_000);
  return minutes < 100 ? `${minutes} min with nothing recorded` : `${(minutes / 60).toFixed(1)} h with nothing recorded`;
}

/** Where the sound stands now; drawn apart so that the rest is not drawn again at each frame. */
function Needle({ desk, scale }) {
  const left = useComputed(() => {
    const instant = loaded.value ? instantOf(desk.recordings, loaded.value, position.value) : null;
    return instant === null ? null : percent(scale.place(instant));
  });
  return left.value === null ? null : html`<i class="needle" style=${{ left: left.value }}></i>`;
}

function Marks({ desk, scale }) {
  const marks = [];
  for (const reading of desk.readings) {
    const said = desk.utterances[reading.utterance];
    const at = said ? instantOf(desk.recordings, said.recording, reading.start ?? said.start) : null;
    if (at !== null) marks.push({ at, reading });
  }
  return marks.map(
    ({ at, reading }) => html`<i class=${`mark ${VERDICTS[reading.check?.verdict ?? "none"].tone} ${reading.doubts.length ? "doubtful" : ""}`}
      style=${{ left: percent(scale.place(at)) }}><${Verdict} verdict=${reading.check?.verdict ?? "none"} short /></i>`,
  );
}

export function Timeline({ desk, onSelect }) {
  const happened = useMemo(() => happenings(desk), [desk]);
  const scale = useMemo(() => scaleOf(desk, happened), [desk, happened]);
  const [current, setCurrent] = useState(0);
  const [told, setTold] = useState(null);
  const line = useRef(null);
  const first = desk.recordings[0]?.started ?? desk.photos[0]?.taken;
  const offset = offsetOf(first);
  if (!happened.length) return null;
  const here = happened[Math.min(current, happened.length - 1)];
  const doubts = happened.filter((one) => one.doubtful).length;
  const unheard = happened.filter((one) => one.kind === "unheard").length;

  const [from, to] = boundsOf(desk);

  const listen = (one) => {
    if (one.kind === "photo") onSelect?.(one);
    else play(one.recording, one.start, one.end);
  };
  const keyed = (event) => {
    const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10, Home: -Infinity, End: Infinity };
    if (event.key in steps) {
      event.preventDefault();
      const next = Math.min(happened.length - 1, Math.max(0, current + steps[event.key]));
      setCurrent(next);
      setTold(happened[next]);
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      event.stopPropagation();
      listen(here);
    }
  };
  const shareOf = (event) => {
    const box = line.current.getBoundingClientRect();
    return (event.clientX - box.left) / box.width;
  };
  const nearest = (share) => {
    let best = 0;
    happened.forEach((one, index) => {
      const distance = (item) => Math.abs(scale.place((item.at + item.until) / 2) - share);
      if (distance(one) < distance(happened[best])) best = index;
    });
    return best;
  };
  const pressed = (event) => {
    const share = shareOf(event);
    const index = nearest(share);
    setCurrent(index);
    setTold(happened[index]);
    const one = happened[index];
    const instant = scale.instant(share);
    if (one.kind !== "photo" && (instant < one.at || instant > one.until)) {
      const there = heardAt(desk.recordings, instant);
      if (there && Math.abs(scale.place(one.at) - share) > 0.01) {
        play(there.recording, there.seconds, null);
        return;
      }
    }
    listen(one);
  };

  return html`
    <section class="timeline" aria-label="The visit on one line">
      <div class="line" ref=${line} role="slider" tabindex="0" aria-label="Point of the visit; Enter plays it"
           aria-valuemin="1" aria-valuemax=${happened.length} aria-valuenow=${current + 1} aria-valuetext=${describe(here, offset)}
           onKeyDown=${keyed} onClick=${pressed} onMouseMove=${(event) => setTold(happened[nearest(shareOf(event))])}
           onFocus=${() => setTold(here)}>
        ${scale.parts.map((part) => html`<i class="part" style=${{ left: percent(part.left), width: percent(part.width) }}></i>`)}
        ${scale.folds.map((fold) => html`<i class="fold" title=${foldName(fold)} style=${{ left: percent(fold.left), width: percent(fold.width) }}></i>`)}
        ${happened.map((one) => html`<i class=${`${one.kind} ${one.doubtful ? "doubtful" : ""} ${one === here ? "here" : ""}`}
          style=${{ left: percent(scale.place(one.at)), width: one.kind === "photo" ? undefined : percent(scale.place(one.until) - scale.place(one.at)) }}></i>`)}
        <${Marks} desk=${desk} scale=${scale} />
        <${Needle} desk=${desk} scale=${scale} />
      </div>
      <p class="told note">
        ${told
          ? html`<b>${wallClock(told.at, offset)}</b> <span class="break">${told.kind === "speech" ? `“${told.text}”` : told.text}</span>`
          : html`<b>${wallClock(from, offset).slice(0, 5)}–${wallClock(to, offset).slice(0, 5)}</b>
              <span>${[
                `${count(desk.recordings.length, "recording")} of ${clockOf(desk.recordings.reduce((sum, one) => sum + one.duration_s, 0))}`,
                count(desk.photos.length, "photo"), count(desk.readings.length, "reading"),
                doubts && count(doubts, "doubtful sentence"), unheard && `${count(unheard, "stretch", "stretches")} not understood`,
              ].filter(Boolean).join(", ")}</span>`}
      </p>
    </section>`;
}
