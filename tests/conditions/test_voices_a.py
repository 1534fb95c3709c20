"""People, food and chemicals in many voices: most sections are proposed, and quiet talk is left alone.

The shares stand a little beside what is reached, so that a change for the worse is seen; they are no goals.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from tests.extract.said import meant

VOICES = tomllib.loads((Path(__file__).parent / "voices_a.toml").read_text(encoding="utf-8"))


def sections(*lines: str) -> list[str]:
    return [finding.provision for finding in meant(*lines).findings]


def test_most_conditions_are_proposed_under_their_section_and_few_others_beside_them() -> None:
    missed, beside = [], []
    for cite in VOICES["cites"]:
        wanted = cite["section"].split("|")
        found = sections(*cite["says"])
        if not any(_same(one, want) for one in found for want in wanted):
            missed.append(cite["says"])
        beside += [(one, cite["says"]) for one in found if not any(_same(one, want) for want in wanted)]
    assert len(missed) <= len(VOICES["cites"]) * 0.06, missed
    assert len(beside) <= len(VOICES["cites"]) * 0.18, beside


def test_quiet_talk_is_rarely_taken_for_a_condition() -> None:
    wrong = [(text, found) for text in VOICES["quiet"] if (found := sections(text))]
    assert len(wrong) <= len(VOICES["quiet"]) * 0.085, wrong


def _same(one: str, two: str) -> bool:
    return one == two or one.startswith(two + "(") or two.startswith(one + "(")
