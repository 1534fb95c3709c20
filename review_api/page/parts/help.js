// The keys that work now, straight from what the open view offers.
import { html } from "../html.js";
import { keyName, offered } from "../keys.js";
import { lettersOn, theme } from "../settings.js";
import { Dialog } from "./dialog.js";

const THEMES = [["system", "as the machine has it"], ["light", "light"], ["dark", "dark"]];

export function Help({ onClose, sets }) {
  const shown = (sets ?? offered.value).filter((set) => set.keys.length);
  return html`
    <${Dialog} title="Keys and look" onClose=${onClose}>
      <fieldset class="row wide"><legend class="only-heard">Look</legend>
        ${THEMES.map(([key, word]) => html`<label class="tick"><input type="radio" name="theme" checked=${theme.value === key} onChange=${() => { theme.value = key; }} /> ${word}</label>`)}</fieldset>
      <label class="tick"><input type="checkbox" checked=${lettersOn.value} onChange=${(event) => { lettersOn.value = event.target.checked; }} />
        Single letters act (switch off if you dictate to the computer)</label>
      ${shown.map((set) => html`
        <section class="stack tight"><h3>${set.title}</h3>
          <dl class="keys">${set.keys.map((key) => html`<div><dt><kbd>${keyName(key)}</kbd></dt><dd>${key.does}</dd></div>`)}</dl></section>`)}
      <section class="stack tight"><h3>In the line of the visit</h3>
        <dl class="keys"><div><dt><kbd>← →</kbd></dt><dd>to the happening before or after</dd></div><div><dt><kbd>Enter</kbd></dt><dd>hear it</dd></div></dl></section>
      <section class="stack tight"><h3>In a sentence</h3>
        <dl class="keys"><div><dt><kbd>← →</kbd></dt><dd>choose a word</dd></div><div><dt><kbd>Enter</kbd></dt><dd>hear the word</dd></div></dl></section>
    <//>`;
}
