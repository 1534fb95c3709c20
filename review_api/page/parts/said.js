// One sentence as it was said: words light up while they are heard, a word can be clicked to hear it alone.
import { html, useComputed, useMemo, useState } from "../html.js";
import { align, covered } from "../align.js";
import { loaded, play, position } from "../player.js";

const BEFORE_S = 0.12;
const AFTER_S = 0.2;

/** Index of the word that sounds now in this sentence, or -1. */
function useLit(said) {
  return useComputed(() => {
    if (!said.recording || loaded.value !== said.recording) return -1;
    const now = position.value;
    if (now < said.start - 0.05 || now > said.end + 0.3) return -1;
    return said.words.findIndex((word) => now >= word.start - 0.03 && now < Math.max(word.end, word.start + 0.12));
  }).value;
}

/**
 * @param said   an utterance
 * @param spans  [{span: [from, to], name: "evidence" | "doubt"}]
 */
export function Said({ said, spans = [], onWord }) {
  const lit = useLit(said);
  const [cursor, setCursor] = useState(-1);
  const pieces = useMemo(() => covered(align(said.text, said.words), spans), [said, spans]);
  const hear = (index) => {
    const word = said.words[index];
    if (!word || !said.recording) return;
    play(said.recording, Math.max(0, word.start - BEFORE_S), word.end + AFTER_S);
    onWord?.(index);
  };
  const clicked = (event) => {
    const found = event.target.closest("[data-word]");
    if (found) {
      setCursor(Number(found.dataset.word));
      hear(Number(found.dataset.word));
    }
  };
  const keyed = (event) => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (step) {
      event.preventDefault();
      event.stopPropagation();
      setCursor(Math.min(said.words.length - 1, Math.max(0, cursor + step)));
    } else if (event.key === "Enter" && cursor >= 0) {
      event.preventDefault();
      event.stopPropagation();
      hear(cursor);
    }
  };
  const able = said.words.length > 0 && said.recording;
  return html`
    <p class=${`said break ${able ? "able" : ""}`} tabindex=${able ? 0 : undefined} role=${able ? "group" : undefined} data-arrows
       aria-label=${able ? `Said: ${said.text}. Left and right choose a word, Enter plays it.` : undefined}
       onClick=${clicked} onKeyDown=${keyed} onBlur=${() => setCursor(-1)}>
      ${pieces.map(({ from, to, word, names }) => {
        const classes = [word === lit && lit >= 0 ? "lit" : "", word === cursor && cursor >= 0 ? "cursor" : "", ...names].filter(Boolean).join(" ");
        const text = said.text.slice(from, to);
        if (names.includes("doubt")) return html`<mark class=${classes} data-word=${word ?? undefined}>${text}</mark>`;
        return html`<span class=${classes || undefined} data-word=${word ?? undefined}>${text}</span>`;
      })}
    </p>`;
}
