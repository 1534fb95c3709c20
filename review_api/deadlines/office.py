"""When the office is open: hours by weekday, holidays of its place, and days of its own, from settings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from shared.errors import InputError

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_LONGEST_CLOSURE_DAYS = 366


@dataclass(frozen=True, slots=True)
class OpeningHours:
    """From when to when the office is open on one weekday."""

    opens: time
    closes: time


EIGHT_TO_FIVE = OpeningHours(time(8, 0), time(17, 0))
DEFAULT_HOURS = dict.fromkeys(range(5), EIGHT_TO_FIVE)


@dataclass(frozen=True, slots=True)
class Office:
    """An office's calendar. All times it gives carry the offset of its zone on that day."""

    zone: ZoneInfo
    hours: Mapping[int, OpeningHours] = field(default_factory=lambda: DEFAULT_HOURS)
    """By weekday, Monday 0; a weekday that is missing is no business day."""
    country: str = "US"
    """ISO 3166-1 code, for public holidays; empty: none."""
    subdivision: str | None = None
    """ISO 3166-2 part, such as `MN`."""
    closed: frozenset[date] = frozenset()
    """Days on which this office is closed besides."""
    open_anyway: frozenset[date] = frozenset()
    """Public holidays on which this office works."""

    def is_business_day(self, day: date) -> bool:
        """Whether the office is open that day."""
        if day in self.closed or day.weekday() not in self.hours:
            return False
        return day in self.open_anyway or day not in _holidays(self.country, self.subdivision, day.year)

    def holiday(self, day: date) -> str | None:
        """The public holiday's name; None when it is none."""
        return _holidays(self.country, self.subdivision, day.year).get(day)

    def local(self, moment: datetime) -> datetime:
        """The moment on the office's wall clock. Raises ValueError for a time without an offset."""
        if moment.tzinfo is None:
            raise ValueError(f"the time {moment.isoformat()} has no offset")
        return moment.astimezone(self.zone)

    def opens(self, day: date) -> datetime:
        """When the office opens that business day. Raises ValueError when it is none."""
        return datetime.combine(day, self._hours(day).opens, tzinfo=self.zone)

    def closes(self, day: date) -> datetime:
        """The close of business that day. Raises ValueError when it is no business day."""
        return datetime.combine(day, self._hours(day).closes, tzinfo=self.zone)

    def next_business_day(self, day: date) -> date:
        """The first business day after `day`. Raises InputError when there is none within a year."""
        for _ in range(_LONGEST_CLOSURE_DAYS):
            day += timedelta(days=1)
            if self.is_business_day(day):
                return day
        raise InputError("office settings: no business day within a year; name the hours of a weekday")

    def this_or_next(self, day: date) -> date:
        """`day` itself when it is a business day, else the next."""
        return day if self.is_business_day(day) else self.next_business_day(day)

    def _hours(self, day: date) -> OpeningHours:
        if not self.is_business_day(day):
            raise ValueError(f"{day.isoformat()} is no business day")
        return self.hours[day.weekday()]


@lru_cache(maxsize=64)
def _holidays(country: str, subdivision: str | None, year: int) -> Mapping[date, str]:
    if not country:
        return {}
    import holidays

    return dict(holidays.country_holidays(country, subdiv=subdivision, years=year))


def read_office(settings: object) -> Office:
    """The office in a settings table; every entry may be missing but `time_zone`.

    `time_zone = "America/Chicago"`, `country = "US"`, `subdivision = "MN"`, `closed = [2026-12-24]`,
    `open_anyway = [2026-10-12]`, and `[hours]` with `monday = "08:00-17:00"` and so on.
    Raises InputError with all faults, by entry.
    """
    if not isinstance(settings, Mapping):
        raise InputError(f"office settings: {settings!r} is no table; write them below [office]")
    faults: list[str] = []
    zone = _zone(settings.get("time_zone"), faults)
    hours = _all_hours(settings.get("hours"), faults)
    country, subdivision = settings.get("country", "US"), settings.get("subdivision")
    if country:
        _check_place(country, subdivision, faults)
    days = {name: _days(name, settings.get(name, []), faults) for name in ("closed", "open_anyway")}
    known = {"time_zone", "hours", "country", "subdivision", *days}
    faults.extend(f"{name}: is no setting" for name in settings if name not in known)
    if faults or zone is None:
        raise InputError(f"office settings: {'; '.join(faults)}")
    return Office(
        zone=zone,
        hours=hours,
        country=country,
        subdivision=subdivision,
        closed=days["closed"],
        open_anyway=days["open_anyway"],
    )


def _zone(name: Any, faults: list[str]) -> ZoneInfo | None:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, TypeError, ValueError, OSError):
        faults.append(f"time_zone: {name!r} is no time zone; write one such as America/Chicago")
        return None


def _all_hours(table: Any, faults: list[str]) -> dict[int, OpeningHours]:
    if table is None:
        return dict(DEFAULT_HOURS)
    hours = {}
    for name, text in table.items() if isinstance(table, Mapping) else [("hours", table)]:
        try:
            opens, closes = (time.fromisoformat(part.strip()) for part in text.split("-"))
            if name not in WEEKDAYS or opens >= closes:
                raise ValueError(name)
            hours[WEEKDAYS.index(name)] = OpeningHours(opens, closes)
        except (ValueError, AttributeError, TypeError):
            faults.append(f'hours.{name}: write it as monday = "08:00-17:00"')
    if not hours and not faults:
        faults.append("hours: the office is never open; name at least one weekday")
    return hours


def _check_place(country: Any, subdivision: Any, faults: list[str]) -> None:
    import holidays

    known = holidays.list_supported_countries()
    if not isinstance(country, str) or country not in known:
        faults.append(
            f"country: the holidays of {country!r} are not known; write its ISO code, or an empty text"
        )
    elif subdivision is not None and (not isinstance(subdivision, str) or subdivision not in known[country]):
        faults.append(
            f"subdivision: {subdivision!r} is no part of {country}; write its ISO code, or leave it out"
        )


def _days(name: str, days: Any, faults: list[str]) -> frozenset[date]:
    if not isinstance(days, list) or any(type(day) is not date for day in days):
        faults.append(f"{name}: write days as [2026-12-24, 2026-12-31]")
        return frozenset()
    return frozenset(days)
