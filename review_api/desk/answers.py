"""What an answer makes of its finding: who, what, where, when and the correction, rewritten or completed.

Which question fills which part is data (`shared/vocabulary/questions.toml`); here are the kinds of filling.
Answers lie over the proposal, the inspector's edits over both. A part that was edited takes up answers given
after the edit, and none that the inspector had before the eyes while editing.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo
from functools import cache
from typing import Any, Literal, get_args

from extract.put_right.corrections import tells_put_right
from extract.words.lexicon import read
from review_api.api.shown import Part
from shared.errors import InputError

Kind = Literal["names", "moment", "tells"]


@dataclass(frozen=True, slots=True)
class Row:
    """What the answers to some questions fill."""

    part: Part
    kind: Kind
    to: tuple[str, ...]
    sentence: str = ""
    when_empty: str = ""
    choices: tuple[str, ...] = ()
    puts_right: bool = False
    yes: bool = False


@dataclass(frozen=True, slots=True)
class Answered:
    """One answer, with the name of its question."""

    question: str
    asked: str
    answer: str


@dataclass(frozen=True, slots=True)
class Day:
    """The day and the zone in which a clock time is meant."""

    day: date | None = None
    zone: tzinfo | None = None


@dataclass(slots=True)
class Filled:
    """A finding's parts with the answers in them."""

    parts: dict[str, Any]
    """Only those that differ from what was given."""
    by: dict[str, list[str]] = field(default_factory=dict)
    """Part → the questions whose answers stand in it."""


@cache
def rows() -> tuple[Row, ...]:
    """The rows of the file. Raises InputError naming every fault."""
    made: list[Row] = []
    faults: list[str] = []
    seen: set[str] = set()
    for number, row in enumerate(read("questions.toml")["answer"], start=1):
        where = f"questions.toml, answer {number}"
        try:
            one = Row(**{**row, "to": tuple(row["to"]), "choices": tuple(row.get("choices", ()))})
        except (TypeError, KeyError) as error:
            faults.append(f"{where}: {error}")
            continue
        if one.part not in get_args(Part) or one.kind not in get_args(Kind):
            faults.append(f"{where}: there is no part {one.part} or no kind {one.kind}")
        if (one.kind == "tells") != (one.sentence.count("{answer}") == 1):
            faults.append(f"{where}: only what tells has a sentence, with {{answer}} in it once")
        if (one.kind == "moment") != (one.part == "when"):
            faults.append(f"{where}: a moment fills `when`, and nothing else does")
        faults += [f"{where}: “{text}” is answered by two rows" for text in one.to if text in seen]
        seen.update(one.to)
        made.append(one)
    if faults:
        raise InputError("; ".join(faults))
    return tuple(made)


def row_for(asked: str) -> Row | None:
    """What an answer to this question fills; None: nothing, it is printed beside the question."""
    return _by_question().get(asked)


@cache
def _by_question() -> dict[str, Row]:
    return {text: row for row in rows() for text in row.to}


def asked_when_empty(parts: Mapping[str, Any], asked: Collection[str]) -> list[str]:
    """The questions that the desk asks of itself, because a part that every finding needs is empty."""
    filled = {row.part for text in asked if (row := row_for(text)) is not None}
    return [
        row.when_empty
        for row in rows()
        if row.when_empty and row.part not in filled and not parts.get(row.part)
    ]


def is_settled_by(asked: str, edits: Mapping[str, Any]) -> bool:
    """Whether the inspector wrote into the part itself what the question asks for."""
    row = row_for(asked)
    return row is not None and row.kind != "tells" and bool(edits.get(row.part))


def is_unknown(answer: str) -> bool:
    """Whether the answer says that it is not known."""
    return answer.strip().rstrip(".").lower() in read("questions.toml")["unknown"]


def sentence_of(row: Row, answer: str) -> str:
    """The sentence that joins the part."""
    text = row.sentence.replace("{answer}", answer.strip().rstrip("."))
    return text[:1].upper() + text[1:]


def fill(
    base: Mapping[str, Any],
    answers: Sequence[Answered],
    *,
    edits: Mapping[str, Any],
    told: Mapping[str, Sequence[str]],
    day: Day,
) -> Filled:
    """The parts of a finding as answers and edits make them.

    `told`: for each edited part, the answers that it had in it when it was edited.
    """
    standing = [
        (one, row)
        for one in answers
        if (row := row_for(one.asked)) is not None and not is_unknown(one.answer)
    ]
    parts: dict[str, Any] = {}
    for one, row in standing:
        if row.kind == "names":
            _name(parts, base, row.part, one.answer)
        elif row.kind == "moment":
            parts[row.part] = moment(one.answer, day)
        else:
            parts[row.part] = _joined(parts.get(row.part, base.get(row.part)), sentence_of(row, one.answer))
        if row.puts_right and _puts_right(base, one.answer, row):
            parts["corrected_on_site"] = True
    for name, value in edits.items():
        parts[name] = value
        for one, row in standing:
            if row.kind == "tells" and row.part == name and one.question not in told.get(name, ()):
                parts[name] = _joined(parts[name], sentence_of(row, one.answer))
    filled = Filled({name: value for name, value in parts.items() if base.get(name) != value})
    for one, row in standing:
        if _stands(parts.get(row.part), one.answer, row, day):
            filled.by.setdefault(row.part, []).append(one.question)
    return filled


def moment(answer: str, day: Day) -> str | None:
    """The clock time of the visit's day, as ISO 8601; None where the answer is none."""
    found = _CLOCK.fullmatch(answer.strip().lower())
    if found is None or day.day is None:
        return None
    hour, minute, half = int(found["hour"]), int(found["minute"] or 0), (found["half"] or "")[:1]
    if half and not 1 <= hour <= 12:
        return None
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59 or not (half or found["minute"]):
        return None
    at = datetime.combine(day.day, datetime.min.time(), tzinfo=day.zone)
    return at.replace(hour=hour, minute=minute).isoformat()


_CLOCK = re.compile(r"(?P<hour>\d{1,2})(?:[:.](?P<minute>\d\d))?\s*(?P<half>[ap]\.?m\.?)?")


def _name(parts: dict[str, Any], base: Mapping[str, Any], part: str, answer: str) -> None:
    """The answer is the part; a food is named in what was observed as well."""
    named = answer.strip().rstrip(".")
    parts[part] = named
    if part != "item":
        return
    what, before = parts.get("what", base.get("what")) or "", base.get("item")
    if before and what.lower().startswith(f"{before.lower()}: "):
        what = what[len(before) + 2 :]
    if named.lower() not in what.lower():
        rest = what if what[1:2].isupper() else f"{what[:1].lower()}{what[1:]}"
        what = f"{named[:1].upper()}{named[1:]}: {rest}"
    parts["what"] = what


def _joined(before: str | None, sentence: str) -> str:
    text = (before or "").strip()
    if not text:
        return sentence
    return f"{text} {sentence}" if text[-1] in ".!?" else f"{text}. {sentence}"


def _stands(value: Any, answer: str, row: Row, day: Day) -> bool:
    """Whether the part says what the answer says: an edit may have taken its place."""
    if not value:
        return False
    if row.kind == "tells":
        return sentence_of(row, answer) in value
    return bool(value == (moment(answer, day) if row.kind == "moment" else answer.strip().rstrip(".")))


def _puts_right(base: Mapping[str, Any], answer: str, row: Row) -> bool:
    if row.yes and re.match(r"yes\b", answer.strip(), re.IGNORECASE):
        return True
    food = base["provision"].startswith("3-") and any(
        part.get("reading") for part in base.get("evidence", ())
    )
    return tells_put_right(answer, form_item=base.get("form_item"), food=food)
