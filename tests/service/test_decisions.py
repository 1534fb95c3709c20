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


UNCHOSEN: list[tuple[str, str, dict[str, Any]]] = [
    ("reject", "confirm", {}),
    ("reject", "edit", {"changes": {"place": "grill"}}),
    ("reopen", "edit", {"changes": {"place": "grill"}}),
]


@pytest.mark.parametrize(("first", "then", "more"), UNCHOSEN)
def test_a_doubted_number_stays_doubted_until_one_is_chosen(
    sample: Sample, first: str, then: str, more: dict[str, Any]
) -> None:
    sample.decide("r2", first, reason="misheard")
    answer = sample.decide("r2", then, **more)
    assert (answer.status_code, answer.json()["code"]) == (422, "choice_needed")
    assert answer.json()["readings"] == [{"id": "r2", "choices": [154.0, 164.0]}]


def test_a_number_that_was_chosen_needs_no_second_choice(sample: Sample) -> None:
    sample.decide("r2", "confirm", choice=164)
    assert sample.decide("r2", "edit", changes={"place": "grill"}).status_code == 200
    assert sample.decide("r2", "confirm").status_code == 200
    assert sample.one("readings", "r2")["value"] == 164
    sample.decide("r2", "reject", reason="misheard")
    assert sample.decide("r2", "confirm").status_code == 422


def test_typing_the_value_of_a_doubted_number_chooses_it(sample: Sample) -> None:
    sample.decide("r2", "edit", changes={"value": 154})
    assert sample.one("readings", "r2")["decision"]["choice"] == 154
    assert sample.decide("r2", "confirm").status_code == 200


def test_a_chosen_number_stays_when_the_program_hears_another(sample: Sample) -> None:
    sample.decide("r2", "confirm", choice=154)
    now = an_extraction()
    heard = replace(now.readings[1], value=145.0)
    sample.propose(replace(now, readings=(now.readings[0], heard, now.readings[2])))
    sample.decide("r2", "confirm")
    assert sample.one("readings", "r2")["value"] == 154


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


def test_the_same_finding_sent_twice_is_one_finding(sample: Sample) -> None:
    body = {"provision": "6-301.12", "what": "No towels at the bar sink", "key": "tab-1.7"}
    first = sample.post("findings", **body)
    again = sample.client.post(f"{sample.at}/findings", json={**body, "revision": 0})
    assert (again.status_code, again.json()["subject"]) == (201, "h1")
    assert again.json()["revision"] == first.json()["revision"]
    assert sample.post("findings", **{**body, "key": "tab-1.8"}).json()["subject"] == "h2"
    assert sample.post("findings", provision="6-301.12", what="No towels").json()["subject"] == "h3"
    assert sample.post("findings", provision="6-301.12", what="No towels").json()["subject"] == "h4"


SEVERAL = [
    ("3-202.110", None, "Pf", ["Pf", "P"]),
    ("3-202.110", "P", "P", []),
    ("2-301.16", None, "C", ["C", "Pf"]),
    ("3-501.16(A)(2)", None, "P", []),
]


@pytest.mark.parametrize(("section", "given", "class_", "asked"), SEVERAL)
def test_of_several_classes_the_least_strict_is_taken_and_asked_about(
    sample: Sample, section: str, given: str | None, class_: str, asked: list[str]
) -> None:
    """Food Code 2022: 3-202.110 is P or Pf by paragraph, 2-301.16 Pf or C."""
    sample.post("findings", provision=section, what="seen", **({"class": given} if given else {}))
    sample.decide("f1", "edit", changes={"provision": section, **({"class": given} if given else {})})
    for name in ("h1", "f1"):
        finding = sample.one("findings", name)
        assert (finding["class"], finding["class_choices"]) == (class_, asked)
        gaps = [item["text"] for item in sample.desk()["missing"] if item["subject"] == name]
        assert any("choose the class" in text for text in gaps) == bool(asked)
        assert any("choose the class" in text for text in finding["lacks"]) == bool(asked)


def test_a_section_sent_back_as_it_is_shown_keeps_its_class(sample: Sample) -> None:
    now = an_extraction()
    juice = replace(now.findings[0], provision="3-202.110", class_="P")
    sample.propose(replace(now, findings=(juice, *now.findings[1:])))
    name = next(one["id"] for one in sample.desk()["findings"] if one["provision"] == "3-202.110")
    sample.decide(name, "edit", changes={"provision": "3-202.110", "where": "bar"})
    finding = sample.one("findings", name)
    assert (finding["class"], finding["class_choices"]) == ("P", [])


@pytest.mark.parametrize("settle", [("edit", {"class": "P"}), ("confirm", {})])
def test_a_class_that_was_asked_is_settled_by_choosing_or_confirming_it(
    sample: Sample, settle: tuple[str, dict[str, Any]]
) -> None:
    sample.post("findings", provision="3-202.110", what="seen")
    sample.decide("h1", "edit", changes={"where": "bar"})
    assert sample.one("findings", "h1")["class_choices"] == ["Pf", "P"]
    sample.decide("h1", settle[0], changes=settle[1])
    assert sample.one("findings", "h1")["class_choices"] == []


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


def _to_decide(sample: Sample) -> int:
    """What the desk's list has to decide, by its own rule."""
    desk = sample.desk()
    resting = {name for finding in desk["findings"] for name in finding["readings"]}
    open_ones = [
        *(one for one in desk["findings"] if one["decision"]["state"] == "proposed" and not one["by_hand"]),
        *(
            one
            for one in desk["readings"]
            if one["id"] not in resting and one["decision"]["state"] == "proposed"
        ),
        *(one for one in desk["questions"] if not one["finding"] and one["answer"] is None),
    ]
    return len(open_ones)


def test_the_list_of_inspections_tells_as_many_to_decide_as_the_desk(sample: Sample) -> None:
    def listed() -> int:
        return sample.client.get("/api/inspections").json()["inspections"][0]["undecided"]

    assert listed() == _to_decide(sample)
    sample.decide("f1", "confirm")
    assert listed() == _to_decide(sample)
    sample.decide("r3", "confirm")
    assert listed() == _to_decide(sample)
    sample.decide("f2", "reject", reason="not so")
    assert listed() == _to_decide(sample)
