// The few names that every part of the page uses: markup, state, effects.
import { h, render } from "./vendor/preact.js";
import htm from "./vendor/htm.js";

export { render };
export { useEffect, useLayoutEffect, useMemo, useRef, useState } from "./vendor/preact-hooks.js";
export { batch, computed, effect, signal, untracked, useComputed, useSignal } from "./vendor/signals.js";

/** Markup as a tagged template: html`<p>${text}</p>`. Text is always text, never markup. */
export const html = htm.bind(h);
