// What a person has typed and the service has not stored yet, laid over what the desk says now. What was not touched
// follows the desk; what was touched stays as it was typed, and remembers what it took the place of.
import { useRef, useState } from "./html.js";
import { desk } from "./desk.js";

const plain = (value) => (typeof value === "string" ? value.trim() : JSON.stringify(value ?? null));

/** Whether two values say the same; space around words says nothing. */
export const alike = (one, other) => plain(one) === plain(other);

/**
 * A draft over `saved` (name → value). `standing` says what else it rests on, such as whether the thing was rejected.
 *
 * `over()` says for the change which revision the person looked at: it moves on with the desk only while all that was
 * touched stands there as it did when it was touched. Where it does not, it is held, the service finds the conflict and
 * the person chooses.
 */
export function useDraft(saved, { same = alike, standing = null } = {}) {
  const [, redraw] = useState(0);
  const kept = useRef(null);
  const revision = desk.value?.known ?? 0;
  kept.current ??= { mine: {}, was: {}, base: revision, standing };
  const draft = kept.current;
  const touched = (name) => name in draft.mine && !same(draft.mine[name], draft.was[name]);
  const names = () => Object.keys(draft.mine).filter(touched);
  draft.saved = saved;
  if (!names().length) draft.standing = standing;
  draft.held = draft.standing !== standing || !names().every((name) => same(saved[name], draft.was[name]));
  if (!draft.held) draft.base = revision;

  const mineStands = (name) => touched(name) || (name in draft.mine && same(draft.mine[name], saved[name]));
  return {
    /** What is to be shown. */
    values: Object.fromEntries(Object.keys(saved).map((name) => [name, mineStands(name) ? draft.mine[name] : saved[name]])),
    /** The same at this moment, for what runs later than the drawing. */
    now: () => ({ ...draft.saved, ...Object.fromEntries(names().map((name) => [name, draft.mine[name]])) }),
    /** The names of what the person changed. */
    touched: names,
    over: () => ({ base: draft.base, held: draft.held }),
    /** Takes down what was typed. */
    set(more) {
      for (const [name, value] of Object.entries(more)) {
        if (!touched(name)) draft.was[name] = draft.saved[name];
        draft.mine[name] = value;
      }
      redraw((times) => times + 1);
    },
    /** For a change's `settled`: what was `sent` and is stored follows the desk again, what was dropped is given up. */
    settle: (sent) => (outcome) => {
      if (outcome === "saved") Object.assign(draft.was, sent);
      else if (outcome === "dropped") draft.mine = {};
      else return;
      redraw((times) => times + 1);
    },
  };
}
