// The photos taken around a proposal: nearest first, attached by click, key or drag.
import { html } from "../html.js";
import { change } from "../desk.js";
import { paths } from "../api.js";
import { unsaved } from "../saving.js";
import { awayText, instantOf, photosAround } from "../visit.js";
import { stretchOf } from "../subjects.js";
import { address } from "../route.js";
import { Icon } from "./shapes.js";

/** What a picture shows, for those who do not see it. */
export const altOf = (photo) => photo.alternative_text || photo.caption || `Photo ${photo.number}, ${photo.name}, not described yet`;

/** The name of the change that attaches a photo to a finding, or takes it off. */
export const attaching = (findingId, sha) => `photo ${findingId} ${sha}`;

export function attach(findingId, sha, on) {
  change(on ? "PUT" : "DELETE", `findings/${findingId}/photos/${sha}`, null, { subject: attaching(findingId, sha), says: on ? "Photo attached" : "Photo taken off" });
}

/** The attached photos, then those around in time: [{photo, away, attached}]. */
export function candidates(desk, subject) {
  const stretch = stretchOf(desk, subject);
  const instant = stretch ? instantOf(desk.recordings, stretch.recording, stretch.start) : subject.of.when ? new Date(subject.of.when).getTime() : null;
  const attached = new Set((subject.of.photos ?? []).map((one) => one.sha256));
  const near = photosAround(desk.photos, instant).filter(({ photo }) => !attached.has(photo.sha256));
  const own = desk.photos.filter((photo) => attached.has(photo.sha256)).map((photo) => ({ photo, away: instant === null ? null : new Date(photo.taken).getTime() - instant, attached: true }));
  return [...own, ...near.map((one) => ({ ...one, attached: false }))];
}

export function PhotoStrip({ desk, subject }) {
  if (subject.kind !== "finding" || !desk.photos.length) return null;
  const list = candidates(desk, subject);
  const nearest = list.find((one) => !one.attached);
  return html`
    <section class="block" aria-label="Photos">
      <div class="row spread"><h2>Photos around then</h2><a class="button bare" href=${address(desk.id, "photos")}>All ${desk.photos.length}</a></div>
      ${list.length === 0 && html`<p class="note">No photo was taken within five minutes of this.</p>`}
      <ul class="strip">
        ${list.map(({ photo, away, attached }) => {
          const waits = unsaved.value.has(attaching(subject.id, photo.sha256));
          return html`
            <li key=${photo.sha256} class=${attached ? "thumb attached" : "thumb"}>
              <a href=${address(desk.id, "photos", photo.sha256)} draggable="true" onDragStart=${(event) => event.dataTransfer.setData("text/x-probeside-photo", photo.sha256)}>
                <img src=${`${paths.photo(photo.sha256, "thumb")}&inspection=${desk.id}`} alt=${altOf(photo)} loading="lazy" width="176" height="132" />
              </a>
              <p class="note tiny">Photo ${photo.number}${away === null ? "" : `, ${awayText(away)}`}</p>
              ${photo.warnings.length > 0 && html`<p class="tiny state near"><${Icon} name="warn" /> ${photo.exposure === "good" ? "look at it" : photo.exposure}</p>`}
              <button type="button" aria-pressed=${attached} onClick=${() => attach(subject.id, photo.sha256, !attached)}>
                <${Icon} name=${waits ? "wait" : attached ? "check" : "plus"} /> ${waits ? "Saving…" : attached ? "Attached" : "Attach"} ${photo === nearest?.photo && html`<kbd>A</kbd>`}
              </button>
            </li>`;
        })}
      </ul>
    </section>`;
}
