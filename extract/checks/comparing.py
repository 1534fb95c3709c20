"""The comparison itself: a figure against a limit, with the band in which the instrument cannot tell.

Decision rules after ILAC-G8:09/2019 and JCGM 106:2012 (both from memory). Differences are rounded to a
millionth, so that 41.2 − 0.2 is 41 and a reading at the limit is never over it by a rounding error.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shared.rules.model import DecisionRule, Operator

Outcome = Literal["meets", "violates", "borderline"]


def exact(value: float) -> float:
    """`value` without the error that binary arithmetic leaves far behind the point."""
    return round(value, 6)


@dataclass(frozen=True, slots=True)
class Compared:
    """How a figure stands to a limit."""

    outcome: Outcome
    margin: float
    """value - limit, in the unit of both."""
    beyond: float
    """How far on the failing side it is; 0 is exactly at the limit, negative is the passing side."""

    @property
    def passing(self) -> bool:
        """Whether the figure as it stands is on the passing side; the limit itself passes."""
        return self.beyond <= 0


def compare(
    value: float,
    operator: Operator,
    limit: float,
    *,
    tolerance: float = 0.0,
    band: float = 0.0,
    rule: DecisionRule = "simple_acceptance",
) -> Compared:
    """How `value` stands to `limit`: `<=` at most, `>=` at least, `+-` within `tolerance` of it.

    `band` is the instrument's accuracy. Inside it, simple acceptance calls both sides borderline, guarded
    acceptance only the passing side, guarded rejection only the failing side. Without a band the figure
    decides.
    """
    margin = exact(value - limit)
    if operator == "<=":
        beyond = margin
    elif operator == ">=":
        beyond = exact(-margin)
    else:
        beyond = exact(abs(margin) - tolerance)
    return Compared(_outcome(beyond, band, rule), margin, beyond)


def reached(compared: Compared, rule: DecisionRule) -> Outcome:
    """The verdict on a target that falling food must reach in time.

    At or under the target it is reached, inside the band too, since food that cools goes on falling; only
    guarded acceptance asks for more. Over it but inside the band it may have been reached: borderline.
    """
    return "meets" if compared.passing and rule == "simple_acceptance" else compared.outcome


def _outcome(beyond: float, band: float, rule: DecisionRule) -> Outcome:
    if beyond > 0:
        unsure = rule != "guarded_acceptance" and beyond <= band
        return "borderline" if unsure else "violates"
    unsure = bool(band) and rule != "guarded_rejection" and _inside(-beyond, band, rule)
    return "borderline" if unsure else "meets"


def _inside(distance: float, band: float, rule: DecisionRule) -> bool:
    """Guarded acceptance accepts at exactly one band from the limit; otherwise that is still unsure."""
    return distance < band if rule == "guarded_acceptance" else distance <= band
