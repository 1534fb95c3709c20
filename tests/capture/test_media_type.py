"""What a file is, is told by its content."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from capture.media_type import HEAD_SIZE, describe, media_type, sniff
from shared.errors import InputError
from tests.capture.making import photo, recording


@pytest.mark.parametrize(
    ("ending", "name"),
    [
        (".wav", "audio/wav"), (".flac", "audio/flac"), (".mp3", "audio/mpeg"), (".m4a", "audio/mp4"),
        (".ogg", "audio/ogg"), (".opus", "audio/ogg"), (".webm", "audio/webm"),
    ],
)  # fmt: skip
def test_recordings(tmp_path: Path, ending: str, name: str) -> None:
    path = recording(tmp_path / f"a{ending}", 0.5)
    found = sniff(path.rename(tmp_path / "no-ending"), "no-ending")
    assert (found.name, found.medium) == (name, "sound")


@pytest.mark.parametrize(
    ("ending", "name"), [(".jpg", "image/jpeg"), (".png", "image/png"), (".heic", "image/heic")]
)
def test_photos(tmp_path: Path, ending: str, name: str) -> None:
    import capture.photos  # noqa: F401  teaches Pillow to write HEIC

    path = photo(tmp_path / f"a{ending}")
    found = sniff(path.rename(tmp_path / "wrong.wav"), "wrong.wav")
    assert (found.name, found.medium) == (name, "picture")


def test_mp3_without_a_header_of_its_own(tmp_path: Path) -> None:
    whole = recording(tmp_path / "a.mp3", 0.5).read_bytes()
    frames = whole[whole.index(b"\xff\xfb") :] if b"\xff\xfb" in whole else whole[whole.index(b"\xff\xf3") :]
    found = media_type(frames[:HEAD_SIZE])
    assert found is not None
    assert found.name == "audio/mpeg"


@pytest.mark.parametrize(
    ("head", "told"),
    [
        (b"The walk-in was at 48.", "holds text"),
        ("Temperatur: 8 °C".encode(), "holds text"),
        ("The walk-in was at 48.\r\n".encode("utf-16"), "holds text"),
        (b"\xfe\xff" + "The walk-in was at 48.".encode("utf-16-be"), "holds text"),
        (b"%PDF-1.7", "is a PDF"),
        (b"PK\x03\x04....", "is a zip archive or an office document"),
        (b"GIF89a", "is a GIF picture"),
        (b"RIFF\x00\x00\x00\x00WEBPVP8 ", "is a WebP picture"),
        (b"\x00\x00\x00\x1cftypavif", "is an AVIF picture"),
        (b"#!AMR\n", "is an AMR recording"),
        (b"\x00\x01\x02\x03" * 9, "holds data of an unknown kind"),
        (b"\xff\xfe\x00\x00", "holds data of an unknown kind"),
        (b"RIFF\x00\x00\x00\x00AVI LIST", "holds data of an unknown kind"),
    ],
)
def test_what_is_not_taken_in_is_described(head: bytes, told: str) -> None:
    assert media_type(head) is None
    assert describe(head) == told


def test_a_refused_file_is_named_with_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "x"
    path.write_bytes(b"only words")
    with pytest.raises(InputError) as refused:
        sniff(path, "note.wav")
    assert str(refused.value) == (
        "note.wav: holds text, which is not taken in (recordings as wav, flac, mp3, m4a, ogg or webm; "
        "photos as jpeg, png or heic); convert it or leave it out"
    )


@given(st.binary(max_size=64))
def test_any_bytes_are_one_kind_or_described(head: bytes) -> None:
    assert media_type(head) or describe(head)
