// All inspections: what is due, what is on the way, search, and taking in a folder.
import { html, useEffect, useRef, useState } from "../html.js";
import { get, paths, send, upload } from "../api.js";
import { said } from "../desk.js";
import { useKeys } from "../keys.js";
import { address, go } from "../route.js";
import { count, sentenceCase, wallDate, wallTime } from "../words.js";
import { Icon } from "../parts/shapes.js";
import { Vocabulary } from "../parts/vocabulary.js";

const STATES = {
  received: ["wait", "Waiting"], working: ["wait", "Being read"], ready: ["dot", "To review"], failed: ["warn", "Stopped: needs you"], closing: ["wait", "Being sealed"], closed: ["check", "Sealed"],
};
const PAGE = 50;
const DUE_SHOWN = 8;

/**
 * All files under dropped entries, folders opened: [{file, path}]. A path is as in the folder of the visit: one folder
 * that was dropped or chosen is that folder; several things were taken out of it.
 */
async function filesOf(items) {
  const entries = [...items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  const files = [];
  const walk = async (entry) => {
    if (entry.isFile) files.push({ file: await new Promise((resolve, reject) => entry.file(resolve, reject)), path: entry.fullPath.replace(/^\/+/, "") });
    else {
      const reader = entry.createReader();
      for (;;) {
        const some = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
        if (!some.length) break;
        for (const one of some) await walk(one);
      }
    }
  };
  for (const entry of entries) await walk(entry);
  return entries.length === 1 && entries[0].isDirectory ? files.map(({ file, path }) => ({ file, path: within(path) })) : files;
}

/** A path without its first folder. */
const within = (path) => path.split("/").slice(1).join("/");

/** Files chosen by the browser's own dialog; those of a folder say where in it they lie. */
const chosenFrom = (list) => [...list].map((file) => ({ file, path: file.webkitRelativePath ? within(file.webkitRelativePath) : file.name }));

const isHidden = (path) => path.split("/").some((part) => part.startsWith("."));

function TakeIn() {
  const [over, setOver] = useState(false);
  const [state, setState] = useState(null);
  const folder = useRef(null);
  const several = useRef(null);
  const take = async (list) => {
    const files = list.filter(({ path }) => !isHidden(path));
    if (!files.length) {
      setState({ message: "There was no file in it. Drop the folder with the recordings and photos of one visit." });
      return;
    }
    const form = new FormData();
    for (const { file, path } of files) form.append("files", file, path);
    form.append("modified", JSON.stringify(Object.fromEntries(files.map(({ file, path }) => [path, file.lastModified]))));
    setState({ share: 0, files: files.length });
    try {
      const started = await upload(paths.inspections, form, (share) => setState({ share, files: files.length }));
      go(address(started.id));
    } catch (error) {
      setState({ message: error.message });
    }
  };
  const dropped = async (event) => {
    event.preventDefault();
    setOver(false);
    take(await filesOf(event.dataTransfer.items));
  };
  return html`
    <section class=${over ? "take-in over" : "take-in"} aria-label="Take in a visit"
             onDragOver=${(event) => { event.preventDefault(); setOver(true); }} onDragLeave=${() => setOver(false)} onDrop=${dropped}>
      <div class="stack tight grow"><h2>Take in a visit</h2><p class="note">Drop the folder here: recordings, photos and, if there is one, inspection.toml. The originals are kept as they are.</p></div>
      <div class="row">
        <button type="button" class="main" onClick=${() => folder.current.click()}><${Icon} name="plus" /> Choose a folder</button>
        <button type="button" onClick=${() => several.current.click()}>Choose files</button>
      </div>
      <input ref=${folder} type="file" webkitdirectory multiple hidden aria-hidden="true" tabindex="-1" onChange=${(event) => take(chosenFrom(event.target.files))} />
      <input ref=${several} type="file" multiple hidden accept="audio/*,video/webm,image/*,.heic,.m4a,.opus,.toml" aria-hidden="true" tabindex="-1" onChange=${(event) => take(chosenFrom(event.target.files))} />
      ${state?.share !== undefined && html`<p class="grow" role="status"><progress max="1" value=${state.share} aria-label="Copying"></progress> Copying ${count(state.files, "file")}: ${Math.round(state.share * 100)} %</p>`}
      ${state?.message && html`<p class="notice over grow" role="alert">${state.message}</p>`}
    </section>`;
}

/** The found words, marked by the service with U+2068 and U+2069. */
function Snippet({ text }) {
  return html`<span class="break">${text.split(/(\u2068[^\u2069]*\u2069)/).map((part) => part.startsWith("\u2068") ? html`<mark>${part.slice(1, -1)}</mark>` : part)}</span>`;
}

function Search() {
  const [words, setWords] = useState("");
  const [hits, setHits] = useState(null);
  useEffect(() => {
    if (words.trim().length < 2) {
      setHits(null);
      return undefined;
    }
    const stopped = new AbortController();
    const timer = setTimeout(async () => {
      try {
        setHits(await get(paths.search(words.trim()), { signal: stopped.signal }));
      } catch (error) {
        if (error.name !== "AbortError") setHits({ message: error.message });
      }
    }, 180);
    return () => {
      clearTimeout(timer);
      stopped.abort();
    };
  }, [words]);
  useKeys("All inspections", [{ key: "/", does: "search", run: () => document.getElementById("search").focus() }]);
  const to = (hit) => hit.kind === "finding" ? address(hit.inspection, "desk", hit.subject) : address(hit.inspection, "words", hit.subject);
  return html`
    <section class="stack" aria-label="Search">
      <div class="field"><label for="search">Search in what was said and found <kbd>/</kbd></label>
        <input id="search" type="search" value=${words} onInput=${(event) => setWords(event.target.value)} /></div>
      <div aria-live="polite">
        ${hits?.message && html`<p class="notice over">${hits.message}</p>`}
        ${Array.isArray(hits) && html`<p class="note">${hits.length ? count(hits.length, "place") : "Nowhere."}</p>`}
      </div>
      ${Array.isArray(hits) && html`<ul class="rows">${hits.map((hit) => html`<li><a class="line-link" href=${to(hit)}><span class="note tiny">${hit.establishment ?? hit.number} · ${hit.kind === "finding" ? "finding" : "said"}</span><${Snippet} text=${hit.snippet} /></a></li>`)}</ul>`}
    </section>`;
}

const SETTLED = { "correct by": ["Corrected", "Mark as corrected"], revisit: ["Made", "Mark as made"] };

/** One thing that is due, and the word that it is done; a report is done by handing it over. */
function DueLine({ due }) {
  const [state, setState] = useState({ done: false });
  const [done, mark] = SETTLED[due.what] ?? [];
  const of = `${due.establishment ?? due.number}: ${due.text}`;
  const settle = async (wanted) => {
    setState({ done: !wanted, busy: true });
    try {
      const answer = await send("PUT", `${paths.inspection(due.inspection)}/dues`, { what: due.what, subject: due.subject, done: wanted });
      said.value = `${sentenceCase(answer.did)}.`;
      setState({ done: wanted });
    } catch (error) {
      setState({ done: !wanted, message: error.message });
    }
  };
  const shown = state.done ? ["within", "check", done] : due.late ? ["over", "warn", "Overdue"] : ["plain", "wait", "Due"];
  return html`
    <li class="due"><a class="line-link" href=${address(due.inspection, due.what === "correct by" ? "desk" : "report")}>
        <span class="row"><span class=${`state ${shown[0]}`}><${Icon} name=${shown[1]} /> ${shown[2]}</span>
          <b>${wallDate(due.on, { weekday: false })} ${wallTime(due.on)}</b> <span class="note">${due.what}</span></span>
        <span class="break">${of}</span></a>
      ${mark && html`<button type="button" disabled=${state.busy} aria-label=${`${state.done ? "Take back" : mark}: ${of}`} onClick=${() => settle(!state.done)}>${state.busy ? "Saving…" : state.done ? "Take back" : mark}</button>`}
      ${state.message && html`<p class="notice over" role="alert">${state.message}</p>`}</li>`;
}

/** What is due, the first ones of it, and how many more there are. */
function DueGroup({ title, list }) {
  const [all, setAll] = useState(false);
  if (!list.length) return null;
  const more = list.length - DUE_SHOWN;
  return html`
    <section class="stack tight"><h3>${title} <span class="tag">${list.length}</span></h3>
      <ul class="rows">${(all ? list : list.slice(0, DUE_SHOWN)).map((due) => html`<${DueLine} key=${`${due.inspection} ${due.what} ${due.subject}`} due=${due} />`)}</ul>
      ${more > 0 && html`<div><button type="button" aria-expanded=${all} onClick=${() => setAll(!all)}>${all ? `Only the first ${DUE_SHOWN}` : `${more} more: show all ${list.length}`}</button></div>`}
    </section>`;
}

function DueList() {
  const [list, setList] = useState(null);
  const [trouble, setTrouble] = useState(null);
  useEffect(() => {
    get(paths.due).then(setList, (error) => setTrouble(error.message));
  }, []);
  if (trouble) return html`<section class="stack"><h2>Due</h2><p class="notice over" role="alert">What is due cannot be shown. ${trouble}</p></section>`;
  if (!list?.length) return null;
  return html`
    <section class="stack"><h2>Due</h2>
      <${DueGroup} title="Overdue" list=${list.filter((due) => due.late)} />
      <${DueGroup} title="Still to come" list=${list.filter((due) => !due.late)} />
    </section>`;
}

function Row({ one }) {
  const [icon, word] = STATES[one.state] ?? ["dot", one.state];
  return html`
    <li><a class="line-link visit" href=${address(one.id)}>
      <span class="grow stack tight"><b class="break">${one.establishment ?? one.number}</b><span class="note tiny">${one.visited ? `${wallDate(one.visited)}, ${wallTime(one.visited)}` : "time not known"} · ${one.number}</span></span>
      <span class="row"><span class="state plain"><${Icon} name=${icon} /> ${word}</span>
        ${one.state === "working" && html`<span class="note">${Math.round(one.part * 100)} %</span>`}
        ${one.state === "ready" && html`<span>${count(one.findings, "finding")}${one.undecided ? `, ${one.undecided} to decide` : ", all decided"}</span>`}
        ${one.problems > 0 && html`<span class="state near"><${Icon} name="warn" /> ${count(one.problems, "problem")}</span>`}
        ${one.due && html`<span class="note">${one.due}</span>`}</span>
    </a></li>`;
}

export function InspectionsView() {
  const [listing, setListing] = useState(null);
  const [trouble, setTrouble] = useState(null);
  const [shown, setShown] = useState(PAGE);
  useEffect(() => {
    let timer = 0;
    let gone = false;
    const read = async () => {
      try {
        const answer = await get(`${paths.inspections}?limit=${shown}`);
        if (gone) return;
        setListing(answer);
        setTrouble(null);
        if (answer.inspections.some((one) => ["received", "working"].includes(one.state))) timer = setTimeout(read, 2000);
      } catch (error) {
        if (gone) return;
        setTrouble(error.message);
        timer = setTimeout(read, 3000);
      }
    };
    read();
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [shown]);
  return html`
    <div class="page stack loose">
      <h1 tabindex="-1">Inspections</h1>
      <${TakeIn} />
      <${Search} />
      <${DueList} />
      <section class="stack"><h2>All${listing ? ` (${listing.total})` : ""}</h2>
        ${trouble && html`<p class="notice over" role="alert">${trouble}</p>`}
        ${!listing && !trouble && html`<p class="note">Reading the list…</p>`}
        ${listing && !listing.total && html`<p class="note">None yet. Take in the folder of a visit above, or run “probeside demo” for one that is ready to try.</p>`}
        ${listing && html`<ul class="rows">${listing.inspections.map((one) => html`<${Row} key=${one.id} one=${one} />`)}</ul>`}
        ${listing && listing.total > listing.inspections.length && html`<button type="button" onClick=${() => setShown(shown + PAGE)}>Show more</button>`}
      </section>
      <${Vocabulary} />
    </div>`;
}
