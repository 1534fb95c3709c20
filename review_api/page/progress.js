// How far the work on an inspection is, told by the service as it goes.
import { signal } from "./html.js";
import { paths } from "./api.js";
import { readDesk } from "./desk.js";

/** {state, step, part, note} while it is being worked on, else null. */
export const progress = signal(null);

let source = null;

/** Follows the work on an inspection until it is ready or has failed, then reads it again. */
export function follow(id) {
  leave();
  source = new EventSource(paths.progress(id));
  source.addEventListener("progress", (event) => {
    const told = JSON.parse(event.data);
    progress.value = told;
    if (told.state === "ready" || told.state === "failed") {
      leave();
      readDesk(id);
    }
  });
}

export function leave() {
  source?.close();
  source = null;
  progress.value = null;
}
