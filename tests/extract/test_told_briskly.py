"""Clipped speech, numbered things and lists, and figures whose limit is told elsewhere in the visit.

Limits: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import SAID_AT, judged, meant, values


def degf(*lines: str) -> list[float]:
    return [value for value, unit in values(*lines) if unit == "degF"]


def verdicts(*lines: str) -> list[str]:
    return [verdict for *_, verdict in judged(*lines)]


@pytest.mark.parametrize(
    ("lines", "stands"),
    [
        (
            ["Walleye out of the kettle. First piece 151. Second 115. Negative. 150, one five zero."],
            [151, 150],
        ),
        (["Milk pitchers on the table, 44. Look again. 54."], [54]),
        (["Pintos a hundred and thirteen, no ma'am, 130, one three oh."], [130]),
        (["Grits 141.", "Hominy 148. Check that, 140."], [141, 140]),
    ],
)
def test_a_word_of_the_radio_takes_a_figure_back(lines: list[str], stands: list[float]) -> None:
    assert degf(*lines) == stands


def test_negative_before_a_number_is_below_zero_and_behind_a_thing_says_that_there_is_none() -> None:
    assert degf("Chest freezer negative 4.") == [-4]
    assert "6-301.12" in {
        one.provision
        for one in meant("Hand sink in the kitchen. Soap there, paper towels, negative.").findings
    }


@pytest.mark.parametrize(
    ("said", "reads", "clock"),
    [
        ("Soup on the line. My probe, 15 40, 149.", 149, "15:40"),
        ("Soup in the warmer. At 18 41 it's 148.", 148, "18:41"),
    ],
)
def test_24_hours_in_two_pieces_are_a_time(said: str, reads: float, clock: str) -> None:
    (reading,) = meant(said).readings
    assert (reading.value, reading.clock) == (reads, clock)


@pytest.mark.parametrize(
    ("said", "stands"),
    [
        ("Ice bath. My probe 32, house probe one 32.5, house probe two 36.", [32, 32.5, 36]),
        ("Drawer 1 38, drawer 2 36.", [38, 36]),
        ("Cooler 1 38.", [38]),
        ("Carrier 1 141, carrier 2 136.", [141, 136]),
        ("Soup 1 52 and rice 2 03.", [152, 203]),  # printed in two pieces: nothing is numbered
        ("Freezer 2, other freezer 3.", [2, 3]),
        ("Point 4. Ham in the case, 38. Point 5. Tuna 39.", [38, 39]),
    ],
)
def test_the_number_of_a_thing_is_no_part_of_its_figure(said: str, stands: list[float]) -> None:
    assert degf(said) == stands


@pytest.mark.parametrize(
    ("lines", "stands"),
    [
        (
            ["Stuffed peppers, oven, 158, sorry young man, go ahead and squeeze by, 158, wants 165."],
            [158],
        ),
        (["Sausage patties 164 now, one sixty four."], [164]),
        (
            ["Bain marie. Goulash 164. Dumplings 159. Cabbage 172.", "Go back one. Dumplings 169."],
            [164, 172, 169],
        ),
        (
            ["Sliced cheese 43, hang on, wrong pan, that's tomato. Sliced tomato 43 and the cheese is 38."],
            [43, 38],
        ),
        (["Grits 121. Hold on. Hominy 148."], [121, 148]),
        (["Ham salad 46.5. Egg sandwiches... same."], [46.5, 46.5]),
    ],
)
def test_what_is_said_again_counts_once_and_what_is_of_another_food_counts(
    lines: list[str], stands: list[float]
) -> None:
    assert degf(*lines) == stands


def test_a_time_of_a_log_read_anew_takes_the_first_figure_back() -> None:
    """3-501.14(A): 70 °F within two hours."""
    found = meant(
        "Barley soup, off the log. 135 at 1200. 91 at 1330. 74 at 1400. Hold that.",
        "74 is my bad eyes. He read it out to me. 64 at 1400.",
    )
    assert [one.value for one in found.readings] == [135, 91, 64]
    assert found.findings == ()


def test_times_before_midnight_are_of_the_evening_before() -> None:
    """3-501.14(A)."""
    found = meant(
        "Baked beans, cooled. 135 at 6.45, 64 at 8.30, 38 at a quarter past midnight.",
        at=SAID_AT.replace(hour=8, minute=8),
    )
    assert [one.clock for one in found.readings] == ["18:45", "20:30", "00:15"]
    assert found.findings == ()


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["Chlorine 50 parts per million, solution 82."], [(50, "ppm"), (82, "degF")]),
        (["Chlorine at the sink, 100 on the strip, solution 112."], [(100, "ppm"), (112, "degF")]),
        (
            ["Flume, peracetic, 110 parts per million.", "Diluted now. Kit gives 71."],
            [(110, "ppm"), (71, "ppm")],
        ),
        (
            ["Chlorine 50, solution 82, pH on my strip 9. At that pH 82 isn't warm enough."],
            [(50, "ppm"), (82, "degF"), (9, "pH")],
        ),
        (["Iodine 12 on the comparator, hold on, let me carry it to the daylight. 18."], [(18, "ppm")]),
        (["Scotch eggs on the stand 19 degrees, and that is C."], [(19, "degC")]),
        (["Bar faucet's a half inch, half inch."], [(0.5, "inch")]),
    ],
)
def test_what_a_bare_figure_measures_is_told_beside_it(
    lines: list[str], expected: list[tuple[float, str]]
) -> None:
    assert values(*lines) == expected


def test_what_is_looked_for_and_what_would_be_is_no_reading() -> None:
    assert values("This one's a conveyor so I look for 160 on the wash and 180 on the last rinse.") == []
    assert values("Iodine at the scoop sink, 15, because fifty would be way too strong.") == [(15, "ppm")]


@pytest.mark.parametrize("food", ["Chicken hearts", "Duck tongue", "Turkey hearts", "Goose liver"])
def test_organs_of_poultry_are_poultry(food: str) -> None:
    """3-401.11(A)(3): 165 °F."""
    assert verdicts(f"{food} off the grill 157.") == ["violates"]


def test_food_that_is_reheated_has_two_hours() -> None:
    """3-403.11(D)."""
    said = "Pork filling, made yesterday, reheating in the steamer since 1700. At 18 41 it's 148."
    assert verdicts(said) == ["undetermined"]
    assert verdicts(said.replace("1700", "1600")) == ["violates"]
    assert verdicts(f"{said} They're ladling it out.") == ["violates"]


def test_a_lot_without_a_name_is_held_against_the_plan_told_before() -> None:
    """8-103.12: what the approved plan says."""
    found = meant(
        "Acidified salsa, approved plan requires pH 4.2 or lower. Lot 8 reads 4.15.",
        "Lot 9, 4.52. Let me rinse the electrode and repeat it. 4.5. Over their limit both times.",
        "I'll step back. Chemical cage.",
        "Lot 9 was reworked with lime juice and held. Reading at 2.20 is 4.08.",
    )
    assert [(one.value, one.kind) for one in found.readings] == [
        (4.15, "ph"),
        (4.52, "ph"),
        (4.5, "ph"),
        (4.08, "ph"),
    ]
    assert [one.check.verdict for one in found.readings if one.check] == [
        "meets",
        "violates",
        "violates",
        "meets",
    ]


def test_a_day_is_not_held_against_the_missing_date_of_another_food() -> None:
    """3-501.18: seven days; 3-501.17: no mark within a day."""
    said = "Country ham's day 3. Bag of egg patties has got no date."
    assert verdicts(said) == ["meets"]


def test_a_time_plan_asked_for_in_vain_is_none() -> None:
    """3-501.16(A)(2) and 3-501.19."""
    assert verdicts("Cheese curds on the counter, 66. Time plan? No.") == ["violates"]
    assert verdicts(
        "Brie cubes, cart sheet says out at 12.00, discard at 4.00, procedure clipped on it. 61."
    ) == ["none"]


def test_what_is_shelf_stable_by_a_remark_has_no_limit() -> None:
    """1-201.10: not time/temperature controlled."""
    assert verdicts("Ranch dips 44 but those are the shelf stable sealed cups.") == ["none"]


def test_a_line_where_guests_serve_themselves_needs_20_foot_candles() -> None:
    """6-303.11(B)."""
    assert verdicts("Cutting table, 31 foot candles. Self serve line 24, okay.") == ["violates", "meets"]


def test_a_food_is_called_by_all_its_words() -> None:
    found = meant("Filling cooler, pork and leek 36, shrimp filling 38.")
    assert [one.item for one in found.readings] == ["pork and leek", "shrimp filling"]


@pytest.mark.parametrize("said", ["Walk-in cooler, turkey is at 60.", "Walk-in, cooked rice is 60."])
def test_warm_food_in_a_cooler_is_held_there_unless_words_tell_that_it_cools(said: str) -> None:
    """3-501.16(A)(2)."""
    assert verdicts(said) == ["violates"]


@pytest.mark.parametrize(
    ("lines", "stands"),
    [
        (
            [
                "Hot wells, beef tips 148, egg noodles 130, carrots 151.",
                "Hold on, on the noodles I was leaning on the pan wall. Center of the pan they're 143.",
            ],
            [148, 151, 143],
        ),
        (
            [
                "Yogurt 46, string cheese 47. Hmm, never mind those, the probe was in my coffee. "
                "Yogurt 37, string cheese 38."
            ],
            [37, 38],
        ),
        (["Egg wedge 38, chicken wrap 36, no sorry other way around, wedge 36, wrap 38."], [36, 38]),
        (["Hand sink, 81 and climbing, that's not the number, let it run. 94 is where it stops."], [94]),
        (["Slaw in the ice chest 14, that can't be, it isn't frozen. Did it over, it's 40."], [40]),
        (["Curry 168, dal 116. I said that badly, the dal's sixteen, no, 160."], [168, 160]),
    ],
)
def test_an_excuse_reaches_what_it_names_and_all_that_it_points_at(
    lines: list[str], stands: list[float]
) -> None:
    assert degf(*lines) == stands


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["Beans in the crock 66 C.", "Hand sink 33, still Celsius."], [(66, "degC"), (33, "degC")]),
        (["Bleach in the pot sink is at too fifty."], [(250, "ppm")]),
        (["Rinse pressure gauge 18 pounds, I think that is okay, 5 to 30."], [(18, "psi")]),
        (
            ["Rice has to be 4.2 or lower. 4.05 in the first tub, 3.98 in the second."],
            [(4.05, "pH"), (3.98, "pH")],
        ),
        (["Ham on the time plan, out two and three quarter hours."], [(2.75, "hour")]),
    ],
)
def test_scales_and_figures_told_oddly(lines: list[str], expected: list[tuple[float, str]]) -> None:
    assert values(*lines) == expected


def test_a_food_in_two_pieces_is_never_numbered() -> None:
    assert degf("Chicken 1 65, chicken 2 03.") == [165, 203]


def test_the_number_of_a_thing_in_words_is_not_asked_about() -> None:
    assert not [one for one in meant("Basket three, wings 169.").questions if "three" in one.text]


def test_what_it_is_may_be_told_in_the_sentence_behind() -> None:
    """3-401.11(A)(3): 165 °F."""
    assert verdicts("Basket three, boneless bites 159. They're still chicken.") == ["violates"]


def test_a_mess_hall_begins_at_zero_six_hundred() -> None:
    assert degf("Mess hall, start zero six hundred. Grits 161.") == [161]


def test_my_paper_is_a_test_paper() -> None:
    assert (3.9, "pH") in values("Tub of kimchi at 64. It's fermented and my paper says pH 3.9.")


def test_a_meter_in_a_visit_of_ph_is_no_light_meter_and_the_nearest_figure_falls() -> None:
    said = "Tank two has a pH of 3.1, tank four 4.4, hold on, the meter was still drifting, tank four is 3.4."
    assert values(said) == [(3.1, "pH"), (3.4, "pH")]


def test_what_was_said_in_between_is_taken_back_and_no_reading_before_it() -> None:
    said = (
        "Bologna 39. Sliced cheese 37.",
        "Droppings, none. Looked along every wall.",
        "Take that back. Mouse, a dozen.",
    )
    assert degf(*said) == [39, 37]


def test_the_figure_that_stands_is_not_asked_about_as_taken_back() -> None:
    found = meant("Coleslaw in the reach-in, 44. No make that 41. It was still dropping.")
    assert [one.value for one in found.readings] == [41]
    assert not [one for one in found.questions if "taken back" in one.text]
