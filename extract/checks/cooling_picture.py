"""The picture of a cooling: readings, curve and deadlines as SVG, readable in black and white, and in words.

Shapes and dashes carry the meaning, never colour alone: readings are dots, the fitted curve a line with a
light band, each deadline an open corner that the curve must pass below and to the left of, met or missed
by its word.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from xml.sax.saxutils import escape

from extract.checks import words
from extract.checks.cooling import Cooling
from extract.checks.cooling_stages import Stage

WIDTH, HEIGHT = 640, 360
_LEFT, _RIGHT, _TOP, _BOTTOM = 56, 18, 30, 46
_SAYS = {"meets": "met", "violates": "missed", "borderline": "borderline", "undetermined": "open"}
_HALO = 'stroke="#ffffff" stroke-width="3" paint-order="stroke"'
_FONT = "font-family=\"system-ui, 'DejaVu Sans', sans-serif\""


def describe(found: Cooling) -> str:
    """The picture in words: what was read, each stage, and what the curve says."""
    unit = found.points[0].unit
    read = ", ".join(f"{words.amount(point.value, unit)} at {point.at:%H:%M}" for point in found.points)
    parts = [f"Cooling of {found.rule.title}: {read}."]
    for stage in found.stages:
        due = f" by {stage.deadline:%H:%M}" if stage.deadline else ""
        parts.append(f"{words.amount(stage.target, unit)}{due}: {_SAYS[stage.verdict]}.")
    for item, stage in zip(found.forecast, found.stages, strict=True):
        if stage.verdict == "undetermined" and found.fit is not None:
            target = words.amount(item.target, unit)
            when = f"at about {item.at:%H:%M}" if item.at else "not at all"
            parts.append(f"The fitted curve reaches {target} {when}.")
    return " ".join(parts)


def draw(found: Cooling, *, title: str = "Cooling") -> str:
    """The picture as an SVG document with a title and a description for those who cannot see it."""
    frame = _Frame(found)
    body = [
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#ffffff"/>',
        *frame.axes(),
        *frame.curve(),
        *frame.deadlines(),
        *frame.readings(),
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-labelledby="cooling-title cooling-description" {_FONT} font-size="12" fill="#000000">\n'
        f'<title id="cooling-title">{escape(title)}</title>\n'
        f'<desc id="cooling-description">{escape(describe(found))}</desc>\n' + "\n".join(body) + "\n</svg>\n"
    )


class _Frame:
    """The scales of one picture, and its parts drawn on them."""

    def __init__(self, found: Cooling) -> None:
        self.found = found
        self.unit = found.points[0].unit
        self.zone = found.points[0].at.tzinfo
        deadlines = [stage.deadline.astimezone(UTC) for stage in found.stages if stage.deadline is not None]
        read = [point.at.astimezone(UTC) for point in found.points]
        self.begin = min([*read, (found.clock.earliest or read[0]).astimezone(UTC)])
        self.end = max([*read, *deadlines, self.begin + timedelta(minutes=30)]) + timedelta(minutes=10)
        values = [point.value for point in found.points] + [stage.target for stage in found.stages]
        step = 20 if self.unit == "degF" else 10
        self.step = step * max(1, math.ceil((max(values) - min(values)) / (10 * step)))
        self.low = math.floor((min(values) - self.step / 2) / self.step) * self.step
        self.high = math.ceil((max(values) + 1) / self.step) * self.step

    def x(self, at: datetime) -> float:
        """The place of a moment; the begin is in UTC, so that no change of daylight time comes between."""
        whole = (self.end - self.begin).total_seconds()
        part = (at - self.begin).total_seconds() / whole
        return round(_LEFT + part * (WIDTH - _LEFT - _RIGHT), 1)

    def y(self, value: float) -> float:
        part = (value - self.low) / (self.high - self.low)
        return round(HEIGHT - _BOTTOM - part * (HEIGHT - _TOP - _BOTTOM), 1)

    def axes(self) -> list[str]:
        left, right, bottom = _LEFT, WIDTH - _RIGHT, HEIGHT - _BOTTOM
        parts = [
            f'<path d="M{left} {_TOP}V{bottom}H{right}" fill="none" stroke="#000000"/>',
            f'<text x="{left - 8}" y="{_TOP - 12}" text-anchor="start">{_written(self.unit)}</text>',
            f'<text x="{right}" y="{HEIGHT - 8}" text-anchor="end">time of day</text>',
        ]
        value = self.low
        while value <= self.high:
            y = self.y(value)
            parts.append(f'<path d="M{left} {y}H{right}" stroke="#cccccc" stroke-width="0.5"/>')
            parts.append(
                f'<text x="{left - 6}" y="{y + 4}" text-anchor="end">{words.plain_number(value)}</text>'
            )
            value += self.step
        hours = max(1, math.ceil((self.end - self.begin).total_seconds() / 3600 / 10))
        hour = self.begin.astimezone(self.zone).replace(minute=0, second=0, microsecond=0)
        tick = hour.astimezone(UTC)
        while tick <= self.end:
            if tick >= self.begin:
                x, told = self.x(tick), tick.astimezone(self.zone)
                parts.append(f'<path d="M{x} {bottom}v5" stroke="#000000"/>')
                parts.append(f'<text x="{x}" y="{bottom + 18}" text-anchor="middle">{told:%H:%M}</text>')
            tick += timedelta(hours=hours)
        return parts

    def curve(self) -> list[str]:
        fit = self.found.fit
        if fit is None:
            return []
        start = self.found.fit_from.astimezone(UTC)
        minutes = (self.end - start).total_seconds() / 60
        times = [minutes * place / 60 for place in range(61)]
        middle, low, high = [], [], []
        for minute in times:
            at, value = start + timedelta(minutes=minute), fit.temperature(minute)
            half = fit.band(minute)
            middle.append(f"{self.x(at)} {self._clipped(value)}")
            low.append(f"{self.x(at)} {self._clipped(value - half)}")
            high.append(f"{self.x(at)} {self._clipped(value + half)}")
        return [
            f'<path d="M{"L".join(high)}L{"L".join(reversed(low))}Z" fill="#dddddd" fill-opacity="0.7"/>',
            f'<path d="M{"L".join(middle)}" fill="none" stroke="#000000" stroke-width="1.5"/>',
        ]

    def _clipped(self, value_degf: float) -> float:
        value = value_degf if self.unit == "degF" else (value_degf - 32) * 5 / 9
        return self.y(min(max(value, self.low), self.high))

    def deadlines(self) -> list[str]:
        return [part for stage in self.found.stages for part in self._deadline(stage)]

    def _deadline(self, stage: Stage) -> list[str]:
        y = self.y(stage.target)
        label = f"{words.amount(stage.target, self.unit)}: {_SAYS[stage.verdict]}"
        if stage.deadline is None:
            return [
                f'<path d="M{_LEFT} {y}H{WIDTH - _RIGHT}" stroke="#000000" stroke-dasharray="6 4"/>',
                f'<text x="{WIDTH - _RIGHT - 4}" y="{y - 6}" text-anchor="end">{label}, start unknown</text>',
            ]
        x = self.x(stage.deadline)
        return [
            f'<path d="M{_LEFT} {y}H{x}V{_TOP}" fill="none" stroke="#000000" stroke-dasharray="6 4"/>',
            f'<text x="{x + 4}" y="{_TOP - 8}" text-anchor="end">{label}, by {stage.deadline:%H:%M}</text>',
        ]

    def readings(self) -> list[str]:
        parts = []
        for point in self.found.points:
            x, y = self.x(point.at), self.y(point.value)
            parts.append(f'<circle cx="{x}" cy="{y}" r="4" fill="#000000" stroke="#ffffff"/>')
            near_end = x > WIDTH - 90
            anchor, shift = ("end", -8) if near_end else ("start", 8)
            text = f"{words.plain_number(point.value)} at {point.at:%H:%M}"
            parts.append(f'<text x="{x + shift}" y="{y - 6}" text-anchor="{anchor}" {_HALO}>{text}</text>')
        return parts


def _written(unit: str) -> str:
    return "°F" if unit == "degF" else "°C"
