"""Whether food needs time/temperature control, by its water activity and pH (1-201.10, Tables A and B)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shared.errors import InputError
from shared.rules.model import Rules, TcsCell


@dataclass(frozen=True, slots=True)
class TcsAnswer:
    """What a table says of a food."""

    answer: Literal["not_tcs", "product_assessment", "unknown"]
    """`product_assessment`: treated as TCS until one shows otherwise. `unknown`: a figure is missing and
    the answer depends on it."""
    missing: tuple[str, ...]
    section: str | None

    @property
    def treat_as_tcs(self) -> bool:
        return self.answer != "not_tcs"


def by_table(rules: Rules, *, packaged: bool, aw: float | None = None, ph: float | None = None) -> TcsAnswer:
    """The answer for a food that was heat-treated and then `packaged`, or for any other.

    With one figure missing the answer stands when every value of it leads there. Raises `InputError` for
    figures that cannot be (water activity 0 to 1, pH 0 to 14).
    """
    if aw is not None and not 0 <= aw <= 1:
        raise InputError(f"water activity {aw:g} cannot be: it is between 0 and 1")
    if ph is not None and not 0 <= ph <= 14:
        raise InputError(f"pH {ph:g} cannot be: it is between 0 and 14")
    table = "packaged" if packaged else "unpackaged"
    cells = [cell for cell in rules.tcs_cells.values() if cell.table == table and _holds(cell, aw, ph)]
    answers = {cell.answer for cell in cells}
    section = next((cell.section for cell in cells), None)
    if len(answers) == 1:
        return TcsAnswer(answers.pop(), (), section)
    facts = (("its water activity", aw), ("its pH", ph))
    return TcsAnswer("unknown", tuple(name for name, fact in facts if fact is None), section)


def _holds(cell: TcsCell, aw: float | None, ph: float | None) -> bool:
    return _within(aw, cell.aw_over, cell.aw_at_least, cell.aw_at_most, cell.aw_under) and _within(
        ph, cell.ph_over, cell.ph_at_least, cell.ph_at_most, cell.ph_under
    )


def _within(
    value: float | None,
    over: float | None,
    at_least: float | None,
    at_most: float | None,
    under: float | None,
) -> bool:
    if value is None:
        return True
    return (
        (over is None or value > over)
        and (at_least is None or value >= at_least)
        and (at_most is None or value <= at_most)
        and (under is None or value < under)
    )
