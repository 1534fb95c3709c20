"""The shipped inspection as a program without mistakes would propose it, stored without the speech model.

Recordings and photos are taken in for real; words, readings and findings come from `expected.json` and
`timing.json`, with two doubts and a stretch that nobody understood added, so that the page has them to show.
`understood` has the real extraction's proposals of the same words instead.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from capture.intake import Intake, take_in
from capture.originals import Originals
from extract import extract
from review_api.data_folder import DataFolder
from review_api.handed_in import content_of
from review_api.playable import playable
from review_api.store import inspections, proposals
from review_api.store.database import Database
from review_api.store.tables import Photo, Recording
from review_api.store.values import to_json
from shared import rules as law
from shared.types import (
    Check,
    Compliance,
    Context,
    Doubt,
    Evidence,
    Extraction,
    Finding,
    Question,
    Reading,
    Utterance,
    Withdrawn,
    Word,
)

ROOT = Path(__file__).parents[2]
RULES = "food_code_2022"
SHIPPED = ROOT / "audio_fixtures" / "harbor_wren"

LIMITS: dict[str, tuple[str, float]] = {
    "cold_holding": ("<=", 41), "hot_holding": (">=", 135), "cooking": (">=", 165), "handwashing": (">=", 85),
    "cooling": ("<=", 70), "sanitizer": (">=", 50), "storage": (">=", 6), "lighting": (">=", 50),
}  # fmt: skip
WORDING = {
    "3-501.16(A)(2)": "Sliced turkey on the top shelf was at 48.5 °F",
    "3-501.17": "An opened package of ham had no date on it",
    "4-204.112": "The reach-in cooler had no thermometer",
    "3-501.16(A)(1)": "Clam chowder in the steam well was at 118 °F",
    "3-501.14(A)": "Beef stew was at 78 °F two hours after it was at 135 °F",
    "3-501.15": "Beef stew was cooling in a deep stock pot with the lid on tight",
    "6-301.12": "The hand sink by the dish machine had no paper towels",
    "4-501.114": "The sanitizer bucket on the cook line held 100 ppm of quaternary ammonium",
    "3-305.11": "A box of shrimp stood on the floor of the walk-in freezer",
    "7-102.11": "A spray bottle of degreaser had no label",
    "6-501.12": "The floor under the dish machine was thick with grease and food scraps",
    "5-501.113": "The dumpster lid was wide open",
}
QUESTIONS = {
    "3-501.17": ("On which day was the package opened?",),
    "3-501.16(A)(1)": ("How long has it been below 135 °F?", "Was the food reheated or thrown out?"),
    "7-102.11": ("Is it kept away from food and clean dishes?",),
}
RUNNERS_UP = {"7-102.11": ("7-101.11",), "5-501.113": ("5-501.110",), "3-501.15": ("3-501.14(A)",)}


@dataclass(frozen=True)
class Shipped:
    """The shipped inspection, taken in once, to be stored as often as a test wants one of its own."""

    taken: Intake
    said: tuple[Utterance, ...]
    meant: Extraction


def take_in_shipped(folder: DataFolder) -> Shipped:
    originals = Originals(folder.originals)
    taken = take_in(SHIPPED, originals=originals)
    for recording in taken.recordings:  # as the pipeline does, so that no first play waits
        playable(originals.path(recording.sha256), recording.media_type, kept_in=folder.derived / "sound")
    truth = json.loads((SHIPPED / "expected.json").read_text(encoding="utf-8"))
    said = utterances(truth, taken)
    return Shipped(taken, said, extraction(truth, said))


def understood(shipped: Shipped) -> Shipped:
    """The same words with what the extraction makes of them."""
    meant = extract(
        shipped.said, rules=law.load(RULES), facts=shipped.taken.facts, photos=shipped.taken.photos
    )
    return replace(shipped, meant=meant)


def store(database: Database, shipped: Shipped, *, content: str = "") -> int:
    """The id of a new inspection with all proposed and nothing decided. `content` tells copies apart."""
    with database.writing() as session:
        inspection, _ = inspections.create(session, content=content_of(SHIPPED) + content, rules=RULES)
        inspection.facts = to_json(shipped.taken.facts)
        for position, recording in enumerate(shipped.taken.recordings):
            silent = [{"start": 75.2, "end": 77.9}] if position == 0 else []
            heard = [replace(one, at=None) for one in shipped.said if one.recording == recording.sha256]
            session.add(
                Recording(
                    inspection_id=inspection.key, sha256=recording.sha256, position=position,
                    content=to_json(recording), heard=[to_json(one) for one in heard],
                    not_understood=silent, removed=[],
                )
            )  # fmt: skip
        for position, photo in enumerate(shipped.taken.photos):
            session.add(
                Photo(
                    inspection_id=inspection.key, sha256=photo.sha256, position=position,
                    content=to_json(photo),
                )
            )  # fmt: skip
        session.flush()
        proposals.save_utterances(session, inspection, shipped.said)
        proposals.save_extraction(session, inspection, shipped.meant, shipped.said)
        inspection.state, inspection.step, inspection.part = "ready", "done", 1.0
        session.add(inspection)
        return inspection.key


def seed(root: Path) -> int:
    """The id of the one inspection in a new data folder `root`."""
    folder = DataFolder(root).make()
    database = Database.at(folder.database)
    database.migrate()
    try:
        return store(database, take_in_shipped(folder))
    finally:
        database.close()


def utterances(truth: dict[str, Any], taken: Intake) -> tuple[Utterance, ...]:
    """What is said, with words spread evenly over the seconds in which it sounds."""
    timing = json.loads((SHIPPED / "timing.json").read_text(encoding="utf-8"))
    seconds = {row["n"]: (row["start"], row["end"]) for rows in timing.values() for row in rows}
    by_name = {recording.name: recording for recording in taken.recordings}
    made = []
    for row in truth["utterances"]:
        recording = by_name[row["recording"]]
        start, end = seconds[row["n"]]
        doubts = ()
        if row["n"] == 15:
            doubts = (_disagree(row["text"]),)
        made.append(
            Utterance(
                text=row["text"], start=start, end=end, words=_words(row["text"], start, end), doubts=doubts,
                at=recording.started + timedelta(seconds=start), recording=recording.sha256,
            )
        )  # fmt: skip
    return tuple(made)


def _disagree(text: str, *others: str) -> Doubt:
    span = _span(text, "one sixty nine")
    return Doubt("passes_disagree", "Two hearings disagree: 169 and 165.", span, others)


def _words(text: str, start: float, end: float) -> tuple[Word, ...]:
    parts = text.split()
    total = sum(len(part) + 1 for part in parts)
    words, at = [], start
    for part in parts:
        until = at + (end - start) * (len(part) + 1) / total
        words.append(Word(part, round(at, 2), round(until, 2), 0.9))
        at = until
    return tuple(words)


def _span(text: str, part: str) -> tuple[int, int]:
    at = text.index(part)
    return at, at + len(part)


SPOKEN = {
    (1, 32): "Thirty two", (2, 37): "thirty seven", (2, 38): "thirty eight", (3, 36): "thirty six",
    (5, 48.5): "forty eight point five", (10, 41): "forty one", (12, 146): "one forty six",
    (12, 152): "one fifty two", (13, 118): "one eighteen", (15, 169): "one sixty nine",
    (17, 143): "one forty three", (18, 135): "one thirty five", (19, 78): "seventy eight",
    (22, 96): "ninety six", (24, 50): "fifty parts per million", (24, 104): "one oh four",
    (25, 100): "one hundred parts per million", (27, 300): "three hundred", (29, -4): "minus four",
    (30, 3): "three degrees Celsius", (31, 37): "thirty seven", (35, 6): "six inches",
    (36, 60): "sixty foot candles",
}  # fmt: skip


def extraction(truth: dict[str, Any], said: tuple[Utterance, ...]) -> Extraction:
    """The truth as proposals."""
    readings = tuple(
        _reading(f"r{number}", row, said) for number, row in enumerate(truth["readings"], start=1)
    )
    findings = tuple(
        _finding(f"f{number}", row, readings, said) for number, row in enumerate(truth["findings"], start=1)
    )
    taken_back = tuple(_withdrawn(row, readings, said) for row in truth["withdrawn"])
    return Extraction(
        rules=truth["rules"],
        readings=readings,
        withdrawn=taken_back,
        findings=findings,
        questions=(
            Question(
                "The set point of the walk-in is 35 °F, yet the turkey was warm: is the unit working?",
                (Evidence(utterance=4),),
                ("4-301.11",),
            ),
        ),
        compliances=(
            Compliance(8, "IN", (Evidence(utterance=33),)),
            Compliance(38, "IN", (Evidence(utterance=40),)),
            Compliance(47, "IN", (Evidence(utterance=32),)),
        ),
    )


def _reading(name: str, row: dict[str, Any], said: tuple[Utterance, ...]) -> Reading:
    words = SPOKEN[row["utterance"], row["value"]]
    text = said[row["utterance"]]
    doubted = row["value"] == 169
    start, end = _seconds(text, words)
    return Reading(
        id=name, kind=row["kind"], value=row["value"], unit=row["unit"], said=words, stage=row["stage"],
        item=row["item"], place=row["place"], agent=row["agent"], clock=row["clock"],
        utterance=row["utterance"], span=_span(text.text, words), start=start, end=end,
        doubts=(_disagree(text.text, "165"),) if doubted else (),
        alternatives=(165.0,) if doubted else (),
        check=_check(row), context=Context(item=row["item"], place=row["place"], agent=row["agent"]),
    )  # fmt: skip


def _seconds(text: Utterance, words: str) -> tuple[float, float]:
    from_, to = _span(text.text, words)
    length = len(text.text)
    assert text.start is not None
    assert text.end is not None
    span = text.end - text.start
    return round(text.start + span * from_ / length, 2), round(text.start + span * to / length, 2)


def _check(row: dict[str, Any]) -> Check | None:
    if row["verdict"] == "none":
        return Check("none")
    limit = LIMITS.get(row["stage"])
    water = row["stage"] == "sanitizer" and row["kind"] == "temperature"
    if limit is None or row["unit"] == "degC" or water:
        return Check(row["verdict"], row.get("section"))
    operator, value = (">=", 200.0) if row["agent"] == "quat" else limit
    margin = row["value"] - value
    return Check(
        row["verdict"], row.get("section"), operator, value, row["unit"], margin,
        why=f"{row['value']} − {value:g} = {margin:+g}; the thermometer is good to ± 1 °F.",
    )  # fmt: skip


def _finding(
    name: str, row: dict[str, Any], readings: tuple[Reading, ...], said: tuple[Utterance, ...]
) -> Finding:
    section = row["provision"]
    provision = law.load("food_code_2022").provisions.get(section)
    its = [
        reading
        for reading in readings
        if reading.value in row["readings"] and reading.utterance in row["utterances"]
    ]
    first = said[row["utterances"][0]]
    evidence = tuple(
        Evidence(utterance=at, span=(0, len(said[at].text))) for at in row["utterances"]
    ) + tuple(Evidence(reading=reading.id) for reading in its)
    days = {"P": 3, "Pf": 10, "C": 90}[row["class"]]
    return Finding(
        id=name, provision=section, class_=row["class"], form_item=row["form_item"], what=WORDING[section],
        where=row["place"], when=first.at, why=provision.reason if provision else "", item=row["item"],
        corrected_on_site=row["corrected_on_site"], repeat=row["repeat"],
        correction="thrown out" if section == "3-501.16(A)(2)" else None,
        correct_by=None if row["corrected_on_site"] or first.at is None else _close_of_day(first.at, days),
        open_questions=QUESTIONS.get(section, ()), confidence=0.93, alternatives=RUNNERS_UP.get(section, ()),
        evidence=evidence,
    )  # fmt: skip


def _close_of_day(at: datetime, days: int) -> datetime:
    return (at + timedelta(days=days)).replace(hour=17, minute=0, second=0, microsecond=0)


def _withdrawn(row: dict[str, Any], readings: tuple[Reading, ...], said: tuple[Utterance, ...]) -> Withdrawn:
    words = {44: "forty four", 128: "one twenty eight"}[row["value"]]
    text = said[row["utterance"]]
    start, end = _seconds(text, words)
    after = next((reading.id for reading in readings if reading.value == row["superseded_by"]), None)
    return Withdrawn(
        Reading(
            id="w0", kind="temperature", value=row["value"], unit=row["unit"], said=words, stage="other",
            item=row["item"], place=None, agent=None, clock=None, utterance=row["utterance"],
            span=_span(text.text, words), start=start, end=end,
        ),
        row["words"], after,
    )  # fmt: skip
