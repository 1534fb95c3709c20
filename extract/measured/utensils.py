"""Utensils in use that stand in water, whose temperature has a limit of its own."""

from __future__ import annotations

from extract.of_what.subject import Subject
from extract.scene import Draft
from extract.words.line import Line
from extract.words.text import singular, word_set

_UTENSILS = word_set(
    "scoop spoon tong tongs ladle spatula dipper paddle spade whisk knife server disher spreader turner"
)
_WET = word_set("water waters")


def in_water(line: Line, draft: Draft, about: Subject) -> bool:
    """`scoop standing in a can of water, water's 96`, `the scoops sit in water at 90`: the figure is of the
    water that holds a utensil. Settles item and stage."""
    chunk = about.chunk
    first, _ = line.sentence_span(draft.first)
    begin = line.starts[max(0, line.sentence[draft.first] - 1)]
    named = next((n for n in range(begin, draft.first) if singular(line.tokens[n].low) in _UTENSILS), None)
    wet = [n for n in range(begin, draft.first) if line.tokens[n].low in _WET]
    if named is None or not wet or wet[-1] < named:
        return False
    if chunk is not None and not named < chunk.first < wet[-1]:  # `scoop for the rice in a tub of water, 79`
        own = {singular(line.tokens[n].low) for n in range(chunk.first, chunk.last)}
        if not own & (_UTENSILS | _WET):
            return False
    between = [line.tokens[n].low for n in range(named + 1, wet[-1])]
    if not {"in", "into", "inside"}.intersection(between) or any(
        line.tokens[n].low == "running" for n in range(first, draft.first)
    ):
        return False
    draft.item, draft.chunk, draft.stage = "water", None, "other"
    draft.facts = draft.facts | {"utensil_water"}
    return True
