"""One time line for all devices of a visit: zones, clocks that run wrong, what was said at which moment."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta, tzinfo
from fnmatch import fnmatch
from zoneinfo import ZoneInfo

from capture.stamps import Stamp
from shared.types import Facts, Photo, Recording, TimeOrigin, Transcript, Utterance

SAME_S = 120.0
"""Two sources of one moment that differ by more than this are told to the user."""
_END_S = 5.0
"""How well a tag written at the end of a recording fits the start in its name."""
_VISIT_SLACK = timedelta(minutes=15)
_FAR = timedelta(hours=3)
_SETTLE = 'put the right time under [times] in inspection.toml ("{name}" = …)'


class MachineZone(tzinfo):
    """The zone of this machine, with its own daylight time on each date."""

    def utcoffset(self, moment: datetime | None) -> timedelta | None:
        return (moment or datetime.now(UTC)).replace(tzinfo=None).astimezone().utcoffset()

    def dst(self, _moment: datetime | None) -> timedelta | None:
        return None

    def tzname(self, moment: datetime | None) -> str | None:
        return (moment or datetime.now(UTC)).replace(tzinfo=None).astimezone().tzname()

    def fromutc(self, moment: datetime) -> datetime:
        return moment.replace(tzinfo=UTC).astimezone().replace(tzinfo=self)

    def __repr__(self) -> str:
        return "MachineZone()"


@dataclass(frozen=True, slots=True)
class Moment:
    """When a file was begun or taken, on the visit's time line."""

    at: datetime
    origin: TimeOrigin
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TimeLine:
    """How the clocks of a visit's devices become one."""

    zone: tzinfo = field(default_factory=MachineZone)
    """For times without an offset, and the zone that all times are told in."""
    offsets_s: Mapping[str, float] = field(default_factory=dict)
    """Seconds to add, by device name or file-name pattern; the first that fits is used."""
    given: Mapping[str, datetime] = field(default_factory=dict)
    """The true start of a file, by its name, as the inspector wrote it down."""

    @classmethod
    def of(cls, facts: Facts) -> TimeLine:
        """The time line of a visit: its named zone, else the offset of its times, else the machine's zone."""
        times = (facts.time_in, facts.time_out, *facts.times.values())
        said = next((time.tzinfo for time in times if time and time.tzinfo), None)
        zone = ZoneInfo(facts.time_zone) if facts.time_zone else said or MachineZone()
        return cls(zone, facts.clock_offsets_s, facts.times)

    def offset_for(self, name: str, device: str | None) -> timedelta:
        """What must be added to a device's clock."""
        for pattern, seconds in self.offsets_s.items():
            if names(pattern, name, device):
                return timedelta(seconds=seconds)
        return timedelta()

    def settle(self, stamps: Sequence[Stamp | None], *, name: str, device: str | None, verb: str) -> Moment:
        """The moment of a file from what it says of itself: `stamps` in order of trust, not all None.

        `verb` tells what happened then: `began`, `was taken`. Sources that disagree become warnings.
        """
        found = [stamp for stamp in stamps if stamp is not None]
        first = found[0]
        if name in self.given:
            return Moment(self.given[name].astimezone(self.zone), "given")
        offset = self.offset_for(name, device)
        at = (first.at + offset).astimezone(self.zone)
        remedy = _SETTLE.format(name=name)
        if first.origin == "file_date":
            told = f"{name}: has no time of its own; the file's date, {at:%Y-%m-%d %H:%M:%S}, was used. "
            return Moment(at, first.origin, (f"{told}Check it, or {remedy}",))
        warnings = []
        for other in found[1:]:
            apart = abs((other.at - first.at).total_seconds())
            if other.origin == "file_name" and apart > SAME_S and not _named_in_utc(other, first):
                warnings.append(
                    f"{name}: its data say that it {verb} at {at:%Y-%m-%d %H:%M:%S}, its name says "
                    f"{(other.at + offset).astimezone(self.zone):%Y-%m-%d %H:%M:%S} ({_span(apart)} apart); "
                    f"the first was used. If it is wrong, {remedy}"
                )
        return Moment(at, first.origin, tuple(warnings))


def names(pattern: str, name: str, device: str | None) -> bool:
    """Whether `pattern`, a device's name or a file-name pattern, means this file."""
    wanted, known = pattern.lower(), [name.lower(), *([device.lower()] if device else [])]
    # A name may hold brackets, which mean something else in a pattern.
    return wanted in known or fnmatch(name.lower(), wanted)


def written_at_end(tag: Stamp, by_name: Stamp | None, duration_s: float) -> bool:
    """Whether the container's time is that of the end: the name then says one that is a duration earlier.

    ISO/IEC 14496-12 does not say which; some phones write the end.
    """
    if by_name is None:
        return False
    earlier = (tag.at - by_name.at).total_seconds()
    return earlier > _END_S and abs(earlier - duration_s) <= _END_S


def _named_in_utc(name: Stamp, exif: Stamp) -> bool:
    """Some phones name their photos in UTC and write the local time into EXIF: the two then agree.

    Only for EXIF: a container's tag that differs by the zone may as well be a local time taken for UTC.
    """
    in_utc = name.at.replace(tzinfo=UTC)
    return exif.origin == "exif" and abs((in_utc - exif.at).total_seconds()) <= SAME_S


def _span(seconds: float) -> str:
    hours = seconds / 3600
    if hours >= 1 and abs(hours - round(hours)) < 0.03:
        return f"{round(hours)} h, a matter of time zones?"
    if seconds >= 2 * 86400:
        return f"{seconds / 86400:.0f} days"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes // 60} h {minutes % 60} min" if minutes >= 60 else f"{minutes} min {rest} s"


# ---------------------------------------------------------------- all devices together


def disagreements(recordings: Sequence[Recording], photos: Sequence[Photo], facts: Facts) -> tuple[str, ...]:
    """What does not fit together on one time line, a sentence each, naming the file and what to do."""
    return (
        *_outside(recordings, photos, facts),
        *_at_once(recordings),
        *_unmatched(recordings, photos, facts),
    )


def _outside(recordings: Sequence[Recording], photos: Sequence[Photo], facts: Facts) -> list[str]:
    spans = [
        (
            item.name,
            "was recorded",
            item.device,
            item.started,
            item.started + timedelta(seconds=item.duration_s),
        )
        for item in recordings
    ]
    spans += [(item.name, "was taken", item.device, item.taken, item.taken) for item in photos]
    first = facts.time_in or min((item.started for item in recordings), default=None)
    last = facts.time_out or max((span[4] for span in spans[: len(recordings)]), default=None)
    if first is None and last is None:
        return []
    first_slack = _VISIT_SLACK if facts.time_in else _FAR
    last_slack = _VISIT_SLACK if facts.time_out else _FAR
    told = []
    for name, verb, device, start, end in spans:
        before = first is not None and end < first - first_slack
        after = last is not None and start > last + last_slack
        if before or after:
            gap = (first - end if before and first else start - last if last else timedelta()).total_seconds()
            clock = f"the clock of {device}" if device else "the device's clock"
            told.append(
                f"{name}: {verb} at {start:%Y-%m-%d %H:%M:%S}, {_span(gap)} "
                f"{'before' if before else 'after'} "
                f"the {'visit' if facts.time_in or facts.time_out else 'recordings'}; if {clock} was wrong, "
                "give the seconds to add under [clock_offsets] in inspection.toml, else move the file out"
            )
    return told


def _at_once(recordings: Sequence[Recording]) -> list[str]:
    """One device cannot make two recordings at once."""
    told = []
    ordered = sorted(recordings, key=lambda item: item.started)
    for place, item in enumerate(ordered):
        end = item.started + timedelta(seconds=item.duration_s)
        for later in ordered[place + 1 :]:
            over = (end - later.started).total_seconds()
            if item.device and item.device == later.device and over > 2:
                told.append(
                    f"{later.name}: begins {_span(over)} before {item.name} ends, though {item.device} made "
                    f"both; one of the two times is wrong: {_SETTLE.format(name=later.name)}"
                )
    return told


def _unmatched(recordings: Sequence[Recording], photos: Sequence[Photo], facts: Facts) -> list[str]:
    """Entries of inspection.toml that mean no file here."""
    files = [(item.name, item.device) for item in recordings]
    files += [(item.name, item.device) for item in photos]
    devices = ", ".join(sorted({device for _, device in files if device})) or "none that is named"
    told = [
        f'inspection.toml: [clock_offsets] "{pattern}" fits no file and no device; devices here: {devices}'
        for pattern in facts.clock_offsets_s
        if not any(names(pattern, *file) for file in files)
    ]
    known = {name for name, _ in files}
    return told + [
        f'inspection.toml: [times] "{name}" is not a recording or photo in this folder; check the name'
        for name in facts.times
        if name not in known
    ]


# ---------------------------------------------------------------- words on the time line


def placed(transcript: Transcript, recording: Recording) -> tuple[Utterance, ...]:
    """The utterances of a recording with their moment and the recording they are from."""
    return tuple(
        replace(
            utterance,
            at=None if utterance.start is None else recording.started + timedelta(seconds=utterance.start),
            recording=recording.sha256,
        )
        for utterance in transcript.utterances
    )


def one_line(heard: Iterable[tuple[Recording, Transcript]]) -> tuple[Utterance, ...]:
    """The utterances of all recordings, placed and in the order in which they were said."""
    every = [utterance for recording, transcript in heard for utterance in placed(transcript, recording)]
    return tuple(sorted(every, key=lambda utterance: utterance.at or datetime.min.replace(tzinfo=UTC)))
