"""Figures that repeat what was said before, to put it right: `I said 48 on the tomatoes, make it 46`."""

from __future__ import annotations

from extract.of_what.staging import heads_agree
from extract.revised.repeats import replace
from extract.scene import Draft, Read, Scene
from extract.words.line import Line
from extract.words.text import word_set

_SAID = word_set("said called gave wrote put recorded entered dictated")
_SMALL = ("it", "was", "you", "down", "a", "that", "is", "'s", "at", "them")
_APART = 3
"""Words such as `it was at` between these and the figure, at most: common practice, no source."""


def put_right_what_was_said(read: Read, earlier: list[Draft], scene: Scene) -> None:
    """Takes a figure out, in place, that only repeats an earlier reading, and puts the one that follows it in
    that reading's stead. Where none follows it stays as it is. `earlier`: the readings before, in order."""
    for draft in list(read.drafts):
        cue = _cue(read.line, draft)
        before = next((d for d in reversed(earlier) if _is_that(d, draft)), None) if cue else None
        if cue is None or before is None:
            continue
        new = next((d for d in read.drafts if d.order > draft.order and _stands_for(d, draft)), None)
        if new is None:
            continue
        scene.drafts.remove(draft)
        read.drafts.remove(draft)
        new.item, new.chunk, new.food = before.item, before.chunk, before.food
        new.place, new.place_row, new.stage = before.place, before.place_row, before.stage
        replace(before, new, cue)


def _cue(line: Line, draft: Draft) -> str | None:
    """The `I said 48` that a figure stands in."""
    at = draft.first - 1
    while at >= 1 and draft.first - at <= _APART and line.tokens[at].low in _SMALL:
        at -= 1
    if at < 1 or line.tokens[at - 1].low != "i" or line.tokens[at].low not in _SAID:
        return None
    return line.words(at - 1, draft.last)


def _is_that(before: Draft, draft: Draft) -> bool:
    """Whether it is the reading that is spoken of."""
    same = before.kind == draft.kind and before.value == draft.value and before.fallen is None
    named = before.item is not None and draft.item is not None and not draft.carried
    return same and (not named or heads_agree(before.item or "", draft.item or ""))


def _stands_for(new: Draft, draft: Draft) -> bool:
    """Whether a figure behind it, that stands, is of the same thing."""
    if new.fallen is not None or new.kind != draft.kind or new.value == draft.value:
        return False
    near = new.line.sentence[new.first] - new.line.sentence[draft.first] <= 1
    between = new.line.tokens[draft.last : new.last + 1]
    if any(token.low == "now" for token in between):
        return False  # `I said 148, and it's 131 now`: the soup went on cooling
    return near and (new.carried or new.item is None or heads_agree(new.item, draft.item or new.item))
