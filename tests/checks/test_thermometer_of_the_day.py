"""Which checks of the day correct the inspector's readings, and by how much.

Limit: FDA Food Code 2022, 3-501.16(A)(2) (41 °F held cold) and 4-203.11 (±2 °F of a thermometer).
"""

from datetime import UTC, datetime

import pytest

from extract import extract
from shared.rules import load
from shared.types import Extraction, Facts, Utterance

RULES = load("food_code_2022")


def _said(*lines: str, facts: Facts | None = None) -> Extraction:
    at = datetime(2026, 10, 13, 10, 0, tzinfo=UTC)
    return extract([Utterance(line, at=at) for line in lines], rules=RULES, facts=facts or Facts())


# 32 °F and 0 °C are the ice point by definition; a reading is corrected by what its thermometer shows there.
CHECKS = [
    ("none was made", [], "borderline", 1.0),
    ("right on", ["Ice water, my probe reads 32."], "borderline", 1.0),
    ("two high", ["Ice water, my probe reads 34."], "borderline", -1.0),
    ("one low", ["Ice water check, my probe reads 31."], "borderline", 2.0),
    ("somebody else's", ["Their dial thermometer reads 38 in ice water."], "borderline", 1.0),
]


@pytest.mark.parametrize(
    ("checks", "verdict", "margin"), [row[1:] for row in CHECKS], ids=[row[0] for row in CHECKS]
)
def test_only_the_inspectors_own_check_corrects(checks: list[str], verdict: str, margin: float) -> None:
    found = _said(*checks, "Walk-in cooler, sliced ham 42.")
    ham = next(reading for reading in found.readings if reading.item and "ham" in reading.item)
    assert ham.value == 42, "the figure stays as it was read"
    assert ham.check is not None
    assert (ham.check.verdict, ham.check.margin) == (verdict, margin)


def test_the_check_itself_is_not_corrected_by_itself() -> None:
    found = _said("Ice water, my probe reads 35.")
    assert found.readings[0].check is not None
    assert found.readings[0].check.verdict == "violates"


def test_a_stated_accuracy_narrows_the_band() -> None:
    found = _said("Walk-in cooler, sliced ham 42.5.", facts=Facts(thermometer_accuracy_degf=1.0))
    assert found.readings[0].check is not None
    assert found.readings[0].check.verdict == "violates"


@pytest.mark.parametrize(
    ("line", "margin"),
    [
        # 180 °F, 4-501.112(A)(2); 41 °F, 3-501.16(A)(2): one's own reads 2 °F high, a gauge does not
        ("Dish machine final rinse gauge says 181.", 1.0),
        ("Dish machine, final rinse 181.", 1.0),
        ("Dish machine final rinse, my probe shows 181.", -1.0),
        ("Walk-in cooler, sliced ham 42 on the dial.", 1.0),
        ("Walk-in cooler, sliced ham 42.", -1.0),
    ],
)
def test_a_machines_own_gauge_is_not_corrected(line: str, margin: float) -> None:
    found = _said("Ice water, my probe reads 34.", line).readings[-1]
    assert found.check is not None and found.check.margin == margin


def test_food_said_to_be_the_same_in_another_utterance_is_corrected_too() -> None:
    shelf = "Walk-in cooler, on the second shelf from the top, sliced ham 42."
    found = _said("Ice water, my probe reads 34.", shelf, "Same for the egg salad.").readings
    assert [reading.check.margin for reading in found[1:] if reading.check is not None] == [-1.0, -1.0]


@pytest.mark.parametrize(
    ("height", "verdict", "missing"),
    [
        # at 1609 m water boils at 202.4 °F (CoolProp, IAPWS R7-97); within 2 °F
        (1609.0, "meets", ()), (0.0, "violates", ()),
        (None, "undetermined", ("the height of the site above sea level",)),
    ],
)  # fmt: skip
def test_boiling_water_is_judged_at_the_height_of_the_site(
    height: float | None, verdict: str, missing: tuple[str, ...]
) -> None:
    found = _said("Boiling water, my probe reads 203.", facts=Facts(elevation_m=height)).readings[0]
    assert found.check is not None
    assert (found.check.verdict, found.check.missing) == (verdict, missing)


def test_boiling_water_at_no_known_height_corrects_nothing() -> None:
    for height, margin in ((None, 1.0), (1609.0, 0.4), (0.0, 10.0)):
        found = _said("Boiling water, my probe reads 203.", "Walk-in cooler, sliced ham 42.",
                      facts=Facts(elevation_m=height)).readings[1]  # fmt: skip
        assert found.check is not None and found.check.margin == pytest.approx(margin, abs=0.05)
