// What was heard: the sentences a proposal rests on, each with a button for exactly its seconds.
import { html, useState } from "../html.js";
import { spansIn, stretchOf, utterancesOf } from "../subjects.js";
import { wallTime } from "../words.js";
import { AsHeard, CorrectWords } from "./correct-words.js";
import { Listen } from "./player-bar.js";
import { Said } from "./said.js";
import { Icon } from "./shapes.js";

function Sentence({ desk, index, spans, known, faint = false }) {
  const said = desk.utterances[index];
  const [word, setWord] = useState(-1);
  if (!said) return null;
  return html`
    <li class=${faint ? "sentence faint" : "sentence"}>
      <span class="note tiny time">${wallTime(said.at, { seconds: true }) || "typed"}</span>
      <div class="grow">
        <${Said} said=${said} spans=${spans} onWord=${setWord} />
        <${AsHeard} said=${said} />
        ${said.doubts.filter((doubt) => !known.has(doubt.why)).map((doubt) => html`<p class="note doubt-why"><${Icon} name="doubt" /> ${doubt.why}</p>`)}
        ${!faint && html`<div class="row uses"><${CorrectWords} desk=${desk} said=${said} word=${word} /></div>`}
      </div>
    </li>`;
}

export function Heard({ desk, subject }) {
  const [around, setAround] = useState(false);
  const own = utterancesOf(subject);
  const stretch = stretchOf(desk, subject);
  if (!own.length) return null;
  // What stands with the reading is not said twice.
  const known = new Set(subject.readings.flatMap((reading) => reading.doubts.map((doubt) => doubt.why)));
  const from = around ? Math.max(0, own[0] - 2) : own[0];
  const to = around ? Math.min(desk.utterances.length - 1, own.at(-1) + 2) : own.at(-1);
  const indexes = [];
  for (let index = from; index <= to; index += 1) if (own.includes(index) || (around && desk.utterances[index])) indexes.push(index);
  return html`
    <section class="block heard" aria-label="Heard">
      <div class="row spread">
        <h2>Heard</h2>
        <div class="row">
          ${stretch ? html`<${Listen} ...${stretch} hint="Space" />` : html`<span class="note">typed, no sound</span>`}
          <button type="button" class="bare toggle" aria-expanded=${around} onClick=${() => setAround(!around)}>${around ? "Only this" : "Before and after"}</button>
        </div>
      </div>
      <ol class="sentences">
        ${indexes.map((index) => html`<${Sentence} key=${index} desk=${desk} index=${index} spans=${spansIn(desk, subject, index)} known=${known} faint=${!own.includes(index)} />`)}
      </ol>
    </section>`;
}
