// All photos of the visit: a grid, and one in full.
import { html } from "../html.js";
import { paths } from "../api.js";
import { address, go, route } from "../route.js";
import { count, wallTime } from "../words.js";
import { PhotoFull } from "../parts/photo-full.js";
import { altOf } from "../parts/photo-strip.js";
import { Icon } from "../parts/shapes.js";

export function PhotosView({ desk }) {
  const at = desk.photos.findIndex((photo) => photo.sha256 === route.value.subject);
  const open = desk.photos[at];
  const step = (by) => go(address(desk.id, "photos", desk.photos[(at + by + desk.photos.length) % desk.photos.length].sha256), { replace: true });
  const loose = desk.photos.filter((photo) => !photo.findings.length).length;
  return html`
    <div class="page stack loose">
      <div class="row spread"><h1 tabindex="-1">Photos</h1><p class="note">${count(desk.photos.length, "photo")}, ${loose} not attached to a finding</p></div>
      ${desk.photos.length === 0 && html`<p class="note">No photos came with this visit.</p>`}
      <ul class="grid">
        ${desk.photos.map((photo) => html`
          <li key=${photo.sha256}>
            <a class="card tile" href=${address(desk.id, "photos", photo.sha256)} draggable="true">
              <img src=${`${paths.photo(photo.sha256, "thumb")}&inspection=${desk.id}`} alt=${altOf(photo)} loading="lazy" width="240" height="180" />
              <span class="row spread"><b>Photo ${photo.number}</b><span class="note tiny">${wallTime(photo.taken)}</span></span>
              ${photo.caption && html`<span class="break">${photo.caption}</span>`}
              ${photo.warnings.map((warning) => html`<span class="state near wrap tiny"><${Icon} name="warn" /> ${warning}</span>`)}
              <span class="note tiny">${photo.findings.length ? photo.findings.map((id) => desk.findings.find((finding) => finding.id === id)?.provision).join(", ") : "not attached"}</span>
            </a>
          </li>`)}
      </ul>
      ${open && html`<${PhotoFull} key=${open.sha256} desk=${desk} photo=${open} onStep=${step} onClose=${() => go(address(desk.id, "photos"), { replace: true })} />`}
    </div>`;
}
