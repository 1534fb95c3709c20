"""Readings of which only the second reader hears that they were taken back."""

from __future__ import annotations

import re
from collections.abc import Sequence

from extract.amended.amend import Amendments
from extract.figures.figure import Figure
from extract.figures.like_figures import confusable
from extract.of_what.staging import heads_agree
from extract.scene import Draft, Read
from extract.words.text import word_set

BY_ITSELF = "all that stands around it"
"""Why a figure is none that was measured, where only the second reader takes it so."""
_SURELY_FALLEN, _UNDONE, _OF_ANOTHER = 0.94, 0.7, 0.98
"""Share of `w` from which a figure falls that a later one of the utterance may take the place of: of 67 such
figures that the rules kept 55 were marked as taken back. Where the later one is of another food, which tells
nothing of this one, it must be surer."""


def let_fall(read: Read) -> None:
    """Lets readings fall, in place, of which only the second reader hears that they were taken back; the
    person is asked whether they were."""
    for at, figure in enumerate(read.figures):
        draft = next((d for d in read.drafts if d.figure is figure and d.said is None), None)
        if draft is None or draft.fallen is not None or figure.told is None or figure.why:
            continue
        later = (two for two in read.figures[at + 1 :] if two.role == "figure" and two.kind != "duration")
        after = next(later, None)
        misheard = after is not None and (_sounds_like_next(read, figure, after) or _said_over(read, at))
        if (
            after is not None
            and (figure.told.meant["w"] > _asked_of(read, figure, after) or misheard)
            and at not in read.amendments.reassigned
        ):
            words = read.line.words(figure.last, after.first).strip(" ,.;")
            if words.lower().startswith("but") or _OTHER_SPOT.match(words):
                continue  # `the dial reads 40 but it's actually 46`; `salmon 139, other side, 142`
            figure.why = BY_ITSELF
            draft.fallen = words or read.line.words(figure.first, after.first)


def keep_last(found: Sequence[Figure], changes: Amendments) -> None:
    """Keeps, in place, a figure taken for one said again where the first one fell: `cheese 43, hang on,
    that's the tomato. Tomato 43 and the cheese is 38`."""
    for at, figure in enumerate(found):
        if figure.role != "restated" or figure.why != BY_ITSELF:
            continue
        first = next((n for n in reversed(range(at)) if found[n].value == figure.value), None)
        if first is not None and first in changes.fallen and first not in changes.replaced:
            figure.role, figure.why = "figure", ""


_OTHER_SPOT = re.compile(r"(?:the )?(?:other|far|next) (?:side|end|half|one|pan)\b[^.]*$", re.IGNORECASE)
_UNDOES = word_set(
    "hang oops wrong misread misreading rinse stir stirred drifting bouncing settling climbing"
)


def _asked_of(read: Read, figure: Figure, after: Figure) -> float:
    """The share asked for: less where the words between tell of a slip (`46, uh let me stir. 47 stirred`)."""
    between = {token.low for token in read.line.tokens[figure.last : after.first]}
    mine, other = (next((d for d in read.drafts if d.figure is one), None) for one in (figure, after))
    if mine is not None and other is not None and _of_two_foods(mine, other):
        return _OF_ANOTHER
    return _UNDONE if between & _UNDOES else _SURELY_FALLEN


def _of_two_foods(one: Draft, other: Draft) -> bool:
    """`Grits 121. Hold on. Hominy 148`: each is named, the second one behind the first figure."""
    named = one.chunk is not None and other.chunk is not None and other.chunk.first >= one.last
    known = one.item is not None and other.item is not None and other.food and not other.carried
    return named and known and not heads_agree(one.item or "", other.item or "")


def _said_over(read: Read, at: int) -> bool:
    """`provolone 83. Thirty eight. provolone's 38`: the next figure stands alone, and is said again."""
    line, figure, following = read.line, read.figures[at], read.figures[at + 1 :]
    if len(following) < 2 or following[0].unit is not None or following[0].value == figure.value:
        return False
    after, again = following[:2]
    first, end = line.sentence_span(after.first)
    around = (*line.tokens[first : after.first], *line.tokens[after.last : end])
    alone = all(token.kind == "mark" for token in around) and again.value == after.value
    return alone and _item_of(read, again, after) == _item_of(read, figure)


def _item_of(read: Read, *figures: Figure) -> str | None:
    """What the first of the figures that is a reading is of, in lower case."""
    items = (d.item for each in figures for d in read.drafts if d.figure is each and d.item)
    return next((item.lower() for item in items), None)


def _sounds_like_next(read: Read, figure: Figure, after: Figure) -> bool:
    """`fifteen, fifty, five oh`: the figure right behind says what was meant."""
    between = [token.low for token in read.line.tokens[figure.last : after.first]]
    hardly = figure.told is not None and figure.told.meant["r"] < _HALF
    return hardly and between == [","] and confusable(figure.value, after.value)


_HALF = 0.5
