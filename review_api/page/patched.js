// What a saved change makes of the inspection that is shown, until the service's own answer is read. Pure.
// Only what the service has said to be saved comes here, so nothing is shown as saved that is not.

const STATES = { confirm: "confirmed", edit: "edited", reject: "rejected", reopen: "proposed" };

const change = (list, id, make) => list.map((one) => (one.id === id ? make(one) : one));

function decided(desk, { subject, action, changes = {}, reason = null }) {
  const decide = (one) => ({ ...one, ...changes, ...(changes.class && { class_choices: [] }), choices: one.choices && [], decision: { ...one.decision, state: STATES[action], reason } });
  const finding = desk.findings.find((one) => one.id === subject);
  const readings = desk.readings.map((reading) => {
    if (reading.id === subject) return decide(reading);
    const restsOnIt = finding?.readings.includes(reading.id) && reading.decision.state === "proposed";
    return restsOnIt && ["confirm", "edit"].includes(action) ? { ...reading, choices: [], decision: { ...reading.decision, state: "confirmed" } } : reading;
  });
  return { ...desk, readings, findings: change(desk.findings, subject, decide) };
}

function answered(desk, id, answer) {
  const put = (question) => ({ ...question, answer: answer || null, stands: undefined }); // where it stands, the service says
  return {
    ...desk,
    questions: change(desk.questions, id, put),
    findings: desk.findings.map((finding) => ({ ...finding, questions: change(finding.questions, id, put) })),
  };
}

function attached(desk, id, sha256, on) {
  const without = (list, one) => list.filter((other) => (other.sha256 ?? other) !== one);
  return {
    ...desk,
    findings: change(desk.findings, id, (finding) => ({ ...finding, photos: [...without(finding.photos, sha256), ...(on ? [{ sha256, by: "person" }] : [])] })),
    photos: desk.photos.map((photo) => (photo.sha256 === sha256 ? { ...photo, findings: [...without(photo.findings, id), ...(on ? [id] : [])] } : photo)),
  };
}

function settled(stretch, recording, { start, text, nothing_said = false }) {
  const meant = stretch.recording === recording && Math.abs(stretch.start - start) < 0.005;
  return meant ? { ...stretch, text, settled: Boolean(text) || nothing_said } : stretch;
}

/** The desk with a saved change in it. */
export function patched(desk, { method, path, body }) {
  const [what, id, , sha256] = path.split("/").map(decodeURIComponent);
  if (what === "decisions") return decided(desk, body);
  if (what === "questions") return answered(desk, id, body.answer);
  if (what === "findings" && sha256) return attached(desk, id, sha256, method === "PUT");
  if (what === "notes") return { ...desk, ...body };
  if (what === "facts") return { ...desk, facts: { ...desk.facts, ...body } };
  if (what === "photos") return { ...desk, photos: desk.photos.map((photo) => (photo.sha256 === id ? { ...photo, ...body } : photo)) };
  if (what === "stretches") return { ...desk, notUnderstood: desk.notUnderstood.map((one) => settled(one, id, body)) };
  if (what === "marks" && body.mark) {
    return { ...desk, marks: desk.marks.map((item) => (String(item.number) === id ? { ...item, mark: body.mark, origin: "person", accepted: true } : item)) };
  }
  return desk;
}
