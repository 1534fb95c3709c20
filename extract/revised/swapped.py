"""Two readings of which the speaker says that their foods were swapped: `I had those backwards`."""

from __future__ import annotations

from extract.amended.swaps import tells_swap
from extract.of_what.staging import heads_agree
from extract.revised.repeats import replace
from extract.scene import Draft, Read
from extract.words.line import Line


def doubt_swapped(told: Read, earlier: list[Draft]) -> None:
    """Doubts, in place, of what the two readings before such words are; the person says which is which.
    `earlier`: the readings of the utterances before, the last of them first."""
    at = tells_swap(told.line)
    if at is None:
        return
    _of_other_stages(told, at)
    here = [draft for draft in told.drafts if draft.last <= at][::-1]
    stand = [draft for draft in [*here, *earlier] if draft.fallen is None and draft.item]
    if len(stand) < 2:
        return
    later = [draft for draft in told.drafts if draft.first > at and draft.fallen is None and draft.item]
    if len(later) > 1 and _told_anew(stand[:2], later, told.line, at):
        return
    for one, other in (stand[:2], stand[1::-1]):
        if one.item != other.item and one.kind == other.kind:
            one.codes.append(
                (
                    "item_unsure",
                    f"It may be of the {other.item}, and not of the {one.item}: two were swapped",
                    (),
                )
            )


_OF_MACHINE = ("machine_wash", "machine_rinse")


def _of_other_stages(told: Read, at: int) -> None:
    """`rinse 155, wash 182, no, other way round. 155's the wash, 182's the rinse`: what was said first falls,
    in place, where it is said again of the other."""
    for old in told.drafts:
        again = [
            new
            for new in told.drafts
            if old.last <= at < new.first
            and new.value == old.value
            and old.stage in _OF_MACHINE
            and new.stage in _OF_MACHINE
            and new.fallen is None
        ]
        if again and old.fallen is None:
            replace(old, again[0], told.line.words(at, again[0].first))


def _told_anew(stand: list[Draft], later: list[Draft], line: Line, at: int) -> bool:
    """`wedge 38, wrap 36, no, other way around, wedge 36, wrap 38`: both fall, in place."""
    pairs = [
        (old, new)
        for old in stand
        for new in later
        if old.kind == new.kind and heads_agree(old.item or "", new.item or "")
    ]
    if {id(old) for old, _ in pairs} != {id(old) for old in stand}:
        return False
    for old, new in pairs:
        new.item = old.item
        replace(old, new, line.words(at, new.first))
    return True
