// The personal vocabulary: what was corrected once and is understood from then on; each word can be forgotten.
import { html, useEffect, useState } from "../html.js";
import { get, paths, send } from "../api.js";
import { said } from "../desk.js";
import { count } from "../words.js";
import { Icon } from "./shapes.js";

export function Vocabulary() {
  const [words, setWords] = useState(null);
  const [trouble, setTrouble] = useState(null);
  const read = () => get(paths.vocabulary).then(setWords, (error) => setTrouble(error.message));
  useEffect(() => {
    read();
  }, []);
  const forget = async (word) => {
    try {
      await send("DELETE", `${paths.vocabulary}/${word.id}`);
      said.value = `Forgotten: ${word.meant}.`;
    } catch (error) {
      setTrouble(error.message);
    }
    read();
  };
  if (!words?.length && !trouble) return null;
  return html`
    <details class="card"><summary><h2 class="inline">Your words</h2> <span class="note">${words && count(words.length, "correction")} kept for the next inspection</span></summary>
      ${trouble && html`<p class="notice over" role="alert">${trouble}</p>`}
      <ul class="stack tight">${words?.map((word) => html`
        <li class="row spread" key=${word.id}><span class="break">${word.heard ? html`“${word.heard}” is <b>${word.meant}</b>` : html`<b>${word.meant}</b>`} <span class="note">${word.kind}</span></span>
          <button type="button" class="bare" aria-label=${`Forget ${word.meant}`} onClick=${() => forget(word)}><${Icon} name="bin" /> Forget</button></li>`)}</ul>
    </details>`;
}
