"""What a limit said aloud tells of the figure beside it: `154, needs 165` is of cooking or reheating."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from typing import NamedTuple

from extract.figures.figure import Figure
from extract.words.lexicon import read
from extract.words.line import Line
from extract.words.text import word_set

_NEAR = 0.6
"""Degrees by which a limit may be said otherwise than written (`74` for 73.9)."""
_NOT_OVER = word_set("past over above exceed exceeds exceeding max maximum never warmer highest tops")
"""Said of a limit that food must stay under, and not fall to."""


class _Row(NamedTuple):
    degrees: Mapping[str, float]
    rising: bool
    stages: Mapping[str, float]


@cache
def _rows() -> tuple[_Row, ...]:
    return tuple(
        _Row({"degF": row["degF"], "degC": row["degC"]}, row["rising"], row["stages"])
        for row in read("limits_said.toml")["limit"]
    )


def stages_of_limits(
    line: Line, found: Sequence[Figure], figure: Figure, value: float, unit: str
) -> dict[str, tuple[float, str]]:
    """Stage → how strongly the limits beside a measured figure tell of it, and the words of the limit.

    `value` and `unit` of the figure as read. Beside it is a limit of its sentence, or of the sentence next to
    it when nothing was measured there; no other measured figure stands between the two.
    """
    told: dict[str, tuple[float, str]] = {}
    for limit in found:
        if limit.role != "limit" or not beside(line, found, figure, limit):
            continue
        said = limit.unit if limit.unit in ("degF", "degC") else unit
        for row in _rows():
            if abs(row.degrees.get(said, -1000.0) - limit.value) > _NEAR:
                continue
            if not row.rising and (value <= row.degrees.get(unit, 0.0) or _stays_under(line, limit)):
                continue
            for stage, weight in row.stages.items():
                if weight > told.get(stage, (0.0, ""))[0]:
                    told[stage] = weight, line.words(limit.first, limit.last)
    return told


_SURELY = 0.9
"""Share of the second reader from which a figure that is only mentioned is a limit."""


def is_limit(figure: Figure) -> bool:
    """Whether a figure was said as a limit."""
    told = figure.told
    return figure.role == "limit" or (
        figure.role == "mentioned" and told is not None and told.meant["l"] > _SURELY
    )


def beside(line: Line, found: Sequence[Figure], figure: Figure, limit: Figure) -> bool:
    """Whether a limit was said beside a figure: in its sentence or the next, and nothing measured between."""
    low, high = min(figure.first, limit.first), max(figure.last, limit.last)
    others = [f for f in found if f is not figure and f.role == "figure" and f.kind != "duration"]
    if any(low <= other.first < high for other in others):
        return False
    apart = line.sentence[limit.first] - line.sentence[figure.first]
    if abs(apart) > 1:
        return False
    return not apart or not any(line.sentence[other.first] == line.sentence[limit.first] for other in others)


def _stays_under(line: Line, limit: Figure) -> bool:
    first, _ = line.sentence_span(limit.first)
    before = line.tokens[max(first, limit.first - 5) : limit.first]
    return any(token.low in _NOT_OVER for token in before)


def asked_too(line: Line, one: Figure, two: Figure) -> bool:
    """The 180 of `I look for 160 on the wash and 180 on the rinse`."""
    if one.role != "limit" or line.sentence[one.first] != line.sentence[two.first]:
        return False
    between = [token.low for token in line.tokens[one.last : two.first]]
    looked_for = one.why.lower() in LOOKED_FOR
    return looked_for and between[-1:] == ["and"] and len(between) <= _LIST


LOOKED_FOR = ("look for", "looking for")
"""Words before a limit that nobody says of a reading."""
_LIST = 6
"""Words between two limits of a list: common practice, no source."""
