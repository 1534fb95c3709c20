"""What a file is, by its content: names and endings are not believed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from shared.errors import InputError

Medium = Literal["sound", "picture"]

HEAD_SIZE = 4096
_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
_KNOWN_OTHERS: tuple[tuple[bytes, str], ...] = (
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a zip archive or an office document"),
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"II*\x00", "a TIFF or raw picture"),
    (b"MM\x00*", "a TIFF or raw picture"),
    (b"\x1f\x8b", "a packed file"),
    (b"SQLite format 3", "a database"),
    (b"#!AMR", "an AMR recording"),
    (b"caff", "a CAF recording"),
    (b"FORM", "an AIFF recording"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class MediaType:
    """A kind of file that is taken in."""

    name: str
    """As registered, such as `audio/flac`."""
    medium: Medium


_WAV = MediaType("audio/wav", "sound")
_FLAC = MediaType("audio/flac", "sound")
_MP3 = MediaType("audio/mpeg", "sound")
_AAC = MediaType("audio/aac", "sound")
_MP4 = MediaType("audio/mp4", "sound")
_OGG = MediaType("audio/ogg", "sound")
_WEBM = MediaType("audio/webm", "sound")
_JPEG = MediaType("image/jpeg", "picture")
_PNG = MediaType("image/png", "picture")
_HEIC = MediaType("image/heic", "picture")

TAKEN = "recordings as wav, flac, mp3, m4a, ogg or webm; photos as jpeg, png or heic"
"""What is taken in, for messages."""


def media_type(head: bytes) -> MediaType | None:
    """The kind of file that begins with `head` (4096 bytes are enough); None when it is not taken in."""
    if head[:4] in (b"RIFF", b"RF64") and head[8:12] == b"WAVE":
        return _WAV
    if head[:4] == b"fLaC":
        return _FLAC
    if head[:4] == b"OggS":
        return _OGG
    if head[:4] == b"\x1a\x45\xdf\xa3":
        return _WEBM
    if head[:3] == b"\xff\xd8\xff":
        return _JPEG
    if head[:8] == b"\x89PNG\r\n\x1a\n":
        return _PNG
    if head[4:8] == b"ftyp":
        return _iso_type(head)
    if head[:3] == b"ID3":
        return _MP3
    return _bare_frames(head)


def _iso_type(head: bytes) -> MediaType | None:
    brand = head[8:12]
    if brand in (b"avif", b"avis"):
        return None
    return _HEIC if brand in _HEIC_BRANDS else _MP4


def _bare_frames(head: bytes) -> MediaType | None:
    """MPEG audio without a header begins with a frame: 11 bits set, then version, layer, bit rate."""
    if len(head) < 4 or head[0] != 0xFF or head[1] & 0xE0 != 0xE0 or _is_utf_16(head):
        return None
    version, layer = head[1] >> 3 & 3, head[1] >> 1 & 3
    bit_rate, sample_rate = head[2] >> 4, head[2] >> 2 & 3
    if layer == 0:
        return _AAC if head[1] & 0xF6 == 0xF0 else None
    return _MP3 if version != 1 and bit_rate not in (0, 15) and sample_rate != 3 else None


def _is_utf_16(head: bytes) -> bool:
    """Whether it is text with the mark of UTF-16, which looks like the begin of an MPEG frame."""
    if head[:2] not in (b"\xff\xfe", b"\xfe\xff"):
        return False
    text = head[: len(head) // 2 * 2].decode("utf-16", errors="replace")
    return (
        all(sign.isprintable() or sign.isspace() for sign in text.rstrip("\ufffd"))
        and "\ufffd" not in text[:-1]
    )


def sniff(path: Path, name: str) -> MediaType:
    """The kind of the file at `path`. Raises `InputError`, calling it `name`, when it is not taken in."""
    try:
        with path.open("rb") as source:
            head = source.read(HEAD_SIZE)
    except OSError as error:
        raise InputError(f"{name}: cannot be opened ({error.strerror}); check its permissions") from error
    if not head:
        raise InputError(f"{name}: is empty; copy it again from the device, or leave it out")
    found = media_type(head)
    if found is None:
        raise InputError(
            f"{name}: {describe(head)}, which is not taken in ({TAKEN}); convert it or leave it out"
        )
    return found


def describe(head: bytes) -> str:
    """What a file of another kind seems to be, as the rest of a sentence: `holds text`, `is a PDF`."""
    if head[4:12] in (b"ftypavif", b"ftypavis"):
        return "is an AVIF picture"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "is a WebP picture"
    for start, what in _KNOWN_OTHERS:
        if head.startswith(start):
            return f"is {what}"
    if _is_utf_16(head):
        return "holds text"
    try:
        text = head.decode("utf-8", errors="strict" if len(head) < HEAD_SIZE else "ignore")
    except UnicodeDecodeError:
        text = "\0"
    if all(sign.isprintable() or sign.isspace() for sign in text):
        return "holds text"
    return "holds data of an unknown kind"
