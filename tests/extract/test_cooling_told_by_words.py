"""Food that cools, where the words beside one reading tell when it began.

Limits: FDA Food Code 2022, 3-501.14(A): 135 to 70 °F within two hours, and to 41 °F within six in all. All
lines are said at half past two. Wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


@pytest.mark.parametrize(
    "said",
    [
        "Pork shoulder in the walk-in, cooked last night, still 52 this morning.",
        "Rice from yesterday in a deep tub in the walk-in, 49 in the middle.",
        "Stock has been cooling since 7 this morning, it's 61.",
        "The refried beans came off the stove at 10, it's one now, they're at 84.",
        "Beef stew cooling in the walk-in for about four hours, I get 78.",
        "Clam chowder started cooling three hours ago and it's only down to 81.",
        "Chili was pulled off the heat at 9.30, now it's 95.",
        "Soup cooling on the speed rack since 11.30, it's 102.",
        "Chowder, they say it came off at noon, and I've got 88.",
        "Pork shoulder cooling in the walk-in, it's at 52, that's way past six hours.",
    ],
)
def test_too_long_by_the_words_is_a_violation(said: str) -> None:
    found = meant(said)
    check = found.readings[-1].check
    assert check is not None
    assert (check.verdict, check.why.endswith("told by the words")) == ("violates", True)
    assert [finding.provision for finding in found.findings][:1] == ["3-501.14(A)"]


@pytest.mark.parametrize(
    "said",
    [
        "Gravy cooling in shallow pans since 12.45, 110.",  # until 2:45 for 70
        "Stock in the ice bath cooling, twenty minutes in, 118.",
        "Chili cooling, two hours to go, 95.",
        "Beans cooling, 84.",
    ],
)
def test_what_has_time_left_or_no_time_told_is_open(said: str) -> None:
    found = meant(said)
    assert [reading.check and reading.check.verdict for reading in found.readings] == ["undetermined"]
    assert found.findings == ()


def test_a_start_is_not_the_time_of_the_reading() -> None:
    (reading,) = meant("Chili was pulled off the heat at 9.30, now it's 95.").readings
    assert reading.clock is None


def test_the_time_it_is_now_is_that_of_the_reading() -> None:
    (reading,) = meant("The beans came off the stove at 10, it's one now, they're at 84.").readings
    assert reading.clock == "13:00"


def test_what_another_food_has_been_through_tells_nothing_of_this_one() -> None:
    found = meant("The stew is from last night, 40. Fresh beans cooling, 84.")
    assert [reading.check and reading.check.verdict for reading in found.readings][-1] == "undetermined"


def test_times_after_one_in_the_evening_are_of_that_evening() -> None:
    found = meant("Off the chiller sheet. Lobster bisque cooling, 135 at 9 pm, 68 at 10.40, 38 at 1.15.")
    assert [reading.clock for reading in found.readings] == ["21:00", "22:40", "01:15"]
    assert [reading.check and reading.check.verdict for reading in found.readings] == [
        "none",
        "meets",
        "meets",
    ]


def test_food_first_read_when_it_was_no_longer_hot_goes_by_when_it_was_cooked() -> None:
    found = meant("The beans were at 90 at noon and 75 at 2, cooked at 11.30.")
    assert [reading.check and reading.check.verdict for reading in found.readings] == [
        "undetermined",
        "violates",
    ]
    assert [finding.provision for finding in found.findings] == ["3-501.14(A)"]
