"""Figures that another reader found taken for a wrong number, kind or stage.

Limits and paragraphs: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.extract.said import meant, shorts, values


def sections(*lines: str, at: datetime | None = None) -> list[str]:
    return [finding.provision for finding in meant(*lines, at=at).findings]


def verdicts(*lines: str, at: datetime | None = None) -> list[str]:
    return [one.check.verdict if one.check else "none" for one in meant(*lines, at=at).readings]


def asked(*lines: str, at: datetime | None = None) -> list[str]:
    """The sections that questions are about."""
    return [section for question in meant(*lines, at=at).questions for section in question.provisions]


def doubts(*lines: str) -> list[list[str]]:
    return [[doubt.code for doubt in reading.doubts] for reading in meant(*lines).readings]


# solutions (4-501.114)


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Quat 300, label says 200 to 400, pH 7.2.", [(300, "ppm"), (7.2, "pH")]),
        ("Quat 250, label 200 to 400, water 85, pH 6.", [(250, "ppm"), (85, "degF"), (6, "pH")]),
        ("Quat 300 label 150 to 400 water 78 and ph 6.5.", [(300, "ppm"), (78, "degF"), (6.5, "pH")]),
    ],
)
def test_a_ph_is_not_held_against_the_strength_on_the_label(
    said: str, expected: list[tuple[float, str]]
) -> None:
    assert values(said) == expected
    assert sections(said) == []


def test_a_ph_is_held_against_the_ph_on_the_label() -> None:
    assert verdicts("Quat 300, label pH 6 to 8, pH 9.")[-1] == "violates"
    assert verdicts("Quat 300, label pH 6 to 8, pH 7.")[-1] == "meets"


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Iodine 15 ppm water 68.", [(15, "ppm"), (68, "degF")]),
        ("Iodine 15 ppm water 72 pH 5.", [(15, "ppm"), (72, "degF"), (5, "pH")]),
    ],
)
def test_the_warmth_of_the_water_is_no_strength(said: str, expected: list[tuple[float, str]]) -> None:
    assert values(said) == expected


# figures in pieces


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Ham 43. 5. Turkey 40.", [43.5, 40]),
        ("Ham 41. 5, turkey 40. 2.", [41.5, 40.2]),
        ("Soup 132. 9, chili 140.", [132.9, 140]),
        ("carnitas 140 1", [141]),
        ("Lamb 150 1", [151]),
    ],
)
def test_a_figure_printed_in_pieces_is_one_and_doubted(said: str, expected: list[float]) -> None:
    assert [value for value, _ in values(said)] == expected
    assert "split_number" in doubts(said)[0]


def test_a_span_behind_a_stop_is_no_fraction() -> None:
    assert values("Brisket 155. 3 minutes.")[0] == (155, "degF")


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Rice 130 sharp.", ["130 hot_holding rice"]),
        ("Chili one thirty five sharp.", ["135 hot_holding chili"]),
        ("Chorizo 120 something.", ["120 hot_holding chorizo"]),
        ("Lasagna 135 on the dot.", ["135 hot_holding lasagna"]),
        ("Ham forty something, 43.", ["43 cold_holding ham"]),
        ("Rice out at one thirty sharp.", []),
    ],
)
def test_a_figure_is_not_lost_to_the_word_behind_it(said: str, expected: list[str]) -> None:
    assert shorts(said) == expected


def test_a_figure_and_something_is_doubted() -> None:
    assert doubts("Chorizo 120 something.")[0]


# stages


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Shrimp 52, cook refused to discard.", ["3-501.16(A)(2)"]),
        ("Shrimp 50 and they refused to toss.", ["3-501.16(A)(2)"]),
        ("Beef tips refused by the customer, 128 on the line.", ["3-501.16(A)(1)"]),
        ("We refused the shrimp at the dock, 52.", ["3-202.11(A)"]),
    ],
)
def test_only_a_refused_delivery_is_one(said: str, expected: list[str]) -> None:
    assert sections(said) == expected


@pytest.mark.parametrize(
    "said", ["Scrambled eggs for the buffet cooked to 148.", "Scrambled eggs for buffet 148 cooking temp."]
)
def test_where_food_will_go_is_not_where_it_is(said: str) -> None:
    (reading,) = meant(said).readings
    assert (reading.stage, reading.check and reading.check.section) == ("cooking", "3-401.11(A)(2)")


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Tuna salad made an hour ago with room temp cans, 55.", "cooling"),
        ("Sliced tomatoes 56 just cut from room temperature.", "cooling"),
        ("Pico 56, they just made it from tomatoes at room temp.", "cooling"),
        ("Coleslaw 55, they made it an hour ago.", "cooling"),
        ("Potato salad 47, it was made twenty minutes ago", "cooling"),
        ("Coleslaw made yesterday, 55.", "cold_holding"),
        ("Ham 50, sliced an hour ago.", "cold_holding"),
        ("Pico 56, left at room temp.", "cold_holding"),
        ("Tuna salad 40, made an hour ago.", "cold_holding"),
    ],
)
def test_food_just_made_cools(said: str, expected: str) -> None:
    """3-501.14(B): four hours from room temperature."""
    assert [reading.stage for reading in meant(said, at=None).readings] == [expected]
    assert (verdicts(said) == ["undetermined"]) == (expected == "cooling")


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Dumplings on the cart 1 22. They have a four hour sticker.", "time_control"),
        ("Dumplings on the cart 122. They don't have a four hour sticker.", "hot_holding"),
    ],
)
def test_a_sticker_of_hours_is_time_control(said: str, expected: str) -> None:
    assert [reading.stage for reading in meant(said).readings] == [expected]


# times and dates


@pytest.mark.parametrize(
    ("said", "hour", "minute", "expected"),
    [
        ("Beans 135 at 8:30, 70 at 10:15, 41 now.", 19, 0, "undetermined"),
        ("Chili 135 at 9:00. 69 at 11:00. Now 47.", 16, 10, "violates"),
        ("Chili 135 at 9:00. 69 at 11:00. Now 47.", 14, 10, "undetermined"),
        ("Chili 135 at 9:00. 69 at 11:00. Now 41.", 14, 10, "meets"),
    ],
)
def test_now_is_when_it_was_said(said: str, hour: int, minute: int, expected: str) -> None:
    """70 °F within 2 hours, 41 °F within 6: 3-501.14(A)."""
    assert verdicts(said, at=datetime(2026, 3, 9, hour, minute, tzinfo=UTC))[-1] == expected


@pytest.mark.parametrize(
    ("said", "past"),
    [
        ("Turkey dated 2/25, today is March 9th.", True),
        ("Ham opened February 20, today is March 9.", True),
        ("Lasagna prep date February 28, today is March 9.", True),
        ("Potato soup dated 3/1, seven days, today is the 12th.", True),
        ("Ham made December 28, today is January 9.", True),
        ("Turkey dated March 2, today is March 9.", True),
        ("Turkey dated March 3, today is March 9.", False),
        ("Flour opened February 1, today is March 9.", False),
        ("Ham discard date March 1, today is March 9.", False),
    ],
)
def test_two_dates_tell_how_long_food_was_kept(said: str, past: bool) -> None:
    """3-501.17 and 3-501.18: seven days, that of making counted."""
    assert ("3-501.18" in asked(said)) == past
    assert meant(said).readings == ()


@pytest.mark.parametrize(
    ("said", "late"),
    [
        ("Pizza slices out since 9:30, discard 1:30, it's 2:15 now.", True),
        ("Rice at room temp on time control since 8 a.m., it's 1 now.", True),
        ("Cut tomatoes held on time since 9, it's 2 PM.", True),
        ("Pizza slices out since 9:30, discard 1:30, it's 1:15 now.", False),
        ("Pizza slices delivered at 9:30, it's 2:15 now.", False),
    ],
)
def test_times_alone_tell_that_food_is_past_its_hours(said: str, late: bool) -> None:
    """3-501.19(B): four hours."""
    assert any(section.startswith("3-501.19(B)") for section in asked(said)) == late
