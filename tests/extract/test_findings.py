"""Proposed violations; corrected on site against promised; what must be asked."""

from __future__ import annotations

from datetime import date

import pytest

from shared.types import EarlierViolation, Facts
from tests.extract.said import SAID_AT, meant


def test_foods_out_of_temperature_in_one_place_are_one_finding() -> None:
    (finding,) = meant("Walk-in cooler, ham 47, turkey 48, soup 38 and brie 46.").findings
    assert (finding.provision, finding.class_, finding.form_item) == ("3-501.16(A)(2)", "P", 22)
    assert (finding.where, finding.item) == ("Walk-in cooler", "ham, turkey, brie")
    assert [part.reading for part in finding.evidence if part.reading] == ["r1", "r2", "r4"]
    assert finding.when == SAID_AT
    assert finding.why


def test_each_place_has_its_own() -> None:
    found = meant("Walk-in cooler, ham 47.", "Salad bar, tuna salad 49.")
    assert [finding.where for finding in found.findings] == ["Walk-in cooler", "Salad bar"]


@pytest.mark.parametrize(
    "correction",
    [
        "He's pitching the ham now.",
        "they threw it out",
        "the ham went in the trash",
        "cook discarded the ham while I watched",
        "told her to toss it and she did",
        "corrected on site",
    ],
)
def test_corrected_on_site(correction: str) -> None:
    (finding,) = meant("Walk-in cooler, ham 47.", correction).findings
    assert finding.corrected_on_site
    assert finding.correction
    assert finding.correct_by is None


@pytest.mark.parametrize(
    "promise",
    [
        "he'll throw it out later",
        "they are going to discard the ham tonight",
        "manager says she'll toss it",
        "told them to throw it out",
        "someone's coming to fix the cooler tomorrow",
        "they moved it to ice for now",
        "they didn't throw it out",
    ],
)
def test_a_promise_is_no_correction(promise: str) -> None:
    (finding,) = meant("Walk-in cooler, ham 47.", promise).findings
    assert not finding.corrected_on_site


def test_a_second_reading_in_order_is_a_correction() -> None:
    (finding,) = meant(
        "chicken out of the fryer 158 at the bone", "second check on the chicken, 181"
    ).findings
    assert finding.corrected_on_site


def test_the_correction_reaches_what_it_names() -> None:
    found = meant(
        "hot line. beans 118, queso 121", "No paper towels at the hand sink.", "they put out a roll of towels"
    )
    told = {finding.provision: finding.corrected_on_site for finding in found.findings}
    assert told == {"3-501.16(A)(1)": False, "6-301.12": True}


def test_what_nobody_said_is_asked() -> None:
    (finding,) = meant("Walk-in cooler, ham 47.").findings
    assert "How long has it been out of temperature?" in finding.open_questions
    (finding,) = meant("Walk-in cooler, ham 47, it's been out since 11.30.").findings
    assert "How long has it been out of temperature?" not in finding.open_questions


def test_repeat_of_an_earlier_report() -> None:
    facts = Facts(previous=(EarlierViolation("3-501.16", date(2025, 9, 1)),))
    (finding,) = meant("Walk-in cooler, ham 47.", facts=facts).findings
    assert finding.repeat
    (finding,) = meant("Walk-in cooler, ham 47.").findings
    assert not finding.repeat


def test_correct_by_comes_from_the_rules() -> None:
    """72 hours for a priority item: FDA Food Code 2022, 8-405.11, from memory."""
    (finding,) = meant("Walk-in cooler, ham 47.").findings
    assert finding.correct_by is not None
    assert (finding.correct_by - SAID_AT).total_seconds() <= 72 * 3600


@pytest.mark.parametrize(
    "line",
    [
        "Walk-in cooler, ham 38, milk 40.",
        "chicken 171 off the grill",
        "no violations at the bar",
        "last time the walk-in was at 52",
        "should be 41 or below",
        "raw onions at 50, just onions",
        "curry on the stove is 152 and climbing, they are reheating it",
    ],
)
def test_nothing_to_propose(line: str) -> None:
    assert meant(line).findings == ()


def test_a_borderline_reading_is_cited_only_when_the_inspector_says_so() -> None:
    assert meant("Salad bar, chickpeas 43.").findings == ()
    (finding,) = meant("Salad bar, chickpeas 43.", "writing up the chickpeas, writing it").findings
    assert finding.provision == "3-501.16(A)(2)"


def test_an_undetermined_reading_asks_for_what_is_missing() -> None:
    found = meant("bar sink, chlorine 50 ppm")
    assert found.findings == ()
    assert any("temperature" in question.text for question in found.questions)


def test_a_reading_in_order_marks_its_form_item() -> None:
    assert [(mark.form_item, mark.mark) for mark in meant("Walk-in cooler, ham 38.").compliances] == [
        (22, "IN")
    ]


def test_every_part_tells_which_rule_and_words_made_it() -> None:
    found = meant("Walk-in cooler, ham 47.", "No soap at the hand sink.")
    for part in (*found.readings, *found.findings):
        assert part.trace
        assert all(trace.rule and trace.text for trace in part.trace)
