// The visit on one line: every device's seconds laid on one clock, long empty times folded. Pure functions.

/** Milliseconds since the epoch. */
const ms = (iso) => new Date(iso).getTime();

/** When a second of a recording was, in milliseconds; null when the recording is not known. */
export function instantOf(recordings, recording, seconds) {
  const found = recordings.find((one) => one.sha256 === recording);
  return found ? ms(found.started) + (seconds ?? 0) * 1000 : null;
}

/** An instant as the visit's wall clock shows it, "10:42:05", in the offset of the visit's first recording or photo. */
export function wallClock(instant, offsetMinutes) {
  const shifted = new Date(instant + offsetMinutes * 60_000);
  return shifted.toISOString().slice(11, 19);
}

/** Minutes east of UTC in an ISO time. */
export function offsetOf(iso) {
  const found = /([+-])(\d\d):?(\d\d)$/.exec(iso ?? "");
  if (!found) return 0;
  return (found[1] === "-" ? -1 : 1) * (Number(found[2]) * 60 + Number(found[3]));
}

/** Minutes east of UTC in a zone such as "America/Chicago" at an instant. */
function offsetIn(zone, instant) {
  const parts = new Intl.DateTimeFormat("en", { timeZone: zone, timeZoneName: "longOffset" }).formatToParts(instant);
  return offsetOf(parts.find((part) => part.type === "timeZoneName").value);
}

/**
 * The clock of the place that was visited: `at(wall)` is its offset in minutes when it shows "2026-11-20T09:30", `now()`
 * what it shows now. It keeps daylight time where the visit names its zone, else the offset of the visit's first time.
 */
export function placeClock(desk) {
  const fixed = offsetOf(desk.facts.time_in ?? desk.recordings[0]?.started ?? desk.photos[0]?.taken);
  const offset = (instant) => {
    try {
      return desk.facts.time_zone ? offsetIn(desk.facts.time_zone, instant) : fixed;
    } catch {
      return fixed; // a zone that this browser does not know
    }
  };
  const at = (wall) => {
    const inUtc = Date.parse(`${wall.slice(0, 16)}:00Z`);
    return offset(inUtc - offset(inUtc) * 60_000);
  };
  return { at, now: () => new Date(Date.now() + offset(Date.now()) * 60_000).toISOString().slice(0, 16) };
}

/**
 * Everything that happened, in order of time: {kind, at, until, recording, start, end, ...}.
 * Kinds: "speech", "unheard", "photo".
 */
export function happenings(desk) {
  const list = [];
  desk.utterances.forEach((utterance, index) => {
    if (utterance.start === null || !utterance.recording) return;
    const at = instantOf(desk.recordings, utterance.recording, utterance.start);
    if (at === null) return;
    const until = at + (utterance.end - utterance.start) * 1000;
    list.push({ kind: "speech", at, until, recording: utterance.recording, start: utterance.start, end: utterance.end, index, text: utterance.text, doubtful: utterance.doubts.length > 0 });
  });
  for (const stretch of desk.notUnderstood) {
    const at = instantOf(desk.recordings, stretch.recording, stretch.start);
    if (at === null) continue;
    list.push({ kind: "unheard", at, until: at + (stretch.end - stretch.start) * 1000, ...stretch, text: "Voice that was not understood" });
  }
  for (const photo of desk.photos) {
    list.push({ kind: "photo", at: ms(photo.taken), until: ms(photo.taken), photo: photo.sha256, text: `Photo ${photo.number}: ${photo.caption || photo.name}` });
  }
  return list.sort((one, other) => one.at - other.at || one.until - other.until);
}

/** First and last instant of anything recorded. */
export function boundsOf(desk) {
  const starts = [...desk.recordings.map((one) => ms(one.started)), ...desk.photos.map((one) => ms(one.taken))];
  const ends = [...desk.recordings.map((one) => ms(one.started) + one.duration_s * 1000), ...desk.photos.map((one) => ms(one.taken))];
  return [Math.min(...starts), Math.max(...ends)];
}

const FOLD_AFTER_MS = 120_000;
const FOLDED_SHARE = 0.035;

/**
 * Stretches of time that are drawn to scale, and how long the folded times between them are.
 * Returns {parts: [{from, to, left, width}], folds: [{left, width, ms}], place(instant) → 0..1, instant(share) → ms}.
 */
export function scaleOf(desk, happened) {
  const busy = desk.recordings.map((one) => [ms(one.started), ms(one.started) + one.duration_s * 1000]);
  for (const one of happened) busy.push([one.at - 4000, one.until + 4000]);
  if (!busy.length) return { parts: [], folds: [], place: () => 0, instant: () => 0 };
  busy.sort((one, other) => one[0] - other[0]);
  const parts = [];
  for (const [from, to] of busy) {
    const last = parts.at(-1);
    if (last && from - last.to < FOLD_AFTER_MS) last.to = Math.max(last.to, to);
    else parts.push({ from, to });
  }
  const folded = FOLDED_SHARE * Math.min(1, 8 / Math.max(1, parts.length - 1));
  const drawn = 1 - folded * (parts.length - 1);
  const total = parts.reduce((sum, part) => sum + part.to - part.from, 0);
  const folds = [];
  let left = 0;
  parts.forEach((part, index) => {
    if (index) {
      folds.push({ left, width: folded, ms: part.from - parts[index - 1].to });
      left += folded;
    }
    part.left = left;
    part.width = (drawn * (part.to - part.from)) / total;
    left += part.width;
  });
  const place = (instant) => {
    for (const part of parts) {
      if (instant < part.from) return part.left;
      if (instant <= part.to) return part.left + (part.width * (instant - part.from)) / (part.to - part.from);
    }
    return 1;
  };
  const instant = (share) => {
    const part = parts.find((one) => share <= one.left + one.width) ?? parts.at(-1);
    return part.from + Math.min(1, Math.max(0, (share - part.left) / part.width)) * (part.to - part.from);
  };
  return { parts, folds, place, instant };
}

/** The recording that runs at an instant, and the second in it; null in a silence. */
export function heardAt(recordings, instant) {
  for (const one of recordings) {
    const seconds = (instant - ms(one.started)) / 1000;
    if (seconds >= 0 && seconds < one.duration_s) return { recording: one.sha256, seconds };
  }
  return null;
}

/** Photos by nearness in time to an instant, each with how far away it was taken, in milliseconds. */
export function photosAround(photos, instant, { within = 300_000, most = 8 } = {}) {
  if (instant === null) return [];
  return photos
    .map((photo) => ({ photo, away: ms(photo.taken) - instant }))
    .filter(({ away }) => Math.abs(away) <= within)
    .sort((one, other) => Math.abs(one.away) - Math.abs(other.away))
    .slice(0, most);
}

/** "2 min before", "at that moment", "40 s after". */
export function awayText(away) {
  const seconds = Math.round(Math.abs(away) / 1000);
  if (seconds < 3) return "at that moment";
  const amount = seconds < 90 ? `${seconds} s` : `${Math.round(seconds / 60)} min`;
  return `${amount} ${away < 0 ? "before" : "after"}`;
}
