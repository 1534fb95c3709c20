"""The food that a part was measured of: the chickens of `thigh 159`, the meatloaf of `the thick end`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from extract.scene import Draft, Read, Scene
from extract.settled.settling import OF_FOOD
from extract.words.lexicon import read
from extract.words.line import Chunk
from extract.words.naming import item_name
from extract.words.text import stem, word_set
from shared.foods import classify

_TESTED = ("ph", "water_activity")
_BACK = 2
"""Utterances back in which the food may be named: common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Part:
    of: frozenset[str]
    once: bool


def name_wholes(done: Read, scene: Scene) -> None:
    """Takes readings of parts to the foods that they are parts of, in place."""
    for draft in done.drafts:
        of_food = (draft.kind == "temperature" and draft.stage in OF_FOOD) or draft.kind in _TESTED
        if draft.item is None or not of_food:
            continue
        if draft.kind in _TESTED and draft.carried and (own := _own_food(draft)) is not None:
            draft.item, draft.chunk, draft.known_as = item_name(draft.line, own), own, None
            continue
        part = _part(draft.item)
        if part is None:
            continue
        whole = next((one for one in _named_before(draft, scene) if _fits(one[0], part, scene)), None)
        if whole is None:
            continue
        draft.rules.append(
            (
                f"“{draft.item}” is of the {whole[0]}",
                draft.line.index,
                *draft.span,
            )
        )
        draft.item, draft.chunk = whole
        draft.food, draft.carried, draft.known_as = True, True, None


def _own_food(draft: Draft) -> Chunk | None:
    """The food named last before a figure in its utterance: `for the jerky … the batch I tested is 0.88`."""
    named = (c for c in reversed(draft.line.chunks) if c.last <= draft.first and c.known_food)
    return next((c for c in named if c.sort != "gone" and c.preposition != "with"), None)


def _part(item: str) -> _Part | None:
    """What a name says of the food that it is a part of; None where it names a food itself (`the wings`)."""
    words = [word.strip("'’s,.") or word for word in item.lower().split(" of ")[0].split()]
    if not words or any(word not in _modifiers() for word in words[:-1]):
        return None
    part = _parts().get(stem(words[-1]))
    several = item.lower().split(" of ")[0].rstrip(" ,.'’").endswith("s")
    return None if part is not None and several and "poultry" in part.of else part


def _named_before(draft: Draft, scene: Scene) -> Iterator[tuple[str, Chunk | None]]:
    """Foods named before a figure, the nearest first, then those measured last."""
    line = draft.line
    for chunk in reversed(line.chunks):
        if chunk.last <= draft.first and chunk.known_food and chunk.sort != "gone":
            yield item_name(line, chunk), chunk
    for other in reversed(scene.drafts):
        if other.line.index < line.index - _BACK:
            return
        if other is not draft and other.order < draft.order and other.item is not None and other.food:
            yield other.item, other.chunk
    for earlier in reversed(scene.lines[:-1]):
        if earlier.index < line.index - _BACK:
            return
        for chunk in reversed(earlier.chunks):
            if chunk.known_food and chunk.sort != "gone":
                yield item_name(earlier, chunk), chunk


def _fits(name: str, part: _Part, scene: Scene) -> bool:
    if _part(name) is not None:
        return False
    if part.once and any(draft.item == name for draft in scene.drafts):
        return False
    food = classify(name)
    return not part.of or (food is not None and bool(part.of & food.tags))


@cache
def _parts() -> dict[str, _Part]:
    return {
        stem(word): _Part(frozenset(row["of"]), row["once"])
        for row in read("parts.toml")["part"]
        for word in row["words"]
    }


@cache
def _modifiers() -> frozenset[str]:
    return word_set(" ".join(read("parts.toml")["modifiers"]["words"]))
