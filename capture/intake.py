"""One inspection's folder: originals kept, recordings and photos on one time line, what could not be used."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
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
_LINK = (
    "{name}: is a link to a folder, or to a file that is not there, and was not followed; "
    "put the recordings and photos themselves in"
)
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
    found = _files(folder, {os.path.realpath(path) for path in ignore})
    written = [path for path in found if path.name == FILE_NAME and path.is_file()]
    links = [path for path in found if not path.is_file()]
    files = [path for path in found if path not in {*written, *links}]
    facts, faults = _facts(folder, written, files)
    faults = (*faults, *(_LINK.format(name=_shown(path.relative_to(folder))) for path in links))
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
        (*(_shown(path.relative_to(folder)) for path in links), *gathered.left_out),
    )


def _facts(folder: Path, written: list[Path], files: list[Path]) -> tuple[Facts, tuple[str, ...]]:
    """The facts of the `inspection.toml` on top, else of the only one below; and what is wrong or not used.

    Names of files in one from a sub-folder are understood from there.
    """
    on_top = folder / FILE_NAME
    if not written:
        return Facts(), ()
    names = {path: _shown(path.relative_to(folder)) for path in written}
    if on_top not in written and len(written) > 1:
        more = ", ".join(names.values())
        return Facts(), (
            f"{more}: none was used, because there are several and none lies beside the sub-folders; "
            f"put one {FILE_NAME} at the top of the folder",
        )
    used = on_top if on_top in written else written[0]
    facts, faults = facts_and_faults(used)
    others = tuple(
        f"{name}: was not used, because {FILE_NAME} at the top of the folder was; "
        "move into that what is missing"
        for path, name in names.items()
        if path != used
    )
    if used != on_top:
        facts = _from_sub_folder(facts, _shown(used.parent.relative_to(folder)), files, folder)
    return facts, (*faults, *others)


def _from_sub_folder(facts: Facts, place: str, files: list[Path], folder: Path) -> Facts:
    """The facts, their names and patterns of files in the sub-folder `place` as they are from `folder`."""
    names = [_shown(path.relative_to(folder)) for path in files]

    def from_top(pattern: str) -> str:
        whole = f"{place}/{pattern}"
        return whole if any(clock.names(whole, name, None) for name in names) else pattern

    return replace(
        facts,
        times={from_top(name): at for name, at in facts.times.items()},
        clock_offsets_s={from_top(name): seconds for name, seconds in facts.clock_offsets_s.items()},
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


def _files(folder: Path, ignore: set[str]) -> list[Path]:
    """What lies in `folder`, sorted by name, links that lead to no file among it.

    What the system or an editor puts there is passed over, and so is what an earlier run left behind.
    """
    if not folder.exists():
        raise InputError(f"{folder}: there is no such folder; check the name")
    if not folder.is_dir():
        raise InputError(
            f"{folder}: is a file; name the folder that holds the inspection's recordings and photos"
        )
    found = []
    try:
        for path in sorted(folder.iterdir()):
            if (
                path.name.startswith(".")
                or path.name.lower() in _NOT_MEANT
                or os.path.realpath(path) in ignore
            ):
                continue
            if path.is_dir():
                if path.is_symlink():  # it could lead in a circle
                    found.append(path)
                elif not is_earlier_run(path):
                    found.extend(_files(path, ignore))
            elif (path.is_file() or path.is_symlink()) and path.suffix.lower() not in _BESIDE:
                found.append(path)
    except OSError as error:
        raise InputError(f"{folder}: cannot be opened ({error.strerror}); check its permissions") from error
    return found


def is_earlier_run(folder: Path) -> bool:
    """Whether this program wrote `folder`: its data, or the results and the draft of an inspection."""
    if (folder / "probeside.sqlite").exists():
        return True
    try:
        with (folder / "results.json").open("rb") as results:
            head = results.read(200)
    except OSError:
        return False
    return re.match(rb'\s*\{\s*"schema":\s*"probeside/', head) is not None


def _moving_parts(files: Collection[Path]) -> set[Path]:
    """Films of a second or two that phones keep with a photo, under the photo's name."""
    stills = {path.with_suffix("") for path in files if path.suffix.lower() in _STILLS}
    return {path for path in files if path.suffix.lower() == ".mov" and path.with_suffix("") in stills}


def _nothing_in(folder: Path, problems: list[str]) -> str:
    told = f"{folder}: holds no recording and no photo that can be used; put in {TAKEN}"
    return told + (": " + "; ".join(problems) if problems else "")
