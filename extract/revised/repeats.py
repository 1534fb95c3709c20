"""Figures said once more of the same thing: heard anew, summed up, or repeated later in the visit."""

from __future__ import annotations

from extract.figures.like_figures import confusable
from extract.figures.restated import STEADIED
from extract.of_what.staging import HELD, LIKELY, fahrenheit, heads_agree
from extract.scene import Draft, Read, Scene
from extract.words.lexicon import Lexicon
from extract.words.text import word_set

_AGAIN = frozenset(
    [
        "again",
        "still",
        "second",
        "third",
        "recheck",
        "rechecked",
        "retest",
        "retested",
        "retook",
        "now",
        "back",
        "another",
        "other",
        "next",
        "both",
    ]
)


def replace(old: Draft, new: Draft, cue: str) -> None:
    if old is not new:
        old.fallen, old.successor = cue, new


def listed_again(read: Read, words: Lexicon) -> None:
    """`tuna 41, turkey 44, correction turkey 41`: foods said again with another figure in one utterance."""
    line = read.line
    for n, draft in enumerate(read.drafts):
        if draft.fallen is not None or draft.item is None or draft.carried:
            continue
        heard = [d for d in read.drafts[:n] if d.fallen is None and d.kind == draft.kind and _taken_back(d)]
        for older in reversed(read.drafts[:n]):
            said = any(token.low == "correction" for token in line.tokens[older.last : draft.first])
            if (
                (heard and older not in heard and not said)
                or older.fallen is not None
                or older.item is None
                or older.kind != draft.kind
                or older.value == draft.value
            ):
                continue
            if older.item.casefold() != draft.item.casefold() or older.chunk is draft.chunk:
                continue
            for first, last, _ in words.replaces.find(line.tokens, older.last, draft.first):
                slip = any(token.low in _SLIPS for token in line.tokens[first:last])
                if slip or line.tokens[first].low in _CORRECTS:
                    replace(older, draft, line.words(first, last))
                    break
            else:
                if older is read.drafts[n - 1] and _heard_anew(read, older, draft):
                    replace(older, draft, line.words(draft.first, draft.last))
            break  # what was said before it is not what was taken back


_HEARD = 0.7
"""Share from which the second reader is sure: chosen by us."""


def _taken_back(draft: Draft) -> bool:
    """Whether the second reader surely hears that it was taken back."""
    return draft.figure.told is not None and draft.figure.told.meant["w"] > _HEARD


_CORRECTS = word_set("correction sorry no actually scratch strike wait make hold hang oops whoops nope")
_SLIPS = word_set("badly wrong wrongly misspoke misread flipped")
_ANEW = word_set("okay ok again so wait dang let me start over once more from the top")


def told_anew(read: Read) -> None:
    """`Banana 37, dang wait. Okay again. Banana 37, chocolate 47`: what was told of a food before such words
    falls; and of a needle that moves all but the last: `41, 39, ok it stops at 38`."""
    line = read.line
    for n, start in enumerate(line.starts):
        end = line.starts[n + 1] if n + 1 < len(line.starts) else len(line.tokens)
        lows = [token.low for token in line.tokens[start:end] if token.kind != "mark"]
        if not lows or not {"again", "over", "top"} & set(lows) or not _ANEW.issuperset(lows):
            continue
        for draft in [d for d in read.drafts if d.first >= end and d.fallen is None]:
            for older in [d for d in read.drafts if d.last <= start and d.fallen is None]:
                if (
                    older.item
                    and draft.item
                    and older.kind == draft.kind
                    and heads_agree(older.item, draft.item)
                ):
                    replace(older, draft, line.words(start, end))
    for draft in read.drafts:
        if draft.fallen is not None or draft.figure.why != STEADIED:
            continue
        for older in reversed(read.drafts):
            if older.order >= draft.order or older.fallen is not None:
                continue
            if older.kind != draft.kind or older.item != draft.item or older.chunk is not draft.chunk:
                break
            replace(older, draft, line.words(draft.first - 2, draft.last))


def _heard_anew(read: Read, older: Draft, draft: Draft) -> bool:
    """`peas 14. Peas 140. One four zero.`: said again of the same food because it was heard wrongly: the
    two sound alike, and the first is unlikely or the second is spelled out once more."""
    if not confusable(older.value, draft.value) or older.place != draft.place:
        return False
    spelled = any(read.figures[at] is draft.figure for at in read.amendments.restated.values())
    low, high = LIKELY.get(older.stage, (-100, 1000))
    unlikely = older.kind == "temperature" and not low <= fahrenheit(older.value, older.unit) <= high
    return spelled or (unlikely and draft.stage == older.stage)


_SUMMING = frozenset(("so", "call", "writing", "calling"))


def spoken_of(read: Read, scene: Scene) -> None:
    """`43 is inside what my thermometer can argue about`: a figure told before opens a sentence that names
    nothing which has it, so that it is the same reading."""
    line = read.line
    for draft in list(read.drafts):
        figure = draft.figure
        first, _ = line.sentence_span(figure.first)
        opens = all(
            line.classes[n] in ("conjunctions", "adverbs", "fillers", "mark")
            for n in range(first, figure.first)
        )
        follows = line.tokens[figure.last].low if figure.last < len(line.tokens) else ""
        if (
            not opens
            or follows not in ("is", "'s")
            or figure.unit is not None
            or draft.said
            or not draft.carried
        ):
            continue
        told = (d for d in scene.recent(line.index, back=3) if d.order < draft.order and d.kind == draft.kind)
        if any(older.value == draft.value for older in told):
            scene.drafts.remove(draft)
            read.drafts.remove(draft)


_THE = frozenset(("the", "that", "those", "this", "these"))


def where_it_was(read: Read, scene: Scene) -> None:
    """`That white gravy was still 131`, told of food that was read before: it is where it was then, not where
    the speaker stood last."""
    line = read.line
    low = line.text.casefold()
    for draft in read.drafts:
        chunk = draft.chunk
        if chunk is None or chunk not in line.chunks or chunk.determiner not in _THE or not draft.place:
            continue
        if draft.place.casefold() in low or draft.stage not in HELD:
            continue
        for older in scene.recent(line.index, back=_SPOKEN_BACK):
            if older.line is not line and older.item and heads_agree(older.item, draft.item or ""):
                draft.place, draft.place_row = older.place, older.place_row
                break


_HAD = word_set("had got found read measured complained")
_SPOKEN_BACK = 12
"""Utterances back that a figure may be spoken of again: common practice, no source."""


def spoken_of_again(read: Read, scene: Scene) -> None:
    """`the sprouts I had at 126 a while back went in the steamer`: a figure read before, told once more."""
    line = read.line
    for draft in list(read.drafts):
        before = [token.low for token in line.tokens[max(0, draft.first - 4) : draft.first]]
        told = before[-1:] == ["at"] and "i" in before and not _HAD.isdisjoint(before)
        if not told or draft.said or draft.item is None:
            continue
        for older in scene.recent(line.index, back=_SPOKEN_BACK):
            same = older.line is not line and older.value == draft.value and older.kind == draft.kind
            if same and older.item is not None and heads_agree(older.item, draft.item):
                scene.drafts.remove(draft)
                read.drafts.remove(draft)
                break


def told_twice(read: Read, scene: Scene) -> None:
    """`44, sorry, that's forty, wings 40`, `it's 300, so quat 300`: the figure that stands is said once more
    of the same thing in one breath."""
    line = read.line
    for n, draft in enumerate(list(read.drafts)):
        older = next(
            (d for d in reversed(read.drafts[:n]) if d.fallen is None and d.kind == draft.kind), None
        )
        if (
            older is None
            or draft.fallen is not None
            or draft.said
            or older.said
            or older.value != draft.value
        ):
            continue
        same = (older.unit, older.stage, older.place, older.agent) == (
            draft.unit, draft.stage, draft.place, draft.agent
        )  # fmt: skip
        names = (older.item or "").casefold(), (draft.item or "").casefold()
        between = [token.low for token in line.tokens[older.last : draft.first]]
        alike = names[0] == names[1] or (bool(names[0] and names[1]) and heads_agree(*names))
        if not same or not alike or _AGAIN & set(between):
            continue
        replaced = any(d.successor is older for d in read.drafts)
        named = bool(names[0]) and draft.chunk is not older.chunk and draft.kind == "temperature"
        if replaced or named or _SUMMING & set(between):
            scene.drafts.remove(draft)
            read.drafts.remove(draft)


def repeated(read: Read, earlier: list[Draft], scene: Scene) -> None:
    """A figure said again of the same food in the same place is the same reading, unless it was taken
    again."""
    line = read.line
    for draft in list(read.drafts):
        if draft.fallen is not None or draft.item is None or draft.kind == "duration":
            continue
        if draft.carried and not draft.unit_said:
            continue
        first, _ = line.sentence_span(draft.first)
        if _AGAIN & {token.low for token in line.tokens[first : draft.first]}:
            continue
        twin = next(
            (
                d
                for d in earlier
                if d.fallen is None
                and d.kind == draft.kind
                and d.value == draft.value
                and d.unit == draft.unit
                and d.item is not None
                and heads_agree(d.item, draft.item)
                and (
                    d.place == draft.place
                    or draft.place is None
                    or (d.line.index >= line.index - 2 and d.item == draft.item)
                )
                and d.line.index >= line.index - 8
            ),
            None,
        )
        if twin is not None and not any(d.successor is draft for d in scene.drafts[-40:]):
            scene.drafts.remove(draft)
            read.drafts.remove(draft)
