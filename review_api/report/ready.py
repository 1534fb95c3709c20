"""What in a record is missing or contradicts itself before it is closed, and closing it with reasons."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from review_api.record import Record, Violation
from shared.errors import RefusedError


@dataclass(frozen=True, slots=True)
class Gap:
    """One thing that is missing or does not fit."""

    code: str
    """Short stable name of the kind of gap."""
    subject: str
    """The violation, reading or item it is about."""
    text: str
    """What is missing, for the inspector."""


def gaps(record: Record) -> tuple[Gap, ...]:
    """All gaps, in the order of the report; empty when the record is ready to be closed.

    It looks at what was decided alone; what is not decided yet, the desk lists.
    """
    return tuple(_gaps(record))


def closed_with(missing: Mapping[str, str], reasons: Mapping[str, str]) -> tuple[str, ...]:
    """Each missing thing with the reason for closing without it, for `Record.left_open`.

    `missing` are the texts by subject; `reasons` by the same subjects. Raises RefusedError naming what has no
    reason.
    """
    without = [text for subject, text in missing.items() if not reasons.get(subject, "").strip()]
    if without:
        raise RefusedError(
            f"not ready: {'; '.join(without)}; settle it, or give the reason for closing without it"
        )
    return tuple(f"{text}. Reason: {reasons[subject].strip()}" for subject, text in missing.items())


def _gaps(record: Record) -> Iterator[Gap]:
    visit = record.visit
    if visit.time_in and visit.time_out and visit.time_out < visit.time_in:
        yield Gap("times", "visit", "the time out is before the time in")
    if any(item.kind == "temperature" for item in record.readings) and not record.thermometer_checks:
        yield Gap(
            "thermometer", "visit", "temperatures were read, but no thermometer check of the day is there"
        )
    for at, item in enumerate(record.violations, start=1):
        yield from _violation(record, item, f"violation {at} ({item.provision})")
    cited = {name for item in record.violations for name in item.readings}
    for reading in record.readings:
        if reading.verdict == "violates" and reading.id not in cited:
            words = f"the reading “{reading.said}” is out of its limit, but no violation rests on it"
            yield Gap("uncited", reading.id, words)
    yield from _marks(record)


def _violation(record: Record, item: Violation, name: str) -> Iterator[Gap]:
    for field, words in (
        ("where", "where it was seen"),
        ("when", "when it was seen"),
        ("what", "what was seen"),
    ):
        if not getattr(item, field):
            yield Gap(f"no_{field}", item.id, f"{name} does not say {words}")
    usual = "" if item.corrected_on_site else item.usual_correction
    if not ((item.correction or "").strip() or usual):
        yield Gap("no_correction", item.id, f"{name} does not say how to correct it, or how it was corrected")
    if not item.corrected_on_site and item.correct_by is None:
        yield Gap("no_date", item.id, f"{name} has no date to correct it by")
    if item.correct_by and record.visit.time_in and item.correct_by < record.visit.time_in:
        yield Gap("date", item.id, f"{name} is to be corrected before the visit began")
    measured = {reading.id: reading.verdict for reading in (*record.readings, *record.thermometer_checks)}
    if any(reading not in measured for reading in item.readings):
        yield Gap("lost_reading", item.id, f"{name} rests on a reading that is not in the report")
    verdicts = {measured[reading] for reading in item.readings if reading in measured}
    if verdicts and not {"violates", "borderline"} & verdicts:
        within = verdicts == {"meets"}
        words = "every reading it rests on is within" if within else "no reading it rests on is out of"
        yield Gap("within_limit", item.id, f"{name} is cited, but {words} its limit")
    photos = {photo.sha256 for photo in record.photos}
    if any(photo not in photos for photo in item.photos):
        yield Gap("lost_photo", item.id, f"{name} shows a photo that is not in the report")


def _marks(record: Record) -> Iterator[Gap]:
    cited = {item.form_item for item in record.violations}
    for line in record.marks:
        subject, name = str(line.number), f"item {line.number}, {line.text},"
        if line.number in cited and line.mark is not None and line.mark != "OUT":
            yield Gap("mark", subject, f"{name} is marked {line.mark}, but a violation of it is cited")
        if line.mark == "OUT" and line.number not in cited:
            yield Gap("mark", subject, f"{name} is marked OUT, but no violation of it is cited")
