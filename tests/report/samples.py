"""An invented visit, decided by an invented inspector: what the report tests print."""

from __future__ import annotations

from datetime import date, datetime, timedelta, timezone
from io import BytesIO
from math import cos, sin
from typing import Any

from PIL import Image, ImageDraw

from review_api.record import (
    Acknowledgement,
    DecidedPhoto,
    DecidedReading,
    Department,
    Establishment,
    Figure,
    ItemMark,
    Record,
    Signature,
    Violation,
    Visit,
)

ZONE = timezone(timedelta(hours=-5))


def at(clock: str) -> datetime:
    """A time of the visit."""
    hour, minute = clock.split(":")
    return datetime(2026, 5, 4, int(hour), int(minute), tzinfo=ZONE)


DEPARTMENT = Department(
    name="Tamarind County Environmental Health",
    address="12 Quarry Lane\nPort Alder",
    contact="Questions: food@tamarind.example or https://health.tamarind.example/food.",
    appeal="You may ask for a review within 10 days of this report, in writing, at the address above.",
)


def sha(number: int) -> str:
    """A made-up hash for the photo of this number."""
    return f"{number:064x}"


def photo(number: int) -> bytes:
    """A copy as it leaves the office: a JPEG without metadata."""
    picture = Image.new("RGB", (1200, 900), (222, 222, 218))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((180, 140, 1020, 780), outline=(60, 60, 60), width=14)
    for shelf in range(3):
        draw.line((180, 300 + shelf * 160, 1020, 300 + shelf * 160), fill=(90, 90, 90), width=8)
        draw.ellipse(
            (260 + 90 * shelf, 200 + shelf * 160, 400 + 90 * shelf, 300 + shelf * 160), fill=(140, 120, 90)
        )
    draw.text((200, 800), f"shelf {number}", fill=(0, 0, 0), font_size=48)
    out = BytesIO()
    picture.save(out, "JPEG", quality=85)
    return out.getvalue()


def reading(name: str, value: float, **other: Any) -> DecidedReading:
    """A cold-holding reading unless said otherwise."""
    facts: dict[str, Any] = {
        "kind": "temperature",
        "unit": "degF",
        "said": f"{value} degrees",
        "stage": "cold_holding",
        "item": "sliced turkey",
        "place": "walk-in cooler",
        "agent": None,
        "at": at("10:42"),
        "verdict": "meets",
        "section": "3-501.16(A)(2)",
        "limit": "41 °F or below",
    }
    return DecidedReading(id=name, value=value, **{**facts, **other})


def violation(name: str = "f1", **other: Any) -> Violation:
    """Turkey too warm in the walk-in, unless said otherwise."""
    facts: dict[str, Any] = {
        "provision": "3-501.16(A)(2)",
        "class_": "P",
        "form_item": 22,
        "title": "Cold holding at 41 °F or below",
        "who": None,
        "what": "sliced turkey stood at 48.5 °F in the walk-in cooler",
        "where": "walk-in cooler",
        "when": at("10:42"),
        "why": "it is 7.5 °F over the limit of 41 °F",
        "reason": "bacteria grow quickly in food that is kept too warm",
        "corrected_on_site": False,
        "correction": "move the food to a unit that holds 41 °F, and discard what was out over four hours",
        "correct_by": at("17:00"),
        "repeat": False,
        "readings": ("r1",),
        "evidence": ("walk.flac 00:12.4–00:14.1", "photo 1"),
    }
    return Violation(id=name, **{**facts, **other})


def strokes() -> tuple[tuple[tuple[float, float], ...], ...]:
    """A scribble such as a finger leaves on glass."""
    wave = tuple((0.05 + 0.9 * t / 120, 0.5 + 0.3 * sin(t / 5) * cos(t / 17)) for t in range(121))
    return (wave, ((0.1, 0.85), (0.8, 0.8)), ((0.9, 0.3),))


CURVE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 160"><path d="M30 10V140H390" fill="none" '
    'stroke="#000"/><path d="M30 20C120 90 200 110 390 125" fill="none" stroke="#000" stroke-width="2"/>'
    '<path d="M30 100H390" stroke="#000" stroke-dasharray="4 3"/>'
    '<text x="300" y="95" font-family="sans-serif" font-size="10">70 °F</text></svg>'
)

HEADINGS = (
    ("Supervision", "person in charge present"),
    ("Good hygienic practices", "hands clean and washed"),
    ("Time and temperature", "cold holding temperature"),
    ("Time and temperature", "cooling time and temperature"),
    ("Physical facilities", "plumbing and backflow"),
)


def marks() -> tuple[ItemMark, ...]:
    """A check sheet of 56 lines."""
    rows = []
    for number in range(1, 57):
        heading, text = HEADINGS[number % len(HEADINGS)]
        mark: Any = {22: "OUT", 8: "OUT", 40: None, 24: "NA", 9: "NO"}.get(
            number, "IN" if number < 30 else None
        )
        rows.append(
            ItemMark(
                number=number,
                heading=heading,
                text=text,
                mark=mark,
                corrected_on_site=number == 8,
                repeat=number == 22,
            )
        )
    return tuple(rows)


def record(**other: Any) -> Record:
    """A whole visit with three violations, one corrected, one repeated, and four photos."""
    facts: dict[str, Any] = {
        "number": "TM-2026-0107",
        "draft": True,
        "made": at("12:05"),
        "rules": "food_code_2022",
        "rules_title": "FDA Food Code 2022, model code",
        "department": DEPARTMENT,
        "establishment": Establishment(
            name="Saltgrass Noodle Bar",
            address="4 Ferry Steps, Port Alder",
            permit="TC-4411",
            risk_category=3,
        ),
        "visit": Visit(
            purpose="Routine inspection",
            inspector="R. Okonjo-Vale",
            person_in_charge="Pilar Muñoz Åström",
            time_in=at("10:31"),
            time_out=at("11:58"),
            revisit=date(2026, 5, 14),
            thermometer="Probe 7, thermistor, ± 1 °F",
        ),
        "thermometer_checks": (
            reading(
                "t1",
                32.4,
                stage="thermometer_check",
                item="ice water",
                place=None,
                at=at("10:34"),
                section=None,
                limit="32 °F ± 2 °F",
            ),
        ),
        "readings": (
            reading("r1", 48.5, verdict="violates", margin=7.5),
            reading("r2", 39.0, item="cut melon", at=at("10:44")),
            reading(
                "r3",
                157,
                stage="hot_holding",
                item="beef broth",
                place="range",
                limit="135 °F or above",
                section="3-501.16(A)(1)",
                at=at("10:51"),
            ),
            reading(
                "r4",
                25,
                kind="concentration",
                unit="ppm",
                stage="sanitizer",
                item="wiping cloth bucket",
                place="prep line",
                agent="chlorine",
                limit="50 ppm or above at 75 °F",
                verdict="violates",
                section="4-501.114(A)",
                at=at("11:02"),
            ),
        ),
        "violations": (
            violation(photos=(sha(1), sha(2)), repeat=True),
            violation(
                "f2",
                provision="2-301.14",
                form_item=8,
                title="When to wash hands",
                who="a cook on the grill line",
                what="a cook handled raw chicken and then touched clean plates without washing hands",
                where="grill line",
                when=at("11:10"),
                why="hands carry bacteria from raw poultry to clean plates",
                reason="hands are the main way that germs reach food",
                corrected_on_site=True,
                correction="the cook washed both hands and the plates were washed again",
                correct_by=None,
                readings=(),
                photos=(sha(3),),
                evidence=("walk.flac 38:02.0–38:11.5", "photo 3"),
            ),
            violation(
                "f3",
                provision="4-501.114(A)",
                form_item=16,
                title="Chlorine sanitizer strength",
                what='Bucket on the prep line read 25 ppm. PIC said "mixed early" - told them to remix',
                where="prep line",
                when=at("11:02"),
                why="Below 50 ppm.",
                typed=True,
                correct_by=at("17:00"),
                readings=("r4",),
                correction="Mix to 50-100 ppm and test.",
                reason="a weak solution leaves germs on surfaces",
            ),
        ),
        "marks": marks(),
        "photos": tuple(
            DecidedPhoto(
                sha256=sha(number), caption=caption, alternative_text=alternative, taken=at(f"10:4{number}")
            )
            for number, caption, alternative in (
                (1, "turkey on the top shelf", "A tray of sliced turkey on a shelf of the walk-in cooler"),
                (2, "display of the cooler", "The display of the walk-in cooler reads 47"),
                (3, "grill line", "Plates beside raw chicken on the grill line"),
                (4, "", ""),
            )
        ),
        "figures": (
            Figure(
                title="Chili, cooling since 2:00 PM",
                svg=CURVE,
                description="The curve falls from 135 °F at 2:00 PM to 70 °F at 4:10 PM, 10 min too late.",
            ),
        ),
        "education": ("How to set up the sanitizer bucket and test it.", "Cooling in shallow pans."),
        "remarks": ("The cooler was repaired last week; we will call the company again.",),
        "left_open": ("Not heard: 00:41–00:44 of walk.flac. Reason: fan noise, nothing was measured then.",),
    }
    return Record(**{**facts, **other})


def photo_files() -> dict[str, bytes]:
    """The copies of the sample's photos."""
    return {sha(number): photo(number) for number in range(1, 5)}


def signed(**other: Any) -> Record:
    """The same visit, signed by both and no draft."""
    return record(
        draft=False,
        acknowledgement=Acknowledgement(
            kind="signed",
            at=at("12:20"),
            signature=Signature(
                name="Pilar Muñoz Åström", role="person in charge", at=at("12:20"), strokes=strokes()
            ),
        ),
        inspector_signature=Signature(name="R. Okonjo-Vale", role="inspector", at=at("12:21")),
        **other,
    )
