"""The cooling curves of the desk and the report, by the thermometer of the day.

Sections and their figures: FDA Food Code 2022; ± 2 °F of a thermometer: its 4-203.11.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest

from review_api.api.shown import Decision, DecisionState, Facts, Reading
from review_api.desk.figures import figures
from review_api.recheck import recheck, thermometer
from review_api.store.values import to_json
from shared.rules import load
from shared.types import Context

RULES = load("food_code_2022")


def reading(
    id: str,
    hour: int,
    value: float,
    stage: str = "cooling",
    item: str = "stew",
    state: DecisionState = "proposed",
) -> Reading:
    at = datetime(2026, 5, 4, hour, tzinfo=UTC)
    return Reading(
        id=id, kind="temperature", value=value, unit="degF", said=f"{value:g}", stage=stage, item=item, at=at,
        decision=Decision(state=state),
    )  # fmt: skip


STEW = (reading("r1", 10, 136), reading("r2", 12, 74))
CHECK = reading("r3", 9, 34, stage="thermometer_check", item="my probe")


def described(*readings: Reading, facts: Facts | None = None) -> str:
    return next(iter(figures(readings, facts or Facts(), RULES))).description


def test_the_curve_is_drawn_from_corrected_readings() -> None:
    """34 °F in ice water: 2 °F high. 74 read is 72, within ± 2 °F of the 70 of 3-501.14(A)(1)."""
    assert "136 °F at 10:00, 74 °F at 12:00" in described(*STEW)
    assert "134 °F at 10:00, 72 °F at 12:00" in described(*STEW, CHECK)


def test_a_rejected_check_of_the_thermometer_corrects_nothing() -> None:
    rejected = CHECK.model_copy(update={"decision": Decision(state="rejected")})
    assert described(*STEW, rejected) == described(*STEW)


@pytest.mark.parametrize(("accuracy", "verdict"), [(2.0, "borderline"), (0.5, "missed")])
def test_the_accuracy_of_the_thermometer_in_use_counts(accuracy: float, verdict: str) -> None:
    readings = (reading("r1", 10, 135), reading("r2", 12, 71))
    facts = Facts(thermometer_accuracy_degf=accuracy)
    assert f"70 °F by 12:00: {verdict}." in described(*readings, facts=facts)


def test_food_that_was_never_hot_goes_by_the_rule_for_it() -> None:
    """3-501.14(B): 41 °F within 4 hours of making."""
    readings = (reading("r1", 9, 68, item="potato salad"), reading("r2", 13, 55, item="potato salad"))
    assert "41 °F by 13:00: missed." in described(*readings)


@pytest.mark.parametrize(
    ("stage", "value", "margin"), [("machine_rinse", 181, 1.0), ("handwashing", 87, 0.0)]
)
def test_a_changed_reading_of_a_machines_gauge_is_not_corrected(
    stage: str, value: float, margin: float
) -> None:
    """180 °F, 4-501.112(A)(2); 85 °F, 5-202.12(A); the inspector's thermometer reads 2 °F high."""
    proposed: dict[str, Any] = {
        "kind": "temperature",
        "value": 150,
        "unit": "degF",
        "stage": stage,
        "item": None,
    }
    proposed["context"] = to_json(Context(by_gauge=stage == "machine_rinse"))
    found = recheck(proposed, {"value": value}, RULES, thermometer([CHECK], Facts()))
    assert found["margin"] == margin
