// One sound at a time: which recording, where in it, until when. Everything that is heard on the page goes through here.
import { effect, signal } from "./html.js";
import { paths } from "./api.js";
import { speed } from "./settings.js";

/** The one media element; the wave draws itself from it. */
export const sound = new Audio();
sound.preload = "metadata";
sound.preservesPitch = true;

/** SHA-256 of the recording that is loaded, or null. */
export const loaded = signal(null);
/** Seconds into it. */
export const position = signal(0);
export const playing = signal(false);
/** The stretch that was asked for: {start, end} in seconds; `end` null plays on. */
export const stretch = signal(null);
/** True from asking for sound until it is there. */
export const fetching = signal(false);
/** A sentence when it cannot be played. */
export const trouble = signal(null);

let frame = 0;
let wanted = null;

function follow() {
  cancelAnimationFrame(frame);
  position.value = sound.currentTime;
  const end = stretch.value?.end;
  if (end !== null && end !== undefined && sound.currentTime >= end) {
    sound.pause();
    return;
  }
  if (!sound.paused) frame = requestAnimationFrame(follow);
}
sound.addEventListener("play", () => {
  playing.value = true;
  follow();
});
sound.addEventListener("pause", () => {
  playing.value = false;
  position.value = sound.currentTime;
});
// A page in the background gets no frames; this event still comes, so the end of a stretch is kept there too.
sound.addEventListener("timeupdate", follow);
sound.addEventListener("error", () => {
  playing.value = false;
  fetching.value = false;
  trouble.value = "This recording cannot be played here. Its words are still beside it, and the original is kept.";
});
effect(() => {
  sound.defaultPlaybackRate = speed.value;
  sound.playbackRate = speed.value;
});

/** Loads a recording without playing it. */
export function load(recording) {
  if (loaded.peek() === recording) return;
  trouble.value = null;
  loaded.value = recording;
  stretch.value = null;
  position.value = 0;
  sound.src = paths.audio(recording);
}

function started(promise) {
  promise?.catch((error) => {
    if (error.name === "NotAllowedError") trouble.value = "The browser holds sound back until you press a button on the page.";
    else if (error.name !== "AbortError") trouble.value = "This recording cannot be played here.";
  });
}

/** Plays from `start` to `end` (seconds; null: on and on) of a recording. */
export function play(recording, start, end = null) {
  load(recording);
  wanted = { start, end };
  const begin = () => {
    if (wanted?.start !== start || wanted?.end !== end || loaded.peek() !== recording) return;
    fetching.value = false;
    stretch.value = { start, end };
    sound.currentTime = start;
    position.value = start;
    started(sound.play());
  };
  if (sound.readyState >= HTMLMediaElement.HAVE_METADATA) begin();
  else {
    fetching.value = true;
    sound.addEventListener("loadedmetadata", begin, { once: true });
  }
}

/** Plays or pauses where it stands; at the end of a stretch it goes on past it. */
export function toggle() {
  if (!loaded.peek()) return;
  if (!sound.paused) {
    sound.pause();
    return;
  }
  const end = stretch.peek()?.end;
  if (end !== null && end !== undefined && sound.currentTime >= end - 0.05) stretch.value = { start: sound.currentTime, end: null };
  started(sound.play());
}

/** The last stretch once more, from its start. */
export function again() {
  const last = stretch.peek();
  if (last && loaded.peek()) play(loaded.peek(), last.start, last.end);
}

/** Moves by seconds, playing or not. */
export function skip(seconds) {
  if (!loaded.peek()) return;
  if (stretch.peek()?.end !== null) stretch.value = { start: sound.currentTime, end: null };
  sound.currentTime = Math.max(0, sound.currentTime + seconds);
  position.value = sound.currentTime;
}

export function stop() {
  sound.pause();
}
