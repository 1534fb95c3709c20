// What this browser remembers between visits: how the page looks and which keys are on. Never anything of an inspection.
import { effect, signal } from "./html.js";

/** A signal whose value outlives the page, under `probeside.NAME`. */
function kept(name, first) {
  const key = `probeside.${name}`;
  let value = first;
  try {
    const text = localStorage.getItem(key);
    if (text !== null) value = JSON.parse(text);
  } catch {
    /* a value of an older page: the first one serves */
  }
  const made = signal(value);
  effect(() => localStorage.setItem(key, JSON.stringify(made.value)));
  return made;
}

/** "system", "light" or "dark". Stored bare, since theme.js reads it before this module runs. */
export const theme = signal(localStorage.getItem("probeside.theme") ?? "system");
effect(() => {
  const chosen = theme.value;
  localStorage.setItem("probeside.theme", chosen);
  if (chosen === "system") delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = chosen;
});

/** Whether single letters act. Off for people whose dictation software types letters (WCAG 2.1.4). */
export const lettersOn = kept("letters", true);
/** "visit" or "weight". */
export const order = kept("order", "visit");
/** Whether the list leaves out what is decided. */
export const hideDecided = kept("hide-decided", false);
/** How fast sound is played; 1 is as spoken. */
export const speed = kept("speed", 1);
