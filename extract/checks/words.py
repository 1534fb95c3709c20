"""The sum of a check as one sentence, in the units of the reading."""

from __future__ import annotations

from extract.checks.comparing import Compared, exact
from extract.checks.measured import Measured
from shared.rules.model import Limit
from shared.types import Quantity
from shared.units import written

_PLURALS = {
    "day": ("day", "days"),
    "hour": ("hour", "hours"),
    "minute": ("minute", "minutes"),
    "second": ("second", "seconds"),
}


def amount(value: float, unit: str) -> str:
    """A quantity as a person reads it, with a true minus sign and whole words for times."""
    if unit in _PLURALS:
        one, many = _PLURALS[unit]
        return f"{plain_number(value)} {one if exact(abs(value)) == 1 else many}"
    return (
        written(exact(value), unit).replace("-", "−")
        if unit != "foot_candle"
        else f"{plain_number(value)} foot candles"
    )


def span(seconds: float) -> str:
    """A time as a person says it: `17 seconds`, `4 minutes`, `1 hour 52 minutes`, `7 days`."""
    if seconds < 60 or (seconds < 120 and seconds % 60):
        return amount(round(seconds, 1), "second")
    minutes = round(seconds / 60)
    if minutes < 90:
        return amount(minutes if minutes * 60 == seconds else round(seconds / 60, 1), "minute")
    days, rest = divmod(minutes, 1440)
    if days > 1 and not rest:
        return amount(days, "day")
    hours, rest = divmod(minutes, 60)
    return amount(hours, "hour") + (f" {amount(rest, 'minute')}" if rest else "")


def plain_number(value: float) -> str:
    """A figure without its unit: `48.5`, `−4`."""
    return f"{exact(value):g}".replace("-", "−")


def against(
    value: float, unit: str, limit: float, compared: Compared, row: Limit, *, tolerance: float = 0.0
) -> str:
    """How a value stands to a limit: "43 °F is 2 °F over the limit of 41 °F for food held cold"."""
    said, figure, margin = amount(value, unit), amount(limit, unit), compared.margin
    if row.operator == "+-":
        away = apart(margin, unit, over="over", under="under")
        either = _difference(tolerance, unit)
        return f"{said} is {away} {figure}, and {either} either way is allowed for {row.says}"
    if row.operator == "<=":
        if not margin:
            return f"{said} is exactly the limit for {row.says}, which meets it"
        away = apart(margin, unit, over="over", under="under")
        return f"{said} is {away} the limit of {figure} for {row.says}"
    if not margin:
        return f"{said} is exactly what is required for {row.says}, which meets it"
    away = apart(margin, unit, over="above", under="below")
    return f"{said} is {away} the {figure} required for {row.says}"


def apart(margin: float, unit: str, *, over: str, under: str) -> str:
    """How far a figure is from another: `5 °F above`, `3 °F below`, `exactly`."""
    if margin > 0:
        return f"{_difference(margin, unit)} {over}"
    return f"{_difference(-margin, unit)} {under}" if margin < 0 else "exactly"


def _difference(size: float, unit: str) -> str:
    if unit in ("pH", "aw"):
        return plain_number(size)
    return amount(size, unit)


def within(band: float, unit: str, compared: Compared) -> str:
    """What a borderline reading adds: ", within the thermometer's ±2 °F, on the failing side"; else ''."""
    if compared.outcome != "borderline":
        return ""
    side = "passing" if compared.passing else "failing"
    return f", within the thermometer's ±{_difference(band, unit)}, on the {side} side"


def corrections(read: Measured, true: Measured) -> str:
    """How a reading was corrected: "45 °F read, less 1 °F that the thermometer reads high, is 44 °F; "."""
    pairs = [(Quantity(read.value, read.unit), Quantity(true.value, true.unit))]
    pairs += [(one, other) for one, other in ((read.at, true.at), (read.water, true.water)) if one and other]
    return "".join(_corrected(one, other) for one, other in pairs if one != other)


def _corrected(read: Quantity, true: Quantity) -> str:
    offset = exact(read.value - true.value)
    way = "high" if offset > 0 else "low"
    step = "less" if offset > 0 else "plus"
    off = _difference(abs(offset), read.unit)
    return (
        f"{amount(read.value, read.unit)} read, {step} {off} that the thermometer reads {way}, is "
        f"{amount(true.value, true.unit)}; "
    )
