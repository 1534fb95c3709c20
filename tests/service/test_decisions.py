"""What a person decides at the desk, and what the desk then shows."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from tests.service.samples import SHELF, SINK, Sample, a_reading, an_extraction


def test_everything_is_proposed_until_a_person_decides(sample: Sample) -> None:
    desk = sample.desk()
    assert {item["decision"]["state"] for item in (*desk["readings"], *desk["findings"])} == {"proposed"}


def test_confirming_a_reading(sample: Sample) -> None:
    answer = sample.decide("r3", "confirm")
    assert (answer.status_code, answer.json()["did"]) == (200, "reading r3 confirmed")
    decision = sample.one("readings", "r3")["decision"]
    assert (decision["state"], decision["who"], decision["changes"]) == ("confirmed", "Ines Calloway", {})


def test_confirming_a_finding_confirms_the_readings_it_rests_on(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    assert sample.one("findings", "f1")["decision"]["state"] == "confirmed"
    assert sample.one("readings", "r1")["decision"]["state"] == "confirmed"
    assert sample.one("readings", "r3")["decision"]["state"] == "proposed"


@pytest.mark.parametrize("subject", ["r2", "f2"])
def test_a_doubted_number_is_not_confirmed_without_a_choice(sample: Sample, subject: str) -> None:
    answer = sample.decide(subject, "confirm")
    assert (answer.status_code, answer.json()["code"]) == (422, "choice_needed")
    assert answer.json()["readings"] == [{"id": "r2", "choices": [154.0, 164.0]}]
    assert sample.one("readings", "r2")["decision"]["state"] == "proposed"


@pytest.mark.parametrize(
    ("subject", "given"),
    [
        ("r2", {"choice": 154}),
        ("r2", {"choices": {"r2": 154}}),
        ("f2", {"choices": {"r2": 154}}),
        ("f2", {"choice": 154}),
    ],
)
def test_choosing_the_proposed_value_confirms_it(sample: Sample, subject: str, given: dict[str, Any]) -> None:
    assert sample.decide(subject, "confirm", **given).status_code == 200
    reading = sample.one("readings", "r2")
    assert (reading["decision"]["state"], reading["decision"]["choice"]) == ("confirmed", 154)
    assert reading["choices"] == []


def test_choosing_another_value_is_an_edit_and_checks_the_limit_again(sample: Sample) -> None:
    sample.decide("r2", "confirm", choice=168)
    reading = sample.one("readings", "r2")
    assert (reading["value"], reading["decision"]["state"]) == (168, "edited")
    assert reading["proposed"] == {"value": 154}
    assert (reading["check"]["verdict"], reading["check"]["section"]) == ("meets", "3-401.11(A)(3)")


def test_a_finding_does_not_stand_on_a_value_that_meets_the_limit(sample: Sample) -> None:
    answer = sample.decide("f2", "confirm", choice=168)
    assert (answer.status_code, answer.json()["code"]) == (422, "meets_limit")
    assert sample.one("readings", "r2")["decision"]["state"] == "proposed"


def test_a_changed_reading_is_judged_with_the_thermometer_of_the_day(sample: Sample) -> None:
    """The probe read 33.5 °F in ice water, so 42 °F on it is 40.5 °F."""
    now = an_extraction()
    ice = a_reading(
        "r4", 33.5, stage="thermometer_check", item="my probe", utterance=2, span=(0, 4), check=None
    )
    sample.propose(replace(now, readings=(*now.readings, ice)))
    sample.decide("r3", "edit", changes={"value": 42})
    check = sample.one("readings", "r3")["check"]
    assert (check["verdict"], check["margin"]) == ("borderline", -0.5)


def test_editing_keeps_what_the_program_proposed(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"where": "reach-in by the grill", "corrected_on_site": True})
    finding = sample.one("findings", "f1")
    assert (finding["where"], finding["corrected_on_site"]) == ("reach-in by the grill", True)
    assert finding["proposed"] == {"where": "walk-in cooler", "corrected_on_site": False}
    assert finding["decision"]["state"] == "edited"


def test_a_second_edit_adds_to_the_first(sample: Sample) -> None:
    sample.decide("r3", "edit", changes={"place": "bar cooler"})
    sample.decide("r3", "edit", changes={"item": "whole milk"})
    reading = sample.one("readings", "r3")
    assert (reading["place"], reading["item"]) == ("bar cooler", "whole milk")


def test_an_edit_that_changes_nothing_confirms(sample: Sample) -> None:
    sample.decide("r3", "edit", changes={"item": "milk"})
    assert sample.one("readings", "r3")["decision"]["state"] == "confirmed"


def test_another_section_brings_its_class_and_form_item(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"provision": "6-301.12"})
    finding = sample.one("findings", "f1")
    assert (finding["class"], finding["form_item"]) == ("Pf", 10)  # Food Code 2022, 6-301.12
    assert finding["title"]


def test_rejecting_needs_a_reason_and_keeps_it(sample: Sample) -> None:
    assert sample.decide("f1", "reject").json()["where"] == "reason"
    assert sample.decide("f1", "reject", reason="it was the prep table").status_code == 200
    finding = sample.one("findings", "f1")
    assert (finding["decision"]["state"], finding["decision"]["reason"]) == (
        "rejected",
        "it was the prep table",
    )
    assert finding["lacks"] == []


def test_reopening_takes_a_decision_back(sample: Sample) -> None:
    sample.decide("r3", "confirm")
    sample.decide("r3", "reopen")
    assert sample.one("readings", "r3")["decision"]["state"] == "proposed"


WRONG = [
    ("r9", "confirm", {}, 404, "not_found"),
    ("f9", "confirm", {}, 404, "not_found"),
    ("r1", "edit", {"changes": {"value": "warm"}}, 422, "not_valid"),
    ("r1", "edit", {"changes": {"value": None}}, 422, "not_valid"),
    ("r1", "edit", {"changes": {"colour": "red"}}, 422, "not_valid"),
    ("r1", "edit", {"changes": {"unit": "furlong"}}, 422, "not_valid"),
    ("f1", "edit", {"changes": {"provision": "99-999.99"}}, 422, "not_valid"),
    ("f1", "edit", {"changes": {"when": "2026-05-04T10:00:00"}}, 422, "not_valid"),
    ("x1", "confirm", {}, 422, "not_valid"),
    ("r1", "bless", {}, 422, "not_valid"),
]


@pytest.mark.parametrize(("subject", "action", "more", "status", "code"), WRONG)
def test_what_cannot_be_done_changes_nothing(
    sample: Sample, subject: str, action: str, more: dict[str, Any], status: int, code: str
) -> None:
    before = sample.desk()
    answer = sample.decide(subject, action, **more)
    assert (answer.status_code, answer.json()["code"]) == (status, code)
    assert answer.headers["content-type"] == "application/problem+json"
    assert sample.desk() == before


def test_a_finding_added_by_hand_counts_as_confirmed(sample: Sample) -> None:
    answer = sample.post(
        "findings", provision="6-301.12", what="No towels at the bar sink", where="bar", photos=[SINK]
    )
    assert (answer.status_code, answer.json()["subject"]) == (201, "h1")
    finding = sample.one("findings", "h1")
    assert (finding["decision"]["state"], finding["class"], finding["by_hand"]) == ("confirmed", "Pf", True)
    assert finding["photos"] == [{"sha256": SINK, "by": "person"}]
    sample.decide("h1", "edit", changes={"where": "front bar"})
    assert sample.one("findings", "h1")["where"] == "front bar"


def test_a_finding_by_hand_gets_its_deadline_from_the_rules(sample: Sample) -> None:
    """Food Code 2022, 8-405.11: 72 hours for a priority item, 10 days for a priority foundation item."""
    when = "2026-05-04T10:40:00-05:00"
    found = datetime.fromisoformat(when)
    sample.post("findings", provision="3-501.16(A)(2)", what="warm", when=when)
    sample.post("findings", provision="6-301.12", what="none", when=when)
    by = [datetime.fromisoformat(sample.one("findings", name)["correct_by"]) for name in ("h1", "h2")]
    assert by[0] - found == timedelta(hours=72)
    assert (by[1].date() - found.date()).days == 10


def test_photos_are_attached_and_detached(sample: Sample) -> None:
    assert sample.one("findings", "f1")["photos"] == [{"sha256": SHELF, "by": "program"}]
    assert sample.one("findings", "f1")["photos_around"] == [SINK]  # taken within two minutes
    sample.attach("f1", SINK)
    sample.detach("f1", SHELF)
    assert sample.one("findings", "f1")["photos"] == [{"sha256": SINK, "by": "person"}]
    assert sample.one("photos", SINK)["findings"] == ["f1"]


def test_one_photo_shows_several_findings(sample: Sample) -> None:
    sample.attach("f2", SHELF)
    assert sample.one("photos", SHELF)["findings"] == ["f1", "f2"]


def test_an_answer_feeds_its_finding(sample: Sample) -> None:
    question = sample.one("findings", "f1")["questions"][0]
    assert sample.one("findings", "f1")["lacks"] == [question["text"]]
    sample.put(f"questions/{question['id']}", answer="since nine this morning")
    assert sample.one("findings", "f1")["questions"][0]["answer"] == "since nine this morning"
    assert sample.one("findings", "f1")["lacks"] == []
    sample.put(f"questions/{question['id']}", answer="")
    assert sample.one("findings", "f1")["lacks"] == [question["text"]]


def test_facts_captions_notes_and_stretches_are_kept(sample: Sample) -> None:
    sample.put("facts", person_in_charge="Tomas Birchwood")
    sample.put(f"photos/{SHELF}", caption="Top shelf", covers=[{"x": 0, "y": 0, "width": 0.2, "height": 0.1}])
    sample.put("notes", remarks=["The cook will call for service"])
    sample.put("notes", education=["How to cool in shallow pans"])
    sample.put(f"stretches/{'a' * 64}", start=50.0, text="radio")
    desk = sample.desk()
    assert (desk["facts"]["person_in_charge"], desk["facts"]["establishment"]) == (
        "Tomas Birchwood",
        "The Copper Ladle",
    )
    assert sample.one("photos", SHELF)["covers"][0]["width"] == 0.2
    assert (desk["remarks"], desk["education"]) == (
        ["The cook will call for service"],
        ["How to cool in shallow pans"],
    )
    assert desk["not_understood"] == [
        {"recording": "a" * 64, "start": 50.0, "end": 52.0, "text": "radio", "settled": True}
    ]
