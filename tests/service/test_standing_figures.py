"""A finding says the figures that its readings have now, whoever changed them last.

Limits: FDA Food Code 2022, 3-501.16(A) (41 °F cold, 135 °F hot); cooking: the section beside the test.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from review_api.desk.observed import observed
from review_api.desk.readings import standing
from review_api.store.values import to_json
from shared.types import Check, Evidence
from tests.service.samples import Sample, a_reading, an_extraction
from tests.service.test_sheet_and_record import the_record


def gaps(sample: Sample, subject: str) -> str:
    return " ".join(
        item["text"]
        for item in sample.desk()["missing"]
        if item["code"] == "gap" and item["subject"] == subject
    )


def test_a_finding_says_the_value_that_was_chosen_for_its_reading(sample: Sample) -> None:
    assert sample.decide("f2", "confirm", choices={"r2": 140}).status_code == 200
    finding = sample.one("findings", "f2")
    assert (finding["what"], finding["proposed"]["what"]) == (
        "chicken was at 140 °F",
        "chicken was at 154 °F",
    )
    record = the_record(sample)
    assert (record.violations[0].what, record.readings[0].value) == ("chicken was at 140 °F", 140)
    assert not record.violations[0].typed
    assert "names" not in gaps(sample, "f2")


def test_a_finding_follows_its_reading_after_it_was_confirmed_too(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    sample.decide("r1", "edit", changes={"value": 50.2, "item": "roast beef"})
    assert sample.one("findings", "f1")["what"] == "roast beef was at 50.2 °F"


def test_words_sent_back_as_they_are_shown_are_still_the_programs(sample: Sample) -> None:
    sample.decide("r1", "edit", changes={"value": 50.2})
    sample.decide("f1", "edit", changes={"what": "sliced turkey was at 50.2 °F", "where": "bar"})
    sample.decide("r1", "edit", changes={"value": 47})
    assert sample.one("findings", "f1")["what"] == "sliced turkey was at 47 °F"


def test_a_finding_is_refused_when_its_reading_was_changed_to_meet_the_limit(sample: Sample) -> None:
    sample.decide("r1", "edit", changes={"value": 38.5})
    answer = sample.decide("f1", "confirm")
    assert (answer.status_code, answer.json()["code"]) == (422, "meets_limit")
    assert "within its limit as it stands" in answer.json()["detail"]
    assert sample.decide("f1", "reject", reason="it was 38.5").status_code == 200


def test_a_finding_is_refused_when_its_food_has_no_limit(sample: Sample) -> None:
    sample.decide("r1", "edit", changes={"item": "potato chips"})
    answer = sample.decide("f1", "confirm")
    assert (answer.status_code, answer.json()["code"]) == (422, "meets_limit")
    assert "has no limit" in answer.json()["detail"]


def test_a_finding_whose_reading_breaks_another_section_now_leaves_a_gap(sample: Sample) -> None:
    """A pork chop needs 145 °F (3-401.11(A)(1)), chicken 165 °F (3-401.11(A)(3))."""
    sample.decide("f2", "confirm", choices={"r2": 130})
    assert "choose the section" not in gaps(sample, "f2")
    sample.decide("r2", "edit", changes={"item": "pork chop"})
    assert "rests on a reading that is out of 3-401.11(A)(1)" in gaps(sample, "f2")
    sample.decide("f2", "edit", changes={"provision": "3-401.11(A)(1)"})
    assert "choose the section" not in gaps(sample, "f2")


def test_a_finding_whose_reading_is_judged_by_nobody_leaves_a_gap(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    sample.decide("r1", "edit", changes={"stage": "cooling"})
    assert "no reading it rests on is out of its limit" in gaps(sample, "f1")


def test_a_finding_under_a_section_of_the_persons_own_stands_whatever_was_read(sample: Sample) -> None:
    sample.decide("r1", "edit", changes={"value": 38.5})
    assert sample.decide("f1", "edit", changes={"provision": "4-204.112(A)"}).status_code == 200


def test_a_reading_changed_after_its_finding_leaves_a_gap(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    assert "within its limit" not in gaps(sample, "f1")
    sample.decide("r1", "edit", changes={"value": 38.5})
    assert "every reading it rests on is within its limit" in gaps(sample, "f1")


OWN_WORDS = [
    ("Turkey was at 52 °F on the top shelf", "52 °F"),
    ("Turkey was at 52 degrees", "52 degrees"),
    ("Turkey was at 52 F", "52 F"),
    ("Turkey was at 30 °C", "30 °C"),
    ("Turkey 49 °F, was at 48.5 °F before", "49 °F"),
    ("Turkey was at 48.5 °F, above the 41 °F that is allowed", None),
    ("Turkey was at 9.2 °C", None),  # 48.5 °F
    ("Turkey was at 48.5 °F, within 2 °F of what its own thermometer shows", None),
    ("Two pans of turkey at 10:40 on shelf 3, since 4 hours", None),
    ("Turkey was warm", None),
]


@pytest.mark.parametrize(("what", "named"), OWN_WORDS)
def test_a_figure_in_the_persons_words_that_no_reading_has_leaves_a_gap(
    sample: Sample, what: str, named: str | None
) -> None:
    sample.decide("f1", "edit", changes={"what": what})
    told = gaps(sample, "f1")
    assert ("correct the text or the reading" in told) == (named is not None)
    if named is not None:
        assert f"names {named}, but its reading is sliced turkey 48.5 °F" in told


@pytest.mark.parametrize("what", ["Chicken at 154", "Chicken at 164, still pink"])
def test_a_value_that_was_not_chosen_is_found_without_its_unit(sample: Sample, what: str) -> None:
    sample.decide("f2", "edit", changes={"what": what}, choices={"r2": 140})
    assert f"names {what.split()[2].rstrip(',')}, but" in gaps(sample, "f2")


def test_what_was_answered_is_no_figure_of_the_reading(sample: Sample) -> None:
    now = an_extraction()
    asking = replace(now.findings[0], open_questions=("How long has it been out of temperature?",))
    sample.propose(replace(now, findings=(asking, *now.findings[1:])))
    question = sample.one("findings", "f1")["questions"][0]["id"]
    sample.put(f"questions/{question}", answer="at 60 °F when they came")
    sample.decide("f1", "confirm")
    assert "60 °F" in sample.one("findings", "f1")["what"]
    assert "names" not in gaps(sample, "f1")


COLD = "(cold holding, at most 41 °F is allowed)"
SENTENCES: list[tuple[str, dict[str, Any], dict[str, Any], str]] = [
    (f"Ham 44 °F; turkey 44 °F {COLD}", {}, {"value": 45.5}, f"Ham 44 °F; turkey 45.5 °F {COLD}"),
    (f"Ham 44 °F; turkey 44 °F {COLD}", {"value": 43}, {}, f"Ham 43 °F; turkey 44 °F {COLD}"),
    (f"Ham 44 °F; turkey 44 °F {COLD}", {"item": "brie"}, {}, f"Brie 44 °F; turkey 44 °F {COLD}"),
    (f"Ham 44 °F; turkey 44 °F {COLD}", {}, {"item": "brie"}, f"Ham 44 °F; brie 44 °F {COLD}"),
    (f"Ham 44 °F at 09:10; turkey 44 °F {COLD}", {"clock": "09:40"}, {},
     f"Ham 44 °F at 09:40; turkey 44 °F {COLD}"),
    (f"Ham 44 °F; turkey 44 °F {COLD}", {"value": 41.5, "unit": "degC"}, {},
     f"Ham 41.5 °C; turkey 44 °F {COLD}"),
    (f"Ham 44 °F; turkey 44 °F {COLD}", {"stage": "hot_holding"}, {},
     "Ham 44 °F; turkey 44 °F (hot holding, at least 135 °F is needed)"),
    ("Something in the ham was off", {"value": 43}, {}, "Something in the ham was off"),
]  # fmt: skip


@pytest.mark.parametrize(("what", "first", "second", "now"), SENTENCES)
def test_each_reading_changes_its_own_part_of_the_sentence(
    what: str, first: dict[str, Any], second: dict[str, Any], now: str
) -> None:
    limit = Check("violates", "3-501.16(A)(2)", "<=", 41.0, "degF", 3.0)
    hot = Check("violates", "3-501.16(A)(1)", ">=", 135.0, "degF", -91.0)
    pairs = []
    for name, changes in (("ham", first), ("turkey", second)):
        clock = "09:10" if "09:10" in what and name == "ham" else None
        base = to_json(a_reading(f"r-{name}", 44, item=name, clock=clock, check=limit))
        decided = {"state": "edited", "changes": changes, "seen": base}
        if "stage" in changes:
            decided["check"] = to_json(hot)
        pairs.append((base, standing(base, decided, (), gone=False)))
    assert observed(what, pairs) == now


def test_a_rejected_reading_leaves_its_part_as_it_was(sample: Sample) -> None:
    now = an_extraction()
    both = replace(
        now.findings[0],
        what="Sliced turkey 48.5 °F; milk 38 °F (cold holding, at most 41 °F is allowed)",
        evidence=(Evidence(reading="r1"), Evidence(reading="r3")),
    )
    sample.propose(replace(now, findings=(both, *now.findings[1:])))
    sample.decide("r1", "reject", reason="misread")
    sample.decide("r3", "edit", changes={"value": 44})
    what = "Sliced turkey 48.5 °F; milk 44 °F (cold holding, at most 41 °F is allowed)"
    assert sample.one("findings", "f1")["what"] == what
    sample.decide("f1", "confirm")
    assert "names 48.5 °F, but its reading is milk 44 °F" in gaps(sample, "f1")
