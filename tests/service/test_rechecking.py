"""A reading that is corrected keeps the context in which it was said, or is judged by nobody.

Sentences in, verdicts out. Limits: FDA Food Code 2022, 3-401.11(A)(2) (ground meat: 155 °F, or 150 °F for a
minute) and (A)(3) (poultry, 165 °F), 3-501.16(A) (41 and 135 °F); of quat, the label (4-501.114(C)).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from extract import extract
from review_api.api.shown import Facts
from review_api.recheck import hangs_on, kind_with, recheck, thermometer
from review_api.store.values import from_json, to_json
from shared import types
from shared.rules import load
from shared.types import Check, Context, Extraction, Reading, Utterance
from tests.service.samples import Sample, a_reading, an_extraction

RULES = load("food_code_2022")
PLAIN = thermometer((), Facts())


def said(*lines: str) -> Extraction:
    return extract([Utterance(line) for line in lines], rules=RULES)


def found(reading: Reading, **changes: Any) -> tuple[str, str]:
    """Verdict and sentence of a proposed reading once a person changed it."""
    check = recheck(to_json(reading), changes, RULES, PLAIN)
    return check["verdict"], check["why"]


KEPT: list[tuple[tuple[str, ...], int, str, dict[str, Any], str]] = [
    (("Hamburger 152.5 for one minute.",), 0, "meets", {"item": "Cheeseburger"}, "meets"),
    (("Hamburger 152.5 for one minute.",), 0, "meets", {"value": 140}, "violates"),
    (("Cooked burger 152.5, held 5 seconds.",), 0, "violates", {"item": "cheeseburger"}, "violates"),
    (("Quat bucket at 250 ppm, the label says 200 to 400.",), 0, "meets", {"item": "wiping bucket"}, "meets"),
    (("Quat bucket at 250 ppm, the label says 200 to 400.",), 0, "meets", {"value": 150}, "violates"),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "at", "before", "changes", "after"), KEPT)
def test_what_was_said_around_a_reading_counts_after_its_correction_too(
    lines: tuple[str, ...], at: int, before: str, changes: dict[str, Any], after: str
) -> None:
    reading = said(*lines).readings[at]
    assert reading.check is not None
    assert reading.check.verdict == before
    assert found(reading, **changes)[0] == after


def test_every_reading_is_judged_alike_when_nothing_of_it_is_changed() -> None:
    """The context that is kept gives the check that was proposed, or none is kept."""
    lines = (
        "Walk-in: sliced turkey 48.5, ham 44, no wait make that 39.",
        "Hamburger 152.5 for one minute. Chicken off the grill 154.",
        "Final rinse 171 on the dial. Hand sink 92 degrees.",
        "Quat bucket at 250 ppm, the label says 200 to 400. Chlorine 50 ppm, pH 7.5, water 80.",
        "Half inch spout, air gap one inch. Prep table 45 foot candles.",
        "Roast beef held at 131, it was cooked to 145.",
        "Beef stew cooling, 135 at 10, 90 at noon.",
        "Salsa 52, its pH is 3.9.",
    )
    kept = 0
    for reading in said(*lines).readings:
        if reading.context is not None and reading.check is not None and reading.stage != "cooling":
            again = from_json(Check, recheck(to_json(reading), {}, RULES, PLAIN))
            assert again == reading.check, reading.said
            kept += 1
    assert kept >= 8


def test_food_that_cools_is_not_judged_again_by_one_of_its_readings() -> None:
    reading = said("Beef stew cooling, 135 at 10, 90 at noon.").readings[1]
    verdict, why = found(reading, item="beef soup")
    assert (verdict, "judged by all its readings" in why) == ("undetermined", True)


HANGS: list[tuple[dict[str, Any], dict[str, Any], bool]] = [
    ({}, {"value": 40}, True),
    ({}, {"clock": "09:00"}, False),
    ({"stage": "cooling"}, {"clock": "09:00"}, True),
    ({"stage": "time_control"}, {"clock": "09:00"}, True),
    ({}, {"place": "bar cooler"}, False),
    ({"kind": "illuminance", "unit": "foot_candle", "stage": "lighting", "item": None,
      "place": "walk-in cooler"}, {"place": "prep table"}, True),
]  # fmt: skip


@pytest.mark.parametrize(("proposed", "changes", "hangs"), HANGS)
def test_what_a_verdict_hangs_on_is_what_is_judged_again(
    proposed: dict[str, Any], changes: dict[str, Any], hangs: bool
) -> None:
    assert hangs_on(to_json(a_reading("r1", 48.5, **proposed)), changes) is hangs


def test_another_place_needs_other_light(sample: Sample) -> None:
    """6-303.11: 10 foot candles in a walk-in cooler, 50 where food is prepared."""
    dim = a_reading(
        "r1", 22, kind="illuminance", unit="foot_candle", stage="lighting", item=None, place="walk-in cooler",
        check=Check("meets", "6-303.11(A)", ">=", 10.0, "foot_candle", 12.0),
    )  # fmt: skip
    sample.propose(an_extraction(readings=(dim,), findings=()))
    name = sample.desk()["readings"][0]["id"]
    sample.decide(name, "edit", changes={"place": "prep table"})
    assert sample.one("readings", name)["check"]["verdict"] == "violates"


OTHERS = [
    ("edit", {"changes": {"value": 120}}, True),
    ("edit", {"changes": {"clock": "08:40"}}, True),
    ("reject", {"reason": "misheard"}, True),
    ("edit", {"changes": {"place": "bar"}}, False),
    ("confirm", {}, False),
]


@pytest.mark.parametrize(("action", "more", "told"), OTHERS)
def test_a_verdict_that_rests_on_a_reading_changed_since_leaves_a_gap(
    sample: Sample, action: str, more: dict[str, Any], told: bool
) -> None:
    first, second = (
        a_reading(
            f"r{at}", value, stage="cooling", item="beef stew", utterance=at, span=(0, 4), said=f"{value}",
            clock=clock, context=None, check=Check("meets", "3-501.14(A)(1)", "<=", 70.0, "degF", -2.0),
        )
        for at, value, clock in ((0, 135, "08:30"), (1, 68, "10:20"))
    )  # fmt: skip
    sample.propose(an_extraction(readings=(first, second), findings=(), compliances=()))
    names = {item["said"]: item["id"] for item in sample.desk()["readings"]}
    sample.decide(names["135"], action, **more)
    gaps = [item["text"] for item in sample.desk()["missing"] if item["subject"] == names["68"]]
    assert any("was judged with “135”" in text for text in gaps) is told
    sample.decide(names["68"], "reject", reason="the clock is not sure")
    gaps = [item["text"] for item in sample.desk()["missing"] if item["subject"] == names["68"]]
    assert gaps == []


def test_food_whose_acidity_was_measured_beside_it_is_not_judged_without_that() -> None:
    reading = next(one for one in said("Salsa 52, its pH is 3.9.").readings if one.kind == "temperature")
    assert reading.context is None
    verdict, why = found(reading, value=50)
    assert (verdict, "rests on more than this reading" in why) == ("undetermined", True)


UNDETERMINED: list[tuple[dict[str, Any], dict[str, Any], str]] = [
    ({}, {"stage": "cooling"}, "judged by all its readings"),
    ({"context": None}, {"value": 40}, "rests on more than this reading"),
    ({}, {"kind": "ph", "unit": "pH"}, "was understood as a temperature and is a ph now"),
    ({}, {"stage": "cooking"}, "what a limit of cooking depends on was not looked for"),
    ({}, {"stage": "sanitizer"}, "what a limit of sanitizer depends on was not looked for"),
    ({"context": Context(item="patty", asks_item=True)}, {"value": 158}, "not said which food it is"),
    ({"kind": "concentration", "unit": "ppm", "stage": "sanitizer",
      "context": Context(label_min=200, label_max=400)}, {"unit": "pH", "kind": "concentration"},
     "the range of its label was told in another unit"),
]  # fmt: skip


@pytest.mark.parametrize(("proposed", "changes", "why"), UNDETERMINED)
def test_a_reading_without_its_context_is_undetermined_and_says_why(
    proposed: dict[str, Any], changes: dict[str, Any], why: str
) -> None:
    verdict, told = found(a_reading("r1", 48.5, **proposed), **changes)
    assert verdict == "undetermined"
    assert why in told
    assert told.endswith("hold it against its limit yourself")


JUDGED: list[tuple[dict[str, Any], str]] = [
    ({"value": 41}, "borderline"),  # the thermometer is not that exact
    ({"stage": "hot_holding"}, "violates"),
    ({"stage": "hot_holding", "value": 150}, "meets"),
    ({"unit": "degC", "value": 2}, "meets"),
    ({"item": "potato chips"}, "none"),
]


@pytest.mark.parametrize(("changes", "verdict"), JUDGED)
def test_a_reading_that_hangs_on_nothing_else_is_judged_again(changes: dict[str, Any], verdict: str) -> None:
    reading = a_reading("r1", 48.5)
    assert found(reading, **changes)[0] == verdict


def test_which_animal_it_is_settles_what_hung_on_it() -> None:
    reading = a_reading("r1", 158, stage="cooking", item="patty", place=None)
    asked = replace(reading, context=Context(item="patty", asks_item=True))
    assert found(asked, item="beef patty")[0] in ("meets", "borderline")
    assert found(asked, item="chicken patty")[0] == "violates"


KINDS = [
    ("ppm", "temperature", "concentration"),
    ("pH", "temperature", "ph"),
    ("degC", "temperature", "temperature"),
    ("hour", "temperature", "duration"),
    ("inch", "duration", "length"),
    ("degF", "concentration", "temperature"),
]


@pytest.mark.parametrize(("unit", "kind", "now"), KINDS)
def test_what_is_measured_follows_from_the_unit(unit: str, kind: str, now: str) -> None:
    assert kind_with(unit, kind) == now


def test_another_unit_makes_it_another_kind_of_reading_and_back(sample: Sample) -> None:
    sample.decide("r1", "edit", changes={"unit": "ppm"})
    reading = sample.one("readings", "r1")
    assert (reading["kind"], reading["check"]["verdict"]) == ("concentration", "undetermined")
    assert reading["proposed"] == {"unit": "degF", "kind": "temperature"}
    sample.decide("r1", "edit", changes={"unit": "degF"})
    reading = sample.one("readings", "r1")
    assert (reading["kind"], reading["check"]["verdict"]) == ("temperature", "violates")


def test_renaming_the_food_at_the_desk_keeps_how_long_it_was_held(sample: Sample) -> None:
    burger = said("Hamburger 152.5 for one minute.").readings[0]
    now = an_extraction()
    sample.propose(replace(now, readings=(replace(burger, id="r1", utterance=0), *now.readings[1:])))
    name = next(item["id"] for item in sample.desk()["readings"] if item["value"] == 152.5)
    sample.decide(name, "edit", changes={"item": "Cheeseburger"})
    check = sample.one("readings", name)["check"]
    assert check["verdict"] == "meets"


def test_the_context_is_no_part_of_what_is_printed_for_programs() -> None:
    from shared import wire

    assert "context" not in wire.reading(a_reading("r1", 48.5))


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(204.4, "meets"), (204.5, "violates")],
)
def test_boiling_water_that_was_corrected_is_still_judged_at_the_height(value: float, verdict: str) -> None:
    """At 1609 m water boils at 202.4 °F (CoolProp, IAPWS R7-97), within 2 °F."""
    told = [Utterance("Boiling water, my probe reads 203.")]
    (reading,) = extract(told, rules=RULES, facts=types.Facts(elevation_m=1609.0)).readings
    assert found(reading, value=value)[0] == verdict
