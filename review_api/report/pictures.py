"""The pictures of a document: photo copies that may leave the office, figures and signatures."""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path

from PIL import Image

from review_api.record import Record
from review_api.report.inspection import figure_file, photo_file
from review_api.report.receipt import drawings
from shared.errors import InputError

LONGEST_PX = 1200
"""Longest side of a photo in a report: 450 dots an inch as printed. Memory goes with its square."""

_LARGEST_PX = 1600
"""The largest copy that is taken from a caller."""

PhotoFile = Path | bytes
"""An original or edited picture on disk; or the bytes of a copy that `capture.photos.copy_of` made."""


def files_of(record: Record, photo_files: Mapping[str, PhotoFile]) -> dict[str, bytes]:
    """All pictures of the record's document by the names it uses.

    Raises InputError when a photo is missing, or when a copy given as bytes is not a plain sized JPEG.
    """
    files = drawings(record)
    for photo in record.photos:
        if photo.sha256 not in photo_files:
            raise InputError(
                f"photo {photo.sha256[:12]}…: its file is missing; put it back or detach the photo"
            )
        files[photo_file(photo.sha256)] = _copy(photo.sha256, photo_files[photo.sha256])
    for at, figure in enumerate(record.figures):
        files[figure_file(at)] = figure.svg.encode()
    return files


def _copy(sha256: str, given: PhotoFile) -> bytes:
    if isinstance(given, Path):
        from capture.photos import copy_of

        return bytes(copy_of(given, longest_px=LONGEST_PX))
    try:
        with Image.open(BytesIO(given), formats=("JPEG",)) as picture:
            plain = max(picture.size) <= _LARGEST_PX and not picture.getexif() and "xmp" not in picture.info
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        raise InputError(f"photo {sha256[:12]}…: the copy is not a JPEG; make it again") from error
    if not plain:
        raise InputError(f"photo {sha256[:12]}…: the copy carries metadata or is too large; make it again")
    return given
