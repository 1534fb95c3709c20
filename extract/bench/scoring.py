"""How an extraction is scored against a corpus.

A reading of the corpus is found by one of the same kind, value and unit; of several, by the one that agrees
most. On each found one, stage, item, place and verdict are compared. Two names agree when the words of the
shorter one are all in the longer ("ham" and "sliced ham"), or both are missing. F1 of a part = 2 × right /
(given + wanted).

A finding of the corpus is found by a proposal of an accepted section (or a paragraph of it) that agrees in
item or place, or lacks them. The corpus has one finding for each food; we propose one for a place with all
its readings, so a proposal may find several. A proposal is right when it finds at least one. F1 = harmonic
mean of the two shares. Corrected on site is scored on found ones; a dictation without findings is clean
when nothing is proposed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from extract.bench.corpus import Dictation, Gold, GoldFinding
from extract.cases import sections_agree
from extract.of_what.staging import heads_agree
from shared.types import Extraction, Finding, Reading

PARTS = ("values", "stages", "items", "places", "verdicts", "whole readings")


@dataclass(slots=True)
class Score:
    """Counts over a corpus, and what went wrong."""

    given: int = 0
    wanted: int = 0
    right: dict[str, int] = field(default_factory=lambda: dict.fromkeys(PARTS, 0))
    proposed: int = 0
    proposed_right: int = 0
    violations: int = 0
    violations_found: int = 0
    corrected_right: int = 0
    without: int = 0
    left_clean: int = 0
    flagged: int = 0
    flags: int = 0
    doubted: int = 0
    unsupported: int = 0
    """Readings that nobody said and that carry no doubt."""
    errors: list[str] = field(default_factory=list)

    def rates(self, part: str) -> tuple[float, float, float]:
        """Precision, recall and F1 of a part of the readings, in percent."""
        return _rates(self.right[part], self.given, self.right[part], self.wanted)

    def section_rates(self) -> tuple[float, float, float]:
        """Precision, recall and F1 of the proposed sections, in percent."""
        return _rates(self.proposed_right, self.proposed, self.violations_found, self.violations)


def _rates(right: int, given: int, found: int, wanted: int) -> tuple[float, float, float]:
    precision = 100 * right / given if given else 100.0
    recall = 100 * found / wanted if wanted else 100.0
    return precision, recall, 2 * precision * recall / (precision + recall) if precision + recall else 0.0


def score(found: Extraction, truth: Dictation, into: Score) -> None:
    """Adds one dictation to the counts."""
    _readings(found, truth, into)
    _findings(found, truth, into)
    _flags(found, truth, into)


def _readings(found: Extraction, truth: Dictation, into: Score) -> None:
    left = list(found.readings)
    into.given += len(left)
    into.wanted += len(truth.readings)
    into.doubted += sum(bool(reading.doubts) for reading in left)
    for gold in truth.readings:
        same = [
            r
            for r in left
            if r.kind == gold.kind and r.unit == gold.unit and abs(r.value - gold.value) < 1e-6
        ]
        if not same:
            into.errors.append(f"{truth.id} missing: {gold.value:g} {gold.unit} {gold.stage} of {gold.item}")
            continue
        best = max(same, key=lambda reading: sum(_agrees(reading, gold).values()))
        left.remove(best)
        agreed = _agrees(best, gold)
        for part in ("stages", "items", "places", "verdicts"):
            into.right[part] += agreed[part]
        into.right["values"] += 1
        whole = agreed["stages"] and agreed["items"] and agreed["verdicts"]
        into.right["whole readings"] += whole
        wrong = [part for part, ok in agreed.items() if not ok]
        if wrong:
            verdict = best.check.verdict if best.check is not None else None
            into.errors.append(
                f"{truth.id} {gold.value:g} {gold.unit}: {', '.join(wrong)}: "
                f"{best.stage}, {best.item}, {best.place}, "
                f"{verdict}; wanted {gold.stage}, {gold.item}, {gold.place}, {gold.verdict}"
            )
    for extra in left:
        into.unsupported += not extra.doubts
        into.errors.append(f"{truth.id} not said: {extra.value:g} {extra.unit} {extra.stage} of {extra.item}")


def _agrees(reading: Reading, gold: Gold) -> dict[str, bool]:
    return {
        "stages": reading.stage == gold.stage,
        "items": names_agree(reading.item, gold.item),
        "places": names_agree(reading.place, gold.place),
        "verdicts": reading.check is not None and reading.check.verdict == gold.verdict,
    }


def names_agree(one: str | None, two: str | None) -> bool:
    """Whether two names speak of the same thing, or both are missing."""
    if not one or not two:
        return not one and not two
    return heads_agree(one, two)


def _findings(found: Extraction, truth: Dictation, into: Score) -> None:
    used: set[str] = set()
    into.proposed += len(found.findings)
    into.violations += len(truth.findings)
    for gold in truth.findings:
        fitting = [finding for finding in found.findings if fits(finding, gold)]
        if not fitting:
            into.errors.append(f"{truth.id} not proposed: {gold.provisions[0]} {gold.item}, {gold.place}")
            continue
        best = max(fitting, key=lambda finding: (_closeness(finding, gold), finding.id not in used))
        used.add(best.id)
        into.violations_found += 1
        if best.corrected_on_site == gold.corrected_on_site:
            into.corrected_right += 1
        else:
            into.errors.append(
                f"{truth.id} corrected on site: {gold.provisions[0]} {gold.item}: {best.corrected_on_site}"
            )
    into.proposed_right += len(used)
    for finding in found.findings:
        if finding.id not in used:
            into.errors.append(
                f"{truth.id} proposed in vain: {finding.provision} {finding.what} ({finding.trace[0].rule})"
            )
    if not truth.findings:
        into.without += 1
        into.left_clean += not found.findings


def fits(finding: Finding, gold: GoldFinding) -> bool:
    """Whether a proposal is of an accepted section and not plainly of another thing in another place."""
    if not any(sections_agree(finding.provision, section) for section in gold.provisions):
        return False
    lacking = not gold.item or not gold.place or not finding.item or not finding.where
    return lacking or _closeness(finding, gold) > 0


def _closeness(finding: Finding, gold: GoldFinding) -> int:
    items = (finding.item or "").split(", ")
    item = bool(gold.item) and any(names_agree(part, gold.item) for part in items if part)
    place = bool(gold.place) and bool(finding.where) and names_agree(finding.where, gold.place)
    return 2 * item + place


def _flags(found: Extraction, truth: Dictation, into: Score) -> None:
    """A word or figure that must be doubted is, when a doubt's words are in it or beside it."""
    texts = [utterance.text.lower() for utterance in truth.utterances]
    doubted: list[str] = []
    for reading in _all_readings(found):
        for doubt in reading.doubts:
            first, last = doubt.span or reading.span
            doubted.append(texts[reading.utterance][max(0, first - 20) : last + 20])
    words = [
        texts[heard.utterance][slice(*heard.doubt.span)]
        for heard in found.doubts
        if heard.doubt.span is not None
    ]
    for flag in truth.must_flag:
        low = flag.lower()
        into.flags += 1
        if any(low in around for around in doubted) or any(word in low or low in word for word in words):
            into.flagged += 1
        else:
            into.errors.append(f"{truth.id} not doubted: “{flag}”")


def _all_readings(found: Extraction) -> Sequence[Reading]:
    return [*found.readings, *(withdrawn.reading for withdrawn in found.withdrawn)]
