"""The inspection report: a Record as a document, in the order in which an operator reads it.

What must be corrected comes first, then what was found, then all that it rests on, then receipt and rights.
Only the Record speaks here: nothing is inferred, and what is not known says so.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime

from review_api.record import (
    DecidedReading,
    Record,
    Violation,
)
from review_api.report.blocks import (
    Block,
    Case,
    Document,
    Drawing,
    Fact,
    Facts,
    Heading,
    Paragraph,
    Picture,
    Pictures,
    Points,
    Table,
)
from review_api.report.front import document
from review_api.report.phrases import described
from review_api.report.receipt import receipt_blocks, seal_blocks
from review_api.report.text import Run, linked, sentence
from review_api.report.times import Clock, offset
from shared.units import written

CLASSES = {"P": "Priority", "Pf": "Priority foundation", "C": "Core"}
_VERDICTS = {
    "meets": "Within the limit",
    "violates": "Out of the limit",
    "borderline": "Borderline to the limit",
    "undetermined": "Not decided",
    "none": "No limit applies",
}
UNKNOWN = "Not recorded"
DRAFT_NOTICE = "Draft. Not signed, not sealed, not a finished report. It may still change."
CAUTION = (
    "The code in force at this establishment and the judgement of the licensing authority decide. "
    "Where this report and that code differ, the code stands."
)
CLASS_NOTE = (
    "Priority: directly prevents, removes or reduces a hazard. Priority foundation: supports a priority "
    "item. Core: general sanitation, upkeep and operation."
)


def photo_file(sha256: str) -> str:
    """The name that a photo's copy has beside the document."""
    return f"photo-{sha256}.jpg"


def figure_file(index: int) -> str:
    """The name that a figure has beside the document; figures count from 0."""
    return f"figure-{index}.svg"


def inspection(record: Record) -> Document:
    """The record as a document. Raises ValueError for a time without an offset."""
    clock = _clock(record)
    photos = _photos(record, clock)
    return document(
        record,
        kind="Inspection report",
        draft_notice=DRAFT_NOTICE,
        blocks=(
            *_visit(record, clock),
            *_to_correct(record, clock),
            *_violations(record, clock, photos),
            *_readings(record, clock),
            *_figures(record),
            *_further_photos(record, photos),
            *_marks(record),
            *_talk(record),
            *receipt_blocks(record, clock),
            *_rights(record, clock),
            *seal_blocks(record),
        ),
    )


def _clock(record: Record) -> Clock:
    """Told on the clock of the place; a time of that day with another offset says so."""
    began = record.visit.time_in or record.visit.time_out
    base = began or record.made
    return Clock(base=offset(base), day=base.date())


def _local(clock: Clock) -> str:
    return f"Times are local to the place of the visit, {clock.base} on that day."


def _visit(record: Record, clock: Clock) -> Iterator[Block]:
    visit, place = record.visit, record.establishment
    day = visit.time_in or visit.time_out
    hours = f"{_time(visit.time_in, clock)} to {_time(visit.time_out, clock)}"
    rows = [
        Fact("Address", place.address or UNKNOWN),
        Fact("Permit", place.permit or UNKNOWN),
        Fact("Risk category", str(place.risk_category) if place.risk_category is not None else UNKNOWN),
        Fact("Date of visit", clock.date(day) if day else UNKNOWN),
        Fact("In and out", hours if visit.time_in or visit.time_out else UNKNOWN),
        Fact("Purpose", visit.purpose or UNKNOWN),
        Fact("Person in charge", visit.person_in_charge or UNKNOWN),
        Fact("Inspector", visit.inspector or UNKNOWN),
        Fact("Rules", record.rules_title),
    ]
    if visit.revisit:
        rows.append(Fact("Next visit", clock.date(visit.revisit)))
    yield Facts("The visit", tuple(rows))


def _to_correct(record: Record, clock: Clock) -> Iterator[Block]:
    yield Heading(2, "What to correct, and by when")
    yield Paragraph((Run(_summary(record)),), tone="strong")
    if record.violations:
        yield Table(
            "Violations and when each must be corrected",
            ("No.", "Section", "Class", "Violation", "Correct by"),
            tuple(
                (str(at), item.provision, CLASSES[item.class_], _short(item), _by(item, clock))
                for at, item in enumerate(record.violations, start=1)
            ),
            (0, 0, 0, 5, 4),
        )


def _summary(record: Record) -> str:
    violations = record.violations
    if not violations and record.draft:
        return "No violation is confirmed so far. What is still open may become one."
    if not violations:
        return "No violation was cited on this visit."
    by_class: Counter[str] = Counter(item.class_ for item in violations)
    parts = [f"{by_class[key]} {name.lower()}" for key, name in CLASSES.items() if by_class[key]]
    count = len(violations)
    words = f"{count} violation{'s' if count > 1 else ''}: {', '.join(parts)}."
    corrected = sum(item.corrected_on_site for item in violations)
    repeats = sum(item.repeat for item in violations)
    if corrected:
        words += f" {corrected} corrected on site."
    if repeats:
        words += f" {repeats} cited before."
    return words


def _short(item: Violation) -> str:
    return f"{item.title} (repeat)" if item.repeat else item.title


def _by(item: Violation, clock: Clock) -> str:
    if item.corrected_on_site:
        return "Corrected on site"
    return clock.both(item.correct_by) if item.correct_by else "No date set"


def _violations(record: Record, clock: Clock, photos: Mapping[str, Picture]) -> Iterator[Block]:
    if record.violations:
        yield Heading(2, "Violations")
    readings = {reading.id: reading for reading in (*record.readings, *record.thermometer_checks)}
    for at, item in enumerate(record.violations, start=1):
        marks = [CLASSES[item.class_]]
        if item.form_item is not None:
            marks.append(f"Form item {item.form_item}")
        if item.corrected_on_site:
            marks.append("Corrected on site")
        if item.repeat:
            marks.append("Repeat")
        if item.typed:
            marks.append("In the inspector's own words")
        rows = [
            Fact("Where", item.where or UNKNOWN),
            Fact("When", _when(item.when, record, clock)),
            Fact("Who", item.who or UNKNOWN),
        ]
        if item.typed or sentence(item.why) != sentence(item.reason):
            rows.append(Fact("Why cited", _own(item.why, item) or UNKNOWN))
        measured = [_measured(readings[name]) for name in item.readings if name in readings]
        if measured:
            rows.append(Fact("Readings", "; ".join(measured)))
        rows.extend(Fact(answer.question, _own(answer.answer, item)) for answer in item.answers)
        if item.reason:
            rows.append(Fact("Public health", sentence(item.reason)))
        rows.extend(_correction(item, clock))
        if item.evidence:
            rows.append(Fact("Rests on", "; ".join(item.evidence)))
        yield Case(
            label=str(at),
            section=item.provision,
            title=item.title,
            marks=tuple(marks),
            statement=described(item, readings=tuple(measured)),
            facts=Facts(f"Facts of violation {at}", tuple(rows)),
            pictures=tuple(photos[sha] for sha in item.photos if sha in photos),
        )


def _correction(item: Violation, clock: Clock) -> Iterator[Fact]:
    decided = _own(item.correction or "", item)
    if item.corrected_on_site:
        yield Fact("Corrected on site", decided or UNKNOWN)
        return
    if not decided and item.usual_correction:
        yield Fact("Usual correction", sentence(item.usual_correction))
    else:
        yield Fact("Correction", decided or UNKNOWN)
    yield Fact("Correct by", _by(item, clock))


def _when(value: datetime | None, record: Record, clock: Clock) -> str:
    """The time alone on the day of the visit, which the head of the report gives."""
    if value is None:
        return UNKNOWN
    day = record.visit.time_in or record.visit.time_out
    return clock.time(value) if day and day.date() == value.date() else clock.both(value)


def _own(text: str, item: Violation) -> str:
    return text if item.typed else sentence(text)


def _measured(reading: DecidedReading) -> str:
    words = f"{_of(reading) or reading.stage.replace('_', ' ')} {written(reading.value, reading.unit)}"
    return f"{words} (limit {reading.limit})" if reading.limit else words


def _readings(record: Record, clock: Clock) -> Iterator[Block]:
    if record.readings:
        yield Heading(2, "Readings")
        yield _reading_table("All readings of the visit", record.readings, record, clock)
    if record.thermometer_checks or record.visit.thermometer:
        yield Heading(2, "Thermometer")
    if record.visit.thermometer:
        yield Paragraph((Run(f"Readings were taken with: {record.visit.thermometer}"),))
    if record.thermometer_checks:
        yield _reading_table("Checks of the thermometer that day", record.thermometer_checks, record, clock)


def _reading_table(caption: str, readings: tuple[DecidedReading, ...], record: Record, clock: Clock) -> Table:
    return Table(
        caption,
        ("Item", "Measured", "Stage and place", "Limit", "Result", "Time"),
        tuple(
            (
                _capital(_of(reading) or UNKNOWN),
                written(reading.value, reading.unit),
                ", ".join(part for part in (reading.stage.replace("_", " "), reading.place) if part),
                reading.limit or "—",
                _result(reading),
                _when(reading.at, record, clock) if reading.at else UNKNOWN.lower(),
            )
            for reading in readings
        ),
        (3, 0, 4, 3, 4, 0),
    )


def _of(reading: DecidedReading) -> str:
    """What was measured: the food or object, and the chemical; empty where neither is known."""
    return ", ".join(filter(None, (reading.item, (reading.agent or "").replace("_", " "))))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _result(reading: DecidedReading) -> str:
    words = _VERDICTS.get(reading.verdict, reading.verdict)
    if reading.margin is None or reading.verdict not in ("meets", "violates", "borderline"):
        return words
    margin = written(abs(round(reading.margin, 2)), reading.unit)
    if round(reading.margin, 2) == 0:
        return f"{words}, exactly at it"
    return f"{words}, {margin} from it" if reading.verdict == "borderline" else f"{words} by {margin}"


def _figures(record: Record) -> Iterator[Block]:
    if record.figures:
        yield Heading(2, "Cooling")
    for at, figure in enumerate(record.figures):
        alternative = f"Drawing: {figure.title}. Described in the text below it."
        yield Drawing(Picture(figure_file(at), alternative, figure.title), figure.description)


def _photos(record: Record, clock: Clock) -> dict[str, Picture]:
    pictures = {}
    for at, photo in enumerate(record.photos, start=1):
        caption = f"Photo {at}."
        if photo.caption:
            caption += f" {sentence(photo.caption)}"
        if photo.taken:
            caption += f" {clock.time(photo.taken)}"
        described_as = photo.alternative_text.strip() or photo.caption.strip()
        alternative = described_as or f"Photo {at} of the inspection; nobody described it."
        pictures[photo.sha256] = Picture(photo_file(photo.sha256), alternative, caption)
    return pictures


def _further_photos(record: Record, photos: Mapping[str, Picture]) -> Iterator[Block]:
    shown = {sha for item in record.violations for sha in item.photos}
    further = tuple(picture for sha, picture in photos.items() if sha not in shown)
    if further:
        yield Heading(2, "Further photos")
        yield Pictures(further)


def _marks(record: Record) -> Iterator[Block]:
    if not record.marks:
        return
    yield Heading(2, "Check sheet")
    yield Paragraph(
        (Run("IN: in compliance. OUT: out of compliance. NO: not observed. NA: not applicable. "
             "COS: corrected on site. R: repeat."),),
        tone="quiet",
    )  # fmt: skip
    yield Table(
        "Check sheet of all form items",
        ("Item", "Mark", "Note", "Area", "What it covers"),
        tuple(
            (
                str(item.number),
                item.mark or "—",
                " ".join(word for word, on in (("COS", item.corrected_on_site), ("R", item.repeat)) if on),
                item.heading,
                sentence(item.text).rstrip("."),
            )
            for item in record.marks
        ),
        (0, 0, 0, 4, 6),
        small=True,
    )


def _talk(record: Record) -> Iterator[Block]:
    for heading, items in (
        ("Discussed as education", record.education),
        ("Remarks of the operator", record.remarks),
        ("Still open" if record.draft else "Left open, with reasons", tuple(map(sentence, record.left_open))),
    ):
        if items:
            yield Heading(2, heading)
            yield Points(items)


def _rights(record: Record, clock: Clock) -> Iterator[Block]:
    yield Heading(2, "Your rights, and how to reach us")
    if record.department.appeal:
        yield Paragraph(linked(record.department.appeal))
    if record.department.contact:
        yield Paragraph(linked(record.department.contact))
    yield Paragraph((Run(CAUTION),))
    yield Paragraph((Run(CLASS_NOTE),), tone="quiet")
    yield Paragraph(
        (Run(f"Report {record.number}, written {_stamp(record.made)}. {_local(clock)}"),),
        tone="quiet",
    )


def _stamp(value: datetime) -> str:
    return f"{Clock().both(value)} ({offset(value)})"


def _time(value: datetime | None, clock: Clock) -> str:
    return clock.time(value) if value else UNKNOWN.lower()
