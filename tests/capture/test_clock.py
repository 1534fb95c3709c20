"""All devices on one time line, and a sentence wherever they disagree."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from capture.clock import MachineZone, Moment, TimeLine, disagreements, names, one_line, written_at_end
from capture.stamps import Stamp
from shared.types import Facts, Photo, Recording, TimeOrigin, Transcript, Utterance

CHICAGO = ZoneInfo("America/Chicago")


def at(clock: str) -> datetime:
    return datetime.fromisoformat(f"2026-10-13T{clock}-05:00")


def stamp(clock: str, origin: TimeOrigin = "container") -> Stamp:
    return Stamp(at(clock), origin, clock)


def recorded(name: str, clock: str, *, seconds: float = 60, device: str | None = "Fieldnote R1") -> Recording:
    return Recording(name.ljust(64, "0"), name, "audio/wav", seconds, at(clock), "container", device)


def taken(name: str, clock: str, *, device: str | None = "Larkline P2") -> Photo:
    return Photo(
        name.ljust(64, "0"), name, "image/jpeg", 4, 3, at(clock), "exif", 200.0, "good", False, device
    )


VISIT = Facts(time_in=at("10:05:00"), time_out=at("10:52:00"))


# ---------------------------------------------------------------- one file


NAME, DATE = stamp("10:12:01", "file_name"), stamp("11:00:00", "file_date")


def settle(line: TimeLine, *stamps: Stamp | None) -> Moment:
    return line.settle(stamps, name="a.wav", device="Tern 5", verb="began")


@pytest.mark.parametrize(
    ("stamps", "clock", "origin"),
    [
        ([stamp("10:12:00"), NAME, DATE], "10:12:00", "container"),
        ([None, NAME, DATE], "10:12:01", "file_name"),
        ([None, None, DATE], "11:00:00", "file_date"),
    ],
)  # fmt: skip
def test_tags_come_before_the_name_and_the_name_before_the_date(
    stamps: list[Stamp | None], clock: str, origin: str
) -> None:
    moment = settle(TimeLine(CHICAGO), *stamps)
    assert (moment.at, moment.origin) == (at(clock), origin)


@pytest.mark.parametrize(
    ("pattern", "applies"),
    [("Tern 5", True), ("tern 5", True), ("a.wav", True), ("*.wav", True), ("Tern", False), ("b*", False)],
)
def test_a_clock_that_runs_fast_is_put_right(pattern: str, applies: bool) -> None:
    moment = settle(TimeLine(CHICAGO, {pattern: -270}), stamp("10:16:30"))
    assert moment.at == at("10:12:00" if applies else "10:16:30")


def test_the_first_entry_that_fits_is_used() -> None:
    line = TimeLine(CHICAGO, {"a*": 60, "*.wav": 3600})
    assert line.offset_for("a.wav", None) == timedelta(seconds=60)
    assert line.offset_for("b.wav", None) == timedelta(hours=1)
    assert line.offset_for("b.mp3", None) == timedelta()


def test_what_the_inspector_wrote_down_stands_above_all() -> None:
    line = TimeLine(CHICAGO, {"*": -270}, {"a.wav": at("10:31:00")})
    moment = settle(line, stamp("10:12:00"), stamp("11:12:00", "file_name"))
    assert (moment.at, moment.origin, moment.warnings) == (at("10:31:00"), "given", ())


def test_a_name_that_disagrees_with_the_tags_is_told() -> None:
    moment = settle(TimeLine(CHICAGO), stamp("10:12:00"), stamp("11:12:00", "file_name"))
    assert moment.at == at("10:12:00")
    assert moment.warnings == (
        "a.wav: its data say that it began at 2026-10-13 10:12:00, its name says 2026-10-13 11:12:00 "
        "(1 h, a matter of time zones? apart); the first was used. If it is wrong, "
        'put the right time under [times] in inspection.toml ("a.wav" = …)',
    )


@pytest.mark.parametrize("clock", ["10:12:00", "10:13:59", "10:10:01"])
def test_a_name_that_nearly_agrees_is_not_told(clock: str) -> None:
    assert settle(TimeLine(CHICAGO), stamp("10:12:00"), stamp(clock, "file_name")).warnings == ()


@pytest.mark.parametrize(
    ("origin", "by_name", "told"),
    [
        ("exif", "15:12:00", False),  # the name is in UTC, EXIF is local: the same moment
        ("exif", "16:12:00", True),
        ("container", "15:12:00", True),  # may as well be a local time that a device took for UTC
    ],
)
def test_a_photo_named_in_utc_agrees_with_its_exif(origin: TimeOrigin, by_name: str, told: bool) -> None:
    moment = settle(TimeLine(CHICAGO), stamp("10:12:00", origin), stamp(by_name, "file_name"))
    assert moment.at == at("10:12:00")
    assert bool(moment.warnings) is told


def test_a_file_without_any_time_is_told() -> None:
    (warning,) = settle(TimeLine(CHICAGO), None, None, stamp("11:00:00", "file_date")).warnings
    assert warning == (
        "a.wav: has no time of its own; the file's date, 2026-10-13 11:00:00, was used. Check it, or "
        'put the right time under [times] in inspection.toml ("a.wav" = …)'
    )


@pytest.mark.parametrize(
    ("tag", "by_name", "seconds", "end"),
    [
        ("10:18:00", "10:12:00", 360, True),
        ("10:18:04", "10:12:00", 360, True),
        ("10:12:00", "10:12:00", 360, False),
        ("10:18:00", "10:12:00", 60, False),
        ("10:12:00", "10:18:00", 360, False),
        ("10:12:03", "10:12:00", 3, False),  # too short to tell
    ],
)
def test_a_tag_written_at_the_end(tag: str, by_name: str, seconds: float, end: bool) -> None:
    assert written_at_end(stamp(tag), stamp(by_name, "file_name"), seconds) is end


def test_without_a_name_a_tag_is_the_start() -> None:
    assert not written_at_end(stamp("10:18:00"), None, 360)


# ---------------------------------------------------------------- zones


@pytest.mark.parametrize(
    ("facts", "offset_h"),
    [
        (Facts(time_zone="America/Chicago", time_in=datetime(2026, 10, 13, 15, tzinfo=UTC)), -5),
        (Facts(time_in=at("10:05:00")), -5),
        (Facts(time_out=at("10:05:00")), -5),
    ],
)
def test_times_are_told_in_the_zone_of_the_visit(facts: Facts, offset_h: float) -> None:
    moment = settle(TimeLine.of(facts), Stamp(datetime(2026, 10, 13, 15, 12, tzinfo=UTC), "container", ""))
    assert moment.at.utcoffset() == timedelta(hours=offset_h)
    assert moment.at == at("10:12:00")


IN_CHICAGO = """
import time; time.tzset()
from datetime import datetime, UTC
from capture.clock import MachineZone
for month in (1, 7):
    print(datetime(2026, month, 13, 18, tzinfo=UTC).astimezone(MachineZone()).isoformat())
    print(datetime(2026, month, 13, 12, tzinfo=MachineZone()).isoformat())
"""


def test_the_zone_of_the_machine_knows_daylight_time() -> None:
    ran = subprocess.run(
        [sys.executable, "-c", IN_CHICAGO],
        env={"TZ": "CST6CDT,M3.2.0,M11.1.0"}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert ran.stdout.split() == [
        "2026-01-13T12:00:00-06:00", "2026-01-13T12:00:00-06:00",
        "2026-07-13T13:00:00-05:00", "2026-07-13T12:00:00-05:00",
    ]  # fmt: skip
    assert TimeLine.of(Facts()).zone.utcoffset(None) == MachineZone().utcoffset(None)


# ---------------------------------------------------------------- all files together


def test_devices_that_agree_are_not_remarked_on() -> None:
    recordings = [
        recorded("walk.wav", "10:12:00", seconds=360),
        recorded("back.m4a", "10:12:30", device="Tern 5"),
    ]
    assert disagreements(recordings, [taken("a.jpg", "10:13:00")], VISIT) == ()


@pytest.mark.parametrize(
    ("clock", "told"),
    [
        ("09:00:00", "a.jpg: was taken at 2026-10-13 09:00:00, 1 h 5 min before the visit; if the clock of "
                     "Larkline P2 was wrong, give the seconds to add under [clock_offsets] in "
                     "inspection.toml, else move the file out"),
        ("12:52:00", "a.jpg: was taken at 2026-10-13 12:52:00, 2 h, a matter of time zones? after the visit"),
        ("09:49:00", "16 min 0 s before the visit"),
        ("11:08:00", "16 min 0 s after the visit"),
        ("09:51:00", None),
        ("11:06:00", None),
    ],
)  # fmt: skip
def test_a_photo_outside_of_the_visit_is_told(clock: str, told: str | None) -> None:
    found = disagreements([recorded("walk.wav", "10:12:00")], [taken("a.jpg", clock)], VISIT)
    assert (told in found[0]) if told else found == ()


def test_a_recording_outside_of_the_visit_is_told() -> None:
    (told,) = disagreements([recorded("walk.wav", "13:12:00", device=None)], [], VISIT)
    assert told.startswith("walk.wav: was recorded at 2026-10-13 13:12:00, 2 h 20 min after the visit")
    assert "if the device's clock was wrong" in told


@pytest.mark.parametrize(("clock", "told"), [("14:00:00", True), ("12:00:00", False), ("07:00:00", True)])
def test_without_times_of_the_visit_the_recordings_tell(clock: str, told: bool) -> None:
    found = disagreements([recorded("walk.wav", "10:12:00")], [taken("a.jpg", clock)], Facts())
    assert bool(found) is told
    assert all("the recordings" in sentence for sentence in found)


def test_photos_alone_have_nothing_to_disagree_with() -> None:
    assert disagreements([], [taken("a.jpg", "10:13:00"), taken("b.jpg", "19:00:00")], Facts()) == ()


def test_one_device_cannot_record_twice_at_once() -> None:
    recordings = [recorded("a.wav", "10:12:00", seconds=360), recorded("b.wav", "10:15:00")]
    (told,) = disagreements(recordings, [], VISIT)
    assert told == (
        "b.wav: begins 3 min 0 s before a.wav ends, though Fieldnote R1 made both; one of the two times is "
        'wrong: put the right time under [times] in inspection.toml ("b.wav" = …)'
    )


@pytest.mark.parametrize(
    "second",
    [
        recorded("b.wav", "10:18:00"),  # a recorder that splits its files
        recorded("b.wav", "10:15:00", device="Tern 5"),
        recorded("b.wav", "10:15:00", device=None),
    ],
)
def test_recordings_that_may_overlap_or_touch(second: Recording) -> None:
    assert disagreements([recorded("a.wav", "10:12:00", seconds=360), second], [], VISIT) == ()


def test_entries_that_fit_nothing_are_told() -> None:
    facts = Facts(clock_offsets_s={"Tern 6": 5, "walk*": 1}, times={"gone.wav": at("10:00:00")})
    assert disagreements([recorded("walk.wav", "10:12:00")], [], facts) == (
        'inspection.toml: [clock_offsets] "Tern 6" fits no file and no device; devices here: Fieldnote R1',
        'inspection.toml: [times] "gone.wav" is not a recording or photo in this folder; check the name',
    )


# ---------------------------------------------------------------- words


def test_words_of_two_devices_come_in_the_order_in_which_they_were_said() -> None:
    walk, back = recorded("walk.wav", "10:12:00"), recorded("back.m4a", "10:12:10")
    said = one_line(
        [
            (walk, Transcript((Utterance("first", 2.0, 4.0), Utterance("third", 14.5, 16.0)))),
            (back, Transcript((Utterance("second", 1.0, 2.0),))),
        ]
    )
    assert [(utterance.text, utterance.at, utterance.recording) for utterance in said] == [
        ("first", at("10:12:02"), walk.sha256),
        ("second", at("10:12:11"), back.sha256),
        ("third", at("10:12:14.500000"), walk.sha256),
    ]


@pytest.mark.parametrize(
    ("pattern", "fits"),
    [("note [1].flac", True), ("Note [1].FLAC", True), ("note ?1?.flac", True), ("note [2].flac", False)],
)
def test_an_entry_fits_the_file_of_that_very_name(pattern: str, fits: bool) -> None:
    assert names(pattern, "note [1].flac", None) is fits
