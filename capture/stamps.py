"""When a file says that it was made: by its tags, by its name, by its date."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from pathlib import Path

from shared.types import TimeOrigin

_YEARS = range(2000, 2100)
"""Devices whose clock was never set say 1904, 1970 or 1980; damaged data say anything."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """A moment that a file gives for itself, by its device's clock."""

    at: datetime
    origin: TimeOrigin
    said: str
    """What was read, for messages: the tag or the part of the name."""


_LAST_DATE = datetime(_YEARS.stop, 1, 1, tzinfo=UTC).timestamp()

# ---------------------------------------------------------------- tags of sound files

_TAGS = ("com.apple.quicktime.creationdate", "creation_time", "creationdate", "date_recorded", "date")
"""In order of trust: the first keeps the local offset, the second is in UTC (ISO/IEC 14496-12)."""


def of_tags(tags: Mapping[str, str], zone: tzinfo) -> Stamp | None:
    """What the container's tags say; a time without an offset is taken in `zone`. A bare date is no time."""
    lower = {key.lower(): value for key, value in tags.items()}
    said = [lower[name] for name in _TAGS if name in lower]
    if (
        "date" in lower and "creation_time" in lower
    ):  # broadcast wave (EBU Tech 3285) keeps day and time apart
        said.append(f"{lower['date'].strip()}T{lower['creation_time'].strip().replace('-', ':')}")
    for words in said:
        at = _iso(words, zone)
        if at is not None:
            return Stamp(at, "container", words)
    return None


def _iso(words: str, zone: tzinfo) -> datetime | None:
    text = words.strip()
    if len(text) <= len("2026-10-13"):
        return None
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    return _plausible(at if at.tzinfo else at.replace(tzinfo=zone))


def _plausible(at: datetime) -> datetime | None:
    return at if at.year in _YEARS else None


# ---------------------------------------------------------------- EXIF of photos

_ORIGINAL, _DIGITIZED, _CHANGED = 36867, 36868, 306
_OFFSETS = {_ORIGINAL: 36881, _DIGITIZED: 36882, _CHANGED: 36880}
_GPS_DATE, _GPS_TIME = 29, 7


def of_exif(exif: Mapping[int, object], zone: tzinfo) -> Stamp | None:
    """What EXIF says: DateTimeOriginal, else Digitized, else DateTime, each with its offset, else in `zone`.

    `exif` holds the tags of the main and of the EXIF directory together (CIPA DC-008).
    """
    for tag, offset_tag in _OFFSETS.items():
        words = str(exif.get(tag, "")).strip("\0 ")
        try:
            at = datetime.strptime(words, "%Y:%m:%d %H:%M:%S").replace(
                tzinfo=_offset(str(exif.get(offset_tag, ""))) or zone
            )
        except ValueError:
            continue
        if _plausible(at):
            return Stamp(at, "exif", words)
    return None


def _offset(words: str) -> timezone | None:
    match = re.fullmatch(r"([+-])(\d\d):?(\d\d)", words.strip("\0 "))
    if not match:
        return None
    span = timedelta(hours=int(match[2]), minutes=int(match[3]))
    return timezone(-span if match[1] == "-" else span) if span < timedelta(days=1) else None


def of_satellite(place: Mapping[int, object]) -> datetime | None:
    """The satellites' time in the GPS directory of EXIF, which is right whatever the device's clock says."""
    try:
        day = datetime.strptime(str(place[_GPS_DATE]).strip("\0 "), "%Y:%m:%d").replace(tzinfo=UTC)
        hours, minutes, seconds = (float(part) for part in place[_GPS_TIME])  # type: ignore[attr-defined]
    except (KeyError, ValueError, TypeError, ZeroDivisionError):
        return None
    return _plausible(day + timedelta(hours=hours, minutes=minutes, seconds=seconds))


# ---------------------------------------------------------------- names and dates of files

_NAME = re.compile(
    r"(?<!\d)(?P<year>20\d\d)(?P<dash>[-_.]?)(?P<month>\d\d)(?P=dash)(?P<day>\d\d)"
    r"(?:\s+at\s+|[-_ .]+|T)?"
    r"(?:(?P<hour>\d\d)(?P<minute>\d\d)(?P<second>\d\d)(?:\d{3})?(?!\d)"  # 101200, or with thousandths
    r"|(?P<hour2>\d?\d)(?P<colon>[-_.:h])(?P<minute2>\d\d)(?:(?P=colon)(?P<second2>\d\d))?(?!\d))"  # 10.12
    r"(?:\s*(?P<half>[AaPp])\.?[Mm])?(?P<offset>Z|[+-]\d\d:?\d\d(?!\d))?"
)
"""Four digits alone are no time of day: cameras count their pictures with them."""


def of_name(name: str, zone: tzinfo) -> Stamp | None:
    """What the file's name says, such as `20261013_101200.jpg` or `note 2026-10-13 at 10.12.00 AM.m4a`.

    A time without an offset is taken in `zone`. A name with a date alone says nothing.
    """
    for match in _NAME.finditer(name):
        hour = int(match["hour"] or match["hour2"])
        if match["half"]:
            hour = hour % 12 + (12 if match["half"] in "Pp" else 0) if 1 <= hour <= 12 else 24
        offset = _offset_in_name(match["offset"] or "")
        try:
            at = datetime(
                int(match["year"]), int(match["month"]), int(match["day"]),
                hour, int(match["minute"] or match["minute2"]), int(match["second"] or match["second2"] or 0),
                tzinfo=offset or zone,
            )  # fmt: skip
        except ValueError:
            continue
        return Stamp(at, "file_name", match[0])
    return None


_LEAST_OFFSET, _MOST_OFFSET = timedelta(hours=-12), timedelta(hours=14)
"""Those of the tz database, from memory; that -0000 to -0200 number files: common practice, no source."""
_QUARTERS = {"00", "15", "30", "45"}


def _offset_in_name(words: str) -> tzinfo | None:
    """The offset, if some place on Earth has it: `-0002` is the number of a file, and so is `-0100`."""
    if words == "Z":
        return UTC
    found = _offset(words)
    span = found.utcoffset(None) if found else None
    if span is None or words[-2:] not in _QUARTERS or not _LEAST_OFFSET <= span <= _MOST_OFFSET:
        return None
    counted = words[0] == "-" and ":" not in words and span >= timedelta(hours=-2)
    return None if counted else found


def of_file(path: Path, zone: tzinfo) -> Stamp:
    """The date of the file itself: when it was last written, by the clock of the machine that wrote it."""
    written = path.stat().st_mtime
    at = datetime.fromtimestamp(written if 0 <= written < _LAST_DATE else 0, tz=zone)
    return Stamp(at, "file_date", f"{at:%Y-%m-%d %H:%M:%S}")
