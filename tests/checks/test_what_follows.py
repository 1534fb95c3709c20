"""What follows from a finding: options for food, imminent hazards, and what a person must find out first."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from extract.checks.cooling_stages import Point
from extract.checks.correcting import correct_by, imminent_hazards, next_visit
from extract.checks.date_marks import last_day, last_day_of_mix
from extract.checks.options import out_of_limits
from extract.checks.time_control import judge
from shared.errors import InputError
from shared.rules import load
from tests.checks.making import at

RULES = load("food_code_2022")


@pytest.mark.parametrize(
    ("stage", "kind", "elapsed_min", "options", "question"),
    [
        # common practice, no source: 4 hours, the longest that time control allows
        ("cold_holding", "temperature", 239, ["cold_out_short"], None),
        ("cold_holding", "temperature", 240, ["cold_out_long"], None),
        ("cold_holding", "temperature", None, ["cold_out_unknown"], "how long it has been out"),
        ("hot_holding", "temperature", 0, ["hot_out_short"], None),
        ("hot_holding", "temperature", 300, ["hot_out_long"], None),
        ("hot_holding", "temperature", None, ["hot_out_unknown"], "how long it has been out"),
        ("reheating", "temperature", 119, ["reheat_on"], None),
        ("reheating", "temperature", 120, ["reheat_too_slow"], None),
        ("cooking", "temperature", None, ["cook_on"], None),
        ("receiving", "temperature", None, ["refuse_delivery"], None),
        ("time_control", "duration", None, ["time_control_over"], None),
        ("time_control", "temperature", None, ["time_control_too_warm"], None),
        ("reheating", "duration", 150, ["reheat_too_slow"], None),
        ("storage", "duration", None, ["past_date"], None),
    ],
)
def test_options_for_food_out_of_its_limits(
    stage: str, kind: str, elapsed_min: float | None, options: list[str], question: str | None
) -> None:
    advice = out_of_limits(stage, RULES, kind=kind, elapsed_min=elapsed_min)
    assert advice is not None
    assert [option.id for option in advice.options] == options
    assert advice.question == question
    assert advice.caution == "The local code and the licensed inspector's judgement decide."
    assert all(option.source.verified for option in advice.options)


def test_a_stage_without_food_has_no_options() -> None:
    assert out_of_limits("lighting", RULES, kind="illuminance") is None


def test_food_too_near_the_floor_is_not_food_past_its_date() -> None:
    assert out_of_limits("storage", RULES, kind="length") is None


def test_a_reading_inside_the_accuracy_is_taken_again_first() -> None:
    advice = out_of_limits("cold_holding", RULES, elapsed_min=300, near=True)
    assert advice is not None
    assert [option.id for option in advice.options] == ["measure_again", "cold_out_long"]


@pytest.mark.parametrize(
    ("text", "hazards"),
    [
        ("Sewage on the floor by the mop sink.", ["sewage"]),
        ("The power has been out since six", ["no_electricity"]),
        ("no water at all in the building", ["no_water"]),
        ("There was a flood, and no power either", ["flood", "no_electricity"]),
        ("The floor drain is slow.", []),
        ("They firewood the oven", []),
    ],
)
def test_words_of_an_imminent_hazard(text: str, hazards: list[str]) -> None:
    """FDA Food Code 2022, 8-404.11(A); the everyday words are common practice, no source."""
    assert [hazard.id for hazard in imminent_hazards(text, RULES)] == hazards


def test_an_outage_may_be_worked_through_by_a_plan_and_a_fire_may_not() -> None:
    assert RULES.hazards["no_electricity"].plan and RULES.hazards["no_water"].plan
    assert not RULES.hazards["fire"].plan


def test_a_priority_item_is_expected_to_be_corrected_during_the_inspection() -> None:
    found = correct_by("P", datetime(2026, 3, 2, 10, tzinfo=UTC), RULES)
    assert found.default == "corrected during the inspection"
    assert found.row.source.verified.startswith("yes: ")


@pytest.mark.parametrize(
    ("class_", "found", "says"),
    [
        ("X", datetime(2026, 3, 2, tzinfo=UTC), "no deadline for class 'X'"),
        ("P", datetime(2026, 3, 2), "no offset from UTC"),  # noqa: DTZ001 - what is tested
    ],
)
def test_a_deadline_that_cannot_be_told_is_refused(class_: str, found: datetime, says: str) -> None:
    with pytest.raises(InputError, match=says):
        correct_by(class_, found, RULES)


def test_without_a_category_the_interval_of_the_rules_counts() -> None:
    """FDA Food Code 2022, 8-401.10(A): at least once every 6 months."""
    assert next_visit(date(2026, 1, 31), RULES) == date(2026, 7, 31)
    with pytest.raises(InputError, match="no interval between visits"):
        next_visit(date(2026, 1, 31), replace(RULES, duties={}))


def test_a_risk_category_that_does_not_exist_is_refused() -> None:
    with pytest.raises(InputError, match="no risk category 9; there are 1, 2, 3, 4"):
        next_visit(date(2026, 1, 1), RULES, category=9)


@pytest.mark.parametrize(
    ("out", "now", "verdict"),
    [("11:00", "15:00", "meets"), ("11:00", "15:01", "violates"), ("11:00", "11:00", "meets")],
)
def test_the_last_minute_of_time_control_counts(out: str, now: str, verdict: str) -> None:
    assert judge(at(out), at(now), RULES).verdict == verdict


# FDA Food Code 2022, 3-501.19(C)(1): food under the six-hour option may not exceed 70 °F (printed 21 °C).
@pytest.mark.parametrize(
    ("value", "unit", "verdict"),
    [(69.9, "degF", "meets"), (70, "degF", "meets"), (70.1, "degF", "violates"),
     (21, "degC", "meets"), (21.1, "degC", "violates")],
)  # fmt: skip
def test_the_warmest_temperature_of_six_hours_is_inclusive(value: float, unit: str, verdict: str) -> None:
    warm = Point(at("12:00"), value, unit)
    assert judge(at("11:00"), at("12:00"), RULES, option="six_hour", readings=[warm]).verdict == verdict


def test_time_control_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(InputError, match="correct one of the times"):
        judge(at("12:00"), at("11:00"), RULES)


@pytest.mark.parametrize(
    ("made", "frozen", "last"),
    [
        (date(2026, 3, 2), [], date(2026, 3, 8)),
        (date(2024, 2, 26), [], date(2024, 3, 3)),
        # frozen on the day it was made: that day and the day of thawing count
        (date(2026, 3, 2), [(date(2026, 3, 2), date(2026, 3, 10))], date(2026, 3, 15)),
        # frozen and thawed on one day changes nothing
        (date(2026, 3, 2), [(date(2026, 3, 4), date(2026, 3, 4))], date(2026, 3, 8)),
        # frozen at the end of its last day leaves no day for after the thaw
        (date(2026, 3, 2), [(date(2026, 3, 8), date(2026, 3, 20))], date(2026, 3, 8)),
        (date(2026, 3, 2), [(date(2026, 3, 7), date(2026, 3, 20))], date(2026, 3, 20)),
        # frozen before it was made, or thawed before it was frozen, changes nothing
        (date(2026, 3, 2), [(date(2026, 2, 20), date(2026, 3, 5))], date(2026, 3, 8)),
        (date(2026, 3, 2), [(date(2026, 3, 5), date(2026, 3, 3))], date(2026, 3, 8)),
        # frozen after its last day does not bring it back
        (date(2026, 3, 2), [(date(2026, 3, 20), date(2026, 4, 1))], date(2026, 3, 8)),
        (
            date(2026, 3, 2),
            [(date(2026, 3, 20), date(2026, 3, 25)), (date(2026, 3, 4), date(2026, 3, 18))],
            date(2026, 3, 25),
        ),
    ],
)
def test_days_in_the_freezer_do_not_count(made: date, frozen: list[tuple[date, date]], last: date) -> None:
    """FDA Food Code 2022, 3-501.17(A), 3-501.18(A)(1)."""
    assert last_day(made, RULES, frozen=frozen) == last


def test_a_makers_later_date_does_not_lengthen_the_seven_days() -> None:
    assert last_day(date(2026, 3, 2), RULES, use_by=date(2026, 4, 1)) == date(2026, 3, 8)


def test_a_mix_of_nothing_has_no_last_day() -> None:
    with pytest.raises(ValueError, match="empty"):
        last_day_of_mix([], RULES)
