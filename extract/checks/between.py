"""A figure against a range that a label or an approved plan gives; its ends, one or both, are inside."""

from __future__ import annotations

from dataclasses import dataclass

from extract.checks.comparing import exact
from shared.types import Check, Verdict


@dataclass(frozen=True, slots=True)
class Range:
    """What a label or an approved plan gives. Without any end it says nothing."""

    least: float | None
    most: float | None

    def check(self, value: float, unit: str) -> Check | None:
        """Against the end that is passed, else the lower end; None without any. The sections and the sentence
        are the caller's."""
        if self.most is not None and (self.least is None or value > self.most):
            over: Verdict = "violates" if value > self.most else "meets"
            return Check(over, None, "<=", self.most, unit, exact(value - self.most))
        if self.least is not None:
            under: Verdict = "violates" if value < self.least else "meets"
            return Check(under, None, ">=", self.least, unit, exact(value - self.least))
        return None
