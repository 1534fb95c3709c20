// All that was said, in order, with what was not understood in its place.
import { html, useLayoutEffect, useMemo, useState } from "../html.js";
import { change, subjects } from "../desk.js";
import { useDraft } from "../draft.js";
import { useKeys } from "../keys.js";
import { again } from "../player.js";
import { unsaved } from "../saving.js";
import { address, route } from "../route.js";
import { instantOf } from "../visit.js";
import { utterancesOf } from "../subjects.js";
import { clockOf, count, quantity, wallTime } from "../words.js";
import { AsHeard, CorrectWords } from "../parts/correct-words.js";
import { Listen } from "../parts/player-bar.js";
import { Said } from "../parts/said.js";
import { Icon } from "../parts/shapes.js";

function Utterance({ desk, said, index, uses }) {
  const [word, setWord] = useState(-1);
  const spans = said.doubts.filter((doubt) => doubt.span).map((doubt) => ({ span: doubt.span, name: "doubt" }));
  return html`
    <li class="utterance" id=${`said-${index}`}>
      ${said.recording
        ? html`<${Listen} recording=${said.recording} start=${said.start} end=${said.end} shown=${wallTime(said.at, { seconds: true })} />`
        : html`<span class="note tiny time">typed</span>`}
      <div class="grow stack tight">
        <${Said} said=${said} spans=${spans} onWord=${setWord} />
        <${AsHeard} said=${said} />
        ${said.doubts.map((doubt) => html`<p class="note doubt-why"><${Icon} name="doubt" /> ${doubt.why}</p>`)}
        <div class="row uses">
          ${uses.map((subject) => html`<a class="button bare" href=${address(desk.id, "desk", subject.id)}>${subject.kind === "finding" ? `Finding ${subject.of.provision}` : subject.kind === "reading" ? quantity(subject.of.value, subject.of.unit) : "Question"}</a>`)}
          <${CorrectWords} desk=${desk} said=${said} word=${word} />
        </div>
      </div>
    </li>`;
}

function Unheard({ stretch }) {
  const draft = useDraft({ text: stretch.text });
  const { text } = draft.values;
  const subject = `stretch ${stretch.recording} ${stretch.start}`;
  const settle = (body) => {
    const sent = { start: stretch.start, text: "", ...body };
    change("PUT", `stretches/${stretch.recording}`, sent, { subject, says: "Stretch settled", ...draft.over(), settled: draft.settle({ text }) });
  };
  const submit = (event) => {
    event.preventDefault();
    settle({ text });
  };
  return html`
    <li class="utterance unheard">
      <${Listen} recording=${stretch.recording} start=${stretch.start} end=${stretch.end} shown=${clockOf(stretch.start)} />
      <form class="grow stack tight" onSubmit=${submit}>
        <p><b>Voice that was not understood</b> ${stretch.settled && html`<span class="state plain"><${Icon} name="check" /> settled: ${stretch.text || "nothing of weight was said"}</span>`}</p>
        <div class="row">
          <label class="only-heard" for=${subject}>What was said</label>
          <input id=${subject} class="grow" type="text" value=${text} placeholder="What was said" onInput=${(event) => draft.set({ text: event.target.value })} />
          <button type="submit" disabled=${!text.trim() || unsaved.value.has(subject)}>Keep</button>
          <button type="button" class="bare" onClick=${() => settle({ nothing_said: true })}>Nothing of weight</button>
        </div>
      </form>
    </li>`;
}

export function TranscriptView({ desk }) {
  const [only, setOnly] = useState(false);
  const asked = route.value.subject;
  useLayoutEffect(() => {
    const line = asked && document.getElementById(`said-${asked.replace(/\D/g, "")}`);
    line?.scrollIntoView({ block: "center" });
    line?.querySelector(".said")?.focus();
  }, [asked]);
  useKeys("The words", [{ key: "g", does: "hear it again", run: again }]);
  const uses = useMemo(() => {
    const map = new Map();
    for (const subject of subjects.value) for (const index of utterancesOf(subject)) map.set(index, [...(map.get(index) ?? []), subject]);
    return map;
  }, [subjects.value]);
  const lines = useMemo(() => {
    const list = desk.utterances.map((said, index) => ({ said, index, at: said.recording ? instantOf(desk.recordings, said.recording, said.start) : null }));
    for (const stretch of desk.notUnderstood) list.push({ stretch, at: instantOf(desk.recordings, stretch.recording, stretch.start) });
    return list.sort((one, other) => (one.at ?? 0) - (other.at ?? 0));
  }, [desk]);
  const shown = only ? lines.filter(({ said, stretch }) => stretch || said.doubts.length) : lines;
  const removed = desk.recordings.flatMap((recording) => recording.removed.map((one) => ({ ...one, recording })));
  return html`
    <div class="page stack loose">
      <div class="row spread"><h1 tabindex="-1">What was said</h1>
        <label class="tick"><input type="checkbox" checked=${only} onChange=${(event) => setOnly(event.target.checked)} /> only what is doubtful</label></div>
      ${lines.length === 0 && html`<p class="note">No words were found in this visit.</p>`}
      <ol class="transcript card">
        ${shown.map(({ said, stretch, index }) => said
          ? html`<${Utterance} key=${index} desk=${desk} said=${said} index=${index} uses=${uses.get(index) ?? []} />`
          : html`<${Unheard} key=${`${stretch.recording}${stretch.start}`} stretch=${stretch} />`)}
      </ol>
      ${desk.withdrawn.length > 0 && html`
        <section class="stack"><h2>Taken back</h2>
          <ul class="stack tight">${desk.withdrawn.map(({ reading, why }) => html`<li class="row"><s>${quantity(reading.value, reading.unit)}</s> <span>${reading.item ?? ""}</span> <span class="note">by “${why}”</span>
            <${Listen} recording=${reading.recording} start=${reading.start} end=${reading.end} /></li>`)}</ul></section>`}
      ${removed.length > 0 && html`
        <details class="card"><summary>${count(removed.length, "piece")} of text left out as invented by the speech model</summary>
          <ul class="stack tight">${removed.map((one) => html`<li class="row"><span class="break">“${one.text}”</span> <span class="note">${one.why}</span>
            <${Listen} recording=${one.recording.sha256} start=${one.start} end=${one.end} /></li>`)}</ul></details>`}
    </div>`;
}
