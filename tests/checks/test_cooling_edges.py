"""Cooling at, just before and just after each moment and figure that decides what comes next.

FDA Food Code 2022, 3-501.14: 70 °F within 2 hours, 41 °F within 6. When to probe: common practice, no source.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest

from extract.checks import cooling
from extract.checks.cooling import Forecast, judge
from extract.checks.cooling_stages import Point, Stage, each_reading, rule_of
from shared.rules import load
from tests.checks.making import at, point

RULES = load("food_code_2022")
SECOND = timedelta(seconds=1)
READ = (point("135 degF@14:00"), point("90 degF@15:00"))


def stage(deadline: datetime | None, verdict: str = "undetermined") -> Stage:
    return Stage("3-501.14(A)(1)", 70, "degF", deadline, verdict, "")  # type: ignore[arg-type]


def forecast(expected: datetime | None, high: datetime | None = None) -> Forecast:
    return Forecast(70, "degF", expected, expected, high)


@pytest.mark.parametrize(
    ("expected", "situation"),
    [
        (at("16:00") - SECOND, "cooling_on_time"),
        (at("16:00"), "cooling_on_time"),
        (at("16:00") + SECOND, "cooling_behind"),
        (None, "cooling_behind"),
    ],
)
def test_food_expected_at_the_deadline_is_on_time(expected: datetime | None, situation: str) -> None:
    assert cooling._situation(READ, (stage(at("16:00")),), (forecast(expected),)) == situation


def test_of_one_reading_nothing_can_be_behind() -> None:
    assert cooling._situation(READ[:1], (stage(at("16:00")),), (forecast(None),)) == "cooling_on_time"
    assert cooling._situation(READ, (stage(at("16:00")),), (forecast(None),)) == "cooling_behind"


@pytest.mark.parametrize(("last", "situation"), [("15:59", "cooling_behind"), ("16:00", "cooling_unshown")])
def test_an_open_stage_whose_deadline_has_come_cannot_be_sped_up(last: str, situation: str) -> None:
    read = (*READ, point(f"80 degF@{last}"))
    assert cooling._situation(read, (stage(at("16:00")),), (forecast(None),)) == situation


@pytest.mark.parametrize(
    ("expected", "high", "probe"),
    [
        # expected in time: when it is surely there, not sooner than in 15 minutes, not after the deadline
        ("15:20", "15:40", "15:40"), ("15:20", "16:30", "16:00"), ("15:20", None, "16:00"),
        ("15:05", "15:10", "15:15"), ("16:00", "16:20", "16:00"),
        # expected too late or never: half-way, while there is time to act
        ("16:01", "16:30", "15:30"), (None, None, "15:30"),
    ],
)  # fmt: skip
def test_when_to_probe_next(expected: str | None, high: str | None, probe: str) -> None:
    found = cooling._next_probe(
        (point("90 degF@15:00"),),
        (stage(at("16:00")),),
        (forecast(at(expected) if expected else None, at(high) if high else None),),
    )
    assert found == at(probe)


def test_the_last_quarter_of_an_hour_is_probed_at_its_end() -> None:
    found = cooling._next_probe(
        (point("90 degF@15:50"),), (stage(at("16:00")),), (forecast(at("15:52"), at("15:53")),)
    )
    assert found == at("16:00")


@pytest.mark.parametrize(
    ("last", "probe"),
    [("15:59", at("15:59") + timedelta(seconds=30)), ("16:00", None), ("16:01", None)],
)
def test_a_stage_whose_deadline_has_come_is_not_probed_for(last: str, probe: datetime | None) -> None:
    found = cooling._next_probe((point(f"90 degF@{last}"),), (stage(at("16:00")),), (forecast(None),))
    assert found == probe


def test_nothing_is_forecast_that_is_more_than_a_week_away() -> None:
    week = timedelta(days=7)
    assert cooling._after(at("14:00"), week.total_seconds() / 60) == at("14:00") + week
    assert cooling._after(at("14:00"), week.total_seconds() / 60 + 0.1) is None
    assert cooling._after(at("14:00"), 0.0) == at("14:00")


@pytest.mark.parametrize(
    ("value", "reached"), [(40.9, True), (41, True), (41.1, False)]
)  # fmt: skip
def test_a_single_reading_at_its_target_needs_no_forecast(value: float, reached: bool) -> None:
    found = judge([Point(at("14:00"), value, "degF")], RULES, rule="room_temperature_ingredients")
    assert (found.forecast[0].at is not None) is reached


@pytest.mark.parametrize(("value", "verdict"), [(40.9, "meets"), (41, "meets"), (41.1, "none")])
def test_the_first_reading_of_warm_ingredients(value: float, verdict: str) -> None:
    (found,) = each_reading([Point(at("09:00"), value, "degF")], RULES, rule="room_temperature_ingredients")
    assert found.verdict == verdict


@pytest.mark.parametrize(("value", "how"), [(135, "read"), (134.9, "unknown"), (135.1, "between readings")])
def test_the_clock_starts_at_the_printed_figure(value: float, how: str) -> None:
    found = judge([Point(at("10:00"), value, "degF"), point("100 degF@11:00")], RULES)
    assert found.clock.how == how


def test_the_start_between_two_readings_lies_between_a_line_and_a_curve() -> None:
    """150 to 120 °F in 40 minutes: half-way by the line, at 135 °F after 20 minutes. By the curve towards air
    at 75 °F: 40 min × ln(75/60) / ln(75/45) = 17.47 min."""
    clock = judge([point("150 degF@10:00"), point("120 degF@10:40")], RULES).clock
    assert clock.latest == at("10:20")
    assert clock.earliest is not None
    assert (clock.earliest - at("10:00")).total_seconds() / 60 == pytest.approx(17.473, abs=0.001)


def test_the_same_in_celsius() -> None:
    """65 to 49 °C, air at 75 °F = 23.889 °C: 40 min × ln(41.111/33.111) / ln(41.111/25.111) = 17.56 min."""
    clock = judge([point("65 degC@10:00"), point("49 degC@10:40")], RULES).clock
    assert clock.latest == at("10:20")
    assert clock.earliest is not None
    assert (clock.earliest - at("10:00")).total_seconds() / 60 == pytest.approx(17.5597, abs=0.001)


def test_a_reading_below_the_warmest_room_lowers_the_room_to_just_under_it() -> None:
    """150 to 60 °F in 40 minutes, air at 59 °F: 40 min × ln(91/76) / ln(91/1) = 1.597 min."""
    clock = judge([point("150 degF@10:00"), point("60 degF@10:40")], RULES).clock
    assert clock.earliest is not None
    assert (clock.earliest - at("10:00")).total_seconds() / 60 == pytest.approx(1.5974, abs=0.001)


def test_between_the_bounds_of_the_start_a_missed_target_stays_open() -> None:
    base = [point("150 degF@10:00"), point("120 degF@10:40")]
    clock = judge(base, RULES).clock
    assert clock.earliest is not None and clock.latest is not None
    two_hours = timedelta(hours=2)
    for moment, value, verdict in (
        (clock.earliest + two_hours, 70, "meets"),
        (clock.earliest + two_hours + SECOND, 70, "undetermined"),
        (clock.earliest + two_hours, 70.1, "undetermined"),
        (clock.latest + two_hours - SECOND, 70.1, "undetermined"),
        (clock.latest + two_hours - SECOND, 72.1, "undetermined"),
        (clock.latest + two_hours, 70.1, "borderline"),
        (clock.latest + two_hours, 72, "borderline"),
        (clock.latest + two_hours, 72.1, "violates"),
    ):
        found = judge([*base, Point(moment, value, "degF")], RULES)
        assert found.stages[0].verdict == verdict
        assert bool(found.stages[0].missing) is (verdict == "undetermined")
        assert ("at least" in found.stages[0].why) is (verdict in ("borderline", "violates"))
        assert found.next_probe is None or found.next_probe > moment
        each = each_reading([*base, Point(moment, value, "degF")], RULES)
        assert each[-1].verdict == ("undetermined" if verdict == "undetermined" else verdict)


@pytest.mark.parametrize(
    ("texts", "whys"),
    [
        (["135 degF@10:00", "70 degF@11:30"],
         ["70 °F after 1 hour 30 minutes: 70 °F was reached within 2 hours, within the thermometer's ±2 °F, "
          "on the passing side",
          "70 °F at 11:30: 4 hours 30 minutes left to reach 41 °F by 16:00"]),
        (["135 degF@10:00", "72.5 degF@12:30"],
         ["72.5 °F after 2 hours 30 minutes is 2.5 °F over 70 °F, which was due within 2 hours",
          "72.5 °F at 12:30: 3 hours 30 minutes left to reach 41 °F by 16:00"]),
        (["120 degF@10:00", "90 degF@12:30"],
         ["90 °F after at least 2 hours 30 minutes is 20 °F over 70 °F, which was due within 2 hours",
          "it depends on when it was at 135 °F"]),
    ],
)  # fmt: skip
def test_each_stage_in_words(texts: list[str], whys: list[str]) -> None:
    found = judge([point(text) for text in texts], RULES)
    assert [item.why for item in found.stages] == whys


def test_each_reading_in_words() -> None:
    texts = ["136 degF@10:00", "135 degF@10:10", "90 degF@11:00", "70 degF@12:00", "60 degF@12:30"]
    found = each_reading([point(text) for text in [*texts, "41.5 degF@16:40"]], RULES)
    assert [item.why for item in found] == [
        "the clock starts at 135 °F",
        "the clock starts at 135 °F",
        "90 °F at 11:00 is 20 °F over 70 °F, which is due by 12:10",
        "70 °F at 12:00 has reached 70 °F in time, within the thermometer's ±2 °F, on the passing side",
        "60 °F at 12:30 is 19 °F over 41 °F, which is due by 16:10",
        "41.5 °F after 6 hours 30 minutes is 0.5 °F over 41 °F, which was due within 6 hours, within the "
        "thermometer's ±2 °F, on the failing side",
    ]
    assert [item.margin for item in found] == [None, None, 20, 0, 19, 0.5]


def test_food_that_is_cold_long_after_its_deadlines_stays_open_against_the_last_target() -> None:
    found = each_reading([point("135 degF@10:00"), point("40 degF@16:30")], RULES)
    assert (found[1].verdict, found[1].limit, found[1].margin) == ("undetermined", 41, -1)


def test_the_curve_begins_at_the_last_reading_that_was_hot() -> None:
    texts = ["140 degF@09:00", "150 degF@09:30", "135 degF@10:00", "100 degF@10:30"]
    assert judge([point(text) for text in texts], RULES).fit_from == at("10:00")
    assert judge([point(text) for text in texts[:2] + texts[3:]], RULES).fit_from == at("09:30")
    assert judge([point(text) for text in texts[3:]], RULES).fit_from == at("10:30")


@pytest.mark.parametrize(
    ("first", "unit", "rule"),
    [
        # food first read under 100 °F or 40 °C was never hot: common practice, no source
        (99.9, "degF", "room_temperature_ingredients"), (100, "degF", "cooked"), (100.1, "degF", "cooked"),
        (39.9, "degC", "room_temperature_ingredients"), (40, "degC", "cooked"), (40.1, "degC", "cooked"),
    ],
)  # fmt: skip
def test_the_first_reading_tells_the_rule(first: float, unit: str, rule: str) -> None:
    assert rule_of([Point(at("11:00"), 30, unit), Point(at("09:00"), first, unit)]) == rule


def test_times_are_told_by_the_clock_of_the_first_reading_given() -> None:
    noon = datetime(2026, 5, 4, 12, tzinfo=timezone(timedelta(hours=-5)))
    later = (noon + timedelta(hours=1)).astimezone(UTC)
    read = [Point(noon, 135, "degF"), Point(later, 90, "degF")]
    assert "by 14:00" in judge(read, RULES).stages[0].why
    assert "by 19:00" in judge(read[::-1], RULES).stages[0].why
