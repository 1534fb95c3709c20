// Going over the report with the operator: read it, take down what they say, sign or say why not. Then it is sealed.
import { html, useEffect, useRef, useState } from "../html.js";
import { paths, send } from "../api.js";
import { desk as deskNow, isSealed, newestReport, readDesk, said } from "../desk.js";
import { allSaved } from "../saving.js";
import { address, go } from "../route.js";
import { placeClock } from "../visit.js";
import { count } from "../words.js";
import { moment } from "../parts/fields.js";
import { Lines } from "../parts/lines.js";
import { Signature } from "../parts/signature.js";
import { Icon } from "../parts/shapes.js";

const ENDS = [
  ["signed", "The operator signs for having received it"],
  ["refused", "The operator refuses to sign"],
  ["nobody_available", "Nobody is there who could sign"],
];
const ROLES = ["person in charge", "operator", "other"];

/** The newest draft, written again where something was changed since. */
function useFreshDraft(desk) {
  const [state, setState] = useState({ trouble: null });
  const { report, fresh } = newestReport(desk);
  const asked = useRef(-1);
  useEffect(() => {
    if (fresh || isSealed(desk) || asked.current === desk.revision) return;
    asked.current = desk.revision;
    (async () => {
      try {
        await allSaved();
        await send("POST", `${paths.inspection(desk.id)}/report`, { revision: deskNow.peek().revision });
        await readDesk(desk.id);
        setState({ trouble: null });
      } catch (error) {
        setState({ trouble: error.message });
      }
    })();
  }, [fresh, desk.revision]);
  return [report, fresh, state.trouble];
}

/** What is still missing in what was filled in, in words; null when it can be sealed. */
function lacksOf(form, missing) {
  if (!form.kind) return "Say how it ends: signed, refused, or nobody there.";
  if (form.kind === "signed" && !form.operator.name.trim()) return "The operator's name is missing.";
  if (form.kind !== "signed" && !form.reason.trim()) return form.kind === "refused" ? "The reason for the refusal is missing; write “none given” if none was." : "Say what was tried to find somebody.";
  if (form.kind === "refused" && form.supervisor.trim() && !form.supervisorTold) return "Say when the supervisor was told.";
  if (!form.inspector.name.trim()) return "Your own name is missing.";
  if (missing && !form.leftOpen.trim()) return `${count(missing, "thing")} ${missing === 1 ? "is" : "are"} still open: settle ${missing === 1 ? "it" : "them"}, or say why the report is closed all the same.`;
  return null;
}

function body(form, revision, clock) {
  const { kind, operator, inspector } = form;
  return {
    revision, kind, inspector_signature: { ...inspector, name: inspector.name.trim() }, left_open: form.leftOpen.trim(),
    ...(kind === "signed" ? { signature: { ...operator, name: operator.name.trim() } } : { reason: form.reason.trim() }),
    ...(kind === "refused" && form.supervisor.trim() ? { supervisor: form.supervisor.trim(), supervisor_told: moment(form.supervisorTold, clock) } : {}),
  };
}

export function SignView({ desk }) {
  const [draft, fresh, trouble] = useFreshDraft(desk);
  const [form, setForm] = useState({
    kind: null, reason: "", supervisor: "", supervisorTold: "", leftOpen: "",
    operator: { name: desk.facts.person_in_charge ?? "", role: "person in charge", strokes: [], aspect: 3 },
    inspector: { name: desk.facts.inspector ?? "", role: "inspector", strokes: [], aspect: 3 },
  });
  const [state, setState] = useState(null);
  const set = (more) => setForm((before) => ({ ...before, ...more }));
  const lacks = lacksOf(form, desk.missing.length);
  const seal = async (event) => {
    event.preventDefault();
    if (lacks || !fresh) return;
    setState({ busy: true });
    try {
      await allSaved();
      const sealed = await send("POST", `${paths.inspection(desk.id)}/closing`, body(form, deskNow.peek().revision, placeClock(desk)));
      said.value = `The report ${sealed.number} is sealed.`;
      await readDesk(desk.id);
      go(address(desk.id, "report"));
    } catch (error) {
      setState({ message: error.message });
      readDesk(desk.id);
    }
  };
  if (isSealed(desk)) return html`<div class="page stack"><h1 tabindex="-1">This report is sealed</h1><p><a href=${address(desk.id, "report")}>To the sealed report</a></p></div>`;
  return html`
    <div class="page stack loose">
      <div class="row spread"><h1 tabindex="-1">Going over it with the operator</h1><a class="button" href=${address(desk.id, "report")}><${Icon} name="back" /> Back to the report</a></div>
      <section class="stack"><h2>1. Read it together</h2>
        ${trouble && html`<p class="notice over" role="alert">${trouble}</p>`}
        ${!fresh && !trouble && html`<p role="status">Writing the report as it stands…</p>`}
        ${draft && html`<iframe class="preview reading" title="The report to go over" src=${`${paths.report(desk.id, "html")}?report=${draft.id}`}></iframe>`}
      </section>
      <section class="stack card"><h2>2. What the operator says</h2>
        <${Lines} name="remarks" label="Remarks" note="As they are said, one line each. They go into the report." lines=${desk.remarks} /></section>
      <form class="stack loose card" onSubmit=${seal}>
        <fieldset class="stack tight"><legend><h2>3. How it ends</h2></legend>
          ${ENDS.map(([kind, words]) => html`<label class="tick"><input type="radio" name="end" checked=${form.kind === kind} onChange=${() => set({ kind })} /> ${words}</label>`)}</fieldset>
        ${form.kind === "signed" && html`<${Signature} id="operator" legend="The operator" roles=${ROLES} value=${form.operator} onChange=${(operator) => set({ operator })} />`}
        ${form.kind && form.kind !== "signed" && html`
          <div class="field"><label for="reason">${form.kind === "refused" ? "The reason, as it was given" : "What was tried"}</label>
            <textarea id="reason" rows="2" value=${form.reason} onInput=${(event) => set({ reason: event.target.value })}></textarea></div>`}
        ${form.kind === "refused" && html`
          <div class="field"><label for="supervisor">Supervisor who was told of it</label>
            <input id="supervisor" type="text" maxlength="500" value=${form.supervisor} onInput=${(event) => set({ supervisor: event.target.value })} /></div>
          ${form.supervisor.trim() && html`
            <div class="field moment"><label for="supervisor-told">When the supervisor was told</label>
              <input id="supervisor-told" type="datetime-local" value=${form.supervisorTold} onInput=${(event) => set({ supervisorTold: event.target.value })} /></div>`}`}
        <${Signature} id="inspector" legend="You, the inspector" value=${form.inspector} onChange=${(inspector) => set({ inspector })} />
        ${desk.missing.length > 0 && html`
          <div class="notice near">
            <p><${Icon} name="warn" /> <b>${count(desk.missing.length, "thing")} still open.</b> They are listed in the report. <a href=${address(desk.id, "report")}>See them</a></p>
            <div class="field"><label for="left-open">Why it is closed all the same</label>
              <textarea id="left-open" rows="2" value=${form.leftOpen} onInput=${(event) => set({ leftOpen: event.target.value })}></textarea></div>
          </div>`}
        <p class="notice accent">Once sealed, nothing in it can be edited. A later change is a document of its own, an amendment.</p>
        ${state?.message && html`<p class="notice over" role="alert">${state.message}</p>`}
        <div class="row"><button type="submit" class="main" disabled=${Boolean(lacks) || !fresh || state?.busy}>${state?.busy ? "Sealing…" : "Seal the report"}</button>
          <p class="note" role="status">${lacks ?? (fresh ? "Ready to seal." : "The report is being written.")}</p></div>
      </form>
    </div>`;
}
