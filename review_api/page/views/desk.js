// The desk: the list at the left, one proposal in full at the right; on a phone one after the other.
import { html, useEffect, useState } from "../html.js";
import { openSubjects, subjects, undone } from "../desk.js";
import { useKeys } from "../keys.js";
import { AddFinding } from "../parts/add-finding.js";
import { Proposal } from "../parts/proposal.js";
import { goTo, ProposalList, step } from "../parts/proposal-list.js";
import { Icon } from "../parts/shapes.js";
import { address, go, route } from "../route.js";

const wide = matchMedia("(min-width: 62rem)");

export function DeskView({ desk }) {
  const [adding, setAdding] = useState(null);
  const id = route.value.subject;
  const subject = subjects.value.find((one) => one.id === id) ?? null;

  useEffect(() => {
    // On a wide page something is always open; a phone begins with the list.
    if (!subject && wide.matches && subjects.value.length) goTo(desk, (openSubjects.value[0] ?? subjects.value[0]).id);
  }, [subject, desk]);
  useEffect(() => {
    if (undone.value && subjects.value.some((one) => one.id === undone.value)) {
      goTo(desk, undone.value);
      undone.value = null;
    }
  }, [undone.value, desk]);

  useKeys("The list", [
    { key: "ArrowDown", also: "j", repeats: true, does: "next proposal", run: () => step(desk, id, 1) },
    { key: "ArrowUp", also: "k", repeats: true, does: "proposal before", run: () => step(desk, id, -1) },
    { key: "n", does: "add a finding by hand", run: () => setAdding({}) },
    { key: "d", does: "go on to the report", run: () => go(address(desk.id, "report")) },
  ]);

  const asFinding = (section, question) => {
    const index = question.evidence.find((part) => Number.isInteger(part.utterance))?.utterance;
    const said = desk.utterances[index];
    setAdding({ provision: section, what: said?.text ?? question.text, when: said?.at ?? null });
  };
  return html`
    <div class=${`panes ${subject ? "one" : "many"}`}>
      <${ProposalList} desk=${desk} selected=${id} onAdd=${() => setAdding({})} />
      <div class="detail">
        ${subject && html`<a class="button bare to-list" href=${address(desk.id)} onClick=${(event) => { event.preventDefault(); go(address(desk.id)); }}><${Icon} name="back" /> All proposals</a>`}
        ${subject
          ? html`<${Proposal} desk=${desk} subject=${subject} onFinding=${asFinding} />`
          : html`<p class="note empty">Choose a proposal at the left.</p>`}
        ${subject && !openSubjects.value.length && html`
          <p class="notice within all-done">Everything is decided. <a class="button main" href=${address(desk.id, "report")}>Go on to the report <kbd>D</kbd></a></p>`}
      </div>
      ${adding && html`<${AddFinding} desk=${desk} first=${adding} onClose=${() => setAdding(null)} />`}
    </div>`;
}
