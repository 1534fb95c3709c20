"""What was put right during the visit, told from promises, stopgaps, states, and what somebody else did.

Sections after the Food Code 2022; when a violation counts as corrected on site, and all wordings: common
practice, no source.
"""

from __future__ import annotations

import pytest

from extract import extract
from shared.types import Utterance
from tests.extract.said import OUTVOTED, rules


def corrected(*said: str) -> dict[str, bool]:
    """The proposed sections, without their paragraphs, with whether each was corrected on site."""
    found = extract([Utterance(text) for text in said], rules=rules())
    return {one.provision.partition("(")[0]: one.corrected_on_site for one in found.findings}


@pytest.mark.parametrize(
    "after",
    [
        "The girl bagged it and walked it out to the alley.",
        "He's wheeling the salad out back, bye bye.",
        "Straight in the garbage with it.",
        "Egg salad to the hogs.",
        "It went down the drain, he was sad about it.",
        "These four pounds I had thrown.",
        "The tray was scraped into the can.",
        "Gone.",
        "Gone down the chute, every tub.",
        "They didn't fight me on it, trash.",
        "Owner drove it home.",
        "Out it went.",
    ],
)
def test_food_out_of_its_limits_is_put_right_when_it_is_gone_in_whatever_words(after: str) -> None:
    assert corrected("Cold case, egg salad 52.", after) == {"3-501.16": True}


@pytest.mark.parametrize(
    "after",
    [
        "Owner says it goes out tonight.",
        "He'll bag it after the rush.",
        "Told them to toss it.",
        "He wants to keep it, we'll talk.",
        "Still there when I left.",
        "It had to be down to 41 by now.",
        "It's at 51 now.",
        "She stirred it and put the spoon away.",
        "He wrote it on his clipboard.",
        "They turned the knob down a notch.",
        "Driver left already.",
        "She pushed it back a bit so I could pass.",
    ],
)
def test_a_promise_or_no_change_puts_nothing_right(after: str) -> None:
    assert corrected("Cold case, egg salad 52.", after) == {"3-501.16": False}


@pytest.mark.parametrize(
    ("before", "after", "section"),
    [
        ("Spray bottle of something pink, no name on it.", "He has written floor cleaner on it.", "7-102.11"),
        ("Side door propped with a brick.", "Brick's gone, door's shut now.", "6-202.15"),
        ("Cook was sick twice last night and he's plating.", "The boss sent him home.", "2-201.12"),
        pytest.param(  # 6-404.11 is put right, which is proposed beside it
            "Dented cans on the shelf for sale.",
            "These four she takes off the shelf.",
            "3-202.15",
            marks=OUTVOTED,
        ),
        ("Delivery, cod at 48.", "The cod goes back on the lorry, driver signs.", "3-202.11"),
        ("Leak under the hand sink, dripping on the floor.", "He tightened the nut, it's dry.", "5-205.15"),
        ("Both lids of the garbage container stood open.", "They have been closed.", "5-501.113"),
        ("Raw cod thawing in still water, tap's off.", "She's got it running over them now.", "3-501.13"),
        (
            "Insulin pens lie loose among the yogurts.",
            "At 2.40 the nurse has carried them to her room.",
            "7-207.12",
        ),
        ("Cook kneading with a watch and two rings on.", "Off they came.", "2-303.11"),
        ("Bain marie, lentil curry 121.", "She ladles it all into the stock pot, 168 now.", "3-501.16"),
    ],
)
def test_whatever_ends_the_violation_counts(before: str, after: str, section: str) -> None:
    assert corrected(before, after)[section]


@pytest.mark.parametrize(
    ("said", "section"),
    [
        ("Spray bottle of something pink, no name on it. Spices are labeled, sugar's labeled.", "7-102.11"),
        ("Rice in the walk-in with no cover on it. Otherwise fine, covered pans, dates.", "3-302.11"),
        ("Slicer has old meat on the guard. Last night it was cleaned, they claim.", "4-601.11"),
        ("Can opener blade caked with old food. How do they clean it? They don't.", "4-601.11"),
        ("He poured the mop bucket out in the prep sink.", "6-501.15"),
    ],
)
def test_a_state_a_claim_a_question_and_the_violation_put_nothing_right(said: str, section: str) -> None:
    assert corrected(said)[section] is False


def test_of_two_violations_the_one_is_put_right_that_the_words_are_of() -> None:
    told = corrected(
        "Cook handling buns with bare hands. Spray bottle of something pink, no name on it.",
        "The buns went in the bin and he gloved up.",
    )
    assert (told["3-301.11"], told["7-102.11"]) == (True, False)


def test_someone_sent_home_does_not_write_the_missing_procedure() -> None:
    told = corrected(
        "Cook was sick twice last night and he's plating. No written procedure for cleaning up vomit.",
        "He's gone home.",
    )
    assert told == {"2-201.12": True, "2-501.11": False}


def test_what_was_done_may_stand_in_the_run_of_words_that_tells_the_violation() -> None:
    told = corrected(
        "so the scoop is buried in the ice bin, handle and all, and okay he's dug it out, washed it"
    )
    assert told == {"3-304.12": True}


def test_thrown_food_leaves_the_slow_way_of_cooling_as_it_was() -> None:
    told = corrected(
        "Bean soup in the walk-in, a deep bucket with the lid snapped on, 135 at 9.30 and 84 at 11.45.",
        "He's wheeling it out to the trash.",
    )
    assert told == {"3-501.14": True, "3-501.15": False}


def test_a_bucket_mixed_again_brings_no_test_strips() -> None:
    told = corrected(
        "Sani bucket, quat 100, label says 200 to 400. No test strips anywhere.",
        "Remixed, 300.",
    )
    assert told == {"4-501.114": True, "4-302.14": False}
