"""The pattern language, on a small catalogue of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from extract.conditions import Catalogue, find_conditions, load_catalogue

GRAMMAR = """
compounds = "ice cream"
not_between = "problem, problems, with, in, on"
[grammar]
no_before = "no, not, without, out of, missing, not have, nobody"
no_before_weak = "need, needs"
no_after = "missing, empty, out, gone, none, no"
present = "good, fine, there"
negators = "no, not, never, nobody, nothing, none"
negators_void = "not only, not sure"
hypothetical = "make sure, should never, remind"
hypothetical_if = "if, in case"
inquiry = "asked about"
earlier = "last time, last visit"
from_now = "today, now"
all_clear = "none today, fine now"
imperative = "not leave"
still = "still, again, same as last time"
exception = "except"
followed = "promised"
joiners = "and, or"
approved = "clean, good, fine"
[things]
lid = "lid, lids"
oven = "oven, convection oven"
mixer = "mixer"
ice = "ice"
[states]
dirty = "dirty, crusted, grime"
[[condition]]
section = "1"
says = "no lid"
phrases = ["no(@lid)"]
[[condition]]
section = "2"
says = "dirty"
phrases = ["@oven|@mixer + @dirty ~4"]
in_order = ["@oven|@mixer + @approved"]
unless = ["floor"]
near = ["3"]
[[condition]]
section = "3"
says = "warm"
phrases = ["warm/melting @ice", "left > running ~2", "hood off?  by door ^0.4"]
"""


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    folder: Path = tmp_path_factory.mktemp("catalogue")
    (folder / "small.toml").write_text(GRAMMAR, encoding="utf-8")
    return load_catalogue(folder)


def found(catalogue: Catalogue, text: str) -> list[tuple[str, str]]:
    return [(one.section, one.polarity) for one in find_conditions(text, catalogue=catalogue)]


@pytest.mark.parametrize(
    "text",
    [
        "no lid", "No lids.", "there isn't a lid", "there isn't any lid", "without a lid", "it's out of lids",
        "the lid's missing", "lids are all gone", "lids, none", "it doesn't have a lid", "needs a lid",
        "no big plastic lid", "no oven or lid", "the lids for the tubs are missing", "Lids: missing",
    ],
)  # fmt: skip
def test_absence_in_all_its_ways(small: Catalogue, text: str) -> None:
    assert ("1", "violation") in found(small, text)


@pytest.mark.parametrize(
    "text",
    [
        "no problem with the lids",
        "lid",
        "no lid missing",
        "the lid is good",
        "no oven. lids there",
        "not on the lid",
    ],
)
def test_what_is_no_absence(small: Catalogue, text: str) -> None:
    assert ("1", "violation") not in found(small, text)


@pytest.mark.parametrize(
    ("text", "polarity"),
    [
        ("the oven is dirty", "violation"),
        ("dirty oven", "violation"),
        ("grime all over the convection oven", "violation"),
        ("the oven is not dirty", "compliance"),
        ("nothing dirty, no grime on the oven", "compliance"),
        ("the oven's clean", "compliance"),
        ("not only is the oven dirty", "violation"),
        ("make sure the oven isn't dirty", "hypothetical"),
        ("if the oven was dirty", "hypothetical"),
        ("don't leave the oven dirty", "hypothetical"),
        ("is the oven dirty?", "hypothetical"),
        ("last time the oven was dirty", "earlier"),
        ("the oven was dirty last visit", "earlier"),
        ("last time fine, today the oven is dirty", "violation"),
        ("oven dirty, same as last time", "violation"),
        ("there was a dirty oven, fine now", "earlier"),
    ],
)
def test_how_a_condition_is_meant(small: Catalogue, text: str, polarity: str) -> None:
    assert ("2", polarity) in found(small, text)


def test_only_words_of_an_earlier_visit_mark_a_repeat(small: Catalogue) -> None:
    for said in ("oven dirty, same as last time", "oven dirty again, it was dirty last time"):
        assert [one.repeated for one in find_conditions(said, catalogue=small)] == [True]
    for said in ("oven dirty", "oven still dirty", "oven dirty again"):
        assert [one.repeated for one in find_conditions(said, catalogue=small)] == [False]


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("the oven and the mixer are dirty", ["oven", "mixer"]),
        ("mixer clean, oven dirty", ["oven"]),
        ("the oven is dirty, the mixer is fine", ["oven"]),
        ("dirty oven by the mixer", ["oven"]),
    ],
)
def test_a_state_belongs_to_its_own_thing(small: Catalogue, text: str, items: list[str]) -> None:
    dirty = [one for one in find_conditions(text, catalogue=small) if one.polarity == "violation"]
    assert [one.item for one in dirty] == items


@pytest.mark.parametrize(
    ("text", "matches"),
    [
        ("warm ice", True),
        ("melting ice", True),
        ("ice warm", False),  # the words of a run stand in their order
        ("warm ice cream", False),  # a compound hides its parts
        ("left it running", True),
        ("running, left", False),  # `>` wants the order as written
        ("running left", True),  # but a pair of neighbours may be turned round: "leaking faucet"
        ("left the big mixer and oven running", False),  # too far apart
        ("hood by the door", True),
        ("hood off by the door", True),
    ],
)
def test_runs_order_distance_and_compounds(small: Catalogue, text: str, matches: bool) -> None:
    assert (("3", "violation") in found(small, text)) is matches


def test_a_sentence_with_an_exception_does_not_match(small: Catalogue) -> None:
    assert found(small, "floor by the oven is dirty") == []
    assert found(small, "the floor. oven is dirty") == [("2", "violation")]


def test_spans_point_at_the_words(small: Catalogue) -> None:
    text = "  So the convection oven, uh, is really dirty."
    (one,) = find_conditions(text, catalogue=small)
    assert text[slice(*one.span)] == "convection oven, uh, is really dirty"
    assert [text[a:b] for a, b in one.pieces] == ["convection oven", "dirty"]
    assert one.item == "convection oven"
    assert one.runners_up == ("3",)


def test_a_stated_confidence_is_used_and_more_words_make_surer(small: Catalogue) -> None:
    (weak,) = find_conditions("hood by the door", catalogue=small)
    (near,) = find_conditions("dirty oven", catalogue=small)
    (far,) = find_conditions("dirty big old gas oven", catalogue=small)
    assert weak.confidence == pytest.approx(0.4)
    assert near.confidence > far.confidence
