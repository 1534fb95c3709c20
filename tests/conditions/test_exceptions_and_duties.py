"""What a promise, an exception or a duty leaves of a violation.

What it says: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


def told(*lines: str) -> list[str]:
    return [f"{one.provision} {one.class_}" for one in meant(*lines).findings]


def asked(*lines: str) -> set[str]:
    return {section for one in meant(*lines).questions for section in one.provisions}


# what became of it


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Raw chicken over lettuce, chef promised to move it.", "3-302.11(A)(1) P"),
        ("Toxic bottle over plates, promised to relocate it.", "7-201.11 P"),
        ("Can opener dirty, they promised to clean it tonight.", "4-601.11(A) Pf"),
        ("No soap, they will bring it Thursday.", "6-301.11 Pf"),
        ("Cutting boards deeply scored, will be replaced.", "4-501.12 C"),
        ("Raw chicken over lettuce, not corrected.", "3-302.11(A)(1) P"),
        ("No soap, was not corrected during the inspection.", "6-301.11 Pf"),
    ],
)
def test_a_promise_leaves_the_violation(said: str, expected: str) -> None:
    """What was seen is a violation until it is put right: 8-405.11."""
    (finding,) = meant(said).findings
    assert f"{finding.provision} {finding.class_}" == expected
    assert not finding.corrected_on_site


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("No soap, corrected.", "6-301.11 Pf"),
        ("Turkey breast wasn't dated, sous chef dated it when I pointed it out.", "3-501.17 Pf"),
        ("Deli turkey was not dated, cook dated it for the 7th.", "3-501.17 Pf"),
        ("Roach on the wall, killed it.", "6-501.111(C) Pf"),
        ("Moldy cheese, discarded? yes.", "3-101.11 P"),
    ],
)
def test_what_was_put_right_was_a_violation(said: str, expected: str) -> None:
    """Corrected on site is a mark on a violation, not its absence: annex 7, form 3-A."""
    assert told(said) == [expected]


def test_only_what_was_told_before_can_stay_uncorrected() -> None:
    """8-405.11(A): corrected in the time agreed."""
    assert told("Chlorine 10, not corrected at the time of inspection.") == ["4-501.114 P"]
    assert told("Item 8 from last time, not corrected.") == ["8-405.11 Pf"]


# all but one


@pytest.mark.parametrize(
    ("said", "section"),
    [
        ("All ready to eat foods are date marked except the sliced ham.", "3-501.17"),
        ("Didn't see any droppings except a few behind the water heater.", "6-501.111(C)"),
        ("No droppings anywhere except under the sink, about ten.", "6-501.111(C)"),
        ("All chemicals labeled except one spray bottle of sanitizer.", "7-102.11"),
        ("All food covered except the flour.", "3-302.11(A)(4)"),
        ("No pests except two live roaches by the dishwasher.", "6-501.111(C)"),
    ],
)
def test_an_exception_from_good_order_is_a_violation(said: str, section: str) -> None:
    assert section in {one.provision for one in meant(said).findings} | asked(said)


@pytest.mark.parametrize(
    "said",
    [
        "Everything date marked except the ketchup.",
        "No droppings, except last time there were some.",
        "Nobody's sick, except one guy who called out.",
    ],
)
def test_an_exception_that_breaks_no_rule_is_none(said: str) -> None:
    assert told(said) == []


# what the code asks for


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Irreversible label read less than 160.", ["4-703.11 P"]),
        ("Thermolabel didn't hit 160.", ["4-703.11 P"]),
        ("Dish machine heat strip stayed white.", ["4-703.11 P"]),
        ("Heat strip didn't turn black.", ["4-703.11 P"]),
        ("Heat strip turned black, good.", []),
    ],
)
def test_a_label_that_does_not_turn_tells_of_dishes_not_sanitized(said: str, expected: list[str]) -> None:
    """160 °F on the surface, by an irreversible indicator: 4-703.11(B)."""
    assert told(said) == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("He washed hands for 5 seconds.", ["2-301.12 P"]),
        ("He washed for about five seconds and put gloves on.", ["2-301.12 P"]),
        ("Cook washed his hands for 15 seconds.", ["2-301.12 P"]),
        ("Washed hands for 20 seconds, good.", []),
        ("He washed hands for twenty five seconds.", []),
        ("Rinsed lettuce for 5 seconds.", []),
        ("Cook refused to wash hands.", ["2-301.14 P"]),
    ],
)
def test_hands_are_washed_for_20_seconds(said: str, expected: list[str]) -> None:
    """At least 20 seconds: 2-301.12(A); when: 2-301.14."""
    assert told(said) == expected


@pytest.mark.parametrize(
    "said",
    [
        "Ready-to-eat ham on the top shelf and raw chicken below it.",
        "Salads up top with raw chicken below them.",
        "Raw chicken on the bottom, lettuce above it.",
    ],
)
def test_raw_food_below_is_stored_right(said: str) -> None:
    """3-302.11(A)(1)."""
    assert told(said) == []


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("No paper towels at bar hand sink but there's a hand dryer.", []),
        ("No paper towels, they use a hand dryer.", []),
        ("Paper towels out at the prep hand sink, air dryer works though.", []),
        ("No paper towels and the hand dryer is broken.", ["6-301.12 Pf"]),
        ("No paper towels or hand dryer.", ["6-301.12 Pf"]),
        ("Hand dryer not working, no paper towels.", ["6-301.12 Pf"]),
    ],
)
def test_a_hand_dryer_will_do_for_towels(said: str, expected: list[str]) -> None:
    """6-301.12(C) and (D)."""
    assert told(said) == expected


@pytest.mark.parametrize(
    "said", ["Cole slaw no date but made this morning.", "Macaroni salad made this morning, not dated."]
)
def test_food_of_this_morning_is_only_asked_about(said: str) -> None:
    """A date mark for what is held for more than 24 hours: 3-501.17(A)."""
    assert told(said) == []
    assert "3-501.17" in asked(said)


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Ketchup no date. Mustard opened no date.", []),
        ("Mayonnaise opened no date.", []),
        ("Hard cheese no date mark, block of cheddar.", []),
        ("House mayo no date.", ["3-501.17 Pf"]),
        ("Tuna salad no date mark, ketchup no date.", ["3-501.17 Pf"]),
    ],
)
def test_what_needs_no_date_mark(said: str, expected: list[str]) -> None:
    """Food that needs temperature control: 3-501.17(A); hard cheese is exempt: (G)."""
    assert told(said) == expected


def test_slime_on_nozzles_is_not_clean_to_sight() -> None:
    """4-601.11(A); 4-602.11(E)(4), how often they must be cleaned, would do as well."""
    assert {"4-601.11(A) Pf", "4-602.11(E) C"} & set(told("Soda nozzles slimy."))


def test_mold_in_an_ice_machine_is_not_clean_to_sight() -> None:
    """4-601.11(A); 4-602.11(E)(4), how often it must be cleaned, would do as well."""
    assert {"4-601.11(A) Pf", "4-602.11(E) C"} & set(told("Ice machine has black mold on the chute."))


def test_an_open_cut_is_no_illness_by_itself() -> None:
    """A boil or an infected wound that is open or draining: 2-201.12(I)."""
    assert told("Cook with an open cut on his thumb, no bandage. Put on a finger cot and glove.") == []
    assert told("Cook with an open cut on his thumb, it's red and weeping, no bandage and no glove.") == [
        "2-201.12 P"
    ]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Thermometer off by 1 degree in ice water.", []),
        ("Thermometer off by 6 degrees, they recalibrated it.", ["4-502.11(B) Pf"]),
        ("Dish machine gauge off by 20 degrees.", ["4-203.12 Pf"]),
    ],
)
def test_a_food_thermometer_is_right_within_2_degrees(said: str, expected: list[str]) -> None:
    """4-203.11, 4-502.11(B); of air and water 4-203.12."""
    assert told(said) == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Thermometer off by 6 degrees.", ["4-502.11(B)"]),
        ("Cooler thermometer off by 6 degrees.", ["4-203.12"]),
        ("Thermometers all calibrated, off by nothing.", []),
    ],
)
def test_a_thermometer_that_is_off_is_cited_once(said: str, expected: list[str]) -> None:
    """For food 4-203.11 and 4-502.11(B), of a unit 4-203.12."""
    assert [finding.provision for finding in meant(said).findings] == expected
