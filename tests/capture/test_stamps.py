"""What a file says of its own time: tags, EXIF, name."""

from __future__ import annotations

import os
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from dateutil import parser as dateutil
from hypothesis import given
from hypothesis import strategies as st

from capture import stamps

CHICAGO = ZoneInfo("America/Chicago")


@pytest.mark.parametrize(
    ("tags", "moment"),
    [
        ({"date": "2026-10-13T10:12:00-05:00"}, "2026-10-13T10:12:00-05:00"),
        ({"DATE": "2026-10-13 10:12:00"}, "2026-10-13T10:12:00-05:00"),  # no offset: the visit's zone
        ({"creation_time": "2026-10-13T15:12:00.000000Z"}, "2026-10-13T10:12:00-05:00"),
        (
            {
                "creation_time": "2026-10-13T15:12:07Z",
                "com.apple.quicktime.creationdate": "2026-10-13T10:12:00-0500",
            },
            "2026-10-13T10:12:00-05:00",  # the one that keeps the local offset
        ),
        # Broadcast wave, EBU Tech 3285: date and time in fields of their own, local.
        ({"date": "2026-10-13", "creation_time": "10:12:00"}, "2026-10-13T10:12:00-05:00"),
        (
            {"creation_time": "1904-01-01T00:00:00Z", "date": "2026-10-13T15:12:00Z"},
            "2026-10-13T10:12:00-05:00",
        ),
    ],
)  # fmt: skip
def test_tags_that_tell_the_time(tags: dict[str, str], moment: str) -> None:
    found = stamps.of_tags(tags, CHICAGO)
    assert found is not None
    assert found.at == datetime.fromisoformat(moment)
    assert found.origin == "container"


@pytest.mark.parametrize(
    "tags",
    [
        {},
        {"date": "2026"},
        {"date": "2026-10-13"},  # a day is no moment
        {"date": "next Tuesday"},
        {"date": "9999-12-31T23:59:59-05:00"},
        {"creation_time": "1904-01-01T00:00:00Z"},  # a clock that was never set
        {"creation_time": "1970-01-01T00:00:00Z"},
        {"creation_time": "10:12:00"},
        {"title": "2026-10-13T10:12:00"},
    ],
)
def test_tags_that_do_not_tell_the_time(tags: dict[str, str]) -> None:
    assert stamps.of_tags(tags, CHICAGO) is None


@pytest.mark.parametrize(
    ("name", "moment"),
    [
        ("20261013_101200.jpg", "2026-10-13T10:12:00-05:00"),
        ("IMG_20261013_101200.jpg", "2026-10-13T10:12:00-05:00"),
        ("IMG_20261013_101200123.jpg", "2026-10-13T10:12:00-05:00"),
        ("20261013101200.wav", "2026-10-13T10:12:00-05:00"),
        ("20261013_101200-0002.wav", "2026-10-13T10:12:00-05:00"),  # the second file, no offset
        ("20261013_101200-0100.wav", "2026-10-13T10:12:00-05:00"),
        ("20261013_101200-01:00.wav", "2026-10-13T10:12:00-01:00"),
        # UTC-12:00 to UTC+14:00, whole quarters: tz database, from memory
        ("20261013_101200-0230.wav", "2026-10-13T10:12:00-02:30"),
        ("20261013_101200-1200.wav", "2026-10-13T10:12:00-12:00"),
        ("20261013_101200-1215.wav", "2026-10-13T10:12:00-05:00"),
        ("20261013_101200+1400.wav", "2026-10-13T10:12:00+14:00"),
        ("20261013_101200+1415.wav", "2026-10-13T10:12:00-05:00"),
        ("20261013_101200+0545.wav", "2026-10-13T10:12:00+05:45"),
        ("20261013_101200-05001.wav", "2026-10-13T10:12:00-05:00"),
        ("2026-10-13 10.12.00.m4a", "2026-10-13T10:12:00-05:00"),
        ("note 2026-10-13 at 2.12.00 PM.m4a", "2026-10-13T14:12:00-05:00"),
        ("note 2026-10-13 at 12.05.00 AM.m4a", "2026-10-13T00:05:00-05:00"),
        ("walk-2026-10-13T10-12-00.ogg", "2026-10-13T10:12:00-05:00"),
        ("2026-10-13T151200Z.wav", "2026-10-13T10:12:00-05:00"),
        ("20261013T101200+0200.wav", "2026-10-13T10:12:00+02:00"),
        ("2026_10_13_10_12.mp3", "2026-10-13T10:12:00-05:00"),
        ("2026.01.13 10h12.mp3", "2026-01-13T10:12:00-06:00"),  # standard time in January
        ("day 3/20261013_101200.jpg", "2026-10-13T10:12:00-05:00"),
    ],
)
def test_names_that_tell_the_time(name: str, moment: str) -> None:
    found = stamps.of_name(name, CHICAGO)
    assert found is not None
    assert found.at == datetime.fromisoformat(moment)
    assert found.origin == "file_name"


@pytest.mark.parametrize(
    "name",
    [
        "turkey-shelf.jpg",
        "IMG_0412.jpg",
        "20261013.jpg",
        "IMG-20261013-WA0042.jpg",
        "IMG_20261013_0042.jpg",  # a picture's number, not 00:42
        "2026-10-13-101.wav",
        "20261313_101200.jpg",  # no thirteenth month
        "20261013_251200.jpg",
        "20261013_101299.jpg",
        "2026-10-13 at 13.12.00 PM.m4a",
        "120261013_101200.jpg",
        "19991013_101200.jpg",
    ],
)
def test_names_that_do_not_tell_the_time(name: str) -> None:
    assert stamps.of_name(name, CHICAGO) is None


@given(st.integers(946_684_800, 4_102_444_799))  # 2000 to 2099
def test_names_are_read_as_dateutil_reads_them(second: int) -> None:
    whole = datetime.fromtimestamp(second, UTC)
    for form in ("%Y%m%d_%H%M%S", "%Y-%m-%d %H:%M:%S", "%Y-%m-%d %I:%M:%S %p"):
        words = whole.strftime(form)
        found = stamps.of_name(f"{words}.wav", UTC)
        assert found is not None
        # Source: python-dateutil's parser.
        assert found.at == dateutil.parse(words.replace("_", " ")).replace(tzinfo=UTC)


# EXIF tags by number: CIPA DC-008.
ORIGINAL, DIGITIZED, CHANGED, ORIGINAL_OFFSET, DIGITIZED_OFFSET = 36867, 36868, 306, 36881, 36882


@pytest.mark.parametrize(
    ("tags", "moment"),
    [
        ({ORIGINAL: "2026:10:13 10:12:54", ORIGINAL_OFFSET: "-05:00"}, "2026-10-13T10:12:54-05:00"),
        ({ORIGINAL: "2026:10:13 10:12:54", ORIGINAL_OFFSET: "+02:00"}, "2026-10-13T10:12:54+02:00"),
        ({ORIGINAL: "2026:10:13 10:12:54"}, "2026-10-13T10:12:54-05:00"),
        ({ORIGINAL: "2026:10:13 10:12:54\0", ORIGINAL_OFFSET: "   :  "}, "2026-10-13T10:12:54-05:00"),
        ({DIGITIZED: "2026:10:13 10:12:54", DIGITIZED_OFFSET: "-05:00"}, "2026-10-13T10:12:54-05:00"),
        ({CHANGED: "2026:10:14 08:00:00", ORIGINAL: "2026:10:13 10:12:54"}, "2026-10-13T10:12:54-05:00"),
        ({CHANGED: "2026:10:13 10:12:54", ORIGINAL: "0000:00:00 00:00:00"}, "2026-10-13T10:12:54-05:00"),
    ],
)
def test_exif_that_tells_the_time(tags: dict[int, object], moment: str) -> None:
    found = stamps.of_exif(tags, CHICAGO)
    assert found is not None
    assert found.at == datetime.fromisoformat(moment)
    assert found.origin == "exif"


@pytest.mark.parametrize(
    "tags",
    [{}, {ORIGINAL: ""}, {ORIGINAL: "    :  :     :  :  "}, {ORIGINAL: "1980:01:01 00:00:00"}, {ORIGINAL: 7}],
)
def test_exif_that_does_not_tell_the_time(tags: dict[int, object]) -> None:
    assert stamps.of_exif(tags, CHICAGO) is None


def test_the_satellites_time_is_in_utc() -> None:
    found = stamps.of_satellite({29: "2026:10:13", 7: (15.0, 12.0, 54.0)})
    assert found == datetime(2026, 10, 13, 10, 12, 54, tzinfo=timezone(timedelta(hours=-5)))


@pytest.mark.parametrize(
    "place",
    [
        {},
        {29: "2026:10:13"},
        {29: "x", 7: (1.0, 2.0, 3.0)},
        {29: "2026:10:13", 7: (1.0,)},
        {29: "2026:10:13", 7: 5},
    ],
)
def test_a_broken_satellite_time_is_none(place: dict[int, object]) -> None:
    assert stamps.of_satellite(place) is None


@pytest.mark.parametrize(
    ("date", "moment"),
    [
        (1_790_000_000, "2026-09-21T09:13:20-05:00"),
        (-5.0e9, "1969-12-31T18:00:00-06:00"),
        (9.0e9, "1969-12-31T18:00:00-06:00"),
    ],
    ids=["usual", "before all files", "after all files"],
)
def test_the_date_of_a_file(tmp_path: Path, date: float, moment: str) -> None:
    path = tmp_path / "a.wav"
    path.write_bytes(b"")
    os.utime(path, (date, date))
    found = stamps.of_file(path, CHICAGO)
    assert (found.at, found.origin) == (datetime.fromisoformat(moment), "file_date")
