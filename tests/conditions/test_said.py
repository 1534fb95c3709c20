"""What inspectors say, and the section that must be proposed for it; and what must propose nothing.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from extract.conditions import ASK_BELOW, Condition, find_conditions, load_catalogue
from shared.rules import load

SAID = tomllib.loads((Path(__file__).parent / "said.toml").read_text(encoding="utf-8"))
VIOLATIONS = [(section, text) for section, texts in SAID["violations"].items() for text in texts]


def proposed(text: str) -> list[Condition]:
    return [
        one for one in find_conditions(text) if one.polarity == "violation" and one.confidence >= ASK_BELOW
    ]


@pytest.mark.parametrize("section", SAID["violations"])
def test_a_condition_is_proposed_under_its_section(section: str) -> None:
    said = SAID["violations"][section] + SAID["loose_speech"].get(section, [])
    assert [text for text in said if section not in {one.section for one in proposed(text)}] == []


NOTHING = {**SAID["nothing"], **SAID["loose_nothing"]}


@pytest.mark.parametrize("group", NOTHING)
def test_good_order_advice_and_talk_propose_nothing(group: str) -> None:
    wrong = {text: [(one.section, one.rule) for one in proposed(text)] for text in NOTHING[group]}
    assert {text: why for text, why in wrong.items() if why} == {}


def test_most_sentences_propose_their_section_alone() -> None:
    """A right proposal beside a wrong one costs the inspector a rejection; at most 1 in 20 sentences may."""
    beside = [
        text for section, text in VIOLATIONS if any(not _same(one.section, section) for one in proposed(text))
    ]
    assert len(beside) <= len(VIOLATIONS) / 20, beside


def test_at_least_200_sections_of_the_code_can_be_proposed_and_each_has_sentences() -> None:
    rules = load("food_code_2022")
    covered = {rules.provision(section) for section in SAID["violations"]} - {None}
    assert len(covered) >= 200
    assert load_catalogue().sections == set(SAID["violations"])
    assert all(len(texts) >= 2 for texts in SAID["violations"].values())


def _same(one: str, two: str) -> bool:
    return one == two or one.startswith(two + "(") or two.startswith(one + "(")
