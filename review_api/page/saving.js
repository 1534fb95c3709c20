// Changes on their way to the service, one after the other. Nothing counts as saved before the service has said so.
//
// A change waits in this tab (it outlives a reload) until it is answered. When the service does not answer, it is tried
// again; when the same thing was changed elsewhere meanwhile, the person is shown both and chooses.
import { batch, computed, effect, signal } from "./html.js";
import { send } from "./api.js";

/**
 * @typedef {object} Change
 * @property {number} inspection
 * @property {string} method
 * @property {string} path       below /api/inspections/ID/
 * @property {object|null} body  without `revision`
 * @property {string} subject    what it changes; one name for one thing
 * @property {string} [thing]    what the service holds together with it, where that is more
 * @property {string} says       in words, for the person
 * @property {number} base       the revision that the person was looking at
 * @property {boolean} [held]    it was changed elsewhere since, before the person's eyes: not over that unasked
 * @property {string[]} [own]    where the body has more than the person changed: what of it was
 * @property {(outcome: "saved"|"refused"|"dropped"|"waits", message?: string) => boolean|void} [settled]
 *   is told how it went; "waits": the service does not answer, and it stays in the row. True: a refusal is shown there.
 */

/** @type {import("./html.js").signal<Change[]>} */
export const waiting = signal([]);
/** "saved", "saving", "stopped" (the service does not answer) or "conflict". */
export const saving = signal("saved");
/** {change, current, revision} while a conflict waits for the person. */
export const conflict = signal(null);
/** A change that the service refused: {change, message, body}. */
export const refused = signal(null);
/** Changes by subject that are not saved yet. */
export const unsaved = computed(() => new Map(waiting.value.map((change) => [change.subject, change])));

/**
 * A name that no other change has. What adds something is sent with one, so that the service adds it once only, however
 * often it is sent: an answer may be lost after the service has stored it.
 */
export function newKey() {
  // randomUUID is there on https and on this machine only; random numbers are on plain http too.
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

const RETRY_MS = 1500;
const owns = new Map();
let busy = false;
let timer = 0;
let afterwards = () => {};

/** Calls `done(answer, change)` after each saved change. */
export function onSaved(done) {
  afterwards = done;
}

const keep = () => sessionStorage.setItem("probeside.unsaved", JSON.stringify(waiting.peek()));

/** Takes up what a reload interrupted. It may have been sent already, with the answer still on its way. */
export function takeUp() {
  try {
    const kept = JSON.parse(sessionStorage.getItem("probeside.unsaved") ?? "[]");
    waiting.value = kept.map((change) => ({ ...change, sent: true }));
  } catch {
    waiting.value = [];
  }
  if (waiting.value.length) work();
}

/** Puts a change in the row and sends it as soon as those before it are saved. @param {Change} change */
export function save(change) {
  waiting.value = [...waiting.peek(), change];
  keep();
  if (saving.peek() === "stopped") change.settled?.("waits");
  work();
}

/** Drops the last change that was not sent yet, for undo while the service is stopped. Returns it, or null. */
export function dropLast() {
  const list = waiting.peek();
  if (saving.peek() !== "stopped" || !list.length) return null;
  waiting.value = list.slice(0, -1);
  keep();
  if (!waiting.peek().length) saving.value = "saved";
  list.at(-1).settled?.("dropped");
  return list.at(-1);
}

function urlOf(change, revision) {
  const url = `/api/inspections/${change.inspection}/${change.path}`;
  return change.body === null ? `${url}?revision=${revision}` : url;
}

/** The newest revision that this person has seen of the thing: what was looked at, or an own change since. */
const revisionFor = (change) => change.held ? change.base : Math.max(change.base, owns.get(`${change.inspection}/${["undo", "redo"].includes(change.path) ? "last" : thingOf(change)}`) ?? 0);
const thingOf = (change) => change.thing ?? change.subject;

function seen(change, revision) {
  owns.set(`${change.inspection}/${thingOf(change)}`, revision);
  owns.set(`${change.inspection}/last`, revision);
}

async function work() {
  if (busy || conflict.peek()) return;
  busy = true;
  clearTimeout(timer);
  while (waiting.peek().length && !conflict.peek()) {
    const change = waiting.peek()[0];
    const revision = revisionFor(change);
    if (saving.peek() !== "stopped") saving.value = "saving";
    try {
      const answer = await send(change.method, urlOf(change, revision), change.body === null ? undefined : { ...change.body, revision });
      seen(change, answer?.revision ?? revision);
      batch(() => {
        done(change);
        saving.value = waiting.peek().length ? "saving" : "saved";
        afterwards(answer, change);
        change.settled?.("saved");
      });
    } catch (error) {
      if (error.status === 0 || error.status === 503) {
        change.sent = true;
        keep();
        saving.value = "stopped";
        for (const other of waiting.peek()) other.settled?.("waits");
        timer = setTimeout(work, RETRY_MS);
        break;
      }
      if (error.status === 409 && error.body?.code === "conflict") {
        if (change.sent && same(change, error.body.current)) {
          // The service stored it and stopped before it could say so.
          seen(change, error.body.revision);
          done(change);
          afterwards(error.body, change);
          change.settled?.("saved");
          continue;
        }
        saving.value = "conflict";
        conflict.value = { change, current: error.body.current, revision: error.body.revision };
        break;
      }
      done(change);
      saving.value = waiting.peek().length ? "saving" : "saved";
      if (!change.settled?.("refused", error.message)) refused.value = { change, message: error.message, body: error.body };
      afterwards(null, change);
    }
  }
  busy = false;
}

function done(change) {
  waiting.value = waiting.peek().filter((other) => other !== change);
  keep();
}

/** Whether what is saved now is what the change wanted. */
function same(change, current) {
  const wanted = { confirm: ["confirmed", "edited"], edit: ["edited"], reject: ["rejected"], reopen: ["proposed"] }[change.body?.action];
  const decision = current?.decision ?? current;
  if (!wanted?.includes(decision?.state) || (decision.reason ?? null) !== (change.body.reason ?? null)) return false;
  return Object.entries(change.body.changes ?? {}).every(([name, value]) => JSON.stringify(decision.changes?.[name]) === JSON.stringify(value));
}

/** Settles a conflict: "mine" is sent again over what is saved, "theirs" drops it. */
export function settle(which) {
  const { change, current, revision } = conflict.peek();
  conflict.value = null;
  if (which === "mine") {
    seen(change, revision);
    change.held = false;
    over(change, current);
    keep();
  } else done(change);
  saving.value = waiting.peek().length ? "saving" : "saved";
  if (which === "theirs") {
    afterwards(null, change);
    change.settled?.("dropped");
  }
  work();
}

/** Only what the person changed goes over what is saved; the rest of the body stays as it is saved now. */
function over(change, current) {
  if (!change.own || !current) return;
  for (const name of Object.keys(change.body)) if (!change.own.includes(name) && name in current) change.body[name] = current[name];
}

/** Resolves once nothing waits any more. */
export const allSaved = () => new Promise((resolve) => {
  const stop = effect(() => {
    if (waiting.value.length) return;
    queueMicrotask(() => stop());
    resolve();
  });
});

/** Tries at once instead of at the next turn. */
export const tryNow = () => work();

addEventListener("online", () => work());
addEventListener("beforeunload", (event) => {
  if (waiting.peek().length) event.preventDefault();
});
