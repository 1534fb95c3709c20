// The keyboard model. A view offers keys; the help panel and the hints read the same list, so they cannot differ.
import { signal, useLayoutEffect, useRef } from "./html.js";
import { lettersOn } from "./settings.js";

/**
 * @typedef {object} Key
 * @property {string} key     as `KeyboardEvent.key` gives it, or "1-9"
 * @property {string} [also]  another key for the same
 * @property {boolean} [typed] with Ctrl (or Cmd)
 * @property {boolean} [shift] and with Shift
 * @property {string} does    in words, for the panel
 * @property {boolean} [repeats] acts again and again while it is held; only what moves does, never what decides
 * @property {(event: KeyboardEvent) => void} run
 * @property {() => boolean} [when]
 */

/** Offered sets, innermost last: {title, keys, modal}. A modal set hides those below it. */
export const offered = signal([]);

/** Offers keys while the calling part is on the page. `keys` may change at each rendering. */
export function useKeys(title, keys, { modal = false, active = true } = {}) {
  const kept = useRef(null);
  kept.current ??= { title, keys, modal };
  const set = kept.current;
  set.title = title;
  set.keys = keys;
  set.modal = modal;
  // Before the next key can come: two keys in quick succession must not miss what the first one opened.
  useLayoutEffect(() => {
    if (!active) return undefined;
    offered.value = [...offered.peek(), set];
    return () => {
      offered.value = offered.peek().filter((other) => other !== set);
    };
  }, [active]);
}

const TYPING = "input:not([type=checkbox], [type=radio], [type=range], [type=button]), textarea, select, [contenteditable]";
const OWN_ENTER = "button, a[href], summary, input, select, textarea, [role=slider]";
const OWN_SPACE = "button, summary, input, select, textarea, audio";

function matches(key, event) {
  if (key.typed && Boolean(key.shift) !== event.shiftKey) return false;
  if (key.key === "1-9") return event.key >= "1" && event.key <= "9";
  return [key.key, key.also].some((one) => one && (one === event.key || (one.length === 1 && one === event.key.toLowerCase())));
}

/** Whether the focused element keeps this key for itself. `data-keys` gives it up (a list entry: Enter confirms). */
function belongsToFocus(event) {
  const focus = event.target instanceof Element ? event.target : document.body;
  if (event.key === "Escape") return false;
  if (focus.closest(TYPING)) return !(event.key === "Enter" && (event.ctrlKey || event.metaKey));
  if (focus.closest("[data-keys]")) return false;
  if (event.key === "Enter") return Boolean(focus.closest(OWN_ENTER));
  if (event.key === " ") return Boolean(focus.closest(OWN_SPACE));
  if (event.key.startsWith("Arrow")) return Boolean(focus.closest("[role=slider], [role=radiogroup], [role=tablist], input, select, [data-arrows]"));
  return false;
}

/** A key that did something and is held since. */
let held = null;

// One press does one thing. A held Enter would press a button again and again, also one that appeared under it since;
// a held letter would go on in the field that it opened.
document.addEventListener("keydown", (event) => {
  if (!event.repeat) {
    held = null;
    return;
  }
  const newLine = event.target instanceof Element && event.target.closest("textarea") && !event.ctrlKey && !event.metaKey;
  if (event.key !== held && (event.key !== "Enter" || newLine)) return;
  event.preventDefault();
  event.stopPropagation();
}, { capture: true });

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.altKey || event.isComposing) return;
  const typed = event.ctrlKey || event.metaKey;
  if (belongsToFocus(event)) return;
  const letter = event.key.length === 1 && event.key !== " " && !typed;
  if (letter && !lettersOn.value) return;
  const sets = offered.value;
  for (let index = sets.length - 1; index >= 0; index -= 1) {
    const set = sets[index];
    for (const key of set.keys) {
      if (Boolean(key.typed) !== typed || !matches(key, event) || (key.when && !key.when())) continue;
      event.preventDefault();
      if (event.repeat && !key.repeats) return;
      if (!key.repeats) held = event.key;
      key.run(event);
      return;
    }
    if (set.modal) return;
  }
});

const NAMES = { " ": "Space", ArrowUp: "↑", ArrowDown: "↓", ArrowLeft: "←", ArrowRight: "→", Escape: "Esc" };

/** A key as it is printed on the page. */
export function keyName(key) {
  const name = NAMES[key.key ?? key] ?? (key.key ?? key);
  const shown = name.length === 1 ? name.toUpperCase() : name;
  if (key.typed) return `Ctrl ${key.shift ? "Shift " : ""}${shown}`;
  return key.also ? `${shown} or ${keyName(key.also)}` : shown;
}
