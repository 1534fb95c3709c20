"""A figure against a range that a label or an approved plan gives; its ends, one or both, are inside."""

from __future__ import annotations

from dataclasses import dataclass

from extract.checks.comparing import compare
from shared.rules.model import Operator
from shared.types import Check


@dataclass(frozen=True, slots=True)
class Range:
    """What a label or an approved plan gives. Without any end it says nothing."""

    least: float | None
    most: float | None

    def check(self, value: float, unit: str) -> Check | None:
        """Against the end that is passed, else the lower one or the only one; None without any. The section
        and the sentence are the caller's."""
        if self.most is not None and (self.least is None or value > self.most):
            return _against(value, "<=", self.most, unit)
        if self.least is not None:
            return _against(value, ">=", self.least, unit)
        return None


def _against(value: float, operator: Operator, limit: float, unit: str) -> Check:
    compared = compare(value, operator, limit)
    return Check(compared.outcome, None, operator, limit, unit, compared.margin)
