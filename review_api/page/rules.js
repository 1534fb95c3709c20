// Provisions and form items of a rules file, read once for each, to choose from by hand.
import { signal } from "./html.js";
import { get } from "./api.js";

const known = signal(new Map());
const asked = new Set();

const NONE = { provisions: [], form_items: [] };

/** {provisions: [{section, title, classes, form_item, reason, correction}], …}; empty until it is read. */
export function rulesNamed(name) {
  if (name && !asked.has(name)) {
    asked.add(name);
    get(`/api/rules/${encodeURIComponent(name)}`)
      .then((rules) => {
        known.value = new Map(known.value).set(name, rules);
      })
      .catch(() => asked.delete(name));
  }
  return known.value.get(name) ?? NONE;
}

/** The short title of a section, or "". */
export const titleOfSection = (name, section) => rulesNamed(name).provisions.find((one) => one.section === section)?.title ?? "";
