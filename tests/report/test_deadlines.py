"""Business-day clocks over weekends, holidays and changes of daylight time.

Outside references: dateutil's recurrence rules for business days; 5 U.S.C. 6103 for federal holidays and
their observed days; the tz database for offsets (2026: daylight time from March 8 to November 1 in the United
States).
"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import DAILY, FR, MO, TH, TU, WE, rrule
from hypothesis import given
from hypothesis import strategies as st

from review_api.deadlines import (
    Due,
    Office,
    OpeningHours,
    after_business_days,
    after_calendar_days,
    after_hours,
    hand_over,
    read_office,
    standing,
)
from shared.errors import InputError

ZONE = ZoneInfo("America/Chicago")
OFFICE = Office(zone=ZONE)

# 5 U.S.C. 6103; July 4, 2026 is a Saturday, so the Friday before is observed.
FEDERAL_2026 = [
    date(2026, month, day)
    for month, day in (
        (1, 1), (1, 19), (2, 16), (5, 25), (6, 19), (7, 3), (9, 7), (10, 12), (11, 11), (11, 26), (12, 25),
    )
]  # fmt: skip


def at(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=ZONE)


def reference(days: int, start: date) -> date:
    """The business day so many after `start`, by dateutil alone."""
    rule = rrule(
        DAILY, byweekday=(MO, TU, WE, TH, FR), dtstart=datetime.combine(start, time()) + timedelta(1)
    )
    open_days = (found.date() for found in rule if found.date() not in FEDERAL_2026)
    return [next(open_days) for _ in range(days)][-1]


@pytest.mark.parametrize("day", FEDERAL_2026)
def test_federal_holidays_are_no_business_days(day: date) -> None:
    assert not OFFICE.is_business_day(day)
    assert OFFICE.holiday(day)


def test_every_day_of_a_year_is_as_dateutil_says() -> None:
    first, last = datetime(2026, 1, 1), datetime(2026, 12, 31)  # noqa: DTZ001 - days, not moments
    weekdays = rrule(DAILY, byweekday=(MO, TU, WE, TH, FR), dtstart=first, until=last)
    open_days = {found.date() for found in weekdays} - set(FEDERAL_2026)
    year = [date(2026, 1, 1) + timedelta(days=number) for number in range(365)]
    assert {day for day in year if OFFICE.is_business_day(day)} == open_days


@given(st.dates(date(2026, 1, 2), date(2026, 10, 1)), st.integers(1, 30))
def test_business_days_are_counted_as_dateutil_counts(start: date, days: int) -> None:
    moment = datetime.combine(start, time(10, 0), tzinfo=ZONE)
    assert after_business_days(moment, days, office=OFFICE).date() == reference(days, start)


HAND_OVERS = [
    # visit ended, due, latest
    ("an ordinary Monday", "2026-05-04T11:58", "2026-05-04T17:00", "2026-05-05T17:00"),
    ("to the minute at closing", "2026-05-04T17:00", "2026-05-04T17:00", "2026-05-05T17:00"),
    ("a minute after closing", "2026-05-04T17:01", "2026-05-05T17:00", "2026-05-05T17:00"),
    ("a Friday", "2026-05-08T16:00", "2026-05-08T17:00", "2026-05-11T17:00"),
    ("a Friday evening", "2026-05-08T20:00", "2026-05-11T17:00", "2026-05-11T17:00"),
    ("a Saturday", "2026-05-09T12:00", "2026-05-11T17:00", "2026-05-11T17:00"),
    ("before a long weekend", "2026-07-02T15:00", "2026-07-02T17:00", "2026-07-06T17:00"),
    ("on a holiday", "2026-11-26T12:00", "2026-11-27T17:00", "2026-11-27T17:00"),
    ("the night daylight time begins", "2026-03-08T03:30", "2026-03-09T17:00", "2026-03-09T17:00"),
    ("the Friday before it ends", "2026-10-30T09:00", "2026-10-30T17:00", "2026-11-02T17:00"),
    ("over the turn of the year", "2026-12-31T16:00", "2026-12-31T17:00", "2027-01-04T17:00"),
]


@pytest.mark.parametrize(
    ("ended", "due", "latest"), [pytest.param(*row[1:], id=row[0]) for row in HAND_OVERS]
)
def test_a_report_is_due_by_the_close_of_the_visit_s_day(ended: str, due: str, latest: str) -> None:
    clock = hand_over(at(ended), office=OFFICE)
    assert (clock.due, clock.latest) == (at(due), at(latest))


def test_offsets_follow_daylight_time() -> None:
    assert hand_over(at("2026-03-06T10:00"), office=OFFICE).due.utcoffset() == timedelta(hours=-6)
    assert hand_over(at("2026-03-06T10:00"), office=OFFICE).latest.utcoffset() == timedelta(hours=-5)


def test_a_visit_in_another_zone_is_judged_on_the_office_s_clock() -> None:
    # 18:30 in New York is 17:30 in Chicago: after closing.
    ended = datetime(2026, 5, 4, 18, 30, tzinfo=ZoneInfo("America/New_York"))
    assert hand_over(ended, office=OFFICE).due == at("2026-05-05T17:00")


@pytest.mark.parametrize(
    ("start", "end"),
    [
        ("2026-05-04T10:42", "2026-05-07T10:42"),
        ("2026-03-06T10:00", "2026-03-09T11:00"),  # one hour of the night was left out
        ("2026-10-30T10:00", "2026-11-02T09:00"),  # one hour of the night came twice
    ],
)
def test_72_hours_are_72_hours(start: str, end: str) -> None:
    # The longest extension for a priority item, Food Code 2022, 8-405.11(B)(1).
    assert after_hours(at(start), 72, office=OFFICE) == at(end)


@pytest.mark.parametrize(
    ("start", "days", "end"),
    [
        ("2026-05-04T10:42", 10, "2026-05-14T17:00"),  # 8-405.11(B)(2)
        ("2026-05-06T10:42", 10, "2026-05-18T17:00"),  # the 16th is a Saturday
        ("2026-06-23T10:42", 10, "2026-07-06T17:00"),  # July 3 is a holiday, then a weekend
        ("2026-05-04T10:42", 90, "2026-08-03T17:00"),  # 8-406.11(A); August 2 is a Sunday
    ],
)
def test_calendar_days_end_at_the_close_of_a_business_day(start: str, days: int, end: str) -> None:
    assert after_calendar_days(at(start), days, office=OFFICE) == at(end)


def test_hours_and_days_of_the_office_come_from_settings() -> None:
    office = read_office(
        {
            "time_zone": "America/Denver",
            "country": "US",
            "subdivision": "UT",
            "closed": [date(2026, 5, 5)],
            "open_anyway": [date(2026, 10, 12)],
            "hours": {"monday": "07:00-18:00", "tuesday": "07:00-18:00", "saturday": "09:00-12:00"},
        }
    )
    assert office.hours[5] == OpeningHours(time(9), time(12))
    assert office.closes(date(2026, 5, 4)).isoformat() == "2026-05-04T18:00:00-06:00"
    assert not office.is_business_day(date(2026, 5, 5))
    assert not office.is_business_day(date(2026, 5, 6))  # a Wednesday without hours
    assert office.is_business_day(date(2026, 10, 12))
    # Pioneer Day, a holiday of Utah alone (Utah Code 63G-1-301, from memory); a Friday without hours anyway
    assert office.holiday(date(2026, 7, 24)) == "Pioneer Day"
    assert OFFICE.holiday(date(2026, 7, 24)) is None


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        ({}, "time_zone: None is no time zone"),
        ({"time_zone": "Mars/Base"}, "time_zone: 'Mars/Base' is no time zone"),
        ({"time_zone": "../etc/passwd"}, "is no time zone"),
        ({"time_zone": "UTC", "hours": {"monday": "17:00-08:00"}}, "hours.monday"),
        ({"time_zone": "UTC", "hours": {"funday": "08:00-17:00"}}, "hours.funday"),
        ({"time_zone": "UTC", "hours": {"monday": 8}}, "hours.monday"),
        ({"time_zone": "UTC", "hours": {}}, "never open"),
        ({"time_zone": "UTC", "hours": "8 to 5"}, "hours.hours"),
        ({"time_zone": "UTC", "country": "Atlantis"}, "country: the holidays of 'Atlantis'"),
        ({"time_zone": "UTC", "subdivision": "QQ"}, "subdivision: 'QQ'"),
        ({"time_zone": "UTC", "closed": ["tomorrow"]}, "closed: write days"),
        ({"time_zone": "UTC", "color": "red"}, "color: is no setting"),
    ],
)
def test_faulty_settings_are_named(settings: dict, words: str) -> None:
    with pytest.raises(InputError, match="office settings") as caught:
        read_office(settings)
    assert words in str(caught.value)


def test_an_office_that_never_opens_is_an_error_not_a_loop() -> None:
    with pytest.raises(InputError, match="no business day within a year"):
        Office(zone=ZONE, hours={}).next_business_day(date(2026, 5, 4))


@pytest.mark.parametrize(
    ("now", "done", "stands"),
    [
        ("2026-05-04T09:00", None, "open"),
        ("2026-05-05T00:00", None, "today"),
        ("2026-05-05T17:00", None, "today"),
        ("2026-05-05T17:01", None, "overdue"),
        ("2026-05-09T09:00", "2026-05-05T16:00", "done"),
    ],
)
def test_what_is_due_says_how_it_stands(now: str, done: str | None, stands: str) -> None:
    due = Due("hand over TM-2026-0107", at("2026-05-05T17:00"), at(done) if done else None)
    assert standing(due, now=at(now), office=OFFICE) == stands


def test_a_time_without_an_offset_is_refused() -> None:
    with pytest.raises(ValueError, match="no offset"):
        hand_over(datetime(2026, 5, 4, 12), office=OFFICE)  # noqa: DTZ001
