// Corrections stay corrected: a changed word can be kept for the next inspection.
import { html } from "../html.js";
import { send } from "../api.js";
import { said } from "../desk.js";

const KEPT = { item: "food", where: "place", place: "place", who: "person" };

/** Fields whose change may be a misheard word: [{name, heard, meant}]. */
export function corrections(from, values) {
  return Object.keys(KEPT)
    .filter((name) => from[name] && values[name] && values[name].trim() !== from[name])
    .map((name) => ({ name, heard: from[name], meant: values[name].trim() }));
}

/** Keeps a word in the personal vocabulary, at once; it belongs to the person, not to the inspection. */
export async function remember(heard, meant, kind) {
  try {
    await send("POST", "/api/vocabulary", { meant, heard: heard || null, kind });
    said.value = `Kept for next time: ${heard ? `“${heard}” is “${meant}”` : meant}.`;
  } catch (error) {
    said.value = `Not kept: ${error.message}`;
  }
}

export const kindOf = (name) => KEPT[name] ?? "word";

export function RememberTicks({ from, values, chosen, setChosen }) {
  return corrections(from, values).map(
    ({ name, heard, meant }) => html`
      <label class="tick" key=${name}>
        <input type="checkbox" checked=${chosen[name] ?? false} onChange=${(event) => setChosen({ ...chosen, [name]: event.target.checked })} />
        <span>Next time, understand “${heard}” as “${meant}”</span>
      </label>`,
  );
}
