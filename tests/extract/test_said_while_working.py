"""What people say while they work: half a figure, one fetched with the tape, one called off later.

All invented. Meanings: common practice, no source; limits: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged, meant, shorts, values


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The mash is at 13, uh, 139.", [(139, "degF")]),
        ("Shelf, four inches off the floor? Let me get the tape. Four and a quarter.", [(4.25, "inch")]),
        ("Rice sacks four inches off the floor. Next rack over is 7, okay.", [(4, "inch"), (7, "inch")]),
        ("Jerky, I get point 79 on the water activity meter.", [(0.79, "aw")]),
        ("The gap's an eighth of an inch under the door.", [(0.125, "inch")]),
        ("Rice, pH is 4 dot 1.", [(4.1, "pH")]),
        ("Salami forty one five, ham 39 5, turkey 40 2.", [(41.5, "degF"), (39.5, "degF"), (42, "degF")]),
        ("Ham thirty nine five pounds of it.", [(39, "degF")]),
        ("Lactic acid, card says 704 to 1875, strip shows 1000.", [(1000, "ppm")]),
        ("Meter's on lux. Buffet 260, bagel nook 610.", [(260, "lux"), (610, "lux")]),
        ("Kimchi is at 47, but the strip in the brine says 3.9.", [(47, "degF"), (3.9, "pH")]),
        ("Cup of ice water. Her dial 38. Stirred, waited, still 38.", [(38, "degF"), (38, "degF")]),
        ("Frittata 151. It isn't a 145 egg, it's a 155 egg.", [(151, "degF")]),
        ("Chowder, 135 at 12.50, I've got 91 on it now, 2 oh 2.", [(135, "degF"), (91, "degF")]),
    ],
)  # fmt: skip
def test_the_figures_that_were_measured(said: str, expected: list[tuple[float, str]]) -> None:
    assert values(said) == expected


def test_a_figure_called_off_later_falls() -> None:
    found = meant("Third sink, bleach, the strip says 10.", "Hang on, that's the rinse side. Scrap the 10.")
    assert [reading.value for reading in found.readings] == []
    assert [(one.reading.value, one.why) for one in found.withdrawn] == [(10, "Scrap the 10")]


def test_what_was_told_to_the_staff_takes_nothing_back() -> None:
    found = meant(
        "Meatballs warmed on the range, 144.", "I said not yet, one sixty five before it goes anywhere."
    )
    assert [reading.value for reading in found.readings] == [144]
    assert found.withdrawn == ()


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Ham and corn, sheet pans, no cover, both 39.", ["39 cold_holding ham", "39 cold_holding corn"]),
        ("Potato salad, coleslaw, both 44.", ["44 cold_holding coleslaw", "44 cold_holding potato salad"]),
        ("Rice and melon, both of those are at 46.", ["46 cold_holding melon", "46 cold_holding rice"]),
    ],
)  # fmt: skip
def test_one_figure_for_both_of_two_foods(said: str, expected: list[str]) -> None:
    assert sorted(shorts(said)) == sorted(expected)


@pytest.mark.parametrize(
    "said",
    [
        "Glass machine, chlorine rinse, strip's at 50 and the rinse dial says 124.",
        "Low temp dish machine, chlorine 100 on the plate, rinse is 118.",
    ],
)
def test_the_rinse_of_a_chemical_machine_needs_no_hot_water(said: str) -> None:
    found = meant(said)
    assert [reading.check and reading.check.verdict for reading in found.readings] == ["meets", "meets"]
    assert found.findings == ()


def test_the_rinse_of_another_machine_still_does() -> None:
    assert [
        verdict for *_, verdict in judged("Bar bucket, chlorine 100.", "Dish machine, final rinse 171.")
    ] == [
        "meets",
        "violates",
    ]


def test_each_thermometer_in_the_ice_is_named() -> None:
    said = "Three in the ice, mine 32.2, their pen probe 30.8, and the old dial is sitting at 27."
    assert [reading.item for reading in meant(said).readings] == ["mine", "their pen probe", "old dial"]


def test_a_label_that_the_jug_card_or_gallon_gives() -> None:
    found = judged("Quat in the back sink, reading 100, gallon says 200 to 400.")
    assert [(value, verdict) for value, _, _, verdict in found] == [(100, "violates")]


def test_a_plan_with_an_acid_limit_makes_the_next_figures_acid() -> None:
    found = values(
        "Approved plan on the wall, 4.2 or lower.", "Day six jar 3.9. Day five jar, four point seven."
    )
    assert found == [(3.9, "pH"), (4.7, "pH")]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("I've got 38 on the turkey 39 on the ham and 47 on the tuna", ["turkey", "ham", "tuna"]),
        ("Fridge. 40 spinach 39 yogurt 41 melon 38 cream.", ["spinach", "yogurt", "melon", "cream"]),
        ("slaw 40 spinach 39 yogurt 41", ["slaw", "spinach", "yogurt"]),
    ],
)  # fmt: skip
def test_foods_behind_or_in_front_of_their_figures_without_a_comma(said: str, expected: list[str]) -> None:
    assert [reading.item for reading in meant(said).readings] == expected


def test_celsius_behind_a_comma_holds_for_its_list_and_the_same_food_later() -> None:
    found = values("The minced pork has 8 degrees, Celsius yes, and the tofu 4.", "Minced pork still 8.")
    assert found == [(8, "degC"), (4, "degC"), (8, "degC")]


def test_what_sounds_like_the_figure_said_twice_after_it_falls() -> None:
    found = meant("Glass washer, chlorine on the glass fifteen, fifty, five oh, 50 parts.")
    assert [reading.value for reading in found.readings] == [50]
    assert [one.reading.value for one in found.withdrawn] == [15]


def test_what_a_dial_shows_stands_beside_what_was_measured() -> None:
    assert [value for value, _ in values("The dial reads 40 but it's actually 46 on my probe.")] == [40, 46]


def test_a_figure_that_only_the_second_reader_hears_taken_back_is_asked_about() -> None:
    found = meant("Wash gauge 205, no that's the booster, the wash says 155 and the rinse says 186.")
    assert [reading.value for reading in found.readings] == [155, 186]
    assert [one.reading.value for one in found.withdrawn] == [205]
    assert "“205” was taken as taken back. Was it?" in [question.text for question in found.questions]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Bench where they cut, 31 foot candles.", "violates"),
        ("Light at the expo shelf 24 foot candles, only needs 20.", "meets"),
        ("Light at the pass 24 foot candles.", "undetermined"),
    ],
)
def test_light_is_judged_by_what_is_done_there_or_the_need_said(said: str, verdict: str) -> None:
    (reading,) = meant(said).readings
    assert reading.check is not None and reading.check.verdict == verdict


@pytest.mark.parametrize(
    ("said", "corrected"),
    [
        ("Milk at 51, I had them throw it out.", True),
        ("Milk at 51, told them to throw it out.", False),
        ("Employee came back from a smoke and put gloves on without washing.", False),
    ],
)
def test_what_the_inspector_had_done_is_done(said: str, corrected: bool) -> None:
    (finding,) = meant(said).findings
    assert finding.corrected_on_site is corrected


def test_also_copies_a_figure_to_a_food_alone_and_not_to_what_is_told_next() -> None:
    assert shorts("Ham 38, also the turkey.") == ["38 cold_holding ham", "38 cold_holding turkey"]
    assert shorts("Minced pork 38.", "Also the slicing machine for the meat, they never sanitize it.") == [
        "38 cold_holding minced pork"
    ]


def test_a_floor_sink_is_no_floor_that_things_stand_on() -> None:
    found = meant(
        "Drain pipe inside the floor sink. The prep sink is right, I get a 2 inch gap over an inch pipe."
    )
    assert "3-305.11" not in [finding.provision for finding in found.findings]
    assert (found.readings[0].stage, found.readings[0].item) == ("other", "gap")


def test_going_back_to_measure_again_takes_nothing_back() -> None:
    found = meant("Gravy 128 on the line.", "Back to the gravy, 141.")
    assert [reading.value for reading in found.readings] == [128, 141]
    assert [
        reading.value for reading in meant("Hummus 41.", "Going back to the hummus, that was 47.").readings
    ] == [47]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Chicken out of the fryer, thighs 171, breasts 168.", ["thighs", "breasts"]),
        ("Chicken out of the fryer, thigh 171, breast 168.", ["Chicken", "Chicken"]),
    ],
)
def test_thighs_are_a_food_and_a_thigh_is_a_part_of_one(said: str, expected: list[str]) -> None:
    assert [reading.item for reading in meant(said).readings] == expected


def test_tenths_joined_without_a_point_are_doubted() -> None:
    (reading,) = meant("Salami forty one five.").readings
    assert ([doubt.code for doubt in reading.doubts], reading.alternatives) == (["split_number"], (41,))
