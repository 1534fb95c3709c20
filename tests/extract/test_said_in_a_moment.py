"""What is said within a minute about one thing: a solution, a machine, a delivery, food that cools.

Wording: common practice, no source; stages and limits: FDA Food Code 2022.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.extract.said import judged, meant, shorts, values

# ---------------------------------------------------------------- solutions and machines


def test_what_is_the_same_of_a_second_tub_is_a_strength_too() -> None:
    assert shorts("Peracetic in the knife dip is 40, label's 80 to 160. Same for the board tub, 40.") == [
        "40 ppm sanitizer knife dip",
        "40 ppm sanitizer board tub",
    ]


@pytest.mark.parametrize(
    "said",
    [
        "Last sink, the quat's 300, label says 200 to 400. Temp in that one 81.",
        "Iodine in the bar sink, 12.5, and it's 81 in there.",
    ],
)
def test_a_solution_has_a_temperature_however_that_is_said(said: str) -> None:
    assert (81, "degF") in values(said)


def test_paper_for_ph_is_named_in_letters() -> None:
    assert values("Bleach in the third bay 50, and the p h strip's about a 7.") == [(50, "ppm"), (7, "pH")]


def test_a_pressure_is_one_however_it_is_printed() -> None:
    assert values("Rinse gauge says 20 p.s. I while it's spraying. 19 on the next rack.") == [
        (20, "psi"),
        (19, "psi"),
    ]


def test_hand_sinks_are_listed_by_where_they_are() -> None:
    found = meant("Hand sinks. Line 103, prep 97, bar 91. All stocked.").readings
    assert [(one.value, one.item, one.place) for one in found] == [
        (103, "Hand sinks", "Line"),
        (97, "Hand sinks", "prep"),
        (91, "Hand sinks", "bar"),
    ]


@pytest.mark.parametrize("kind", ["Hood machine", "Door style machine"])
def test_a_machine_with_a_door_or_hood_needs_150(kind: str) -> None:
    """FDA Food Code 2022, 4-501.110(A)(2): stationary rack, dual temperature."""
    assert judged(f"{kind}, wash 153, rinse 184.")[0][3] == "meets"


def test_parts_of_a_machine_without_a_limit_break_none() -> None:
    """FDA Food Code 2022, 4-501.110 and 4-501.112: the wash, and the fresh hot water at the manifold."""
    found = judged("Flight machine, prewash 108, wash 154, power rinse 163, final rinse 187.")
    assert [(value, verdict) for value, _, _, verdict in found] == [
        (108, "none"),
        (154, "meets"),
        (163, "none"),
        (187, "meets"),
    ]


def test_a_booster_set_right_is_told_of_the_final_rinse() -> None:
    found = judged("Dish machine, final rinse 168.", "They reset the booster. 186 on the final rinse now.")
    assert [verdict for *_, verdict in found] == ["violates", "meets"]


def test_a_second_machine_puts_the_first_one_right_in_nothing() -> None:
    said = meant(
        "The rinse on number two is running 201, that's steam.", "Number one is 188, leave that alone."
    )
    assert [(one.value, one.stage) for one in said.readings] == [
        (201, "machine_rinse"),
        (188, "machine_rinse"),
    ]
    assert [one.corrected_on_site for one in said.findings] == [False]


def test_wash_and_rinse_that_were_swapped_are_told_anew() -> None:
    lines = "Dish machine, rinse 155, wash 182, no, other way round. 155's the wash, 182's the rinse."
    assert shorts(lines) == ["155 machine_wash -", "182 machine_rinse -"]


def test_chlorine_of_tap_water_is_no_sanitizer() -> None:
    """At most 4 ppm in drinking water: 40 CFR 141.65 (from memory)."""
    said = meant("They're on a well. Free chlorine at the kitchen tap 0.4.")
    assert [one.check.verdict for one in said.readings if one.check] == ["none"]
    assert not said.findings


@pytest.mark.parametrize(("strength", "verdict"), [(500, "violates"), (300, "undetermined")])
def test_how_strong_a_solution_may_be_at_most_is_told_alone(strength: int, verdict: str) -> None:
    """FDA Food Code 2022, 4-501.114(C) and 7-204.11: what the label says."""
    assert (
        judged(f"Quat in the dispenser sink is {strength}. Says 400 tops on the wall chart.")[0][3] == verdict
    )


# ---------------------------------------------------------------- scales, dates and limits


def test_a_scale_on_a_display_holds_for_its_figures() -> None:
    assert values("It's Celsius on the display, freezer's minus 18.") == [(-18, "degC")]


def test_a_day_said_again_is_no_temperature() -> None:
    assert not values("Broth says the 20th. no, hang on, 26, the tail's smeared. Okay it's good.")


def test_a_limit_takes_back_no_figure() -> None:
    assert (52, "degF") in values(
        "Picked crab thawing in the prep sink. Crab is at 52. Can't be over 41 that way."
    )


def test_another_one_of_them_leaves_the_first_as_it_was() -> None:
    assert values("Egg rolls come out the oil at 159, let me get another. 167.") == [
        (159, "degF"),
        (167, "degF"),
    ]


def test_times_of_the_night_are_no_temperatures() -> None:
    assert 6 not in [
        value for value, _ in values("Sea bass went in at minus 36, 6 at night to 9 in the morning.")
    ]


# ---------------------------------------------------------------- food that cools, or is under a plan


def test_a_time_told_as_now_counts_for_food_that_cools() -> None:
    """FDA Food Code 2022, 3-501.14(A): 70 °F within two hours."""
    said = "Turkey breasts, 135 at quarter past one, quarter past three now, I've got 76."
    assert [verdict for *_, verdict in judged(said)] == ["none", "violates"]


def test_one_start_is_told_of_two_soups() -> None:
    said = meant(
        "Two soups, both hit 135 at 12:40. Now it's 2:40. Minestrone 66, split pea 92.",
        at=datetime(2026, 3, 9, 14, 40, tzinfo=UTC),
    )
    assert [(one.item, one.check.verdict) for one in said.readings[1:] if one.check] == [
        ("Minestrone", "meets"),
        ("split pea", "violates"),
    ]


def test_when_food_was_cooked_may_be_told_next() -> None:
    lines = "Rice in four pans stacked up, plastic wrap on it. 109, 112.", "Cooked at 10:30."
    assert [stage for _, stage, *_ in judged(*lines)] == ["cooling", "cooling"]


@pytest.mark.parametrize(
    ("told", "stage"),
    [("Tag 7.05, so just under two hours.", "time_control"), ("No plan here, and no tag.", "hot_holding")],
)
def test_a_plan_may_be_told_next(told: str, stage: str) -> None:
    assert judged("Breakfast burritos in foil, the drawer's been dead a week, 108.", told)[0][1] == stage


def test_a_plan_that_nobody_heard_of_is_none() -> None:
    said = "Slices in the display, cheese 128. No stickers, nobody here ever heard about a time plan."
    assert judged(said)[0][1:] == ("hot_holding", "cheese", "violates")


def test_a_first_figure_falls_with_an_excuse_told_behind_the_second() -> None:
    lines = "Coleslaw in the prep top, 50.", "In a different spot it's 38. First one I hit the metal rim."
    assert shorts(*lines) == ["38 cold_holding coleslaw"]


# ---------------------------------------------------------------- what food is, and what it is cooked to


def test_a_stuffing_inside_a_bird_is_cooked_like_it() -> None:
    """FDA Food Code 2022, 3-401.11(A)(3)."""
    said = "Turkey out of the oven, breast is 171 and the stuffing inside of it 144."
    assert judged(said)[1][2:] == ("stuffing", "violates")


def test_the_inside_of_an_intact_steak_has_no_limit() -> None:
    """FDA Food Code 2022, 3-401.11(C)."""
    said = "Ribeye, whole muscle intact by the case. Surface on top 152, bottom 149. Inside's 118."
    assert [verdict for *_, verdict in judged(said)] == ["meets", "meets", "none"]


def test_minutes_held_are_told_of_a_roast() -> None:
    """FDA Food Code 2022, 3-401.11(B)(2): 4 minutes at 145 °F, and less above it."""
    said = "Eye of round back in the oven, 147 now and it's held that 5 minutes by my watch."
    assert judged(said)[0][2:] == ("Eye of round", "meets")


def test_food_that_is_left_on_the_heat_breaks_no_limit_yet() -> None:
    assert not meant("Meatballs in sauce, 128, leave them in, not ready.").findings


def test_food_that_is_said_next_to_be_cooked_was_not_held() -> None:
    found = judged("Duck breast 141 in the pan.", "It's poultry, I told him, 165 unless the menu says so.")
    assert found == [(141, "cooking", "Duck breast", "violates")]


def test_another_thermometer_in_the_same_food_is_no_reading_of_it() -> None:
    """FDA Food Code 2022, 4-203.11: 2 °F."""
    said = meant("Chicken salad 38 on mine, their probe says 45.")
    assert [(one.value, one.stage) for one in said.readings] == [
        (38, "cold_holding"),
        (45, "thermometer_check"),
    ]
    assert not said.findings
    assert any("thermometer" in one.text for one in said.questions)


@pytest.mark.parametrize(
    ("said", "section"),
    [
        ("Vac packed ribeyes, he figures 39 days, limit's 30.", "3-502.12"),
        ("The vac packed ham, opened nine days ago.", "3-501.18"),
    ],
)
def test_raw_meat_in_a_sealed_package_carries_no_date_mark(said: str, section: str) -> None:
    """FDA Food Code 2022, 3-502.12(B)(4): 30 days; 3-501.18: 7 days of ready-to-eat food once opened."""
    assert [one.provision for one in meant(said).findings] == [section]


# ---------------------------------------------------------------- deliveries


def test_eggs_that_are_delivered_are_held_to_the_air_around_them() -> None:
    """FDA Food Code 2022, 3-202.11(C): 45 °F."""
    assert judged("Eggs. Air in the back of his van is 41. Shells clean.")[0] == (
        41,
        "receiving",
        "Eggs",
        "meets",
    )


@pytest.mark.parametrize("told", ["Prawns he won't sign for.", "Chef says no thanks to that one."])
def test_what_is_not_taken_was_put_right(told: str) -> None:
    said = meant("Off the truck, prawns 51.", told)
    assert [(one.provision, one.corrected_on_site) for one in said.findings] == [("3-202.11(A)", True)]


# ---------------------------------------------------------------- what only sounds like a violation


@pytest.mark.parametrize(
    ("lines", "proposed"),
    [
        (("No lids on the cups by the register, they don't need to have one.",), False),
        (
            ("No soap at the hand sink by the bar.", "They did that exactly right over at the prep sink."),
            True,
        ),
        (("No soap at the hand sink by the bar. No towels either.",), True),
        (("A second cover over the cheese cubes would be nice, they're open. Just a tip.",), False),
    ],
)
def test_what_is_said_behind_it_to_be_well_is_asked_about_at_most(
    lines: tuple[str, ...], proposed: bool
) -> None:
    assert bool(meant(*lines).findings) is proposed
