"""What dictations of the latest rounds told otherwise than the rules knew, in other words than theirs.

Limits: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged, meant, shorts


def codes(*lines: str, reading: int = -1) -> list[str]:
    return [doubt.code for doubt in meant(*lines).readings[reading].doubts]


def sections(*lines: str) -> list[str]:
    return [finding.provision for finding in meant(*lines).findings]


def verdicts(*lines: str) -> list[tuple[str, str]]:
    return [(stage, verdict) for _, stage, _, verdict in judged(*lines)]


# figures


def test_a_whole_number_before_a_half_may_be_printed_as_a_word() -> None:
    """Six inches off the floor: 3-305.11(A)(3)."""
    (reading,) = meant("Flour sacks on a board, and the board's to and a half inches off the floor.").readings
    assert (reading.value, reading.unit, reading.check and reading.check.verdict) == (2.5, "inch", "violates")
    assert "homophone" in [doubt.code for doubt in reading.doubts]


def test_a_pipe_is_told_by_its_width_without_a_word_for_inches() -> None:
    """An air gap is twice the diameter of the pipe: 5-202.13."""
    gap, pipe = meant("Soda drain, air gap measures 2 inches and it's a three quarter line.").readings
    assert (pipe.value, pipe.unit) == (0.75, "inch")
    assert gap.check is not None and gap.check.limit == 1.5


def test_a_meter_that_shows_a_part_of_one_tells_of_water_activity() -> None:
    said = meant("Beef jerky, meter says point eight one. Toffee, 0.74.")
    assert [(reading.kind, reading.value) for reading in said.readings] == [
        ("water_activity", 0.81),
        ("water_activity", 0.74),
    ]


def test_a_corrected_figure_is_in_the_scale_of_the_list() -> None:
    said = meant("Cold well, custard 4 degrees Celsius, milk 3.5, egg salad 80, sorry, 8.")
    assert [(reading.value, reading.unit) for reading in said.readings] == [
        (4, "degC"),
        (3.5, "degC"),
        (8, "degC"),
    ]


def test_how_far_off_a_light_meter_was_held_is_no_reading() -> None:
    said = meant("Walk-in, held it at 30 inches like you should, 6 foot candles.")
    assert [reading.unit for reading in said.readings] == ["foot_candle"]


def test_what_opens_an_utterance_may_be_the_time() -> None:
    said = meant(
        "Jambalaya in the blast chiller, 135 at noon, at 1.05 it's 92.", "Okay 1.52, jambalaya's 68."
    )
    assert [reading.value for reading in said.readings] == [135, 92, 68]


def test_just_the_limit_behind_what_breaks_it_is_doubted_or_set_aside() -> None:
    """Poultry: 165 °F, 3-401.11(A)(3)."""
    said = meant("The turkey burgers were on the plates already, 149. Poultry, one sixty five.")
    assert all("perhaps_the_limit" in {d.code for d in r.doubts} for r in said.readings if r.value == 165)
    assert "perhaps_the_limit" not in codes("Turkey burgers 149. Back on.", "Now they're 165.")
    assert "perhaps_the_limit" not in codes("Turkey burgers 149. Back on.", "Turkey burgers 171.")


def test_a_figure_that_is_said_over_at_once_falls() -> None:
    said = meant("Sandwich line, turkey 37, gouda 92. Twenty nine. gouda's 29, my mouth isn't awake.")
    assert [reading.value for reading in said.readings] == [37, 29]
    assert [withdrawn.reading.value for withdrawn in said.withdrawn] == [92]


def test_a_slip_told_between_two_figures_takes_the_first_one_back() -> None:
    said = meant("sushi rice, meter gives me 4.0. other tub 4.8, hang on, I didn't rinse the probe. 4.1.")
    assert [reading.value for reading in said.readings] == [4.0, 4.1]


def test_a_food_may_be_the_same_as_another_one() -> None:
    """And not as what was said last."""
    assert shorts("hot bar, creamed corn 146, gravy 157.", "Green beans same as the corn.")[-1] == (
        "146 hot_holding green beans"
    )
    assert len(shorts("hot bar, corn 146, gravy 157.", "Same as last time, nothing.")) == 2


def test_a_part_of_one_behind_a_water_activity_is_another() -> None:
    said = meant(
        "Beef sticks water activity 0.81 on their meter.", "Turkey sticks again, a fresh piece, 0.9."
    )
    assert [(reading.kind, reading.value) for reading in said.readings][-1] == ("water_activity", 0.9)


# what it is of


@pytest.mark.parametrize(
    "said", ["Skewers off the charcoal 149.", "Schnitzel from the pan 150.", "Fajitas from the skillet 152."]
)
def test_meat_that_nobody_named_may_be_poultry(said: str) -> None:
    """Whole meat 145 °F, ground 155 °F, poultry 165 °F: 3-401.11(A)."""
    assert verdicts(said) == [("cooking", "undetermined")]


def test_a_food_is_what_it_was_called_before() -> None:
    """Chicken livers are poultry, others are not: 3-401.11(A)(3)."""
    said = meant("Chicken livers off the grill, 149. Back on.", "Livers 158.")
    assert [reading.check and reading.check.limit for reading in said.readings] == [165, 165]


def test_cases_of_a_delivery_are_no_display_cases() -> None:
    """Cold food at 41 °F or less on receipt: 3-202.11(A)."""
    said = meant("There's a truck. Loading dock.", "Pork loins, first case 47, second case 48.")
    assert [(reading.stage, reading.place) for reading in said.readings] == [
        ("receiving", "Loading dock")
    ] * 2


def test_food_named_with_a_time_plan_is_under_it_later_too() -> None:
    """Time as a control, written down and marked: 3-501.19."""
    said = meant(
        "Salsa bar, crema and guacamole with no ice, they're doing the four hour thing, every sticker says "
        "out at 11, toss at 3, and the sheet with the steps is taped up.",
        "crema's 66 for what it's worth, doesn't matter under that.",
    )
    assert [(reading.stage, reading.check and reading.check.verdict) for reading in said.readings] == [
        ("time_control", "none")
    ]
    assert shorts("Crema's 66 on the salsa bar.") == ["66 cold_holding crema"]


def test_a_paper_and_marked_times_make_a_time_plan() -> None:
    with_both = (
        "Slice window, they run on time, procedure's on the wall, stickers on the trays. Mushroom pizza 94."
    )
    assert verdicts(with_both) == [("time_control", "none")]
    without = (
        "Slice window, they run on time, no procedure anywhere, stickers on the trays. Mushroom pizza 94."
    )
    assert verdicts(without) == [("time_control", "undetermined")]


def test_a_machine_that_is_called_the_chemical_one_washes_cooler() -> None:
    """120 °F for machines with chemicals, 150 °F for those with two temperatures: 4-501.110."""
    assert verdicts("Door type washer, chemical one. Wash was 131.") == [("machine_wash", "meets")]


def test_dry_food_out_of_temperature_depends_on_its_ph() -> None:
    """At a water activity of 0.92 to 0.95 food of pH 4.2 or less needs no control: 1-201.10, table B."""
    said = meant("lemon cream filling, sitting out, 70 degrees, water activity .93. I'm out of pH strips.")
    assert [reading.check and reading.check.verdict for reading in said.readings] == ["undetermined", "none"]
    assert any("find out its pH" in question.text for question in said.questions)
    known = meant("lemon cream filling, sitting out, 70 degrees, water activity .93 and the pH is 5.5.")
    assert known.readings[0].check is not None and known.readings[0].check.verdict == "violates"


# violations


def test_each_pattern_of_a_sentence_is_weighed_without_what_the_others_find() -> None:
    """5-501.113, 5-501.114."""
    said = "Out back the dumpster lids are wide open and there's no plug in it, and grease all over the pad."
    assert {"5-501.113", "5-501.114"} <= set(sections(said))


def test_one_solution_breaks_a_limit_once_whatever_it_is_called() -> None:
    """4-501.114."""
    said = "Three comp in the back. Bleach side strip is 50 ppm, and the water in it's 66 degrees."
    assert sections(said) == ["4-501.114"]


def test_sections_that_agree_are_proposed_once_by_their_words() -> None:
    said = (
        "hand sink by the fryers, I can't even see it, there's a stack of sheet trays in it and a mop bucket "
        "jammed up against the front"
    )
    assert len(sections(said)) == 1


@pytest.mark.parametrize(
    ("said", "then", "words"),
    [
        ("Spray bottle of blue stuff with no name on it.", "bottle got a marker label.", "marker label"),
        ("Dumpster lids wide open.", "Kid went out and shut the lids.", "shut the lids"),
    ],
)
def test_what_was_done_is_quoted_for_a_violation_that_was_put_right(said: str, then: str, words: str) -> None:
    (finding,) = meant(said, then).findings
    assert finding.corrected_on_site and finding.correction is not None and words in finding.correction


def test_another_sink_that_runs_warm_puts_the_first_one_not_right() -> None:
    """Water of 85 °F at a handwashing sink: 5-202.12(A)."""
    said = meant(
        "Hand sink by the oven, let it run a good minute, 71 and it's not climbing.",
        "They say maintenance knows. The one up front by the slicer gives me 104, no trouble there.",
    )
    assert [finding.corrected_on_site for finding in said.findings] == [False]
