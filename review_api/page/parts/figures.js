// Drawings made from readings, such as a cooling curve, with what they show in words beside them.
import { html } from "../html.js";

/** As a picture, not as markup of the page: whatever stands in it can only be looked at. */
const address = (svg) => `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;

export function Figures({ figures, readings }) {
  const ids = new Set(readings.map((reading) => reading.id));
  return figures.filter((figure) => figure.readings.some((id) => ids.has(id))).map((figure) => html`
    <figure class="figure stack tight" key=${figure.title}>
      <figcaption><b>${figure.title}.</b> ${figure.description}</figcaption>
      <img src=${address(figure.svg)} alt=${`${figure.title}, drawn; described in the caption`} width="640" height="360" />
    </figure>`);
}
