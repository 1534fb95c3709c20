"""Figures of an earlier visit, and food that is kept by a time plan.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts


@pytest.mark.parametrize(
    "said",
    [
        "At the visit in autumn it was 52.",
        "On the inspection before this one the slaw was 52.",
        "When we were here in August, the case sat at 52.",
        "Two years ago this cooler was 52.",
        "The slaw was 52 at the routine in October.",
        "The previous inspector wrote 52 for the slaw.",
        "The follow-up in June had this case at 52.",
    ],
)
def test_a_figure_of_an_earlier_visit_is_no_reading(said: str) -> None:
    assert shorts(f"{said} Pudding 38.") == ["38 cold_holding pudding"]


@pytest.mark.parametrize(
    "said",
    [
        "I was here two weeks ago and the pudding is 38.",
        "Since the last visit they have a new cooler, pudding 38.",
        "The report from last year is on file. Pudding 38.",
        "Pudding made last month, 38.",
    ],
)
def test_a_time_that_only_tells_of_something_else_leaves_the_reading(said: str) -> None:
    assert shorts(said) == ["38 cold_holding pudding"]


@pytest.mark.parametrize(
    "plan",
    [
        "sticker says out 10.30, gone by 2.30, plan's on the wall",
        "they run it by the clock, tag says 10.30 to 2.30, plan in the binder",
        "it's on the clock, written plan on file",
        "time is the control here, they have the procedure",
        "marked out at 10.30, toss at 2.30, procedure's posted",
    ],
)
def test_food_under_a_time_plan_is_not_held_to_a_temperature(plan: str) -> None:
    (reading,) = meant(f"Sausage rolls 112, {plan}.").readings
    assert (reading.stage, reading.check and reading.check.verdict) == ("time_control", "none")


@pytest.mark.parametrize(
    ("said", "hours"),
    [
        ("The eclairs are under a time plan since noon. They have been out four and a half hours.", 4.5),
        ("Eclairs on time control, tag 8.00, my watch 1.00, out five hours.", 5),
        ("The eclairs under the time plan have been out four hours forty on a four hour tag.", 4 + 2 / 3),
    ],
)
def test_hours_out_under_a_time_plan_are_read(said: str, hours: float) -> None:
    (reading,) = meant(said).readings
    assert reading.kind == "duration"
    assert reading.value == pytest.approx(hours)
    assert (reading.item or "").lower() == "eclairs"


def test_hours_that_a_plan_allows_are_no_reading() -> None:
    said = "Batter 62, out an hour, they dump each batch at four hours, plan on the wall, it's on the clock."
    assert [one.value for one in meant(said).readings] == [62, 1]


@pytest.mark.parametrize(
    "said",
    [
        "They showed me a lab paper, water activity 0.81 for the filling. I did not measure this myself.",
        "The soup is 150 by the cook's probe. I have not checked it.",
    ],
)
def test_what_the_inspector_did_not_measure_is_no_reading(said: str) -> None:
    assert meant(said).readings == ()


def test_another_figure_not_taken_leaves_the_one_that_was() -> None:
    assert shorts("Pudding 38. I did not take the temperature of the sauce.") == ["38 cold_holding pudding"]
