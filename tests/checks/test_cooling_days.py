"""Cooling over a night: on which days clock times lie, and what was read before the clock started.

FDA Food Code 2022, 3-501.14, seen in Delaware's adopted text.
"""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from extract.checks.cooling import Cooling, judge
from extract.checks.cooling_stages import each_reading
from extract.checks.days import as_told, in_order, turned_round
from shared.rules import load
from tests.checks.making import at, point

RULES = load("food_code_2022")


def cooled(*texts: str, **how: object) -> Cooling:
    return judge([point(text) for text in texts], RULES, **how)  # type: ignore[arg-type]


# ---------------------------------------------------------------- before the clock started


def test_what_was_read_before_the_clock_started_meets_nothing() -> None:
    """45 °F eleven hours before the food was at 135 °F is no cooling from 135 °F."""
    found = cooled("45 degF@09:00", "135 degF@20:00")
    assert [stage.verdict for stage in found.stages] == ["undetermined", "undetermined"]
    assert "left to reach 70 °F by 22:00" in found.stages[0].why
    early = cooled("48 degF@08:00", "45 degF@09:00", started=at("20:00"))
    assert [(stage.verdict, stage.missing) for stage in early.stages] == [
        ("undetermined", ("a reading after the clock started",)),
    ] * 2
    assert early.stages[0].why == "45 °F at 09:00 was read before the clock started, at 20:00"


def test_a_reading_at_the_start_of_the_clock_counts() -> None:
    assert cooled("65 degF@10:00", started=at("10:00")).stages[0].verdict == "meets"
    assert cooled("65 degF@09:59", started=at("10:00")).stages[0].verdict == "undetermined"


@pytest.mark.parametrize(
    ("readings", "verdicts"),
    [
        (["45 degF@09:00", "135 degF@20:00"], "undetermined none"),
        # cooled, heated up once more and cooled again: each by its own start
        (
            ["135 degF@09:00", "66 degF@10:30", "140 degF@11:00", "72.1 degF@13:30"],
            "none meets none violates",
        ),
        (["135 degF@09:00", "98 degF@11:00", "135 degF@11:30", "69 degF@13:30"], "none violates none meets"),
    ],
)
def test_each_reading_goes_by_the_clock_that_ran_then(readings: list[str], verdicts: str) -> None:
    found = each_reading([point(text) for text in readings], RULES)
    assert " ".join(check.verdict for check in found) == verdicts


def test_a_reading_before_a_start_that_was_told_asks_for_its_day() -> None:
    before, at_start = each_reading(
        [point("45 degF@09:00"), point("66 degF@20:00")], RULES, started=at("20:00")
    )
    assert (before.verdict, before.missing) == ("undetermined", ("on which day it was read",))
    assert (before.section, at_start.verdict) == ("3-501.14(A)(1)", "meets")


# ---------------------------------------------------------------- clock times without a date


def _clocks(texts: str, *, days: int = 0) -> list[datetime]:
    return [at(text) + timedelta(days=days) for text in texts.split()]


@pytest.mark.parametrize(
    ("times", "values", "said", "on"),
    [
        # nothing lies after it was told
        ("20:00 09:00", (135, 45), "09:00 09:00", (-1, 0)),
        ("09:00 20:00", (45, 135), "09:00 09:00", (0, -1)),
        ("21:00 22:40 01:15", (135, 68, 38), "06:46 06:46 06:46", (-1, -1, 0)),
        ("10:00 11:00 10:30", (135, 90, 95), "12:00 12:00 12:00", (0, 0, 0)),
        ("13:30 13:00", (95, 90), "14:00 14:00", (0, 0)),
        # a recorder's clock may be an hour behind, no more: common practice, no source
        ("08:00 10:00", (135, 68), "09:00 09:00", (0, 0)),
        ("08:00 10:00", (68, 135), "09:00 09:00", (0, 0)),
        ("08:00 10:01", (68, 135), "09:00 09:00", (0, -1)),
        # a log of the day before
        ("08:00 10:30 13:00", (135, 68, 40), "09:00 09:00 09:00", (0, 0, 0)),
        ("08:00 10:30 13:00", (135, 68, 68), "09:00 09:00 09:00", (0, 0, 0)),
        # a visit over midnight, and two devices that are a minute apart
        ("22:00 23:50 00:10", (135, 70, 66), "23:50 23:50 00:10", (0, 0, 1)),
        ("09:00 10:00", (135, 70), "10:05 10:04", (0, 0)),
        ("12:00 23:50 00:30", (135, 70, 66), "12:00 23:50 00:30", (0, 0, 1)),
        ("22:00 10:00", (70, 135), "22:00 10:00", (0, 0)),
        ("20:00 10:00", (70, 135), "20:00 10:00", (0, 0)),
        ("08:00 21:00", (69, 70), "08:00 21:00", (0, 0)),
        # nobody knows when it was told: the order counts, up to 18 hours; common practice, no source
        ("20:00 09:00", (135, 45), None, (0, 1)),
        ("20:00 14:00", (135, 45), None, (0, 1)),
        ("20:00 14:01", (135, 45), None, (0, 0)),
        ("23:00 02:00 01:00", (135, 70, 75), None, (0, 1, 1)),
        ("15:00 01:00 18:00", (135, 60, 90), None, (0, 1, 0)),
    ],
)  # fmt: skip
def test_times_that_were_told_lie_on_one_line(
    times: str, values: tuple[float, ...], said: str | None, on: tuple[int, ...]
) -> None:
    clocks = _clocks(times)
    when = _clocks(said) if said else [None] * len(clocks)
    expected = [clock + timedelta(days=days) for clock, days in zip(clocks, on, strict=True)]
    assert as_told(clocks, values, when) == expected


@pytest.mark.parametrize(
    ("times", "days"),
    [
        ("10:00 12:00 16:00", (0, 0, 0)),
        ("20:00 20:00 09:00", (0, 0, 1)),
        ("20:00 09:00 08:00 23:00", (0, 1, 2, 2)),
    ],
)
def test_a_time_that_is_earlier_than_the_one_before_is_of_the_next_day(
    times: str, days: tuple[int, ...]
) -> None:
    clocks = _clocks(times)
    assert in_order(clocks) == [when + timedelta(days=n) for when, n in zip(clocks, days, strict=True)]


@pytest.mark.parametrize(
    ("times", "values", "turned"),
    [
        ("20:00 09:00", (135, 45), False),
        ("09:00 20:00", (45, 135), True),
        ("09:00 20:00", (45, 45), False),
        ("01:05 23:10 00:40", (20, 57, 30), True),
        # heated up once more: no other day makes it fall
        ("10:00 11:00 11:30 13:00", (135, 100, 165, 70), False),
        ("10:00 11:00 12:00", (135, 70, 70), False),
    ],
)  # fmt: skip
def test_an_order_that_warms_up_where_another_day_would_cool_is_no_order(
    times: str, values: tuple[float, ...], turned: bool
) -> None:
    assert turned_round(_clocks(times), values) is turned
