"""Figures that people never heard before said in ways of their own.

Limits: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.extract.said import judged, meant, shorts, values


@pytest.mark.parametrize(
    "opening",
    [
        "All of this is Celsius so bear with me.",
        "Everything is in Celsius today.",
        "All my numbers are Celsius.",
    ],
)
def test_a_scale_said_once_for_the_visit_holds_for_all_of_it(opening: str) -> None:
    assert values(f"{opening} Yogurt 3.5, sliced cheese 4.6.", "Porridge 71.") == [
        (3.5, "degC"),
        (4.6, "degC"),
        (71, "degC"),
    ]


def test_one_behind_the_hottest_or_the_thinnest_is_no_hundred() -> None:
    assert values("Stack in the sun, warmest one 76.") == [(76, "degF")]
    assert values("Burgers, thinnest one 58.") == [(58, "degF")]
    assert values("Ham one 41.") == [(141, "degF")]


def test_things_counted_in_words_take_no_reading_back() -> None:
    assert shorts("Stock 171 all the way through, clock starts over, two ice wands this time.")[0].startswith(
        "171"
    )


@pytest.mark.parametrize("said", ["I get 103 out of it.", "103 out of this tap."])
def test_what_runs_out_of_a_tap_is_no_share_of_many(said: str) -> None:
    assert values(f"Hand sink by the door. {said}") == [(103, "degF")]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (
            "Beans in the dutch oven 138, cobbler 166. Strike that, backwards, the cobbler's the 138 and the "
            "beans are the 166.",
            {"cobbler": 138, "beans": 166},
        ),
        (
            "Ham 41, turkey 38. No, other way around, ham's the 38 and turkey's the 41.",
            {"ham": 38, "turkey": 41},
        ),
    ],
)
def test_two_that_were_swapped_are_put_where_they_belong(said: str, expected: dict[str, float]) -> None:
    assert {(one.item or "").lower(): one.value for one in meant(said).readings} == expected


@pytest.mark.parametrize("said", ["Soup 181. Consomme next to it, same.", "Soup 181, consomme the same."])
def test_the_same_is_of_the_food_named_before_it(said: str) -> None:
    assert shorts(said)[1] == "181 hot_holding consomme"


def test_the_same_ends_where_something_else_is_told_of_a_food() -> None:
    said = "Batter on ice 37, same for the milk, scrambled eggs came in a carton and hold 142 in the roaster."
    assert [(one.value, one.item) for one in meant(said).readings] == [
        (37, "Batter"),
        (37, "milk"),
        (142, "scrambled eggs"),
    ]


def test_each_food_is_held_against_its_own_limit_of_the_plan() -> None:
    """8-103.12: what the approved plan says."""
    plan = "The approval letter says the kraut has to be down to pH 4.2 and the hot sauce 3.8 or under."
    assert judged(plan, "Kraut 4.0. Hot sauce 4.0.") == [
        (4.0, "other", "Kraut", "meets"),
        (4.0, "other", "Hot sauce", "violates"),
    ]


def test_hours_that_the_clock_has_too_were_measured() -> None:
    """3-501.19(B)(1): 4 hours."""
    at = datetime(2026, 3, 9, 16, 45, tzinfo=UTC)
    found = meant(
        "Pizza warmer, pepperoni is 128, they're on time, the plan's taped up, four hours.",
        "Tag on the cheese says 3.15 so that's an hour and a half. Tag on the pepperoni says 11.30 and it's "
        "quarter to five, so that's five hours and a quarter.",
        at=at,
    )
    assert [(one.value, one.item) for one in found.readings if one.kind == "duration"] == [
        (1.5, "cheese"),
        (5.25, "pepperoni"),
    ]
    assert [one.provision for one in found.findings] == ["3-501.19(B)"]


def test_a_log_tells_how_long_a_roast_was_held() -> None:
    """3-401.11(B)(2): 145 °F for 4 minutes."""
    said = (
        "Beef roast out of the pit, 146 and his pit log has it held up there 15 minutes, past what it needs."
    )
    assert judged(said)[0][3] == "meets"


def test_a_drain_pipe_that_ends_above_the_floor_sink_has_a_gap() -> None:
    """5-202.13: twice the diameter of the inlet, and at least 1 inch; for drains: common practice."""
    (_, gap) = judged("Drain pipe is one inch and it stops two and a half inches above the floor sink.")
    assert gap[3] == "meets"


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Bleach bowl for the tables, 100.", "100 ppm sanitizer bleach bowl"),
        ("Sani pail 200 quat.", "200 ppm sanitizer sani pail"),
        ("Chlorine strip on a wet tumbler shows 50.", "50 ppm sanitizer wet tumbler"),
    ],
)
def test_a_strength_is_of_the_vessel_or_the_ware_that_was_tested(said: str, expected: str) -> None:
    assert shorts(said) == [expected]


def test_an_iodine_misprinted_is_iodine() -> None:
    """4-501.114(B): 12.5 to 25 ppm."""
    assert judged("They use I a dine. Strip's about 15 parts per million, water's 76.")[0][3] == "meets"


def test_leg_quarters_are_no_fraction() -> None:
    assert shorts("Leg quarters off the pit 171.") == ["171 cooking leg quarters"]


def test_a_filling_is_of_the_bun_that_it_is_in() -> None:
    assert shorts("Pork buns 114, hang on, the tip was in the dough. One forty on the filling.")[-1].endswith(
        "pork buns"
    )


def test_a_certificate_that_ran_out_long_ago_has_run_out() -> None:
    """2-102.12(A)."""
    found = meant("Manager's certificate in the frame ran out two years ago.")
    assert [one.provision for one in found.findings] == ["2-102.12"]


def test_a_special_process_with_its_variance_is_in_order() -> None:
    said = "Jerky and summer sausage, they smoke and cure it themselves. Variance letter's on file, signed."
    assert meant(said).findings == ()


@pytest.mark.parametrize("name", ["chicken salad croissant", "egg salad roll", "tuna salad croissants"])
def test_bread_filled_with_salad_needs_control(name: str) -> None:
    """1-201.10, time/temperature control for safety food."""
    assert judged(f"{name} on the counter 76.")[0][3] == "violates"


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Kombucha on tap, pH 3.9, has to be under 4.2.", "meets"),
        ("Sushi rice pH 4.6, should be 4.2 or less.", "violates"),
        ("Recipe card says 4.2 or lower. Rice is pH 4.6.", "violates"),
        ("Pickled onions pH 3.8.", "none"),
    ],
)
def test_a_ph_is_held_against_the_limit_that_is_told_for_it(said: str, verdict: str) -> None:
    """8-103.12 where a plan asks it; the figures are the speaker's own."""
    (reading,) = judged(said)
    assert reading[3] == verdict


def test_a_plan_told_long_before_holds_for_the_food_that_it_names() -> None:
    """8-103.12."""
    between = ("Towels are fine.", "Hand sink 100.", "Lids on everything.")
    plan = "Their HACCP for the rice says 4.2."
    assert judged(plan, *between, "Checked the rice, pH 4.4.")[-1] == (4.4, "other", "rice", "violates")
    assert judged(plan, *between, "Checked the kraut, pH 4.4.")[-1] == (4.4, "other", "kraut", "none")


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Meat pierogi out of the pot, 158. Stuffed, so 165. Back they go.", "violates"),
        ("Pork chops off the grill 147. Chicken needs 165.", "borderline"),
        ("Pork off the grill 150, if it were chicken it needs 165.", "meets"),
        ("Burgers off the grill 157, needs 155.", "borderline"),
    ],
)
def test_cooked_food_is_held_to_the_limit_that_is_said_for_it(said: str, verdict: str) -> None:
    """3-401.11(A): 145, 155 and 165 °F by kind of food."""
    assert judged(said)[0][3] == verdict


def test_the_water_of_one_stall_is_not_that_of_the_next() -> None:
    """4-501.114(A) and (C)."""
    said = "Stall 7, quat 300, jug wants 200 to 400. Stall 9, chlorine bucket 50, water 66, pH 7.4."
    assert [reading[3] for reading in judged(said)] == ["meets", "violates", "violates", "violates"]


def test_minutes_stood_behind_the_microwave_are_measured() -> None:
    """3-403.11(B): 2 minutes."""
    found = meant(
        "Pasta bake out of the microwave, covered, she stirred it, stood two minutes, 174."
    ).readings
    assert [(one.value, one.unit, one.stage) for one in found] == [
        (2, "minute", "reheating"),
        (174, "degF", "reheating"),
    ]


def test_hours_of_warming_tell_that_food_was_being_reheated() -> None:
    """3-403.11(A) and (D): 165 °F within 2 hours."""
    found = judged(
        "Meatballs in the roaster, 118.", "They went in cold, so that's two and a half hours warming."
    )
    assert [(one[0], one[1], one[3]) for one in found] == [
        (118, "reheating", "violates"),
        (2.5, "reheating", "violates"),
    ]


def test_the_day_on_which_food_is_thrown_is_a_plan() -> None:
    assert values("Oldest sprout is day 4, owner throws on day 6.") == [(4, "day")]


def test_a_word_of_the_trade_misprinted_is_doubted_and_mended() -> None:
    (reading,) = meant("Cut fruit island, antelope 47.").readings
    assert reading.item == "cantaloupe"
    assert "misheard" in [doubt.code for doubt in reading.doubts]


def test_the_same_foods_once_more_elsewhere_are_told_by_their_number() -> None:
    found = meant(
        "First cart. Har gow 151, shumai 147, chicken feet 144.", "Second cart, same three, 156, 150, 141."
    )
    assert [(one.value, (one.item or "").lower(), one.place) for one in found.readings[3:]] == [
        (156, "har gow", "Second cart"),
        (150, "shumai", "Second cart"),
        (141, "chicken feet", "Second cart"),
    ]


def test_two_readings_are_given_to_the_food_that_they_are_of() -> None:
    found = meant(
        "Rice, 135 at 10.50, 84 at 12.50. Missed it.", "Hold on, wrong line. Those two are the curry goat."
    )
    assert [one.item for one in found.readings] == ["curry goat", "curry goat"]


def test_of_many_readings_the_last_two_may_have_been_swapped() -> None:
    found = meant("Soup 150. Chili 160.", "Ham 39, turkey 42.", "I had those backwards.")
    unsure = [one.item for one in found.readings if "item_unsure" in [doubt.code for doubt in one.doubts]]
    assert unsure == ["Ham", "turkey"]


def test_a_log_is_of_the_afternoon_before_and_its_times_follow_on() -> None:
    """3-501.14(A): 70 °F within 2 hours, 41 °F within 6."""
    at = datetime(2026, 3, 9, 8, 21, tzinfo=UTC)
    found = meant(
        "Spaghetti sauce from yesterday's lunch, the sheet says 135 at 12.40, 67 at 2.40, and nothing till "
        "the janitor looked at 5.30, and he put down 45.",
        at=at,
    )
    assert [(one.value, one.clock) for one in found.readings] == [
        (135, "12:40"),
        (67, "14:40"),
        (45, "17:30"),
    ]
    assert found.findings == ()


def test_a_figure_of_a_log_without_its_time_is_not_held_against_the_time_of_speaking() -> None:
    at = datetime(2026, 3, 9, 8, 21, tzinfo=UTC)
    found = meant("Sauce from last night, 135 at 9.40, 67 at 11.30, and later somebody read 45.", at=at)
    assert [one.check.verdict for one in found.readings if one.check][-1] == "undetermined"


def test_digits_told_at_the_end_are_no_second_figure() -> None:
    assert values("Hot dogs in the steamer are 150, five zero at the end, nothing the matter.") == [
        (150, "degF")
    ]


def test_a_figure_that_i_had_before_is_none_of_now() -> None:
    found = meant(
        "Sprouts on the line 126.",
        "The sprouts I had at 126 a while back went in the steamer and came out 172.",
    )
    assert [one.value for one in found.readings] == [126, 172]


def test_the_cold_of_a_room_is_no_light() -> None:
    said = "It is 48 in the cutting room, and my light meter at the block says 61 foot candles."
    assert values(said) == [(48, "degF"), (61, "foot_candle")]


def test_the_pressure_on_a_line_is_no_limit() -> None:
    """4-501.113: 5 to 30 psi."""
    said = "The flight machine's final rinse is 184, the pressure on that rinse line is 34 pounds."
    assert judged(said)[-1][3] == "violates"


def test_a_lower_limit_that_is_said_for_it_is_asked_about() -> None:
    """3-403.11(C): 135 °F for ready-to-eat food from a plant."""
    found = meant("Dumpling soup from yesterday reheated to 137. As a bought soup it had only to make 135.")
    assert found.findings == ()
    assert "perhaps_in_order" in [doubt.code for doubt in found.readings[0].doubts]


def test_a_name_with_an_accent_is_the_same_food() -> None:
    (reading,) = judged("Béarnaise on the line 119.")
    assert reading[3] == "violates"


@pytest.mark.parametrize(
    "said",
    [
        "Glass sinks, iodine 20 and that bay's 74.",
        "Iodine 20 in the last bay, bay's 74.",
        "Iodine 20, but that bay's only 74.",
    ],
)
def test_a_second_figure_of_one_bay_is_how_warm_it_is(said: str) -> None:
    assert values(said) == [(20, "ppm"), (74, "degF")]


def test_another_bay_has_another_strength() -> None:
    assert values("Left bay quat 200, right bay 150.") == [(200, "ppm"), (150, "ppm")]


def test_a_figure_printed_as_a_digit_and_a_word_is_joined_and_doubted() -> None:
    (beet, carrot) = meant("Bottle fridge, beet 38, carrot 4 one, okay.").readings
    assert (beet.value, carrot.value) == (38, 41)
    assert [doubt.code for doubt in carrot.doubts] == ["split_number"]


def test_what_was_told_of_foods_falls_where_they_are_told_anew() -> None:
    found = meant(
        "Banana cream 47, correction 37, dang wait. Okay again. Banana cream 38, chocolate cream 47."
    )
    assert [(one.value, one.item) for one in found.readings] == [
        (38, "Banana cream"),
        (47, "chocolate cream"),
    ]


def test_of_a_needle_that_moves_the_figure_counts_at_which_it_stops() -> None:
    found = meant("Mac salad 46, no I read it too soon it's still dropping, 41, 39, ok it stops at 38.")
    assert [one.value for one in found.readings] == [38]
    assert len(found.withdrawn) == 3


def test_read_by_an_hour_is_no_size() -> None:
    said = "Clam base off the log, 135 at 2.15, 67 at 4.10, 37 by 8."
    assert [(one.value, one.clock) for one in meant(said).readings][-1] == (37, "20:00")


def test_a_strength_of_a_bay_is_not_of_the_sticker_told_of_before() -> None:
    said = "The heat sticker never turned. She's doing them in the sink. Bleach bay 50, 79 degrees, pH 7."
    assert "sticker" not in (meant(said).readings[0].item or "")


def test_who_goes_without_hair_nets_is_no_thing() -> None:
    (finding,) = meant("Two of the pickers no hair nets.").findings
    assert finding.what.startswith("Hair not restrained")


@pytest.mark.parametrize(
    "lines",
    [
        ("Prime rib under the lamp 131, cooked overnight with a chart, so 130 is its number and it stands.",),
        ("Prime rib in the hot box is 131, whole roast so they only need 130 on that one.",),
        ("Carving station, ham 140, roast beef 131.", "Roast can sit at 130 so that's alright."),
    ],
)
def test_a_roast_is_held_to_the_130_that_is_said_for_it_and_doubted(lines: tuple[str, ...]) -> None:
    """3-501.16(A)(1): 130 °F for roasts cooked by the table of 3-401.11(B)."""
    (roast,) = [one for one in meant(*lines).readings if one.value == 131]
    assert roast.check is not None and roast.check.verdict == "borderline"
    assert [doubt.code for doubt in roast.doubts] == ["limit_as_said"]


def test_hours_past_the_mark_of_a_plan_are_measured_without_the_word_time() -> None:
    """3-501.19(B)(1): 4 hours."""
    at = datetime(2026, 3, 9, 13, 21, tzinfo=UTC)
    said = "Batter's tagged mixed 8.30 dump 12.30 and it's 1.20 so coming up on 5 hours, plan's on the door."
    assert [one.provision for one in meant(said, at=at).findings] == ["3-501.19(B)"]


def test_a_range_on_a_label_is_no_strength() -> None:
    assert values("Sani bucket quat 200 on a 150 to 400 label.") == [(200, "ppm")]


def test_minutes_at_a_temperature_of_a_log_are_measured() -> None:
    """3-401.11(B)(2): 136 °F for 28 minutes."""
    found = judged("Prime rib 132, their log has it at 136 for 40 minutes so that's a roast.")
    assert (40, "cooking", "prime rib", "meets") in [
        (one[0], one[1], (one[2] or "").lower(), one[3]) for one in found
    ]


@pytest.mark.parametrize(
    "lines",
    [
        ("White chili from Thursday. It was set in that same well cold this morning, and it is 144.",),
        ("Pureed beef in the steam table 148, she put it in cold at 8.15 and it only got there now.",),
        ("Kalua pig in the warmer 129.", "Pig went in that warmer cold at 7.30."),
    ],
)
def test_food_put_cold_into_a_warmer_is_being_reheated(lines: tuple[str, ...]) -> None:
    """3-403.11(A): 165 °F."""
    assert judged(*lines)[0][1] == "reheating"


def test_food_put_into_what_is_cold_is_not() -> None:
    assert [one[1] for one in judged("Rice in the warmer 140. Ham 38, put in the cold well.")] == [
        "hot_holding",
        "cold_holding",
    ]
