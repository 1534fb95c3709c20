"""Passages in other voices about equipment, water, rooms and papers, through the whole extraction.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from extract.cases import sections_agree
from extract.conditions import find_conditions
from extract.extraction import extract
from shared.rules import load
from shared.types import Utterance

VOICES = tomllib.loads((Path(__file__).parent / "voices_b.toml").read_text(encoding="utf-8"))
RULES = load("food_code_2022")
SECTIONS_FOUND = 0.88
"""Share of the passages whose section must be proposed; the others are said too indirectly so far."""
PROPOSALS_RIGHT = 0.8
"""Share of the proposals that must be right. A second condition of a passage counts as wrong here."""
FALSE_ALARMS = 4
"""Passages with nothing to cite on which something is proposed; this may only fall."""


def proposed(said: list[str]) -> list[str]:
    utterances = [Utterance(text, 10.0 * n, 10.0 * n + 8) for n, text in enumerate(said)]
    return [finding.provision for finding in extract(utterances, rules=RULES).findings]


def test_most_passages_are_proposed_under_a_section_that_fits() -> None:
    found = right = given = 0
    for passage in VOICES["passage"]:
        sections = proposed(passage["said"])
        fits = [any(sections_agree(want, got) for want in passage["sections"]) for got in sections]
        found += any(fits)
        right += sum(fits)
        given += len(fits)
    assert found / len(VOICES["passage"]) >= SECTIONS_FOUND
    assert right / given >= PROPOSALS_RIGHT


def test_what_holds_nothing_to_cite_stays_quiet() -> None:
    assert sum(bool(proposed([text])) for text in VOICES["nothing"]["said"]) <= FALSE_ALARMS


@pytest.mark.parametrize(
    ("heading", "said", "section"),
    [
        ("Hand sink in the bakery.", "Rack parked right in front of it.", "5-205.11(A)"),
        ("Ice machine.", "Pink slime inside.", "4-601.11(A)"),
        ("Slicer, back counter.", "Dried meat behind the blade.", "4-601.11(A)"),
    ],
)
def test_a_thing_named_in_one_utterance_is_what_the_next_one_speaks_of(
    heading: str, said: str, section: str
) -> None:
    assert section in {one.section for one in find_conditions(said, before=heading)}
    assert section in {one.section for one in find_conditions(f"{heading} {said}")}


@pytest.mark.parametrize(
    ("before", "said"),
    [("The ice machine is spotless.", "Pink cups, new."), ("Checking the slicer now.", "Blade is clean.")],
)
def test_what_is_said_whole_before_is_no_heading(before: str, said: str) -> None:
    assert not [one for one in find_conditions(said, before=before) if one.polarity == "violation"]


def test_spans_point_into_the_utterance_that_speaks() -> None:
    said = "Pink slime inside."
    for one in find_conditions(said, before="Ice machine."):
        assert all(0 <= start < end <= len(said) for start, end in (one.span, *one.pieces))
