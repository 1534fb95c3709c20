"""The copy of a photo that leaves the office: upright, sized, no place, covers and drawings burnt in."""

from __future__ import annotations

import hashlib
import io
import json
import math
from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageDraw

from capture.originals import Originals
from capture.photos import copy_of
from review_api.api.changes import Arrow, Box, Cover
from review_api.api.shown import Photo
from review_api.derived import kept

_INK, _RIM = (200, 0, 0), (255, 255, 255)
_QUALITY = 88


SIZES = {"thumb": 320, "page": 1400, "full": 4000}
"""Longest side of each copy, in pixels."""


def copy_for(photo: Photo, *, originals: Originals, derived: Path, longest_px: int) -> Path:
    """Where the finished copy of a photo lies, made if need be. Raises InputError."""
    shapes = json.dumps([shape.model_dump() for shape in (*photo.covers, *photo.drawn)])
    look = hashlib.sha256(shapes.encode()).hexdigest()[:12] if photo.covers or photo.drawn else "plain"
    path = derived / "photos" / f"{photo.sha256}-{longest_px}-{look}.jpg"

    def make() -> bytes:
        original = originals.path(photo.sha256)
        return finished(original, longest_px=longest_px, covers=photo.covers, drawn=photo.drawn)

    return kept(path, make)


def finished(
    original: Path, *, longest_px: int, covers: Sequence[Cover] = (), drawn: Sequence[Box | Arrow] = ()
) -> bytes:
    """A JPEG of the photo. What is covered is gone from it, not only hidden. Raises InputError."""
    plain = bytes(copy_of(original, longest_px=longest_px))
    if not covers and not drawn:
        return plain
    with Image.open(io.BytesIO(plain)) as opened:
        picture = opened.convert("RGB")
    pen = ImageDraw.Draw(picture)
    for cover in covers:
        pen.rectangle(_corners(cover, picture.size), fill=(0, 0, 0))
    width = max(3, max(picture.size) // 250)
    for shape in drawn:
        for colour, extra in ((_RIM, width), (_INK, 0)):
            if isinstance(shape, Box):
                pen.rectangle(_corners(shape, picture.size), outline=colour, width=width + extra)
            else:
                _arrow(pen, shape, picture.size, colour, width + extra)
    copy = io.BytesIO()
    picture.save(copy, "JPEG", quality=_QUALITY, optimize=True)
    return copy.getvalue()


def _corners(shape: Cover | Box, size: tuple[int, int]) -> tuple[float, float, float, float]:
    wide, high = size
    right, bottom = min(1.0, shape.x + shape.width), min(1.0, shape.y + shape.height)
    return shape.x * wide, shape.y * high, right * wide, bottom * high


def _arrow(
    pen: ImageDraw.ImageDraw, arrow: Arrow, size: tuple[int, int], colour: tuple[int, int, int], width: int
) -> None:
    wide, high = size
    tail, head = (arrow.x * wide, arrow.y * high), (arrow.to_x * wide, arrow.to_y * high)
    angle = math.atan2(head[1] - tail[1], head[0] - tail[0])
    barb = max(12, max(size) // 40)
    pen.line((tail, head), fill=colour, width=width)
    for turn in (-2.6, 2.6):
        end = (head[0] + barb * math.cos(angle + turn), head[1] + barb * math.sin(angle + turn))
        pen.line((head, end), fill=colour, width=width)
