"""Numbers that name a place, a time or a limit, and what is taken back or judged by what stands around it.

Limits: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged, meant, shorts, values


@pytest.mark.parametrize("heading", ["Flight kitchen, Celsius.", "Celsius.", "Cold room: Celsius."])
def test_a_heading_without_a_figure_tells_the_scale_of_the_visit(heading: str) -> None:
    assert values(f"{heading} Goulash 66.", "Rice 71, then 58.") == [
        (66, "degC"),
        (71, "degC"),
        (58, "degC"),
    ]


def test_a_scale_behind_one_figure_is_of_it_alone() -> None:
    assert values("Chicken salad 5, Celsius. Ham 41.") == [(5, "degC"), (41, "degF")]


def test_the_number_of_a_place_is_no_reading_when_it_is_said_again() -> None:
    said = (
        "Section 118 bar, three bay. Wash 96, iodine 8.",
        "Back at 118. Both redone. Wash 116, iodine 18.",
        "118 ice bin. Bottles in it.",
    )
    assert [value for value, _ in values(*said)] == [96, 8, 116, 18]


def test_a_figure_as_high_as_the_number_of_a_place_is_a_reading() -> None:
    assert [value for value, _ in values("Suite 140, slaw 38.", "Soup in the warmer 140.")] == [38, 140]


def test_a_figure_said_again_only_to_be_forgotten_falls_with_its_like() -> None:
    """4-501.112: at least 180 °F."""
    found = meant("Final rinse 168. Hold on, gauge still climbing, forget 168. 183, second rack 184.")
    assert [one.value for one in found.readings] == [183, 184]
    assert [one.reading.value for one in found.withdrawn] == [168]
    assert not found.findings


def test_what_was_told_in_the_sentence_before_is_struck_and_no_figure() -> None:
    found = meant(
        "Light at the clean end, 13 foot candles. Pot wash 26.",
        "Clean trays on the floor. Strike that, on a dolly, still wrapped.",
    )
    assert [one.value for one in found.readings] == [13, 26]


def test_a_figure_of_earlier_falls_by_words_of_its_own_utterance() -> None:
    assert values("Ham 44.", "No, hang on. Scratch that, it was on the rim.") == []


def test_food_in_which_the_probe_was_by_mistake_takes_the_figure_along() -> None:
    said = "Hot case. Sausage 132, shoot, no, that's the bread I'm in, down in the link it's 143."
    assert shorts(said) == ["143 hot_holding sausage"]


def test_the_time_at_which_food_went_in_is_not_when_it_was_read() -> None:
    (soup,) = meant("Hot box four. Barley soup, yesterday's, in cold at 8.40, 112 now.", at=None).readings
    assert soup.value == 112
    assert soup.clock is None


def test_hours_ago_are_no_number_of_a_pot() -> None:
    (chili,) = meant("Chili came out of cans into a crock pot 3 hours ago and it's only 96.").readings
    assert chili.place == "crock pot"


def test_twice_the_pipe_is_what_the_gap_must_be() -> None:
    """5-202.13: twice the diameter, and at least 1 inch."""
    _, gap = judged(
        "Prep sink faucet is three quarter inch and it ends one inch above the rim. Twice that is an inch "
        "and a half, so it's short."
    )
    assert (gap[0], gap[3]) == (1, "violates")


def test_food_beside_the_dock_was_not_received() -> None:
    assert (
        shorts("Truck's here, chicken 36.", "Hot box by the dock, gravy 146.")[1] == "146 hot_holding gravy"
    )


def test_a_plan_is_of_the_food_that_its_sentence_begins_with() -> None:
    """3-501.16(A)(2) for the one, 3-501.19 for the other."""
    said = "Reach in. Horchata jug 54. He emptied it. Pico's been on the time card since 9.30, over 5 hours."
    assert judged(said)[0][1:] == ("cold_holding", "Horchata", "violates")


@pytest.mark.parametrize(
    "said",
    [
        "Egg station, shell eggs parked by the burners, air right there is 58.",
        "Her chest has a thermometer in it that says 34, and mine in the air beside the eggs says 58.",
    ],
)
def test_air_at_the_eggs_is_held_against_the_limit_for_shell_eggs(said: str) -> None:
    """3-501.16(B): 45 °F."""
    assert [one.provision for one in meant(said).findings] == ["3-501.16(B)"]


def test_a_freezer_named_after_the_griddle_is_not_cooking() -> None:
    cold = judged("All Celsius.", "Griddle, omelettes 71.", "Minus 20 store, minus 19 on the door.")[1:]
    assert {verdict for *_, verdict in cold} == {"none"}


@pytest.mark.parametrize(
    "after",
    [
        "Writing it.",
        "Signed and racked before I got there.",
        "She signed for it.",
    ],
)
def test_what_is_written_or_signed_puts_nothing_right(after: str) -> None:
    (found,) = meant(f"Lamp two, turkey crown 123. {after}").findings
    assert not found.corrected_on_site


def test_soup_from_a_plant_is_held_to_135() -> None:
    """3-403.11(C): commercially processed food reaches 135 °F."""
    (soup,) = judged("The soup comes in frozen bags from a plant and it's 138 in the well.")
    assert soup[3] == "meets"


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("Dial in the pastry case says 35 and mine says 45.", True),
        ("Walk in. Wall thermometer reads 33, my probe 45 next to it.", True),
        ("All Celsius. Fridge dial says 3, mine says 7.", True),
        ("Walk in. Their gauge says 36, mine 38.", False),
        ("Walk in dial says 34. Freezer, mine says minus 2.", False),
    ],
)
def test_a_units_own_thermometer_far_from_the_inspectors_is_asked_about(said: str, asked: bool) -> None:
    """4-203.12: within 3 °F, 1.5 °C."""
    questions = [one for one in meant(said).questions if "4-203.12" in one.provisions]
    assert bool(questions) is asked


def test_a_thermometer_called_wrong_is_proposed_and_not_asked_about_as_well() -> None:
    found = meant("The dial in the pastry case says 35 and mine says 45, so that dial is lying to her.")
    assert [one.provision for one in found.findings] == ["4-203.12"]
    assert not [one for one in found.questions if "4-203.12" in one.provisions]


def test_food_tied_to_its_figure_is_not_taken_for_one_of_before() -> None:
    said = (
        "She is pouring the juice down the drain right now, so that's corrected. The cut watermelon is 38.",
        "The first nugget out of the oven was 171, but the second one is only 151, so she's putting the tray "
        "back in.",
        "The same nugget is 179 now, so they can go to the tables. And an antibiotic is standing in the "
        "fridge door next to the cheese sticks, not in a box or anything.",
    )
    assert meant(*said).readings[-1].item == "nugget"


def test_foods_told_before_one_that_went_in_cold_are_held() -> None:
    said = "Hot boxes. Short rib 151, mac 146, and then somebody loaded the beans in cold, they're 88."
    assert [stage for _, stage, *_ in judged(said)][:2] == ["hot_holding", "hot_holding"]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Final rinse 166. That should be 180.", 166),
        ("Light over the sink 14 foot candles. That should be 20.", 14),
        ("Ham 14. That should be 41.", 41),
        ("Soup 115. That should be 150.", 150),
    ],
)
def test_what_a_figure_should_be_is_a_limit_unless_it_was_misprinted(said: str, expected: float) -> None:
    """4-501.112: 180 °F; 6-303.11: 20 foot candles."""
    assert [value for value, _ in values(said)] == [expected]


@pytest.mark.parametrize("sorry", ["excuse me", "sorry", "no", "correction"])
def test_two_figures_of_one_time_are_one_said_anew(sorry: str) -> None:
    """3-501.14(A): 70 °F within two hours."""
    found = meant(f"The log says 135 at 11.50 and 93 at 1.50, {sorry}, 83 at 1.50.")
    assert [one.value for one in found.readings] == [135, 83]
    assert [one.reading.value for one in found.withdrawn] == [93]


def test_food_left_out_takes_no_figure_back() -> None:
    said = "The curtido jar on the table is pH 3.5 on my paper. Leave it out."
    assert values(said) == [(3.5, "pH")]


def test_a_second_machine_is_held_against_the_room_that_its_stand_asks_for() -> None:
    """4-402.12: 6 inches on the floor, 4 on a table."""
    said = "The tall machine is on legs, 7 inches clear under it. The little one on the counter has 4 inches."
    assert [(item, verdict) for _, _, item, verdict in judged(said)] == [
        ("tall machine", "meets"),
        ("little one", "meets"),
    ]


def test_what_a_dish_is_said_to_be_made_of_tells_its_limit() -> None:
    """3-401.11(A)(3): poultry, 165 °F."""
    assert judged("Souvlaki, that is chicken, 151 on the grill.") == [
        (151, "cooking", "Souvlaki", "violates")
    ]


@pytest.mark.parametrize(
    ("said", "stands", "fell"),
    [
        (
            "Sink's iodine, 30 ppm, over the 25. No, wait. Beer sign's on my strip. Took it outside, it's "
            "20. Iodine's fine, strike all that.",
            [20],
            [30],
        ),
        (
            "My probe in the slush 32, theirs 36. Off by 4, write it. No. That's water with 2 cubes in it. "
            "Packed it with ice and theirs is 32.5. Strike it.",
            [32, 32.5],
            [36],
        ),
        (
            "Acidified rice, plan says 4.2 at most, strip shows 4.4. Strip expired years back, forget the "
            "strip. Meter says 3.9.",
            [3.9],
            [4.4],
        ),
        ("Ham 44. No. Tuna is 38.", [44, 38], []),
    ],
)
def test_a_sentence_of_its_own_takes_back_what_is_told_anew(
    said: str, stands: list[float], fell: list[float]
) -> None:
    found = meant(said)
    assert [one.value for one in found.readings] == stands
    assert [one.reading.value for one in found.withdrawn] == fell


def test_an_utterance_that_begins_with_no_corrects_the_figure_before_it() -> None:
    found = meant(
        "Sloppy joe meat in the blast chiller, log says 135 at 12.40, then 84 at 2.30.",
        "No. Held it to the light, that's a 64, he writes his sixes like a drunk.",
    )
    assert [one.value for one in found.readings] == [135, 64]
    assert [one.reading.value for one in found.withdrawn] == [84]
