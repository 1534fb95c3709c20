"""`inspection.toml`: what the inspector knew before and wrote down during the visit.

```toml
[establishment]
name = "…"; address = "…"; permit = "…"; risk_category = 3; person_in_charge = "…"
[visit]
purpose = "routine"; inspector = "…"; time_zone = "America/Chicago"
rules = "food_code_2022"; elevation_m = 180
time_in = 2026-10-13T10:05:00-05:00; time_out = 2026-10-13T10:52:00-05:00
[thermometer]
name = "…"; accuracy_degf = 1.0
[words]                      # lists of names, under any headings: they help the speech model; never numbers
menu = ["clam chowder"]; rooms = ["prep room"]
[clock_offsets]              # seconds to add, by device or file-name pattern
"Tern 5" = -270
[times]                      # when a file really began, where it cannot tell itself
"note.wav" = 2026-10-13T10:31:00-05:00
[[previous]]                 # what an earlier report cited
section = "6-301.12"; on = 2026-04-02; note = "…"
```
Every part and every entry may be missing.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from datetime import date, datetime, time, tzinfo
from difflib import get_close_matches
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from capture.clock import MachineZone
from shared.errors import InputError
from shared.types import EarlierViolation, Facts

FILE_NAME = "inspection.toml"
_LARGEST = 1_000_000
_YEARS = range(2000, 2100)
_MOST_SHIFT_S = 400 * 86400
_ELEVATION_M = (-430, 5500)
"""From the shore of the Dead Sea to the highest towns, which is what `extract/checks/boiling.py` computes;
rounded: common practice, no source."""
_SPOKEN_NUMBERS = re.compile(
    r"(?:(?:zero|oh|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve"
    r"|(?:thir|four|fif|six|seven|eigh|nine)teen|(?:twen|thir|for|fif|six|seven|eigh|nine)ty|hundred|point|minus|and"
    r"|degrees?|fahrenheit|celsius)[\s-]*)+"
)


def read_facts(path: Path) -> Facts:
    """What the file says. Raises `InputError` naming every faulty entry."""
    facts, faults = facts_and_faults(path)
    if faults:
        raise InputError("; ".join(faults))
    return facts


def facts_and_faults(path: Path) -> tuple[Facts, tuple[str, ...]]:
    """All that can be used, and a sentence for each entry that cannot, naming file and entry."""
    try:
        if path.stat().st_size > _LARGEST:
            raise ValueError("is larger than 1 MB, which no file of facts is")
        table = tomllib.loads(path.read_text("utf-8-sig"))
    except FileNotFoundError:
        return Facts(), (f"{path.name}: there is no such file",)
    except OSError as error:
        return Facts(), (f"{path.name}: cannot be opened ({error.strerror}); check its permissions",)
    except UnicodeDecodeError:
        return Facts(), (f"{path.name}: is not plain text in UTF-8; save it as such. Nothing in it was used",)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
        told = str(error) or "is nested too deeply"
        return Facts(), (f"{path.name}: {told}; correct that place. Nothing in it was used",)
    reader = _Reader(path.name)
    return reader.facts(table), tuple(reader.faults)


class _Reader:
    """Reads a parsed file part by part and notes what is wrong as it goes."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[str] = []
        self.zone: tzinfo = MachineZone()

    def facts(self, table: Mapping[str, Any]) -> Facts:
        parts = ("establishment", "visit", "thermometer", "words", "clock_offsets", "times", "previous")
        self._unknown("", table, parts)
        visit = self._part(table, "visit", (
            "purpose", "inspector", "time_zone", "time_in", "time_out", "rules", "elevation_m",
        ))  # fmt: skip
        place = self._part(table, "establishment", (
            "name", "address", "permit", "risk_category", "person_in_charge",
        ))  # fmt: skip
        thermometer = self._part(table, "thermometer", ("name", "accuracy_degf"))
        time_zone = self._zone(visit)
        if time_zone is None:
            self._zone_of_times(visit, table)
        time_in, time_out = self._time(visit, "visit", "time_in"), self._time(visit, "visit", "time_out")
        if time_in and time_out and time_out < time_in:
            self._fault("visit.time_out", f"{time_out} is before time_in, {time_in}; neither was used")
            time_in = time_out = None
        return Facts(
            establishment=self._text(place, "establishment", "name"),
            address=self._text(place, "establishment", "address"),
            permit=self._text(place, "establishment", "permit"),
            risk_category=self._whole(place, "establishment", "risk_category", 1, 4),
            person_in_charge=self._text(place, "establishment", "person_in_charge"),
            inspector=self._text(visit, "visit", "inspector"),
            purpose=self._text(visit, "visit", "purpose"),
            time_zone=time_zone,
            time_in=time_in,
            time_out=time_out,
            rules=self._text(visit, "visit", "rules"),
            elevation_m=self._number(visit, "visit", "elevation_m", *_ELEVATION_M),
            thermometer=self._text(thermometer, "thermometer", "name"),
            thermometer_accuracy_degf=self._number(thermometer, "thermometer", "accuracy_degf", 0, 20),
            words=self._words(table),
            previous=self._previous(table),
            clock_offsets_s=self._offsets(table),
            times=self._times(table),
        )

    # ------------------------------------------------------------ faults

    def _fault(self, entry: str, told: str) -> None:
        self.faults.append(f"{self.file}: {entry}: {told}")

    def _unknown(self, where: str, table: Mapping[str, Any], known: tuple[str, ...]) -> None:
        for name in table:
            if name not in known:
                near = get_close_matches(name, known, 1)
                hint = f"did you mean {near[0]}?" if near else f"known are {', '.join(known)}"
                self._fault(f"{where}{name}", f"is not known here; {hint}")

    def _wrong(self, entry: str, value: object, wanted: str) -> None:
        self._fault(entry, f"{_as_written(value)} is not {wanted}; it was left out")

    # ------------------------------------------------------------ parts

    def _table(self, table: Mapping[str, Any], part: str) -> Mapping[str, Any]:
        value = table.get(part, {})
        if isinstance(value, dict):
            return value
        self._wrong(part, value, f"a part; write it as [{part}]")
        return {}

    def _part(self, table: Mapping[str, Any], part: str, known: tuple[str, ...]) -> Mapping[str, Any]:
        value = self._table(table, part)
        self._unknown(f"{part}.", value, known)
        return value

    def _zone(self, visit: Mapping[str, Any]) -> str | None:
        name = self._text(visit, "visit", "time_zone")
        if name is None:
            return None
        try:
            self.zone = ZoneInfo(name)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            self._wrong("visit.time_zone", name, 'the name of a time zone, such as "America/Chicago"')
            return None
        return name

    def _zone_of_times(self, visit: Mapping[str, Any], table: Mapping[str, Any]) -> None:
        """Takes the offset of the first time that has one for all times that have none."""
        times = table.get("times")
        given = [
            visit.get("time_in"),
            visit.get("time_out"),
            *(times.values() if isinstance(times, dict) else ()),
        ]
        for at in given:
            if isinstance(at, datetime) and at.tzinfo:
                self.zone = at.tzinfo
                return

    def _words(self, table: Mapping[str, Any]) -> tuple[str, ...]:
        words: dict[str, None] = {}
        for heading, entries in self._table(table, "words").items():
            if not isinstance(entries, list):
                self._wrong(
                    f"words.{heading}", entries, 'a list of names in quotes: ["clam chowder", "prep room"]'
                )
                continue
            for number, entry in enumerate(entries, 1):
                where = f"words.{heading}, entry {number}"
                if not isinstance(entry, str) or not entry.strip():
                    self._wrong(where, entry, "a name in quotes")
                elif _is_number(entry):
                    self._fault(
                        where,
                        f"{entry!r} holds a number, which would be heard where it was not said; left out",
                    )
                else:
                    words[" ".join(entry.split())] = None
        return tuple(words)

    def _previous(self, table: Mapping[str, Any]) -> tuple[EarlierViolation, ...]:
        entries = table.get("previous", [])
        if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
            self._wrong("previous", entries, "a list of parts; write each as [[previous]]")
            return ()
        earlier = []
        for number, entry in enumerate(entries, 1):
            where = f"previous, entry {number}"
            self._unknown(f"{where}, ", entry, ("section", "on", "note"))
            section = self._text(entry, where, "section")
            if section is None:
                if "section" not in entry:
                    self._fault(where, "has no section; say which one the earlier report cited")
                continue
            on = entry.get("on")
            if isinstance(on, datetime):
                on = on.date()
            elif on is not None and not isinstance(on, date):
                self._wrong(f"{where}, on", on, "a date such as 2026-04-02, without quotes")
                on = None
            earlier.append(EarlierViolation(section, on, self._text(entry, where, "note")))
        return tuple(earlier)

    def _offsets(self, table: Mapping[str, Any]) -> dict[str, float]:
        offsets = {}
        for name, value in self._table(table, "clock_offsets").items():
            if _is_real(value) and abs(value) <= _MOST_SHIFT_S:
                offsets[name] = float(value)
            else:
                self._wrong(f'clock_offsets."{name}"', value, "a number of seconds to add, such as -270")
        return offsets

    def _times(self, table: Mapping[str, Any]) -> dict[str, datetime]:
        part = self._table(table, "times")
        found = {name: self._time(part, "times", name) for name in part}
        return {name: at for name, at in found.items() if at is not None}

    # ------------------------------------------------------------ entries

    def _entry(
        self, table: Mapping[str, Any], part: str, name: str, fits: Callable[[Any], bool], wanted: str
    ) -> Any:
        value = table.get(name)
        if value is None or fits(value):
            return value
        self._wrong(f"{part}.{name}" if "," not in part else f"{part}, {name}", value, wanted)
        return None

    def _text(self, table: Mapping[str, Any], part: str, name: str) -> str | None:
        value = self._entry(table, part, name, lambda it: isinstance(it, str), "text in quotes")
        return " ".join(value.split()) or None if value is not None else None

    def _number(
        self, table: Mapping[str, Any], part: str, name: str, low: float, high: float
    ) -> float | None:
        wanted = f"a number from {low:g} to {high:g}"
        value = self._entry(table, part, name, lambda it: _is_real(it) and low <= it <= high, wanted)
        return None if value is None else float(value)

    def _whole(self, table: Mapping[str, Any], part: str, name: str, low: int, high: int) -> int | None:
        wanted = f"a whole number from {low} to {high}"
        value: int | None = self._entry(
            table, part, name, lambda it: type(it) is int and low <= it <= high, wanted
        )
        return value

    def _time(self, table: Mapping[str, Any], part: str, name: str) -> datetime | None:
        wanted = "a date and time such as 2026-10-13T10:05:00-05:00, without quotes"
        value: datetime | None = self._entry(
            table, part, name, lambda it: isinstance(it, datetime) and it.year in _YEARS, wanted
        )
        if value is None or value.tzinfo:
            return value
        return value.replace(tzinfo=self.zone)


def _as_written(value: object) -> str:
    """The value as a user wrote it, near enough."""
    if isinstance(value, date | time):
        return value.isoformat()
    return str(value).lower() if isinstance(value, bool) else repr(value)


def _is_real(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and value == value


def _is_number(entry: str) -> bool:
    return bool(re.search(r"\d", entry) or _SPOKEN_NUMBERS.fullmatch(entry.lower().strip()))
