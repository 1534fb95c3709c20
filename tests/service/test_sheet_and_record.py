"""The check sheet, what is missing, and the record that a report is made from."""

from __future__ import annotations

from typing import Any

import pytest

from review_api.api.changing import look
from review_api.record import Department, Record
from review_api.record_of import record
from review_api.store import inspections
from review_api.store.tables import now
from shared.types import Compliance, Evidence, Reading
from tests.service.samples import SHELF, SINK, SOUND, Sample, a_reading, an_extraction


def mark(sample: Sample, number: int) -> tuple[Any, Any, Any]:
    line = next(line for line in sample.desk()["marks"] if line["number"] == number)
    return line["mark"], line["origin"], line["accepted"]


def test_every_form_item_has_its_line(sample: Sample) -> None:
    assert [line["number"] for line in sample.desk()["marks"]] == list(range(1, 57))


def test_a_proposed_finding_marks_nothing(sample: Sample) -> None:
    assert mark(sample, 22) == (None, None, False)


def test_a_confirmed_finding_marks_its_item_out_and_leads_to_its_evidence(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"corrected_on_site": True, "repeat": True})
    assert mark(sample, 22) == ("OUT", "finding", True)
    line = next(line for line in sample.desk()["marks"] if line["number"] == 22)
    assert (line["findings"], line["corrected_on_site"], line["repeat"]) == (["f1"], True, True)
    assert "r1" in [part["reading"] for part in line["evidence"]]


def test_a_confirmed_reading_within_its_limit_marks_in_unless_there_is_a_finding(sample: Sample) -> None:
    sample.decide("r3", "confirm")
    sample.decide("r1", "reject", reason="another cooler")
    assert mark(sample, 22) == ("IN", "reading", True)
    sample.decide("f1", "confirm")
    assert mark(sample, 22) == ("OUT", "finding", True)
    sample.decide("f1", "reject", reason="another cooler")
    assert mark(sample, 22) == ("IN", "reading", True)


@pytest.mark.parametrize("action", [None, "confirm"])
def test_no_reading_marks_in_while_another_of_the_item_is_out_of_its_limit(
    sample: Sample, action: str | None
) -> None:
    if action is not None:
        sample.decide("r1", action)
    sample.decide("r3", "confirm")
    assert mark(sample, 22) == (None, None, False)
    line = next(line for line in sample.desk()["marks"] if line["number"] == 22)
    assert [part["reading"] for part in line["evidence"]] == ["r3", "r1"]
    sample.decide("r1", "edit", changes={"value": 40})
    assert mark(sample, 22) == ("IN", "reading", True)


def test_nothing_proposes_in_order_beside_a_reading_out_of_its_limit(sample: Sample) -> None:
    cold = Compliance(22, "IN", (Evidence(utterance=2, span=(0, 4)),))
    sample.propose(an_extraction(compliances=(cold,)))
    assert mark(sample, 22) == (None, None, False)
    sample.decide("r1", "reject", reason="another cooler")
    assert mark(sample, 22) == ("IN", "remark", False)


def test_a_remark_only_proposes_a_mark_until_it_is_accepted(sample: Sample) -> None:
    assert mark(sample, 8) == ("IN", "remark", False)
    sample.post("marks/accept", items=[8])
    assert mark(sample, 8) == ("IN", "person", True)


def test_a_mark_by_hand_goes_over_a_remark_and_can_be_taken_back(sample: Sample) -> None:
    sample.put("marks/8", mark="NO")
    assert mark(sample, 8) == ("NO", "person", True)
    sample.put("marks/8", mark=None)
    assert mark(sample, 8) == ("IN", "remark", False)


def test_an_item_with_a_finding_stays_out(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    answer = sample.put("marks/22", mark="IN")
    assert (answer.status_code, answer.json()["where"]) == (422, "mark")
    assert "f1" in answer.json()["detail"]


def test_only_marks_that_the_form_allows_are_taken(sample: Sample) -> None:
    allowed = next(line for line in sample.desk()["marks"] if line["number"] == 1)["allowed"]
    assert "NO" not in allowed  # a person in charge is always to be seen
    assert sample.put("marks/1", mark="NO").status_code == 422
    assert sample.put("marks/99", mark="IN").status_code == 404


def missing(sample: Sample) -> dict[str, set[str | None]]:
    found: dict[str, set[str | None]] = {}
    for item in sample.desk()["missing"]:
        found.setdefault(item["code"], set()).add(item["subject"])
    return found


def test_all_that_is_missing_is_listed(sample: Sample) -> None:
    found = missing(sample)
    question = sample.one("findings", "f1")["questions"][0]["id"]
    assert found["fact"] == {"person_in_charge", "time_out"}
    assert found["undecided"] == {"f1", "f2", "r1", "r2", "r3"}
    assert found["question"] == {question, "q1"}
    assert found["stretch"] == {f"{SOUND}@50.0"}
    assert found["photo"] == {SHELF}
    assert {"1", "8", "22"} <= found["mark"]


TOLD = [
    ("r1", "reading “48.5” (sliced turkey, 48.5 °F, walk-in cooler, 10:40) is not decided"),
    ("r2", "reading “154” (chicken, 154 °F, 10:40) is not decided"),
    ("q1", "is there a written plan? (said: “milk is at thirty eight, and hands are being washed”, 10:40)"),
    (f"{SOUND}@50.0", "walk.flac, 10:40:50 (50.0 s to 52.0 s): something said was not understood"),
]


@pytest.mark.parametrize(("subject", "text"), TOLD)
def test_what_is_missing_says_what_it_is_about(sample: Sample, subject: str, text: str) -> None:
    assert [item["text"] for item in sample.desk()["missing"] if item["subject"] == subject] == [text]


def test_a_question_names_the_finding_that_it_belongs_to(sample: Sample) -> None:
    asked = [item["text"] for item in sample.desk()["missing"] if item["code"] == "question"]
    assert "finding 3-501.16(A)(2), sliced turkey was at 48.5 °F: how long has it been there?" in asked


def test_a_reading_of_nothing_named_says_so(sample: Sample) -> None:
    sample.propose(an_extraction(readings=(a_reading("r1", 37, item=None, place=None),), findings=()))
    (told,) = [item["text"] for item in sample.desk()["missing"] if item["code"] == "undecided"]
    assert "(no item named, 37 °F, 10:40) is not decided" in told


SETTLED = [
    ("fact", "person_in_charge", lambda s: s.put("facts", person_in_charge="T. Birchwood")),
    ("undecided", "f1", lambda s: s.decide("f1", "confirm")),
    ("undecided", "r1", lambda s: s.decide("f1", "confirm")),
    ("undecided", "r2", lambda s: s.decide("r2", "reject", reason="misheard")),
    ("question", "q1", lambda s: s.put("questions/q1", answer="yes")),
    ("stretch", f"{SOUND}@50.0", lambda s: s.put(f"stretches/{SOUND}", start=50, text="tap running")),
    ("photo", SHELF, lambda s: s.put(f"photos/{SHELF}", alternative_text="Turkey on the top shelf")),
    ("photo", SHELF, lambda s: s.detach("f1", SHELF)),
    ("mark", "8", lambda s: s.post("marks/accept")),
    ("mark", "22", lambda s: s.decide("f1", "confirm")),
]  # fmt: skip


@pytest.mark.parametrize(("code", "subject", "change"), SETTLED)
def test_what_is_settled_is_no_longer_missing(sample: Sample, code: str, subject: str, change: Any) -> None:
    assert subject in missing(sample)[code]
    change(sample)
    assert subject not in missing(sample).get(code, set())


def test_questions_of_a_rejected_finding_are_not_asked(sample: Sample) -> None:
    question = sample.one("findings", "f1")["questions"][0]["id"]
    sample.decide("f1", "reject", reason="another cooler")
    assert question not in missing(sample)["question"]


def the_record(sample: Sample) -> Record:
    with sample.state.database.reading() as session:
        seen = look(inspections.whole(session, sample.inspection))
    return record(seen.desk, seen.rules, department=Department(name="Test county"), made=now())


def test_nothing_that_is_not_decided_reaches_the_record(sample: Sample) -> None:
    made = the_record(sample)
    assert (made.readings, made.violations, made.photos) == ((), (), ())
    assert {line.mark for line in made.marks} == {None}
    assert any("f1" in text or "3-501.16(A)(2)" in text for text in made.left_open)


def test_the_record_has_what_was_decided_as_it_was_decided(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"what": "Turkey was warm.", "who": "prep cook"})
    sample.decide("f2", "reject", reason="not in the thickest part")
    sample.decide("r3", "edit", changes={"value": 39})
    question = sample.one("findings", "f1")["questions"][0]["id"]
    sample.put(f"questions/{question}", answer="since nine")
    sample.put(f"photos/{SHELF}", caption="Top shelf", alternative_text="Turkey on a shelf")
    sample.put("notes", remarks=["will call for service"])
    made = the_record(sample)
    violation = made.violations[0]
    assert (violation.what, violation.who, violation.typed) == ("Turkey was warm.", "prep cook", True)
    assert (violation.provision, violation.class_, violation.form_item) == ("3-501.16(A)(2)", "P", 22)
    assert [(item.question, item.answer) for item in violation.answers] == [
        ("how long has it been there?", "since nine")
    ]
    assert violation.evidence == ("walk.flac 00:02.0-00:06.0", "photo shelf.jpg")
    assert [(item.id, item.value, item.verdict) for item in made.readings] == [
        ("r1", 48.5, "violates"), ("r3", 39, "borderline"),
    ]  # fmt: skip
    assert (made.readings[0].limit, made.readings[0].margin) == ("41 °F or below", 7.5)
    assert [(item.caption, item.alternative_text) for item in made.photos] == [
        ("Top shelf", "Turkey on a shelf")
    ]
    assert made.remarks == ("will call for service",)
    assert made.made.utcoffset() == made.visit.time_in.utcoffset()  # type: ignore[union-attr]


def test_a_finding_by_hand_stands_in_the_record_as_typed(sample: Sample) -> None:
    sample.post(
        "findings", provision="6-301.12", what="No towels at the bar sink", where="bar", photos=[SINK]
    )
    violation = the_record(sample).violations[0]
    assert (violation.what, violation.typed) == ("No towels at the bar sink", True)
    assert violation.evidence == ("photo sink.jpg", "typed by the inspector")


def cooling(value: float, at: int) -> Reading:
    clock = f"{9 + at:02}:40"
    return a_reading(
        f"r{at + 1}",
        value,
        stage="cooling",
        item="beef stew",
        utterance=at,
        span=(0, 4),
        clock=clock,
        check=None,
    )


def test_a_cooling_curve_is_drawn_from_its_readings_and_described(sample: Sample) -> None:
    sample.propose(an_extraction(readings=(cooling(135, 0), cooling(80, 1)), findings=(), compliances=()))
    figure = sample.desk()["figures"][0]
    assert (figure["title"], len(figure["readings"])) == ("Cooling of beef stew", 2)
    assert figure["svg"].startswith("<svg")
    assert "135 °F at 09:40, 80 °F at 10:40" in figure["description"]
    assert the_record(sample).figures == ()  # nothing of it is decided yet
    for name in figure["readings"]:
        sample.decide(name, "confirm")
    assert [item.title for item in the_record(sample).figures] == ["Cooling of beef stew"]


def test_a_correction_that_was_made_on_site_has_no_deadline(sample: Sample) -> None:
    by = "2026-05-07T10:40:00-05:00"
    sample.decide("f1", "edit", changes={"correct_by": by})
    assert the_record(sample).violations[0].correct_by is not None
    sample.decide("f1", "edit", changes={"corrected_on_site": True})
    assert the_record(sample).violations[0].correct_by is None
