// Where the person is, in the address after `#`: #/, #/i/ID/desk/SUBJECT, #/i/ID/photos, …
import { signal } from "./html.js";

function read() {
  const parts = location.hash.replace(/^#\/?/, "").split("/").map(decodeURIComponent);
  if (parts[0] === "i" && parts[1]) return { view: parts[2] || "desk", inspection: parts[1], subject: parts[3] ?? null };
  return { view: "inspections", inspection: null, subject: null };
}

export const route = signal(read());
addEventListener("hashchange", () => {
  route.value = read();
});

/** The address of a view of an inspection. */
export function address(inspection, view = "desk", subject = null) {
  return `#/i/${[inspection, view, subject].filter(Boolean).map(encodeURIComponent).join("/")}`;
}

/** Goes there. `replace` leaves no step behind for the back button. */
export function go(to, { replace = false } = {}) {
  if (location.hash === to) return;
  if (replace) {
    history.replaceState(null, "", to);
    route.value = read();
  } else {
    location.hash = to;
  }
}
