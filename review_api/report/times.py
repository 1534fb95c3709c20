"""Times and dates as a report prints them: local to the visit, an offset only where one differs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

_MONTHS = {
    "en": "January,February,March,April,May,June,July,August,September,October,November,December",
    "es": "enero,febrero,marzo,abril,mayo,junio,julio,agosto,septiembre,octubre,noviembre,diciembre",
}
_DAYS = {
    "en": "Monday,Tuesday,Wednesday,Thursday,Friday,Saturday,Sunday",
    "es": "lunes,martes,miércoles,jueves,viernes,sábado,domingo",
}


def offset(value: datetime) -> str:
    """The offset as `UTC−05:00`. Raises ValueError for a time without one."""
    away = value.utcoffset()
    if away is None:
        raise ValueError(f"the time {value.isoformat()} has no offset")
    minutes = round(away.total_seconds() / 60)
    return f"UTC{'−' if minutes < 0 else '+'}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"


def _minutes(shown: str) -> int:
    """The minutes of an offset such as `UTC−05:00`."""
    hours, minutes = shown[4:].split(":")
    return (-1 if shown[3] == "−" else 1) * (60 * int(hours) + int(minutes))


@dataclass(frozen=True, slots=True)
class Clock:
    """Prints times as they are on the wall; one of `day` whose offset is not `base` says its own."""

    language: str = "en"
    base: str | None = None
    """The offset that the document gives once; None: no time says its own."""
    day: date | None = None
    """The day of the visit. On other days the place's own clock is meant, and an hour more or less is its
    daylight time; None: no day is told apart."""

    def time(self, value: datetime) -> str:
        """`10:42 AM`; in Spanish `10:42`."""
        if self.language == "es":
            shown = f"{value.hour}:{value.minute:02}"
        else:
            shown = f"{value.hour % 12 or 12}:{value.minute:02} {'AM' if value.hour < 12 else 'PM'}"
        own = self.base is None or offset(value) == self.base or self._is_daylight_time(value)
        return shown if own else f"{shown} ({offset(value)})"

    def _is_daylight_time(self, value: datetime) -> bool:
        """Whether the offset of another day may be that of the same place."""
        if self.day is None or value.date() == self.day:
            return False
        return abs(_minutes(offset(value)) - _minutes(self.base or offset(value))) <= 60

    def date(self, value: date) -> str:
        """`Monday, May 4, 2026`; in Spanish `lunes, 4 de mayo de 2026`."""
        day = _DAYS[self.language].split(",")[value.weekday()]
        month = _MONTHS[self.language].split(",")[value.month - 1]
        if self.language == "es":
            return f"{day}, {value.day} de {month} de {value.year}"
        return f"{day}, {month} {value.day}, {value.year}"

    def both(self, value: datetime) -> str:
        """Date and time."""
        return f"{self.date(value)}, {self.time(value)}"
