"""Where a reading was taken, and of what that is no food, where the second reader hears it and the rules do
not."""

from __future__ import annotations

from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read, Scene
from extract.second_reader.reader import Named
from extract.settled.named import line_back, trimmed
from extract.words.line import Chunk, Line
from extract.words.naming import bare_door, place_name
from extract.words.numerals import SMALL
from extract.words.text import Span, word_set

_ANOTHER, _NEW = 0.9, 0.8
"""Shares from which its place is taken where the rules name another and where they name none. Of 620 readings
of dictations that the network had not seen it was right in 33 of the first kind and the rules in 8, and of
the second in 27 and 4. Where it hears no place the rules are no worse, and theirs is left."""
_THINGS = {"thermometer_check": 0.4, "utensil_surface": 0.5, "other": 0.95, "handwashing": 0.9}
"""By stage the share from which its item is taken where the rules name none. Elsewhere the rules are better:
the air of a unit and a lit place have no item."""
_IN_PLACE = {"thermometer_check": 0.7, "other": 0.6, "storage": 0.6, "freezing": 0.8}
"""By stage the share from which its item is taken though the rules name another: thermometers, foods of which
the acidity or the water was tested, what stands off the floor or lies in a freezer. On dictations that it had
not seen it was right in 13 of 15 such readings and the rules in none."""
_SPAN_OF = 0.85
"""The same of food that was so long in a freezer, or under a time plan."""
_ANY = word_set("batch one tub pan container bag jar")
"""Names that tell nothing more of a food that is known already: `4.58. Batch goes in the trash`."""
_SHOWS = word_set("meter probe strip strips paper")
_WATER, _WARE = 0.9, 0.95
"""The same of the water of a sanitizer, and of ware that a strip was dipped into or laid on."""
_DIPPED_INTO = word_set("bottle bottles glass glasses plate plates tray trays cup cups fork knife board")


_NEVER = 2.0
"""More than any share."""


def name_things(read: Read, scene: Scene) -> None:
    """Names what was measured, in place, where it is no food and the rules name nothing."""
    for draft in read.drafts:
        told = draft.figure.told
        if told is None or told.item is None or draft.said is not None or "symptom_free" in draft.facts:
            continue
        kept = draft.item_fixed or told.item_sure < _IN_PLACE.get(draft.stage, _NEVER)
        if draft.item is not None and kept:
            continue
        line = line_back(told.item.back, draft.line, scene)
        name = trimmed(line.text[slice(*told.item.span)]) if line is not None else ""
        if draft.item is not None and (heads_agree(draft.item, name) or name.lower() in _ANY):
            continue
        if name.split() and name.split()[-1].lower() in _SHOWS and draft.stage != "thermometer_check":
            continue
        if name and (draft.item is not None or told.item_sure > _asked_of(draft, name)):
            draft.item, draft.known_as, draft.carried = name, None, told.item.back > 0


def _asked_of(draft: Draft, name: str) -> float:
    """The share from which a thing is taken for what was measured."""
    if draft.kind == "duration":
        return _SPAN_OF
    if draft.stage != "sanitizer":
        return _THINGS.get(draft.stage, _NEVER)
    if draft.kind == "temperature":
        return _WATER
    return _WARE if name.split()[-1].lower() in _DIPPED_INTO else 1.0


def settle_places(read: Read, scene: Scene) -> None:
    """Holds the places of an utterance's readings against the second reader's, in place."""
    for draft in read.drafts:
        told = draft.figure.told
        if told is None or told.place is None or draft.said is not None:
            continue
        if told.place_sure < (_ANOTHER if draft.place is not None else _NEW):
            continue
        name, chunk = _called(told.place, draft, scene)
        if name is None or _known(draft) or _same(name, draft) or name.lower() in SMALL:
            continue
        if chunk is not None and not told.place.back and bare_door(draft.line, chunk):
            continue  # `Back door has a gap. Ham 38.`
        draft.place, draft.place_row = name, chunk.place if chunk is not None else None
        rule = f"where it is: “{name}”, as the second reader takes it"
        draft.rules.append((rule, draft.line.index, *draft.span))


def _known(draft: Draft) -> bool:
    """`The Beast`: a name that this kitchen has for it; or where a delivery was taken in."""
    row = draft.place_row
    return row is not None and (row.nickname is not None or draft.stage == "receiving")


def _same(name: str, draft: Draft) -> bool:
    """Whether it is the place that the rules have, or the thing that was measured: a hand sink is not in
    itself."""
    return any(said is not None and heads_agree(said, name) for said in (draft.place, draft.item))


def _called(named: Named, draft: Draft, scene: Scene) -> tuple[str | None, Chunk | None]:
    """The place as it was said, and its noun phrase, if that is known to be one of a place."""
    line = line_back(named.back, draft.line, scene)
    if line is None:
        return None, None
    said = trimmed(line.text[slice(*named.span)])
    if said == "Well" or said.endswith(" stands"):
        return None, None  # `Well, the rice is 150.`, `Slaw stands.`
    chunk = _place_in(line, named.span)
    if chunk is not None and said:
        name = place_name(line, chunk)
        return (name if heads_agree(name, said) else said), chunk
    return said or None, None


def _place_in(line: Line, span: Span) -> Chunk | None:
    return next(
        (
            chunk
            for chunk in line.chunks
            if chunk.place is not None
            and line.tokens[chunk.first].start < span[1]
            and span[0] < line.tokens[chunk.last - 1].end
        ),
        None,
    )
