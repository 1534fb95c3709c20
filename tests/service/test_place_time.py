"""Times of a visit are stored and shown on the clock of the place, whatever zone this machine is in."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta, timezone, tzinfo
from typing import Any

import pytest

from review_api.place_time import local, zone_of
from review_api.report.times import Clock
from review_api.store import inspections
from tests.service.samples import BEGAN, SHELF, Sample, an_extraction
from tests.service.test_closing import AMENDMENT, handed_over, sealed

PLUS_2 = timezone(timedelta(hours=2))

ZONES: list[tuple[dict[str, Any], tuple[str, ...], int]] = [
    ({"time_zone": "America/Chicago", "time_in": "2026-05-04T16:00:00+00:00"}, (), -5),
    ({"time_zone": "Atlantis/Nowhere", "time_in": "2026-05-04T10:00:00-06:00"}, (), -6),
    ({"time_in": "2026-05-04T10:00:00-06:00"}, ("2026-05-04T10:00:00-05:00",), -6),
    ({}, ("2026-05-04T10:00:00-05:00",), -5),
]


@pytest.mark.parametrize(("facts", "started", "hours"), ZONES)
def test_the_zone_is_the_one_named_else_that_of_the_first_time(
    facts: dict[str, Any], started: tuple[str, ...], hours: int
) -> None:
    assert BEGAN.astimezone(zone_of(facts, started)).utcoffset() == timedelta(hours=hours)


ENDS = [
    datetime.max.replace(tzinfo=timezone(timedelta(hours=-9))),
    datetime.min.replace(tzinfo=timezone(timedelta(hours=9))),
]


@pytest.mark.parametrize("at", ENDS)
@pytest.mark.parametrize("zone", [PLUS_2, zone_of({})])
def test_a_time_at_the_ends_of_the_calendar_stays_as_it_is(at: datetime, zone: tzinfo) -> None:
    assert local(at, zone).isoformat() == at.isoformat()


def everything(value: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """All texts of an answer that are times, with where they stand."""
    if isinstance(value, dict):
        for name, part in value.items():
            yield from everything(part, f"{path}.{name}")
    elif isinstance(value, list):
        for part in value:
            yield from everything(part, path)
    elif isinstance(value, str) and re.match(r"\d{4}-\d\d-\d\dT\d\d:\d\d", value):
        yield path, value


def test_every_time_of_a_sealed_inspection_has_the_places_offset(sample: Sample) -> None:
    sample.put("facts", time_out="2026-05-04T16:30:00Z", revisit="2026-05-11T15:00:00Z")
    sample.post("findings", provision="6-301.12", what="none", when="2026-05-04T15:45:00Z")
    sample.post("findings", provision="3-501.16(A)(2)", what="warm")
    sample.decide("h1", "edit", changes={"when": "2026-05-04T15:50:00Z"})
    sample.decide("r3", "confirm")
    sealed(sample)
    handed_over(sample)
    assert sample.post("amendments", **{**AMENDMENT, "approved": "2026-05-05T14:00:00Z"}).status_code == 201
    shown = [
        sample.desk(),
        sample.client.get("/api/due").json(),
        sample.client.get("/api/inspections").json(),
        *(
            sample.client.get(f"{sample.at}/report.json?report={row['id']}").json()
            for row in sample.desk()["reports"]
        ),
    ]
    times = list(everything(shown))
    assert len(times) > 30
    assert [(path, at) for path, at in times if not at.endswith("-05:00")] == []


def test_a_finding_by_hand_without_a_time_is_due_by_the_places_clock(sample: Sample) -> None:
    """Food Code 2022, 8-405.11: ten days for a priority foundation item; a day ends at midnight there."""
    sample.post("findings", provision="6-301.12", what="none")
    by = sample.one("findings", "h1")["correct_by"]
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT23:59:00-05:00", by)


def test_the_record_is_printed_on_the_places_clock(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"correct_by": "2026-05-07T02:30:00Z"})
    sample.detach("f1", SHELF)
    sample.post("report")
    page = sample.client.get(f"{sample.at}/report.html").text
    assert "Wednesday, May 6, 2026, 9:30 PM" in page
    assert "Times are local to the place of the visit, UTC−05:00" in page


FOLLOWS: list[tuple[dict[str, Any], str]] = [
    ({"when": "2026-05-04T12:00:00-05:00"}, "2026-05-07T12:00:00-05:00"),
    ({"when": "2026-05-04T17:00:00Z"}, "2026-05-07T12:00:00-05:00"),
    ({"class": "Pf"}, "2026-05-14T23:59:00-05:00"),
    ({"when": "2026-05-05T12:00:00-05:00", "class": "Pf"}, "2026-05-15T23:59:00-05:00"),
    ({"provision": "6-301.12"}, "2026-05-14T23:59:00-05:00"),
    ({"correct_by": "2026-05-05T08:00:00-05:00"}, "2026-05-05T08:00:00-05:00"),
    ({"correct_by": "2026-05-05T08:00:00-05:00", "class": "Pf"}, "2026-05-05T08:00:00-05:00"),
]


@pytest.mark.parametrize("subject", ["f1", "h1"])
@pytest.mark.parametrize(("changes", "by"), FOLLOWS)
def test_the_deadline_follows_time_and_class_unless_it_was_typed(
    sample: Sample, subject: str, changes: dict[str, Any], by: str
) -> None:
    """Food Code 2022, 8-405.11: 72 hours for a priority item, ten days for a priority foundation item."""
    sample.post("findings", provision="3-501.16(A)(2)", what="warm", when=BEGAN.isoformat())
    sample.decide(subject, "edit", changes=changes)
    assert sample.one("findings", subject)["correct_by"] == by
    sample.decide(subject, "edit", changes={"where": "bar"})
    assert sample.one("findings", subject)["correct_by"] == by


def test_a_typed_deadline_that_is_the_one_shown_goes_on_following(sample: Sample) -> None:
    sample.post("findings", provision="3-501.16(A)(2)", what="warm", when=BEGAN.isoformat())
    shown = sample.one("findings", "h1")["correct_by"]
    sample.decide("h1", "edit", changes={"correct_by": shown, "where": "bar"})
    sample.decide("h1", "edit", changes={"class": "Pf"})
    assert sample.one("findings", "h1")["correct_by"] == "2026-05-14T23:59:00-05:00"


def test_the_list_shows_the_time_in_as_the_person_corrected_it(sample: Sample) -> None:
    sample.put("facts", time_in="2026-05-04T09:15:00-05:00")
    line = sample.client.get("/api/inspections").json()["inspections"][0]
    assert line["visited"] == "2026-05-04T09:15:00-05:00"


def test_the_list_goes_by_the_first_recording_once_the_time_in_is_cleared(sample: Sample) -> None:
    sample.put("facts", time_in="2026-05-04T09:15:00-05:00")
    sample.put("facts", time_in=None)
    line = sample.client.get("/api/inspections").json()["inspections"][0]
    assert line["visited"] == BEGAN.isoformat()


OTHER_DAYS = [
    ("2026-05-04T10:42:00-05:00", "10:42 AM"),
    ("2026-05-04T09:42:00-06:00", "9:42 AM (UTC−06:00)"),
    ("2026-12-04T10:42:00-06:00", "10:42 AM"),  # the same place in winter
    ("2026-05-05T15:42:00+00:00", "3:42 PM (UTC+00:00)"),
]


@pytest.mark.parametrize(("at", "printed"), OTHER_DAYS)
def test_a_printed_time_that_is_not_of_the_place_says_so_on_every_day(at: str, printed: str) -> None:
    clock = Clock(base="UTC−05:00", day=BEGAN.date())
    assert clock.time(datetime.fromisoformat(at)) == printed


def test_the_list_says_what_is_due_on_the_places_clock(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"correct_by": "2026-05-04T03:30:00Z"})
    sealed(sample)
    line = sample.client.get("/api/inspections").json()["inspections"][0]
    assert (line["due"], line["due_at"]) == ("correct by 2026-05-03 22:30", "2026-05-03T22:30:00-05:00")


SETTLED = [("correct by", "f1"), ("revisit", "visit")]


@pytest.mark.parametrize(("what", "subject"), SETTLED)
def test_a_correction_and_a_revisit_are_marked_as_done_and_not(
    sample: Sample, what: str, subject: str
) -> None:
    def due() -> set[tuple[str, str]]:
        return {(item["what"], item["subject"]) for item in sample.client.get("/api/due").json()}

    sample.decide("f1", "edit", changes={"correct_by": "2026-05-07T10:40:00-05:00"})
    sample.put("facts", revisit="2026-05-11T12:00:00-05:00")
    sealed(sample)
    answer = settle(sample, what=what, subject=subject, note="seen on the revisit")
    assert answer.status_code == 200
    assert answer.json()["revision"] == sample.revision()
    assert (what, subject) not in due()
    assert settle(sample, what=what, subject=subject).json()["revision"] == sample.revision()
    assert "seen on the revisit" in sample.client.get(f"{sample.at}/log").text
    assert sample.client.get(f"{sample.at}/seal").json()["whole"]
    settle(sample, what=what, subject=subject, done=False)
    assert (what, subject) in due()


def test_what_is_not_due_cannot_be_done(sample: Sample) -> None:
    assert settle(sample, what="revisit", subject="visit").status_code == 404
    assert settle(sample, what="report to hand over", subject="x").status_code == 422


def settle(sample: Sample, **body: Any) -> Any:
    return sample.client.put(f"{sample.at}/dues", json=body)


def propose_clock(sample: Sample, clock: str) -> None:
    now = an_extraction()
    sample.propose(replace(now, readings=(replace(now.readings[0], clock=clock), *now.readings[1:])))


CLOCKS = [
    ("10:40", "2026-05-04T10:40:00-05:00"),
    ("10:50", "2026-05-04T10:50:00-05:00"),  # the clock on the wall is fast
    ("10:56", "2026-05-03T10:56:00-05:00"),
    ("22:00", "2026-05-03T22:00:00-05:00"),
    ("06:15", "2026-05-04T06:15:00-05:00"),
]


@pytest.mark.parametrize(("clock", "at"), CLOCKS)
def test_a_clock_time_that_had_not_come_yet_is_of_the_day_before(sample: Sample, clock: str, at: str) -> None:
    propose_clock(sample, clock)
    assert sample.one("readings", "r1")["at"] == at


def test_a_time_of_the_day_before_is_printed_with_its_day(sample: Sample) -> None:
    propose_clock(sample, "22:00")
    sample.decide("r1", "confirm")
    sample.post("report")
    page = sample.client.get(f"{sample.at}/report.html").text
    assert "Sunday, May 3, 2026, 10:00 PM" in page


def test_a_named_zone_counts_on_every_date(sample: Sample) -> None:
    """Chicago keeps UTC−05:00 in May and UTC−06:00 in December."""
    with sample.state.database.writing() as session:
        inspection = inspections.get(session, sample.inspection)
        inspection.facts = {**inspection.facts, "time_zone": "America/Chicago"}
        session.add(inspection)
    sample.post("findings", provision="6-301.12", what="none", when="2026-12-01T16:00:00Z")
    assert sample.one("findings", "h1")["when"] == "2026-12-01T10:00:00-06:00"
