"""What a check was made of, kept beside its reading; and a check made of it again."""

from __future__ import annotations

from extract.checks import Measured
from shared.types import Context


def kept(measured: Measured, *, by_gauge: bool, asks_item: bool) -> Context:
    """All of `measured` but the reading itself."""
    return Context(
        item=measured.item,
        place=measured.place,
        agent=measured.agent,
        held_s=measured.held_s,
        at=measured.at,
        ph=measured.ph,
        water=measured.water,
        concentration_ppm=measured.concentration_ppm,
        label_min=measured.label_min,
        label_max=measured.label_max,
        diameter=measured.diameter,
        elevation_m=measured.elevation_m,
        says=tuple(sorted(measured.says)),
        by_gauge=by_gauge,
        asks_item=asks_item,
    )


def restored(context: Context, *, kind: str, value: float, unit: str, stage: str) -> Measured:
    """A reading in that context, to be checked."""
    return Measured(
        kind=kind,
        value=value,
        unit=unit,
        stage=stage,
        item=context.item,
        place=context.place,
        agent=context.agent,
        held_s=context.held_s,
        at=context.at,
        ph=context.ph,
        water=context.water,
        concentration_ppm=context.concentration_ppm,
        label_min=context.label_min,
        label_max=context.label_max,
        diameter=context.diameter,
        elevation_m=context.elevation_m,
        says=frozenset(context.says),
    )
