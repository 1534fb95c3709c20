"""One inspection's folder: originals kept, recordings and photos on one time line, what could not be used."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection
from dataclasses import dataclass
from pathlib import Path, PurePath

from capture import clock, photos, recordings
from capture.clock import TimeLine
from capture.facts import FILE_NAME, facts_and_faults
from capture.media_type import TAKEN, sniff
from capture.originals import Originals
from shared.errors import InputError
from shared.types import Facts, Photo, Recording

_NOT_MEANT = {"thumbs.db", "desktop.ini", "__macosx"}
_BESIDE = {".json", ".xmp", ".aae", ".thm"}
"""Endings of what programs and phones lay beside photos and recordings."""
_STILLS = {".heic", ".heif", ".jpg", ".jpeg"}
Progress = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Intake:
    """All that came in, in the order of the visit."""

    recordings: tuple[Recording, ...] = ()
    photos: tuple[Photo, ...] = ()
    facts: Facts = Facts()  # noqa: RUF009  frozen, so one for all is right
    problems: tuple[str, ...] = ()
    """Sentences for the user, each naming the file and what to do. All else was taken in."""
    left_out: tuple[str, ...] = ()
    """The files that could not be used, as named in the folder."""


def take_in(
    folder: Path, *, originals: Originals, progress: Progress | None = None, ignore: Collection[Path] = ()
) -> Intake:
    """Everything in `folder` and its sub-folders that can be used; a file that cannot be becomes a problem.

    `ignore` names files and folders inside that are no part of the inspection, such as results written there.
    Raises `InputError` when there is no such folder, or nothing in it can be used.
    """
    tell = progress or (lambda _: None)
    files = _files(folder, {path.resolve() for path in ignore})
    faults: tuple[str, ...] = ()
    facts = Facts()
    if (folder / FILE_NAME).exists():
        facts, faults = facts_and_faults(folder / FILE_NAME)
    moving = _moving_parts(files)
    gathered = _Gathering(originals, TimeLine.of(facts))
    for number, path in enumerate(files, 1):
        name = _shown(path.relative_to(folder))
        tell(f"taking in {number} of {len(files)}: {name}")
        if path in moving:
            gathered.doubts.append(
                f"{name}: is the moving part of the photo beside it; not taken as a recording"
            )
        else:
            gathered.take(path, name)
    if not gathered.recordings and not gathered.photos:
        raise InputError(_nothing_in(folder, [*faults, *gathered.problems]))
    found_recordings = tuple(sorted(gathered.recordings, key=lambda item: (item.started, item.name)))
    found_photos = tuple(sorted(gathered.photos, key=lambda item: (item.taken, item.name)))
    doubts = clock.disagreements(found_recordings, found_photos, facts)
    return Intake(
        found_recordings,
        found_photos,
        facts,
        (*faults, *gathered.problems, *gathered.doubts, *doubts),
        tuple(gathered.left_out),
    )


class _Gathering:
    """Takes file after file, and keeps what came of each."""

    def __init__(self, originals: Originals, line: TimeLine) -> None:
        self._originals = originals
        self._line = line
        self._names: dict[str, str] = {}
        self.recordings: list[Recording] = []
        self.photos: list[Photo] = []
        self.problems: list[str] = []
        self.doubts: list[str] = []
        self.left_out: list[str] = []

    def take(self, path: Path, name: str) -> None:
        try:
            self._take(path, name)
        except InputError as error:
            self.problems.append(str(error).replace(str(path), name, 1))
            self.left_out.append(name)

    def _take(self, path: Path, name: str) -> None:
        media = sniff(path, name)
        sha256 = self._originals.add(path)
        if sha256 in self._names:
            self.doubts.append(f"{name}: is the same file as {self._names[sha256]}; it was taken once")
            return
        self._names[sha256] = name
        kept = self._originals.path(sha256)
        if media.medium == "sound":
            recording = recordings.look(kept, sha256=sha256, media=media, name=name, line=self._line)
            self.recordings.append(recording)
            self.doubts.extend(recording.warnings)
        else:
            photo = photos.look(kept, sha256=sha256, media=media, name=name, line=self._line)
            self.photos.append(photo)
            self.doubts.extend(photo.warnings)


def _shown(path: PurePath) -> str:
    """The name as it can be printed and stored anywhere: a name may hold bytes that are no text."""
    text = os.fsencode(path.as_posix()).decode("utf-8", "replace")
    return "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)


def _files(folder: Path, ignore: set[Path]) -> list[Path]:
    """What lies in `folder`, sorted by name; what the system or an editor puts there is passed over."""
    if not folder.exists():
        raise InputError(f"{folder}: there is no such folder; check the name")
    if not folder.is_dir():
        raise InputError(
            f"{folder}: is a file; name the folder that holds the inspection's recordings and photos"
        )
    found = []
    try:
        for path in sorted(folder.iterdir()):
            if path.name.startswith(".") or path.name.lower() in _NOT_MEANT or path.resolve() in ignore:
                continue
            if path.is_dir():
                if not path.is_symlink():  # a link could lead in a circle
                    found.extend(_files(path, ignore))
            elif path.is_file() and path.name != FILE_NAME and path.suffix.lower() not in _BESIDE:
                found.append(path)
    except OSError as error:
        raise InputError(f"{folder}: cannot be opened ({error.strerror}); check its permissions") from error
    return found


def _moving_parts(files: Collection[Path]) -> set[Path]:
    """Films of a second or two that phones keep with a photo, under the photo's name."""
    stills = {path.with_suffix("") for path in files if path.suffix.lower() in _STILLS}
    return {path for path in files if path.suffix.lower() == ".mov" and path.with_suffix("") in stills}


def _nothing_in(folder: Path, problems: list[str]) -> str:
    told = f"{folder}: holds no recording and no photo that can be used; put in {TAKEN}"
    return told + (": " + "; ".join(problems) if problems else "")
