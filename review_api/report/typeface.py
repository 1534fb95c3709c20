"""The typeface shipped with the report: Source Sans Pro, under the SIL Open Font License (fonts/OFL.txt)."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import typst
from fontTools.ttLib import TTFont

FAMILY = "Source Sans Pro"
FOLDER = Path(__file__).parent / "fonts"


@cache
def fonts() -> typst.Fonts:
    """The shipped fonts alone: the same document on every machine."""
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[FOLDER])


@cache
def covered() -> frozenset[int]:
    """The code points that every shipped weight holds. A character outside would stop the render."""
    return frozenset.intersection(*map(_held, sorted(FOLDER.glob("*.ttf"))))


def _held(path: Path) -> frozenset[int]:
    with TTFont(path, lazy=True) as font:
        return frozenset(font.getBestCmap())
