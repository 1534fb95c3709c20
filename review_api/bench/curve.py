"""Cost against size, as a small SVG that is read in black and white."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Protocol

_WIDE, _HIGH, _LEFT, _FOOT = 640, 320, 60, 40
_DASHES = ("", "6 4", "2 3", "10 3 2 3")


class Point(Protocol):
    """One measured point of a curve."""

    @property
    def what(self) -> str: ...
    @property
    def inspections(self) -> int: ...
    @property
    def p95_ms(self) -> float: ...


def draw(points: Iterable[Point]) -> str:
    """The 95th percentile of each kind of request against the number of inspections."""
    points = list(points)
    most_x = max((point.inspections for point in points), default=1)
    most_y = max((point.p95_ms for point in points), default=1.0) * 1.1
    kinds = list(dict.fromkeys(point.what for point in points))
    drawn = [_frame(most_x, most_y)]
    for kind, dashes in zip(kinds, _DASHES * 9, strict=False):
        line = [point for point in points if point.what == kind]
        places = [
            (_LEFT + (_WIDE - _LEFT - 120) * point.inspections / most_x,
             (_HIGH - _FOOT) * (1 - point.p95_ms / most_y) + 10)
            for point in line
        ]  # fmt: skip
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
        x, y = places[-1]
        drawn.append(f'<polyline points="{path}" fill="none" stroke="black" stroke-dasharray="{dashes}"/>')
        drawn.append(f'<text x="{x + 6:.1f}" y="{y + 4:.1f}">{escape(kind)}</text>')
    body = "\n".join(drawn)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE} {_HIGH}" font-family="sans-serif"'
        f' font-size="12" role="img"><title>95th percentile, ms</title>\n{body}\n</svg>\n'
    )


def _frame(most_x: int, most_y: float) -> str:
    foot = _HIGH - _FOOT + 10
    return (
        f'<path d="M{_LEFT} 10V{foot}H{_WIDE - 120}" fill="none" stroke="black"/>'
        f'<text x="4" y="20">{most_y:.0f} ms</text><text x="{_LEFT}" y="{foot + 18}">0</text>'
        f'<text x="{_WIDE - 120}" y="{foot + 18}" text-anchor="end">{most_x} inspections</text>'
    )
