"""Conditions told as people tell them, over two or three sentences; no sentence here is a saying.

Sections after the Food Code 2022; the wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from extract import extract
from shared.rules import load
from shared.types import Finding, Utterance

RULES = load("food_code_2022")


def findings(*texts: str) -> list[Finding]:
    return list(extract([Utterance(text) for text in texts], rules=RULES).findings)


@pytest.mark.parametrize(
    ("text", "section"),
    [
        ("Soup cooling in a pot as deep as my elbow. The lid was put on while it was hot.", "3-501.15"),
        ("Nasal drops and a syrup stand in the yogurt fridge. No box around them, no label.", "7-207.12"),
        ("Cashew bars, packed for the shelf. The wrapper has a price and lists no ingredients.", "3-602.11"),
        ("Squid lying in the sink to thaw. The water isn't moving, the tap is shut.", "3-501.13"),
        ("Carried the trash out. Came in and went on shaping the dumplings, hands not washed.", "2-301.14"),
    ],
)  # fmt: skip
def test_a_condition_told_over_two_sentences_is_proposed(text: str, section: str) -> None:
    assert section in [found.provision for found in findings(text)]


@pytest.mark.parametrize(
    "text",
    [
        "Lentil soup's in shallow trays with the lids off. That's how you cool it.",
        "The nose drops are in a lidded box on the lowest shelf, with a label.",
        "The bars list all the ingredients, the nuts too, and who made them.",
        "Squid thawing in the sink with the cold tap running over it.",
        "The owner says that last year the fryer light had no cover. Every lamp has one today.",
        "Kevin changes gloves between the till and the burritos.",
        "Saw the fork go to his mouth and thought it went back in the pot. It didn't. Take that back.",
        "Whole pears and a jar of relish, no date and none needed.",
    ],
)
def test_its_compliant_twin_is_not(text: str) -> None:
    assert findings(text) == []


def test_the_pest_man_is_no_pest() -> None:
    """Common practice, no source: who comes against pests is not a sign of them (6-501.111)."""
    assert findings("Bug man comes on Thursdays, Ines says.") == []


def test_what_a_food_lies_on_is_not_what_the_finding_is_about() -> None:
    """Common practice, no source: somebody's meal among food, 2-401.11."""
    (eaten,) = findings("Half a bun with a bite out of it on the salad board, whose is that.")
    assert eaten.provision == "2-401.11"
    assert eaten.item in (None, "bun")


def test_an_open_tub_is_no_open_tube() -> None:
    assert "6-202.11" not in [
        found.provision for found in findings("Over an open tub of mint, on the shelf.")
    ]


def test_a_corner_of_a_thing_is_no_place_for_the_next_one() -> None:
    said = findings("Trash crate is plywood, split at the corners.", "Drain plug of the dumpster is missing.")
    (plug,) = [found for found in said if found.provision == "5-501.114"]
    assert plug.where != "corners"
