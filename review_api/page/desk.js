// The inspection that is open: what the service last said of it, and the changes a person can make to it.
import { batch, computed, signal } from "./html.js";
import { get, paths } from "./api.js";
import { order } from "./settings.js";
import { dropLast, onSaved, save, unsaved, waiting } from "./saving.js";
import { patched } from "./patched.js";
import { nextOpen, subjectsOf } from "./subjects.js";

/** The whole inspection, or null. */
export const desk = signal(null);
/** A sentence when it could not be read. */
export const deskTrouble = signal(null);
/** Told to screen readers, and shown for a moment. */
export const said = signal("");

/** Whether the report is sealed, or being sealed: nothing of the inspection can be edited any more. */
export const isSealed = (open) => ["closing", "closed"].includes(open.state);

/** The newest report, and whether it is of what stands now: making it is itself one step in the log. */
export function newestReport(open) {
  const report = open.reports.at(-1) ?? null;
  return { report, fresh: Boolean(report) && report.revision + 1 >= open.revision };
}

/** Readings, findings and questions to go through, in the chosen order. */
export const subjects = computed(() => (desk.value ? subjectsOf(desk.value, order.value) : []));

/** What a subject counts as now: its saved state, or "saving" while a change to it is on its way. */
export function stateOf(subject) {
  if (unsaved.value.has(subject.id)) return "saving";
  if (subject.kind === "question") return subject.decided ? "confirmed" : "proposed";
  if (subject.of.by_hand && subject.of.decision.state !== "rejected") return "added";
  return subject.of.decision.state;
}

export const isOpen = (subject) => !subject.decided && !unsaved.value.has(subject.id);
export const openSubjects = computed(() => subjects.value.filter(isOpen));

let reading = null;

/** Reads the inspection from the service; what is shown is replaced in one go. */
export async function readDesk(id) {
  reading?.abort();
  const mine = new AbortController();
  reading = mine;
  try {
    const answer = await get(paths.inspection(id), { signal: mine.signal });
    batch(() => {
      desk.value = shaped(answer);
      deskTrouble.value = null;
    });
  } catch (error) {
    if (error.name === "AbortError") return;
    deskTrouble.value = error.message;
    if (error.status === 404) desk.value = null;
  }
}

/**
 * The answer with what the page counts on: numbers for photos, an easy name for stretches without words, and `known`:
 * the revision up to which everything that was changed is shown. An own change answered across one of somebody else's
 * raises `revision`, never `known`.
 */
function shaped(answer) {
  return {
    ...answer,
    notUnderstood: answer.not_understood,
    known: answer.revision,
    photos: answer.photos.map((photo, index) => ({ ...photo, number: index + 1 })),
  };
}

const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("probeside");
channel?.addEventListener("message", (event) => {
  // Another tab saved something. Read it, unless this one is in the middle of a change itself.
  const open = desk.peek();
  if (open && event.data?.inspection === open.id && event.data.revision > open.known && !waiting.peek().length) {
    readDesk(open.id);
  }
});

/** The last thing undone, so that the desk can go there. */
export const undone = signal(null);
/** What was decided from this page, last one last: where undo leads back to. */
const decidedHere = [];

onSaved((answer, change) => {
  channel?.postMessage({ inspection: change.inspection, revision: answer?.revision ?? 0 });
  if (change.says && answer) said.value = `${answer.did ? sentence(answer.did) : change.says}.`;
  if (change.path === "decisions" && answer) decidedHere.push(change.body.subject);
  if (change.path === "undo" && answer) undone.value = decidedHere.pop() ?? null;
  const open = desk.peek();
  if (answer && open?.id === change.inspection) {
    const revision = Math.max(open.revision, answer.revision ?? 0);
    const steps = revision > open.revision ? stepsAfter(open, change, answer) : {};
    desk.value = { ...patched(open, change), ...steps, revision, known: revision <= open.known + 1 ? revision : open.known };
  }
  const more = waiting.peek().some((other) => other.inspection === change.inspection);
  if (!more && desk.peek()?.id === change.inspection) readDesk(change.inspection);
});

/** What can be taken back and done again now; else U, pressed before the inspection was read again, would find nothing. */
function stepsAfter({ undo: last, redo: takenBack }, { path }, { did }) {
  if (path === "undo") return { redo: { ...last, available: true } };
  if (path === "redo") return { undo: { ...takenBack, available: true } };
  return { undo: { available: true, what: did }, redo: { available: false, what: null } };
}

const sentence = (text) => (text ? text[0].toUpperCase() + text.slice(1).replace(/\.$/, "") : "");

/**
 * A change to the open inspection. `body` null: the request has none. `more` may hold `thing`, `base`, `held`,
 * `own` and `settled` of a Change (saving.js); a form that was open for a while says what it was typed over (draft.js).
 */
export function change(method, path, body, { subject, says, ...more }) {
  const open = desk.peek();
  if (isSealed(open)) {
    said.value = "The report is sealed; nothing can be changed here. Write an amendment.";
    more.settled?.("dropped");
    return;
  }
  save({ inspection: open.id, method, path, body, subject, says, base: open.known, ...more });
}

/** A decision on a reading or finding. */
export function decide(subject, action, body = {}, more = {}) {
  const says = { confirm: "Confirmed", edit: "Edited", reject: "Rejected", reopen: "Open again" }[action];
  change("POST", "decisions", { subject: subject.id, action, ...body }, { subject: subject.id, says: `${says}: ${titleOf(subject)}`, ...more });
}

/** What was observed, without what answers and typed words add to it; all of it stands under “What”. */
const firstSentence = (text) => /^(.*?[^.\s])\.\s+(?=\p{Lu})/u.exec(text)?.[1] ?? text;

/** A subject in a few words. */
export function titleOf(subject) {
  const { of } = subject;
  if (subject.kind === "finding") return firstSentence(of.what) || of.title;
  if (subject.kind === "question") return of.text;
  return sentence([of.item ?? of.agent ?? of.stage.replaceAll("_", " "), of.place].filter(Boolean).join(", "));
}

/** Takes the last change back: one that is still waiting is dropped, else the service undoes it. */
export function undo() {
  const dropped = dropLast();
  if (dropped) {
    said.value = `Taken back before it was saved: ${dropped.says}.`;
    return;
  }
  if (!canUndo.peek()) {
    said.value = "Nothing to take back.";
    return;
  }
  change("POST", "undo", {}, { subject: "undo", says: "Taken back" });
}

/** Whether there is something to take back: saved, or on its way. */
export const canUndo = computed(() => waiting.value.length > 0 || Boolean(desk.value?.undo.available));

/** Whether there is something to do again; any other change that is on its way would be the newer one. */
export const canRedo = computed(() => (waiting.value.length ? waiting.value.at(-1).path === "undo" : Boolean(desk.value?.redo.available)));

/** Does again what was taken back last. */
export function redo() {
  if (!canRedo.peek()) {
    said.value = "Nothing to do again.";
    return;
  }
  change("POST", "redo", {}, { subject: "redo", says: "Done again" });
}

/** The next open subject after this one. */
export const openAfter = (id) => nextOpen(subjects.peek(), id, isOpen);
