"""Sentences judged by their likeness to written sayings; the sentences here are in none of them.

Sections after the Food Code 2022; the wording: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from extract import extract
from extract.conditions import Condition
from extract.conditions.content import content
from extract.learned_from import OF_LIKENESS, fingerprint
from extract.likeness import Likeness, considered, likeness
from extract.likeness.features import neighbours, sounds_of, stems_of
from extract.likeness.judge import load, save
from extract.likeness.manner import ending_of, manner_of
from extract.likeness.weighing import FEATURES, confidence
from extract.second_reader.reader import SentenceTold, told_of
from extract.teaching.sayings import VIOLATION, sayings
from extract.words.lexicon import lexicon
from extract.words.line import prepare
from extract.words.text import tokens
from shared.errors import InputError
from shared.rules import load as load_rules
from shared.types import Utterance

RULES = load_rules("food_code_2022")
NOTHING_TOLD = SentenceTold({"violation": 0.5}, {})
"""A second reader that cannot tell."""


def stems(text: str) -> list[str]:
    return stems_of(content(tokens(text)))


def sounds(text: str) -> list[str]:
    return sounds_of(tokens(text))


def told(text: str) -> list[str]:
    line = prepare(text, 0, lexicon())
    return ending_of(line, 0, len(line.tokens), manner_of(line, 0, len(line.tokens)))


def surest(text: str) -> tuple[str, float]:
    """The section that the learned parts alone find likeliest, and how sure they are."""
    read = content(tokens(text))
    (told,) = told_of(text, (), (), ((0, len(text)),)).sentences
    assert told is not None
    weighed = [
        (confidence(likeness(), one.features), one.section)
        for one in considered(
            likeness(),
            read,
            (0, len(read.stems)),
            likeness().senses([sounds(text)])[0],
            (),
            told,
            asked=text.endswith("?"),
        )
    ]
    sure, section = max(weighed)
    return section, sure


def test_the_weights_belong_to_the_sayings_that_ship() -> None:
    """After a change of the sayings, `make weights` must be run."""
    assert likeness().learned_from == fingerprint(OF_LIKENESS)


def test_every_saying_is_of_a_section_that_the_rules_know() -> None:
    unknown = {section for one in sayings() for section in one.sections if RULES.provision(section) is None}
    assert not unknown


def test_most_sections_have_sayings_of_violations_in_plenty() -> None:
    counted: dict[str, int] = {}
    for one in sayings():
        if one.meant == VIOLATION:
            counted[one.sections[0]] = counted.get(one.sections[0], 0) + 1
    assert sum(count >= 20 for count in counted.values()) >= 240


def test_no_saying_stands_twice() -> None:
    said = [" ".join(words) for one in sayings() if len(words := stems(one.said)) > 4]
    assert len(set(said)) > 0.99 * len(said)


@pytest.mark.parametrize(
    ("text", "section"),
    [
        ("There's a jug of drain opener sat right up against the olive oil.", "7-201.11"),
        ("Can't get at the hand sink, there's a stack of milk crates shoved in front of it.", "5-205.11"),
        ("Nobody here has a hat on and there's long hair hanging over the salads.", "2-402.11"),
        ("Nothing to dry your hands on, the towel thing is empty.", "6-301.12"),
        ("Dumpster lids are up and bags are hanging over the side.", "5-501.1"),
    ],
)
def test_words_that_no_pattern_foresaw_still_find_their_section(text: str, section: str) -> None:
    found, sure = surest(text)
    assert found.startswith(section)
    assert sure >= 0.5


@pytest.mark.parametrize(
    "text",
    [
        "Seal on the walk-in's brand new, shuts like a bank vault.",
        "Degreaser's locked up down in the basement, well away from anything to eat.",
        "Not a dropping anywhere, I had the kick plates off.",
        "So where do you folks get your ice from?",
    ],
)
def test_calm_words_propose_nothing(text: str) -> None:
    assert surest(text)[1] < 0.5


def test_a_proposal_names_the_words_that_it_rests_on() -> None:
    said = "There's a jug of drain opener sat right up against the olive oil."
    (found,) = extract([Utterance(said)], rules=RULES).findings
    assert "jug of drain opener" in found.trace[0].text or "olive oil" in found.trace[0].text


def test_what_was_done_is_told_from_what_was_promised() -> None:
    done, promised = likeness().put_right(
        [
            told("Whole tray scraped into the garbage while I stood there."),
            told("She'll have the whole tray taken out by Friday."),
        ]
    )
    assert done > 0 > promised


def test_figures_count_as_one_word() -> None:
    assert stems("ham 40, turkey 38.5") == ["ham", "#", "turkey", "#"]


def test_neighbours_hold_pairs_and_pairs_with_a_gap() -> None:
    assert {"no soap", "^ no", "no _ here", "here $"} <= set(neighbours(["no", "soap", "here"]))


def test_unknown_words_say_nothing() -> None:
    assert np.array_equal(likeness().sections(["zzyzx"]), likeness().level)
    assert likeness().telling(["zzyzx"], "4-501.11") == []


def test_weighing_one_sentence_leaves_the_weights_as_they_were() -> None:
    """A sentence of unknown words with a pattern in it once raised that section for all later sentences."""
    before = likeness().level.copy()
    read = content(tokens("zzyzx"))
    broken = Condition("4-501.11", (0, 5), "violation", 0.9, (), 47, None, None, "", (), "", ((0, 5),))
    considered(likeness(), read, (0, 1), 0.0, [broken], NOTHING_TOLD)
    assert np.array_equal(likeness().level, before)


def test_a_section_is_no_paragraph_of_another_whose_number_it_begins() -> None:
    read = content(tokens("sanitizer too weak"))
    broken = Condition("4-501.114", (0, 18), "violation", 0.9, (), 16, None, None, "", (), "", ((0, 18),))
    weighed = considered(likeness(), read, (0, 3), 0.0, [broken], NOTHING_TOLD)
    supported = {one.section for one in weighed if one.features[FEATURES.index("pattern")]}
    assert supported == {"4-501.114"}


def test_weights_are_kept_and_read_again(tmp_path: Path) -> None:
    save(likeness(), tmp_path / "weights.npz")
    again: Likeness = load(tmp_path / "weights.npz")
    text = stems("Seal's hanging off in strips.")
    assert np.allclose(again.sections(text), likeness().sections(text))
    assert again.senses([["mold"]]) == pytest.approx(likeness().senses([["mold"]]), abs=1e-3)
    assert len(again.weighing) == len(FEATURES) + 1


def test_damaged_weights_are_named(tmp_path: Path) -> None:
    (tmp_path / "weights.npz").write_bytes(b"not weights")
    with pytest.raises(InputError, match="make weights"):
        load(tmp_path / "weights.npz")


def test_a_faulty_saying_is_named_by_file_and_line(tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text(
        "foreseen,meant,section,also,said\nno,violation,,,Mold.\n", encoding="utf-8"
    )
    with pytest.raises(InputError, match=r"own.csv, line 2"):
        sayings(tmp_path)
