"""Typed access to the fields of one row. Every fault is noted with its file and entry, none is raised."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from types import MappingProxyType
from typing import Any, TypeVar, cast

_Word = TypeVar("_Word", bound=str)
_MISSING: Any = object()
_LARGEST = 1e9
_LONGEST = 2_000


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a rules file."""

    file: str
    entry: str
    message: str

    def __str__(self) -> str:
        return f"{self.file}: {self.entry}: {self.message}"


@dataclass(slots=True)
class Row:
    """One table of a rules file, read field by field."""

    raw: Mapping[str, Any]
    file: str
    entry: str
    faults: list[Fault]
    _asked: set[str] = field(default_factory=set)

    def fault(self, message: str) -> None:
        self.faults.append(Fault(self.file, self.entry, message))

    def _take(self, name: str, default: Any) -> Any:
        self._asked.add(name)
        if name not in self.raw:
            if default is _MISSING:
                self.fault(f"`{name}` is missing")
            return _MISSING
        return self.raw[name]

    def text(self, name: str, default: str = _MISSING) -> str:
        value = self._take(name, default)
        if value is _MISSING:
            return "" if default is _MISSING else default
        if not isinstance(value, str) or not value.strip():
            self.fault(f"`{name}` must be a text that is not empty")
        elif len(value) > _LONGEST:
            self.fault(f"`{name}` is longer than {_LONGEST} characters")
        elif any(ord(letter) < 32 or ord(letter) == 127 for letter in value):
            self.fault(f"`{name}` holds control characters")
        else:
            return value
        return ""

    def choice(self, name: str, words: Sequence[_Word], default: _Word = _MISSING) -> _Word:
        value = self._take(name, default)
        if value is _MISSING:
            return words[0] if default is _MISSING else default
        if value not in words:
            self.fault(f"`{name}` is {_shown(value)}; it must be one of {', '.join(words)}")
            return words[0]
        return cast(_Word, value)

    def number(
        self, name: str, default: float | None = _MISSING, *, least: float = -_LARGEST
    ) -> float | None:
        value = self._take(name, default)
        if value is _MISSING:
            return None if default is _MISSING else default
        return self._number(name, value, least=least)

    def whole(self, name: str, default: int | None = _MISSING, *, least: int = 0) -> int | None:
        value = self._take(name, default)
        if value is _MISSING:
            return None if default is _MISSING else default
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= 10_000:
            self.fault(f"`{name}` is {_shown(value)}; it must be a whole number, {least} to 10000")
            return None
        return value

    def flag(self, name: str, default: bool) -> bool:
        value = self._take(name, default)
        if value is _MISSING:
            return default
        if not isinstance(value, bool):
            self.fault(f"`{name}` must be true or false")
            return default
        return value

    def day(self, name: str) -> date | None:
        value = self._take(name, None)
        if value is _MISSING:
            return None
        if not isinstance(value, date) or isinstance(value, datetime):
            self.fault(f"`{name}` must be a date, as 2022-12-28")
            return None
        return value

    def texts(self, name: str, *, allowed: Sequence[str] | None = None, required: bool = False) -> list[str]:
        value = self._take(name, _MISSING if required else None)
        if value is _MISSING:
            return []
        if not isinstance(value, list) or not all(isinstance(item, str) and item for item in value):
            self.fault(f"`{name}` must be a list of texts")
            return []
        if required and not value:
            self.fault(f"`{name}` must not be empty")
        strange = [item for item in value if allowed is not None and item not in allowed]
        if strange:
            self.fault(f"`{name}` holds {_shown(strange[0])}; allowed are {', '.join(sorted(allowed or ()))}")
        return [item for item in value if item not in strange]

    def quantities(
        self, name: str, units: Sequence[str], *, required: bool = False, least: float = -_LARGEST
    ) -> Mapping[str, float]:
        """A table of figures by unit, such as `{degF = 41, degC = 5}`."""
        value = self._take(name, _MISSING if required else None)
        if value is _MISSING:
            return MappingProxyType({})
        if not isinstance(value, dict) or not value:
            self.fault(f"`{name}` must give a figure by unit, as {{{units[0]} = 41}}")
            return MappingProxyType({})
        read: dict[str, float] = {}
        for unit, figure in value.items():
            if unit not in units:
                self.fault(f"`{name}` has the unit {_shown(unit)}; allowed are {', '.join(units)}")
                continue
            number = self._number(f"{name}.{unit}", figure, least=least)
            if number is not None:
                read[unit] = number
        return MappingProxyType(read)

    def rows(self, name: str) -> list[Row]:
        """A list of tables inside this one."""
        value = self._take(name, None)
        if value is _MISSING:
            return []
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.fault(f"`{name}` must be a list of tables")
            return []
        return [
            Row(item, self.file, f"{self.entry}, {name} {place}", self.faults)
            for place, item in enumerate(value, 1)
        ]

    def closed(self) -> None:
        """Notes every field that nobody asked for."""
        for name in self.raw:
            if name not in self._asked:
                self.fault(f"`{_shown(name)}` is not a field of this row")

    def _number(self, name: str, value: object, *, least: float) -> float | None:
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fault(f"`{name}` is {_shown(value)}; it must be a number")
            return None
        if not (isinstance(value, int) or math.isfinite(value)) or not least <= value <= _LARGEST:
            self.fault(f"`{name}` is {_shown(value)}; it must be a number of at least {least:g}")
            return None
        return float(value)


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "…"
