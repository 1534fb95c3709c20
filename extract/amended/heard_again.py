"""Figures said once more because the first time sounded like another: `fifteen, fifty, five oh`."""

from __future__ import annotations

from itertools import pairwise

from extract.amended.amend import Amendments
from extract.figures.figure import Figure
from extract.figures.like_figures import confusable
from extract.words.line import Line


def heard_again(line: Line, found: list[Figure], changes: Amendments) -> None:
    """Lets a figure fall, in place, that sounds like the next one right behind it, where that one is said
    again afterwards."""
    said_twice = set(changes.restated.values())
    live = [at for at, figure in enumerate(found) if figure.role in ("figure", "restated")]
    for a, b in pairwise(live):
        one, two = found[a], found[b]
        beside = [token.low for token in line.tokens[one.last : two.first]] == [","]
        alike = one.role == two.role == "figure" and confusable(one.value, two.value)
        if b in said_twice and beside and alike and a not in changes.fallen:
            changes.replaced[a], changes.fallen[a] = b, line.words(two.first, two.last)
