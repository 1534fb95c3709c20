"""`inspection.toml`: what can be read is used, and every fault is named by its entry."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields
from datetime import date, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from capture.facts import facts_and_faults, read_facts
from shared.errors import InputError
from shared.types import EarlierViolation, Facts

WHOLE = """
[establishment]
name = "Harbor  Wren Kitchen"
address = "41 Saltgate Street"
permit = "PM-20417"
risk_category = 3
person_in_charge = "Tobias Renn"

[visit]
purpose = "routine"
inspector = "Ines Calloway"
time_zone = "America/Chicago"
time_in = 2026-10-13T10:05:00-05:00
time_out = 2026-10-13T10:52:00
rules = "food_code_2022"
elevation_m = 180

[thermometer]
name = "thin probe"
accuracy_degf = 1

[words]
menu = ["clam chowder", "clam chowder", "beef  stew"]
rooms = ["prep room", "three compartment sink"]

[clock_offsets]
"Tern 5" = -270

[times]
"note.wav" = 2026-10-13T10:31:00-05:00

[[previous]]
section = "6-301.12"
on = 2026-04-02
note = "no paper towels"
[[previous]]
section = "3-305.11"
"""


Written = Callable[[str | bytes], Path]


@pytest.fixture
def written(tmp_path: Path) -> Written:
    def write(text: str | bytes) -> Path:
        path = tmp_path / "inspection.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return path

    return write


def test_a_whole_file(written: Written) -> None:
    facts = read_facts(written(WHOLE))
    assert facts == Facts(
        establishment="Harbor Wren Kitchen",
        address="41 Saltgate Street",
        permit="PM-20417",
        risk_category=3,
        person_in_charge="Tobias Renn",
        inspector="Ines Calloway",
        purpose="routine",
        time_zone="America/Chicago",
        time_in=datetime.fromisoformat("2026-10-13T10:05:00-05:00"),
        time_out=datetime.fromisoformat("2026-10-13T10:52:00-05:00"),  # without an offset: the visit's zone
        rules="food_code_2022",
        elevation_m=180.0,
        thermometer="thin probe",
        thermometer_accuracy_degf=1.0,
        words=("clam chowder", "beef stew", "prep room", "three compartment sink"),
        previous=(
            EarlierViolation("6-301.12", date(2026, 4, 2), "no paper towels"),
            EarlierViolation("3-305.11"),
        ),
        clock_offsets_s={"Tern 5": -270.0},
        times={"note.wav": datetime.fromisoformat("2026-10-13T10:31:00-05:00")},
    )


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "\ufeff[visit]\n"])
def test_every_part_may_be_missing(written: Written, text: str) -> None:
    assert read_facts(written(text)) == Facts()


NOT_A_TIME = "is not a date and time such as 2026-10-13T10:05:00-05:00, without quotes; it was left out"
NOT_A_CATEGORY = "is not a whole number from 1 to 4; it was left out"
NOT_A_ZONE = 'is not the name of a time zone, such as "America/Chicago"; it was left out'
A_NUMBER = "holds a number, which would be heard where it was not said; left out"
REVERSED = "[visit]\ntime_in = 2026-10-13T10:00:00Z\ntime_out = 2026-10-13T09:00:00Z"


@pytest.mark.parametrize(
    ("text", "entry", "told"),
    [
        ("[visit]\ninspektor = 'A'", "visit.inspektor", "is not known here; did you mean inspector?"),
        ("[place]\nname = 'A'", "place", "is not known here; known are establishment, visit,"),
        ("visit = 'today'", "visit", "'today' is not a part; write it as [visit]"),
        ("[establishment]\nname = 7", "establishment.name", "7 is not text in quotes; it was left out"),
        ("[establishment]\nrisk_category = 9", "establishment.risk_category", f"9 {NOT_A_CATEGORY}"),
        ("[establishment]\nrisk_category = true", "establishment.risk_category", f"true {NOT_A_CATEGORY}"),
        ("[establishment]\nrisk_category = 2.0", "establishment.risk_category", f"2.0 {NOT_A_CATEGORY}"),
        ("[visit]\ntime_in = '10:05'", "visit.time_in", f"'10:05' {NOT_A_TIME}"),
        ("[visit]\ntime_out = 2026-10-14", "visit.time_out", f"2026-10-14 {NOT_A_TIME}"),
        ("[visit]\ntime_in = 9999-12-31T23:59:59-05:00", "visit.time_in", NOT_A_TIME),
        (REVERSED, "visit.time_out", "is before time_in, 2026-10-13 10:00:00+00:00; neither was used"),
        ("[visit]\ntime_zone = 'Chicago'", "visit.time_zone", f"'Chicago' {NOT_A_ZONE}"),
        ("[visit]\ntime_zone = '../../x'", "visit.time_zone", f"'../../x' {NOT_A_ZONE}"),
        ("[visit]\nelevation_m = 'high'", "visit.elevation_m", "'high' is not a number from -430 to 5500"),
        ("[visit]\nelevation_m = 5501", "visit.elevation_m", "5501 is not a number from -430 to 5500"),
        ("[visit]\nelevation_m = nan", "visit.elevation_m", "nan is not a number from -430 to 5500"),
        ("[thermometer]\naccuracy_degf = -1", "thermometer.accuracy_degf", "-1 is not a number from 0 to 20"),
        ("[words]\nmenu = 'chowder'", "words.menu", "'chowder' is not a list of names in quotes"),
        ("[words]\nmenu = ['stew', 5]", "words.menu, entry 2", "5 is not a name in quotes; it was left out"),
        ("[words]\nmenu = ['cook to 165']", "words.menu, entry 1", f"'cook to 165' {A_NUMBER}"),
        ("[words]\nmenu = ['forty-one degrees']", "words.menu, entry 1", f"'forty-one degrees' {A_NUMBER}"),
        ("[clock_offsets]\n'Tern 5' = 'fast'", 'clock_offsets."Tern 5"', "'fast' is not a number of seconds"),
        ("[times]\n'a.wav' = 10:31:00", "times.a.wav", f"10:31:00 {NOT_A_TIME}"),
        (
            "previous = '6-301.12'",
            "previous",
            "'6-301.12' is not a list of parts; write each as [[previous]]",
        ),
        ("[[previous]]\non = 2026-04-02", "previous, entry 1", "has no section; say which one"),
        (
            "[[previous]]\nsection = '6-301.12'\non = 'May'",
            "previous, entry 1, on",
            "'May' is not a date such as",
        ),
        (
            "[[previous]]\nsection = '6-301.12'\nat = 1",
            "previous, entry 1, at",
            "is not known here; known are",
        ),
    ],
)
def test_a_fault_is_named_by_its_entry(written: Written, text: str, entry: str, told: str) -> None:
    _, (fault,) = facts_and_faults(written(text))
    assert fault.startswith(f"inspection.toml: {entry}: ")
    assert told in fault


def test_all_faults_are_told_and_the_rest_is_used(written: Written) -> None:
    path = written(
        "[visit]\ninspector = 'Ines Calloway'\ntime_in = 5\nelevation_m = 'x'\n[thermometer]\ncolour = 'red'"
    )
    facts, faults = facts_and_faults(path)
    assert facts == Facts(inspector="Ines Calloway")
    assert [fault.split(":")[1].strip() for fault in faults] == [
        "thermometer.colour", "visit.time_in", "visit.elevation_m",
    ]  # fmt: skip
    with pytest.raises(InputError, match=r"thermometer\.colour.*visit\.time_in.*visit\.elevation_m"):
        read_facts(path)


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (
            b"[visit\ninspector = 'A'",
            r"inspection\.toml: .*line 1.*correct that place\. Nothing in it was used",
        ),
        (b"inspector = \xff", r"inspection\.toml: is not plain text in UTF-8"),
        (b"x = " + b"[" * 5000, r"inspection\.toml: "),
        (b" " * 1_000_001, r"inspection\.toml: is larger than 1 MB"),
    ],
    ids=["not TOML", "not text", "nested without end", "huge"],
)
def test_a_file_that_cannot_be_read_says_where(written: Written, data: bytes, told: str) -> None:
    facts, faults = facts_and_faults(written(data))
    assert facts == Facts()
    assert len(faults) == 1
    with pytest.raises(InputError, match=told):
        read_facts(written(data))


@pytest.mark.parametrize("name", ["three compartment sink", "one pot stew", "seven layer dip", "andouille"])
def test_a_name_that_begins_with_a_number_word_is_a_name(written: Written, name: str) -> None:
    assert read_facts(written(f"[words]\nx = ['{name}']")).words == (name,)


NAIVE = datetime(2026, 1, 1)  # noqa: DTZ001  as TOML gives a time without an offset
scalars = st.sampled_from([None, True, -1, 7, 1e300, float("nan"), "", "A", date(2026, 1, 1), NAIVE])
values = scalars | st.lists(scalars, max_size=2) | st.dictionaries(st.sampled_from("ab"), scalars, max_size=2)
PARTS = ("establishment", "visit", "thermometer", "words", "clock_offsets", "times", "previous", "other")
ENTRIES = ("name", "risk_category", "time_zone", "time_in", "time_out", "elevation_m", "section", "on")
tables = st.dictionaries(st.sampled_from(ENTRIES), values, max_size=3)


@given(st.dictionaries(st.sampled_from(PARTS), tables | st.lists(tables, max_size=2) | values, max_size=3))
def test_no_content_makes_the_reader_fail(table: dict[str, object]) -> None:
    from capture.facts import _Reader

    assert isinstance(_Reader("inspection.toml").facts(table), Facts)


def test_the_example_in_the_guide_is_read_without_a_fault(written: Written) -> None:
    guide = Path(__file__).resolve().parents[2] / "docs" / "inspection-folder.md"
    example = guide.read_text("utf-8").split("```toml\n")[1].split("```")[0]
    facts = read_facts(written(example))
    missing = [field.name for field in fields(facts) if getattr(facts, field.name) in (None, (), {})]
    assert missing == [], "the example shows every entry"


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("time_in = 2026-10-13T10:05:00-05:00\ntime_out = 2026-10-13T10:52:00", "2026-10-13T10:52:00-05:00"),
        ("time_in = 2026-10-13T10:05:00\ntime_out = 2026-10-13T10:52:00-05:00", "2026-10-13T10:52:00-05:00"),
        (
            "time_out = 2026-10-13T10:52:00\n[times]\n'a.wav' = 2026-10-13T10:31:00-05:00",
            "2026-10-13T10:52:00-05:00",
        ),
        (
            "time_zone = 'America/Denver'\ntime_in = 2026-10-13T09:05:00-05:00\n"
            "time_out = 2026-10-13T10:52:00",
            "2026-10-13T10:52:00-06:00",
        ),
    ],
    ids=["of time_in", "of time_out", "of [times]", "the zone comes first"],
)  # fmt: skip
def test_a_time_without_an_offset_takes_that_of_the_first_that_has_one(
    written: Written, text: str, moment: str
) -> None:
    facts = read_facts(written(f"[visit]\n{text}"))
    assert facts.time_out == datetime.fromisoformat(moment)
    if facts.time_in:
        assert facts.time_in.utcoffset() is not None and facts.time_in < facts.time_out


@pytest.mark.parametrize("metres", [-430, 5500])
def test_an_elevation_on_the_limit_is_taken(written: Written, metres: int) -> None:
    """The shore of the Dead Sea and the highest towns, rounded: common practice, no source."""
    assert read_facts(written(f"[visit]\nelevation_m = {metres}")).elevation_m == metres
