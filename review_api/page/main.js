// Begins the page: shows the view that the address names, and reads the inspection that it is about.
import { effect, html, render, useEffect, useLayoutEffect, useState } from "./html.js";
import { paths, send } from "./api.js";
import { desk, deskTrouble, isSealed, readDesk } from "./desk.js";
import { follow, leave, progress } from "./progress.js";
import { stop } from "./player.js";
import { address, go, route } from "./route.js";
import { takeUp } from "./saving.js";
import { PlayerBar } from "./parts/player-bar.js";
import { Shell } from "./parts/shell.js";
import { Icon } from "./parts/shapes.js";
import { Timeline } from "./parts/timeline.js";
import { DeskView } from "./views/desk.js";
import { InspectionsView } from "./views/inspections.js";
import { PhotosView } from "./views/photos.js";
import { ReportView } from "./views/report.js";
import { SignView } from "./views/sign.js";
import { SheetView } from "./views/sheet.js";
import { TranscriptView } from "./views/transcript.js";

const VIEWS = { desk: DeskView, words: TranscriptView, photos: PhotosView, sheet: SheetView, report: ReportView, sign: SignView };
const WITH_TIMELINE = ["desk", "words", "photos"];

function Working() {
  const told = progress.value ?? desk.value.progress;
  return html`
    <main class="page stack loose">
      <h1 tabindex="-1">The visit is being read</h1>
      <p role="status">${told.step}${told.note ? `: ${told.note}` : ""}</p>
      <progress max="1" value=${told.part} aria-label="Read so far"></progress>
      <p class="note">You can close this page; the work goes on and is taken up again after a stop. Nothing leaves this machine.</p>
    </main>`;
}

/** The work stopped for a reason that a person has to mend. What was read up to there is shown all the same. */
function Failed({ open }) {
  const [trouble, setTrouble] = useState(null);
  const again = async () => {
    try {
      await send("POST", `${paths.inspection(open.id)}/again`);
      readDesk(open.id);
    } catch (error) {
      setTrouble(error.message);
    }
  };
  return html`
    <div class="notice over problems" role="alert"><p><b>Reading this visit stopped.</b> ${open.progress.note || open.progress.step} The originals are kept.</p>
      ${trouble && html`<p>${trouble}</p>`}
      <div><button type="button" onClick=${again}>Try again</button></div></div>`;
}

function Inspection() {
  const { inspection, view } = route.value;
  const open = desk.value;
  useEffect(() => {
    if (String(desk.peek()?.id) !== inspection) desk.value = null;
    readDesk(inspection);
    return () => {
      stop();
      leave();
    };
  }, [inspection]);
  const working = open && ["received", "working"].includes(open.state);
  useEffect(() => {
    if (working) follow(open.id);
  }, [working, open?.id]);
  useLayoutEffect(() => {
    // A new view begins at its heading, for the eye and for a screen reader.
    if (open && !working) {
      scrollTo(0, 0);
      if (view !== "desk") document.querySelector("main h1")?.focus({ preventScroll: true });
    }
  }, [view, Boolean(open)]);
  if (deskTrouble.value && !open) {
    return html`<main class="page stack"><h1>This inspection cannot be shown</h1><p class="notice over" role="alert">${deskTrouble.value}</p>
      <div class="row"><button type="button" onClick=${() => readDesk(inspection)}>Try again</button><a class="button" href="#/">All inspections</a></div></main>`;
  }
  if (!open || String(open.id) !== inspection) return html`<main class="page"><p class="starting">Opening the visit…</p></main>`;
  if (working) return html`<${Working} />`;
  const View = VIEWS[view] ?? DeskView;
  return html`
    ${WITH_TIMELINE.includes(view) && html`<${Timeline} desk=${open} onSelect=${(one) => go(address(open.id, "photos", one.photo))} />`}
    <main class=${`view ${view}`}>
      ${open.state === "failed" && html`<${Failed} open=${open} />`}
      ${isSealed(open) && view !== "report" && html`<p class="notice accent sealed-note"><span><b>Sealed.</b> What you see is as it was signed; it can only be changed by an amendment. <a href=${address(open.id, "report")}>To the sealed report</a></span></p>`}
      ${open.problems.length > 0 && html`
        <details class="notice near problems slim"><summary><b><${Icon} name="warn" /> ${open.problems.length === 1 ? "One thing" : `${open.problems.length} things`} to know of what came in</b></summary>
          <ul class="stack tight">${open.problems.map((problem) => html`<li class="break">${problem}</li>`)}</ul></details>`}
      <${View} desk=${open} />
    </main>
    <${PlayerBar} recordings=${open.recordings} />`;
}

function Page() {
  return html`<${Shell}>${route.value.inspection ? html`<${Inspection} />` : html`<main class="view"><${InspectionsView} /></main>`}<//>`;
}

effect(() => {
  const open = desk.value;
  document.title = route.value.inspection && open ? `${open.facts.establishment ?? open.number} · Probeside` : "Inspections · Probeside";
});

takeUp();
render(html`<${Page} />`, Object.assign(document.getElementById("app"), { textContent: "" }));
