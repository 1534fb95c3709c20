"""Many made-up inspections in one data folder, for the benchmark of the page."""

from __future__ import annotations

import io
import random
from datetime import datetime, timedelta, timezone
from pathlib import Path

from PIL import Image, ImageDraw

from capture.originals import Originals
from review_api.state import State
from review_api.store import events, inspections, proposals
from review_api.store.tables import Photo, Recording
from review_api.store.values import to_json
from shared import types
from shared.types import Check, Evidence, Extraction, Finding, Reading, Utterance

PHOTOS, READINGS, FINDINGS, UTTERANCES = 40, 40, 20, 160
"""Of each inspection; readings and findings are its 60 proposals."""

_FOODS = ("turkey", "rice", "coleslaw", "gravy", "stew", "ham", "lentils", "custard", "shrimp", "tofu")
_PLACES = ("walk-in cooler", "reach-in", "steam well", "prep table", "salad bar", "bar cooler")
_DAY = datetime(2026, 3, 2, 9, 0, tzinfo=timezone(timedelta(hours=-5)))


def photos(state: State, folder: Path) -> list[types.Photo]:
    """Forty photos of 12 megapixels, kept as originals; all inspections show the same ones."""
    kept = []
    store = Originals(state.folder.originals)
    for number in range(PHOTOS):
        picture = Image.effect_noise((1000, 750), 40 + number).resize((4000, 3000)).convert("RGB")
        ImageDraw.Draw(picture).rectangle((200, 200, 1200, 900), outline=(200, 40, 40), width=30)
        path = folder / f"photo-{number:02d}.jpg"
        content = io.BytesIO()
        picture.save(content, "JPEG", quality=80)
        path.write_bytes(content.getvalue())
        sha256 = store.add(path)
        taken = _DAY + timedelta(minutes=number)
        kept.append(
            types.Photo(sha256, path.name, "image/jpeg", 4000, 3000, taken, "exif", 200.0, "good", False)
        )
    return kept


def add(state: State, number: int, pictures: list[types.Photo]) -> int:
    """The id of one more inspection; what is in it depends on `number` alone."""
    chance = random.Random(number)
    recording = types.Recording(f"{number:064x}", "walk.flac", "audio/flac", 3600.0, _DAY, "container")
    said = tuple(_said(chance, at, recording) for at in range(UTTERANCES))
    with state.database.writing() as session:
        inspection, _ = inspections.create(session, content=f"{number:064x}", rules="food_code_2022")
        facts = types.Facts(establishment=f"Kitchen {number}", inspector="I. Calloway", time_in=_DAY)
        inspection.facts = to_json(facts)
        inspection.state, inspection.part, inspection.step = "ready", 1.0, "done"
        session.add(
            Recording(
                inspection_id=inspection.key, sha256=recording.sha256, position=0, content=to_json(recording)
            )
        )
        for position, picture in enumerate(pictures):
            content = to_json(picture)
            session.add(
                Photo(inspection_id=inspection.key, sha256=picture.sha256, position=position, content=content)
            )
        events.append(session, inspection, "handed in", who=events.PROGRAM)
        proposals.save_utterances(session, inspection, said)
        proposals.save_extraction(session, inspection, _meaning(chance, said, pictures), said)
        return inspection.key


def _said(chance: random.Random, at: int, recording: types.Recording) -> Utterance:
    food, place = chance.choice(_FOODS), chance.choice(_PLACES)
    text = f"{place}, the {food} is at {chance.randrange(30, 60)} and case number {chance.randrange(10_000)}"
    start = at * 20.0
    words = tuple(
        types.Word(word, start + place_ * 0.4, start + place_ * 0.4 + 0.3, 0.9)
        for place_, word in enumerate(text.split())
    )
    return Utterance(
        text, start, start + 6.0, words, at=_DAY + timedelta(seconds=start), recording=recording.sha256
    )


def _meaning(chance: random.Random, said: tuple[Utterance, ...], pictures: list[types.Photo]) -> Extraction:
    readings = tuple(
        Reading(
            f"r{at + 1}", "temperature", float(chance.randrange(30, 60)), "degF", "48", "cold_holding",
            chance.choice(_FOODS), chance.choice(_PLACES), None, None, at * 3, (0, 10), at * 60.0,
            at * 60.0 + 2,
            check=Check("violates", "3-501.16(A)(2)", "<=", 41.0, "degF", 7.0, (), "7 °F over the limit"),
        )
        for at in range(READINGS)
    )  # fmt: skip
    findings = tuple(
        Finding(
            f"f{at + 1}", "3-501.16(A)(2)", "P", 22, f"{readings[at].item} was warm", readings[at].place,
            said[at * 3].at, "over the limit", item=readings[at].item,
            open_questions=("how long has it been out of temperature?",),
            evidence=(
                Evidence(utterance=at * 3, span=(0, 10)), Evidence(reading=f"r{at + 1}"),
                Evidence(photo=f"sha256:{pictures[at].sha256}"),
            ),
        )
        for at in range(FINDINGS)
    )  # fmt: skip
    return Extraction("food_code_2022", readings=readings, findings=findings)
