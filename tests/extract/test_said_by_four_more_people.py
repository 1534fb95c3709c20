"""What four more people's dictations told otherwise than the rules knew, in other words than theirs.

Limits: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged, meant, shorts


def values(*lines: str) -> list[float]:
    return [reading.value for reading in meant(*lines).readings]


def verdicts(*lines: str) -> list[tuple[float, str]]:
    return [(value, verdict) for value, _, _, verdict in judged(*lines)]


# figures


def test_an_excuse_behind_two_figures_is_for_the_one_that_was_said_over() -> None:
    said = meant("Black beans 154, uh 145, sorry, my sleeve was over it. Rice 161.")
    assert [reading.value for reading in said.readings] == [145, 161]
    assert [fallen.reading.value for fallen in said.withdrawn] == [154]


def test_a_figure_that_was_taken_back_takes_no_earlier_one_with_it() -> None:
    said = "Sushi rice, meter gives me 4.0. Second tub 4.8, hang on, I didn't rinse the probe. 4.1 rinsed."
    assert values(said) == [4.0, 4.1]


def test_hundredths_that_stand_apart_belong_to_a_water_activity() -> None:
    """The plan's own limit binds: 8-103.12."""
    said = "Meter's warm. Peppered jerky 0.8 9, plain 0.83.", "The approved plan says 0.85 or below."
    assert verdicts(*said) == [(0.89, "violates"), (0.83, "meets")]
    assert "split_number" in [doubt.code for doubt in meant(*said).readings[0].doubts]


def test_a_number_in_words_with_a_fraction_is_no_count() -> None:
    assert values("Everything's in celsius today.", "Shrimp cups in the ice bin, five point five.") == [5.5]


def test_the_number_of_a_till_is_its_name() -> None:
    assert values("Cooler by register 3. Whole milk 37.") == [37]


def test_one_before_a_spelled_figure_is_a_pronoun() -> None:
    assert values("Patties off the grill 163, and the little flat one one forty four.") == [163, 144]


def test_an_acidity_goes_on_in_whole_numbers() -> None:
    said = meant("Acid rice, pH meter says 4.6.", "Second tub 4 even.").readings
    assert [(reading.value, reading.unit) for reading in said] == [(4.6, "pH"), (4.0, "pH")]


def test_days_in_a_freezer_are_held_against_how_cold_it_is() -> None:
    """Seven days at -4 °F: 3-402.11(A)(1)."""
    said = (
        "Chest freezer, minus 9, wild salmon for the poke.",
        "The log has this lot in for 4 days, it's 7 at that temperature.",
    )
    assert verdicts(*said) == [(-9, "meets"), (4, "violates")]


def test_what_looked_like_a_write_up_is_struck_and_not_the_last_figure() -> None:
    said = "The fridge looked like a write up, but the yogurt's 36 and the ham's 38. So strike that."
    assert values(said) == [36, 38]


def test_a_sentence_that_corrects_takes_the_figure_before_it_back() -> None:
    said = "Beef stew. The log shows 49 degrees at 11.40. Correction, the log shows 94 degrees at 11.40."
    assert values(said) == [94]


def test_a_figure_in_pieces_is_mended_by_its_repetition() -> None:
    said = meant("Egg sandwiches 37, turkey sandwiches at 1 37, I repeat, 37 degrees.")
    assert [reading.value for reading in said.readings] == [37, 37]
    assert [fallen.reading.value for fallen in said.withdrawn] == [137]


def test_hours_may_be_said_in_hundreds_and_a_range_has_one_time() -> None:
    soup = meant("Blast chiller, soup was at 135 degrees at 16 hundred.").readings
    chicken = meant("At the pass, the chicken measured between 149 and 156 degrees at 18.40.").readings
    assert [reading.clock for reading in (*soup, *chicken)] == ["16:00", "18:40", "18:40"]


# what it is of


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (
            ["Sushi rice, pH meter says 4.7, hang on. Rinsed, did it over, 4.5."],
            ["4.5 pH other sushi rice"],
        ),
        (
            ["Paper lids in a box, torn open, sitting on a plank, two inches off the floor."],
            ["2 inch storage paper lids"],
        ),
        (
            ["Blast freezer log, kampachi held at minus 40 for 16 hours, salmon at minus 39 for 18 hours."],
            [
                "-40 freezing kampachi",
                "16 hour freezing kampachi",
                "-39 freezing salmon",
                "18 hour freezing salmon",
            ],
        ),
    ],
    ids=lambda value: str(value)[:40],
)
def test_the_second_reader_names_what_no_probe_for_food_measured(
    lines: list[str], expected: list[str]
) -> None:
    assert shorts(*lines) == [short.lower() for short in expected]


def test_food_in_a_case_after_a_delivery_is_held_cold() -> None:
    said = judged("Truck just backed in. Cod 35, crab 38.", "Case by the door, trout 38.")
    assert [stage for _, stage, _, _ in said] == ["receiving", "receiving", "cold_holding"]


def test_flavors_in_a_milk_box_are_milk() -> None:
    """41 °F: 3-501.16(A)(2)."""
    assert verdicts("Milk box. White half pints 37, chocolate 46.") == [(37, "meets"), (46, "violates")]


def test_a_range_is_told_of_a_second_food_whatever_follows() -> None:
    said = "Hot bar, fried chicken between 128 and 131, same for the potato wedges. Soup 150."
    assert values(said) == [128, 131, 128, 131, 150]


def test_a_figure_behind_a_station_is_no_part_of_its_name() -> None:
    (first, *_) = meant("Noodle bar. Boiled eggs in the same station 49.").readings
    assert first.value == 49 and "49" not in (first.place or "")


def test_a_basket_is_one_of_the_food_named_before() -> None:
    """165 °F for poultry: 3-401.11(A)(3)."""
    said = "Wings out of the fryer, first basket 157, second 169."
    assert [(item, verdict) for _, _, item, verdict in judged(said)] == [
        ("Wings", "violates"),
        ("Wings", "meets"),
    ]


def test_a_word_that_is_a_food_as_printed_stays_the_item() -> None:
    (reading,) = meant("Trolley, turn up cake 55 celsius.").readings
    assert reading.item is not None and "cake" in reading.item.lower()


def test_a_hand_sink_is_named_where_the_second_reader_hears_it() -> None:
    (reading,) = meant("Hand sink at the end of the line, I let it run a good two minutes, 58.").readings
    assert (reading.stage, reading.item) == ("handwashing", "Hand sink")


@pytest.mark.parametrize(
    ("said", "item", "place"),
    [
        ("The pork packages beside the venison are at 36 degrees.", "pork", None),
        ("Oatmeal is at 171 in kettle one, the rice in kettle two is at 166.", "rice", "kettle two"),
        ("Receiving dock, the trim measured 48 degrees on receipt.", "trim", "Receiving dock"),
        ("For the jerky, the plan wants 0.85. The batch I tested is at 0.88 water activity.", "jerky", None),
    ],
)
def test_what_was_measured_stands_further_off(said: str, item: str, place: str | None) -> None:
    reading = meant(said).readings[-1]
    assert (reading.item, reading.place) == (item, place)


# machines and light


def test_the_wash_of_a_machine_whose_chlorine_was_tested_is_one_with_chemicals() -> None:
    """120 °F: 4-501.110(B)."""
    said = judged("Bar dish machine, wash tank 131, chlorine strip 10.")
    assert said[0][3] == "meets"


def test_how_many_tanks_a_conveyor_has_decides_how_hot_it_washes() -> None:
    """160 °F with one tank, 150 °F with several: 4-501.110(A)(3) and (4)."""
    assert verdicts("Dish room, the conveyor machine. Wash 157.") == [(157, "undetermined")]
    assert verdicts("Dish room, the conveyor machine. Wash 147.") == [(147, "violates")]
    assert verdicts("Dish room, single tank conveyor. Wash 157.") == [(157, "violates")]
    assert verdicts("Dish room, two tank conveyor. Wash 157.") == [(157, "meets")]


def test_a_machine_named_before_still_washes() -> None:
    said = judged("Low temp dish machine, wash is 106.", "Jug's empty. Chlorine 100 now. Wash still 106.")
    assert [stage for _, stage, _, _ in said] == ["machine_wash", "sanitizer", "machine_wash"]


@pytest.mark.parametrize(("place", "needed"), [("pot wash", 215), ("beer cave", 108)])
def test_a_place_is_lit_for_what_it_is_used_for(place: str, needed: float) -> None:
    """20 foot candles (215 lux) where ware is washed, 10 (108 lux) in walk-in units: 6-303.11."""
    (reading,) = meant(f"Light meter. {place.capitalize()} 180 lux.").readings
    assert reading.check is not None and reading.check.limit == needed
