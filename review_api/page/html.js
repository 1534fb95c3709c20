// The few names that every part of the page uses: markup, state, effects.
import { h, render } from "preact";
import htm from "htm";

export { render };
// What moves the focus is a layout effect: a later one would take it away from who types at once, and the text with it.
export { useEffect, useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
export { batch, computed, effect, signal, untracked, useComputed, useSignal } from "@preact/signals";

/** Markup as a tagged template: html`<p>${text}</p>`. Text is always text, never markup. */
export const html = htm.bind(h);
