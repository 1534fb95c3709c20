// The list that the person works through: findings, readings that no finding rests on, questions of no finding. Pure.

const WEIGHT_OF_CLASS = { P: 0, Pf: 1, C: 2 };
const WEIGHT_OF_VERDICT = { violates: 0, borderline: 1, undetermined: 2, meets: 4, none: 5 };

/**
 * @typedef {object} Subject
 * @property {"finding"|"reading"|"question"} kind
 * @property {string} id
 * @property {object} of          the finding, reading or question itself
 * @property {object[]} readings  the readings it rests on (a reading: itself)
 * @property {boolean} doubted    holds a number that has to be chosen before it can be confirmed
 * @property {boolean} decided
 */

const seconds = (one) => one?.start ?? Infinity;

/** Place in the visit: index of the first utterance it rests on, then the seconds in it. */
function placeOf(subject) {
  const spoken = [
    subject.of.utterance,
    ...(subject.of.evidence ?? []).map((part) => part.utterance),
    ...subject.readings.map((reading) => reading.utterance),
  ].filter((index) => index !== null && index !== undefined);
  return [spoken.length ? Math.min(...spoken) : Infinity, seconds(subject.kind === "reading" ? subject.of : subject.readings[0])];
}

function weightOf(subject) {
  const worst = Math.min(6, ...subject.readings.map((reading) => WEIGHT_OF_VERDICT[reading.check?.verdict] ?? 5));
  const margin = Math.max(0, ...subject.readings.map((reading) => Math.abs(reading.check?.margin ?? 0)));
  const class_ = subject.kind === "finding" ? (WEIGHT_OF_CLASS[subject.of.class] ?? 2) : subject.kind === "question" ? 3 : 4 + worst;
  return [class_, -margin, subject.doubted ? 0 : 1];
}

function byParts(one, other) {
  for (let index = 0; index < one.length; index += 1) if (one[index] !== other[index]) return one[index] < other[index] ? -1 : 1;
  return 0;
}

/** All subjects of a desk, in the order of the visit or by weight (class, margin, doubt). */
export function subjectsOf(desk, order) {
  const readings = new Map(desk.readings.map((reading) => [reading.id, reading]));
  const resting = new Set(desk.findings.flatMap((finding) => finding.readings));
  const list = [
    ...desk.findings.map((finding) => {
      const its = finding.readings.map((id) => readings.get(id)).filter(Boolean);
      return {
        kind: "finding", id: finding.id, of: finding, readings: its,
        doubted: finding.decision.state === "proposed" && !finding.by_hand && its.some((reading) => reading.choices.length > 0),
        decided: finding.by_hand || finding.decision.state !== "proposed",
      };
    }),
    ...desk.readings.filter((reading) => !resting.has(reading.id)).map((reading) => ({
      kind: "reading", id: reading.id, of: reading, readings: [reading],
      doubted: reading.choices.length > 0, decided: reading.decision.state !== "proposed",
    })),
    ...desk.questions.filter((question) => !question.finding).map((question) => ({
      kind: "question", id: question.id, of: question, readings: [], doubted: false, decided: Boolean(question.answer),
    })),
  ];
  const rank = new Map(list.map((subject) => [subject, order === "weight" ? [...weightOf(subject), ...placeOf(subject)] : placeOf(subject)]));
  return list.sort((one, other) => byParts(rank.get(one), rank.get(other)) || one.id.localeCompare(other.id, "en", { numeric: true }));
}

/** The next subject that is still to decide, after `id`, going round; null when all is decided. */
export function nextOpen(subjects, id, isOpen) {
  const from = subjects.findIndex((subject) => subject.id === id);
  const round = [...subjects.slice(from + 1), ...subjects.slice(0, Math.max(0, from))];
  return round.find((subject) => isOpen(subject)) ?? null;
}

/** The stretch of sound that a subject rests on, whole sentences: {recording, start, end}, or null for typed words. */
export function stretchOf(desk, subject) {
  const { of } = subject;
  if (subject.kind !== "reading" && of.recording && of.start !== null && of.start !== undefined) return { recording: of.recording, start: of.start, end: of.end };
  const first = utterancesOf(subject).map((index) => desk.utterances[index]).find((said) => said?.recording && said.start !== null);
  return first ? { recording: first.recording, start: first.start, end: first.end } : null;
}

/** Indexes of the utterances that a subject rests on, in the order of the visit. */
export function utterancesOf(subject) {
  const spoken = new Set();
  if (Number.isInteger(subject.of.utterance)) spoken.add(subject.of.utterance);
  for (const part of subject.of.evidence ?? []) if (Number.isInteger(part.utterance)) spoken.add(part.utterance);
  for (const reading of subject.readings) if (Number.isInteger(reading.utterance)) spoken.add(reading.utterance);
  return [...spoken].sort((one, other) => one - other);
}

/** What is to be lit in an utterance: the words it rests on, the doubted ones. */
export function spansIn(desk, subject, index) {
  const spans = [];
  const length = desk.utterances[index]?.text.length ?? 0;
  for (const part of subject.of.evidence ?? []) {
    // A span over the whole sentence tells nothing more than the sentence does.
    if (part.utterance === index && part.span && part.span[1] - part.span[0] < 0.9 * length) spans.push({ span: part.span, name: "evidence" });
  }
  for (const reading of subject.readings) {
    if (reading.utterance !== index) continue;
    if (reading.span) spans.push({ span: reading.span, name: "evidence" });
    for (const doubt of reading.doubts) if (doubt.span) spans.push({ span: doubt.span, name: "doubt" });
  }
  for (const doubt of desk.utterances[index]?.doubts ?? []) if (doubt.span) spans.push({ span: doubt.span, name: "doubt" });
  return spans;
}
