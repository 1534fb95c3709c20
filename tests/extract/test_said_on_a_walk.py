"""Ways of saying figures on a walk-through that another reader found misread.

Limits and paragraphs: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


def values(*lines: str) -> list[float]:
    return [reading.value for reading in meant(*lines).readings]


def sections(*lines: str) -> list[str]:
    return [finding.provision for finding in meant(*lines).findings]


# figures


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("It's one twenty. Chicken on the line 138.", [138]),
        ("Chili 141 at one twenty.", [141]),
        ("We are at 1440 Harbor Street. Soup 150.", [150]),
    ],
)
def test_the_time_and_the_address_are_no_readings(said: str, expected: list[float]) -> None:
    assert values(said) == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The bucket of Quat 256 is empty.", []),
        ("Walk-in 1 chicken 38. Walk-in 2 ham 46.", [38, 46]),
    ],
)
def test_numbers_in_names_are_no_readings(said: str, expected: list[float]) -> None:
    assert values(said) == expected


def test_which_unit_it_is_stays_in_its_name() -> None:
    first, second = meant("Walk-in 1 chicken 38. Walk-in 2 ham 46.").readings
    assert (first.place, second.place) == ("Walk-in 1", "Walk-in 2")


@pytest.mark.parametrize("said", ["Ham 45, turkey likewise.", "Ham forty five, turkey ditto."])
def test_the_same_again_is_a_reading_of_its_own(said: str) -> None:
    assert [(reading.item, reading.value) for reading in meant(said).readings] == [
        ("Ham", 45),
        ("turkey", 45),
    ]


def test_the_strength_and_the_warmth_of_a_bucket() -> None:
    strength, warmth = meant("Sani bucket 200 quat at 76.").readings
    assert (strength.unit, strength.value, warmth.unit, warmth.value) == ("ppm", 200, "degF", 76)


@pytest.mark.parametrize(
    "said", ["Sanitizer temp 72 degrees, 200 ppm quat.", "Quat water is 72 degrees, 200."]
)
def test_what_is_called_a_temperature_is_one(said: str) -> None:
    assert ("degF", 72) in [(reading.unit, reading.value) for reading in meant(said).readings]


def test_pounds_on_a_gauge_are_a_pressure_and_pounds_of_food_are_not() -> None:
    (gauge,) = meant("Dish machine gauge says 20 pounds.").readings
    assert (gauge.unit, gauge.value) == ("psi", 20)
    assert values("They threw away 12 pounds of ham.") == []


# what was done about it


def test_of_two_foods_one_thrown_away_leaves_the_other() -> None:
    """What is not put right stays a violation of the visit (8-405.11)."""
    (finding,) = meant("Ham 49 in the walk-in, slaw 50. The slaw got dumped.").findings
    assert not finding.corrected_on_site
    (finding,) = meant("Ham 49 in the walk-in, slaw 50. The slaw got dumped. The ham got tossed.").findings
    assert finding.corrected_on_site


def test_the_whole_batch_is_all_of_it() -> None:
    (finding,) = meant(
        "Pickled eggs, first jar pH 4.9, the plan says 4.6 and below. Second jar of the eggs 5.1.",
        "The whole batch went in the dumpster.",
    ).findings
    assert finding.corrected_on_site


def test_the_other_end_of_a_range_puts_nothing_right() -> None:
    (finding,) = meant("Cold holding in the walk-in, ham 40 to 47.").findings
    assert not finding.corrected_on_site


def test_the_words_of_a_violation_do_not_tell_of_its_correction() -> None:
    assert all(
        not f.corrected_on_site for f in meant("Mop left in the bucket.", "Fryer oil is fine.").findings
    )


# whom it is told of


def test_what_customers_do_is_no_violation_of_workers() -> None:
    """2-401.12 is of food employees."""
    assert sections("Customer coughing at the counter into his hands.") == []
    assert sections("Cook coughing into his hands over the line.") == ["2-401.12"]


def test_a_clean_up_procedure_is_missed_where_vomit_is_spoken_of() -> None:
    """2-501.11."""
    assert "2-501.11" in sections("Somebody threw up last week.", "No written procedure for that.")
    assert "2-501.11" not in sections("No written procedure posted.")


@pytest.mark.parametrize(
    "said",
    [
        "Prep cook has a bandage on her finger and no glove.",
        "Band aid on his knuckle, no glove over it, chopping lettuce.",
    ],
)
def test_a_bandage_wants_a_glove_and_is_no_illness(said: str) -> None:
    """2-401.13."""
    assert sections(said) == ["2-401.13"]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("They wash and rinse but skip the sanitizer.", "4-702.11"),
        ("Raw chicken stored over the pineapple.", "3-302.11(A)(1)"),
        ("The hand sink is covered with a cutting board.", "5-205.11(A)"),
    ],
)
def test_conditions_in_plain_words(said: str, expected: str) -> None:
    assert expected in sections(said)


def test_day_dots_are_marks() -> None:
    """3-501.17."""
    assert "3-501.17(A)" not in sections("All prep has day dots.")


# taken for each other, or past its time


@pytest.mark.parametrize(
    "lines",
    [
        ("Ham 38, turkey 47. No, I had those swapped.",),
        ("Ham 38, turkey 47.", "Sorry, I got those backwards."),
    ],
)
def test_two_that_were_swapped_are_asked_about_and_nothing_is_put_right(lines: tuple[str, ...]) -> None:
    told = meant(*lines)
    assert [[doubt.code for doubt in reading.doubts] for reading in told.readings] == [["item_unsure"]] * 2
    assert [finding.corrected_on_site for finding in told.findings] == [False]


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("Sushi rice on time, marked out at 9, it's 72.", "out at 09:00, 5.5 hours before"),
        ("Sushi rice on time, marked out at 11, it's 72.", None),
        ("Cheese pie 112, sticker says discard by 2.15.", "to be gone 15 minutes before"),
        ("Cheese pie 112, sticker says discard by 3.15.", None),
        ("Cups on the six hour plan, out since 9, 62.", None),
        ("Cups on the six hour plan, out since 8, 62.", "time alone gives 6"),
    ],
)
def test_food_past_its_time_is_asked_about(said: str, asked: str | None) -> None:
    """Four hours, or six: 3-501.19(B) and (C). Said at half past two."""
    told = meant(said)
    late = [question.text for question in told.questions if "Is it past its time?" in question.text]
    assert len(late) == (asked is not None)
    assert all(asked is not None and asked in text for text in late)
    assert all(reading.clock is None for reading in told.readings)


@pytest.mark.parametrize(
    ("said", "section"),
    [
        ("Raw eggs cracked into a bucket, 48 degrees.", "3-501.16(A)(2)"),
        ("Pooled eggs 48 on the line.", "3-501.16(A)(2)"),
        ("Raw shell eggs 48 in the walk-in.", "3-501.16(B)"),
    ],
)
def test_eggs_out_of_their_shells_are_held_like_other_food(said: str, section: str) -> None:
    """41 °F: 3-501.16(A)(2); 45 °F around eggs in their shells: 3-501.16(B)."""
    assert sections(said) == [section]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("chili cooling. 135 at 20:00, 45 at 09:00", "violates"),
        ("chili cooling, 135 at 11:30 pm, 66 at 1 am", "meets"),
        ("rice cooling, 135 at 8 pm, 45 at 9 am", "violates"),
    ],
)
def test_a_night_of_cooling_keeps_its_halves_of_the_day(said: str, verdict: str) -> None:
    """70 °F within 2 hours, 41 °F within 6: 3-501.14(A)."""
    last = meant(said, at=None).readings[-1]
    assert last.check is not None and last.check.verdict == verdict
