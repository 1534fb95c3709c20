"""What is missing or contradicts itself is listed before closing, and can be closed with reasons."""

from __future__ import annotations

import pytest

from review_api.record import ItemMark, Record
from review_api.report.ready import closed_with, gaps
from shared.errors import RefusedError
from tests.report.samples import at, reading, record, sha, violation

GOOD = record(
    violations=(violation(photos=(sha(1),)),),
    readings=(reading("r1", 48.5, verdict="violates"),),
    marks=(ItemMark(number=22, heading="Time and temperature", text="cold holding temperature", mark="OUT"),),
)
MARK = GOOD.marks[0]
IN = MARK.model_copy(update={"mark": "IN"})
HANDS = MARK.model_copy(update={"number": 8, "text": "hands clean"})
BACKWARDS = GOOD.visit.model_copy(update={"time_out": at("09:00")})


def changed(**facts: object) -> Record:
    return GOOD.model_copy(update=facts)


def one(**facts: object) -> Record:
    return changed(violations=(GOOD.violations[0].model_copy(update=facts),))


def test_a_whole_record_has_no_gap() -> None:
    assert gaps(GOOD) == ()


GAPS = [
    (one(where=None), "no_where", "violation 1 (3-501.16(A)(2)) does not say where it was seen"),
    (one(when=None), "no_when", "does not say when"),
    (one(what=""), "no_what", "does not say what"),
    (one(correction=" "), "no_correction", "does not say how to correct it"),
    (one(correct_by=None), "no_date", "has no date to correct it by"),
    (one(correct_by=at("09:00")), "date", "to be corrected before the visit began"),
    (one(readings=("r1", "r9")), "lost_reading", "a reading that is not in the report"),
    (one(photos=(sha(9),)), "lost_photo", "a photo that is not in the report"),
    (one(readings=()), "uncited", "“48.5 degrees” is out of its limit, but no violation rests on it"),
    (changed(readings=(reading("r1", 38, verdict="meets"),)), "within_limit", "rests on is within its limit"),
    (changed(readings=(reading("r1", 48.5, verdict="undetermined"),)), "within_limit",
     "violation 1 (3-501.16(A)(2)) is cited, but no reading it rests on is out of its limit"),
    (changed(thermometer_checks=()), "thermometer", "no thermometer check of the day"),
    (changed(marks=(IN,)), "mark", "marked IN, but a violation of it is cited"),
    (changed(marks=(MARK, HANDS)), "mark", "item 8, hands clean, is marked OUT, but no violation of it"),
    (changed(visit=BACKWARDS), "times", "time out is before the time in"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("record_", "code", "words"), GAPS, ids=[f"{row[1]}-{at}" for at, row in enumerate(GAPS)]
)
def test_each_gap_is_listed(record_: Record, code: str, words: str) -> None:
    found = gaps(record_)
    assert [gap.code for gap in found] == [code]
    assert words in found[0].text


NO_GAPS = [
    one(corrected_on_site=True, correct_by=None),
    changed(readings=(*GOOD.readings, reading("r2", 42, verdict="borderline"))),
    changed(readings=(reading("r1", 42, verdict="borderline"),)),
    changed(marks=(MARK.model_copy(update={"mark": None}),)),
    changed(readings=(), violations=(violation(readings=()),), thermometer_checks=()),
]


@pytest.mark.parametrize("record_", NO_GAPS)
def test_what_is_in_order_is_not_listed(record_: Record) -> None:
    assert gaps(record_) == ()


def test_closing_with_reasons_puts_them_into_the_record() -> None:
    missing = {"f1": "violation 1 does not say where it was seen"}
    assert closed_with(missing, {"f1": "the same in all rooms"}) == (
        "violation 1 does not say where it was seen. Reason: the same in all rooms",
    )
    assert closed_with({}, {}) == ()


@pytest.mark.parametrize("reasons", [{}, {"f1": " "}, {"f2": "for another"}])
def test_closing_without_a_reason_is_refused_and_says_what_is_missing(reasons: dict[str, str]) -> None:
    with pytest.raises(RefusedError, match="does not say where"):
        closed_with({"f1": "violation 1 does not say where it was seen"}, reasons)
