"""What became of each thing, told in one go when the speaker is about to leave.

Which words put a violation right: common practice, no source. Sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


def corrected(*said: str) -> dict[str, str | None]:
    """The proposed sections without their paragraphs, with the words that tell of the correction; None: not
    corrected on site."""
    return {
        one.provision.partition("(")[0]: one.correction if one.corrected_on_site else None
        for one in meant(*said).findings
    }


DELI = (
    "Slicer two, come look at the back of this blade with me, that's dried cheese and that's meat.",
    "Case. Roasted turkey 38, ham 37. Potato salad 46, it's mounded up way over the rim.",
)


def test_a_list_of_what_was_done_keeps_its_subject() -> None:
    """`Slicer two's been taken apart, washed`: the slicer was washed."""
    ended = corrected(*DELI, "Okay. Slicer two's been taken apart, washed, sanitized, back together.")
    assert ended["4-601.11"] is not None
    assert ended["3-501.16"] is None


def test_it_is_what_its_own_sentence_names() -> None:
    ended = corrected(
        *DELI, "Slicer two's back together. Potato salad they scooped out and dumped it.", "That's the deli."
    )
    assert ended["3-501.16"] == "dumped it"


def test_how_a_thing_is_now_is_news_of_one_told_wanting_before() -> None:
    told = "Staff restroom. No soap. Paper's good, door closes by itself."
    assert corrected(told, "Aspirin's in his locker. Soap's filled.")["6-301.11"] == "Soap's filled"


def test_how_another_thing_is_in_the_same_utterance_is_none() -> None:
    assert corrected("Two white bins, no names on either one. The salt's labeled.") == {"3-302.12": None}


def test_bins_that_were_marked_have_their_names() -> None:
    told = "Two white bins, no names on either one."
    assert corrected(told, "Bins he marked with a sharpie.") == {"3-302.12": "Bins he marked with a sharpie"}


def test_a_board_thrown_out_is_scored_no_more() -> None:
    told = "Board he's on is all grooves, black in the grooves."
    assert corrected(told, "Board's thrown out, he's got a new one.") == {"4-501.12": "Board's thrown out"}


def test_light_read_again_at_the_same_table_shows_it() -> None:
    told = (
        "Ice table's fine. Light over the cutting table, 38 foot candles, you want 50 where there's knives."
    )
    (finding,) = meant(told, "So tubes are in, 61 now over the table.").findings
    assert (finding.provision, finding.corrected_on_site) == ("6-303.11", True)


@pytest.mark.parametrize(
    "after",
    [
        "I'll dump it when we close, he says.",
        "He's tossing the cantaloupe after close.",
        "Cantaloupe goes in the trash tonight.",
    ],
)
def test_what_is_put_off_puts_nothing_right(after: str) -> None:
    assert corrected("Cut cantaloupe 47.", after) == {"3-501.16": None}


def test_an_item_of_the_form_marked_out_was_not_put_out() -> None:
    """`Out` is how an item of the form is marked that is not in compliance."""
    told = "Item 44, utensils stored and dried. Sheet pans are nested wet, water's running out of them. Out."
    assert corrected(told) == {"4-901.11": None}


def test_what_is_said_of_the_limes_is_not_of_the_flies() -> None:
    told = "Fruit flies at the garnish tray, call it a dozen. Limes look fine, they were cut today."
    assert corrected(told) == {"6-501.111": None}
