"""What a reading is of, where the second reader says otherwise than the rules: taken, doubted, or left."""

from __future__ import annotations

from extract.of_what.staging import heads_agree
from extract.scene import Draft, Scene
from extract.second_reader.reader import FigureTold, Named
from extract.settled.named import chunk_of, line_back, trimmed
from extract.words.line import NOUN, Chunk, Line
from extract.words.naming import item_name, said_to_be
from extract.words.text import Span, word_set

_NAMED, _NEW_NAME, _SURE_NAME = 0.5, 0.8, 0.9
"""Share from which its item is taken where the rules name another, and where they name none, and from which
it is taken in the place of another without a doubt."""


def settle_item(draft: Draft, told: FigureTold, scene: Scene) -> None:
    """Gives a reading the item that the second reader names, in place, where it is sure enough."""
    if told.item is None or told.item_sure < (_NAMED if draft.item is not None else _NEW_NAME):
        return
    name, chunk = _called(told.item, draft, scene)
    if name is None:
        return
    if draft.item is not None and heads_agree(draft.item, name):
        said = trimmed(draft.line.text[slice(*told.item.span)]) if told.item.back == 0 else ""
        if said and told.item_sure > _SURE_EXTENT and _says_it_better(draft.item, said, draft.line):
            draft.item = said
        return
    if chunk is not None and not chunk.known_food and _one_follows(draft.line, chunk):
        return  # `burgers 163, and the thin one 144`
    if chunk is not None and draft.food and (_joined(draft, chunk) or _holds(chunk)):
        return
    was = draft.item
    if was is not None and told.item_sure < _SURE_NAME and _stands_behind(draft):
        return
    if was is not None and draft.chunk is not None and draft.chunk.last == draft.first:
        draft.codes.append(("item_unsure", f"It may be of the {name}, and not of the {was}", ()))
        return  # it stands right before its figure
    if was is not None and told.item.back > 0 and _told_of(draft):
        draft.codes.append(("item_unsure", f"It may be of the {name}, and not of the {was}", ()))
        return  # `the same nugget is 179 now`, and never of the food of an utterance before
    draft.item, draft.chunk, draft.food = name, chunk, True
    draft.known_as = said_to_be(draft.line, chunk) if chunk in draft.line.chunks else None
    draft.carried = told.item.back > 0
    draft.rules.append(
        (
            f"what it is of: “{name}”, as the second reader takes it",
            draft.line.index,
            *draft.span,
        )
    )
    if was is not None and told.item_sure < _SURE_NAME:
        draft.codes.append(("item_unsure", f"It may be of the {was}, and not of the {name}", ()))


_SURE_EXTENT = 0.97
"""Share from which the same food is called by the second reader's longer words of it: `pork and leek`."""


def _says_it_better(item: str, name: str, line: Line) -> bool:
    was, now = item.lower().split(), name.lower().split()
    if len(now) <= len(was) or now[-len(was) :] != was or any(token.low == "both" for token in line.tokens):
        return False
    kinds = {token.low: line.classes[n] for n, token in enumerate(line.tokens)}
    return all(word == "and" or kinds.get(word) in (NOUN, None) for word in now[: -len(was)])


def _told_of(draft: Draft) -> bool:
    """`the nugget is 179`: a food by its name, tied to the figure by a verb."""
    chunk, line = draft.chunk, draft.line
    if chunk is None or draft.carried or not chunk.known_food or chunk not in line.chunks:
        return False
    between = [token.low for token in line.tokens[chunk.last : draft.first]]
    return 1 <= len(between) <= _SMALL_WORDS and between[0] in _TIES


_TIES = frozenset(("is", "was", "are", "were", "'s", "reads", "read", "at", "came"))


def _one_follows(line: Line, chunk: Chunk) -> bool:
    return chunk in line.chunks and chunk.last < len(line.tokens) and line.tokens[chunk.last].low == "one"


def _stands_behind(draft: Draft) -> bool:
    """`44 in the slaw`."""
    chunk, last = draft.chunk, draft.last
    return chunk is not None and chunk in draft.line.chunks and last <= chunk.first <= last + _SMALL_WORDS


_SMALL_WORDS = 2


def _holds(chunk: Chunk) -> bool:
    """A place or vessel, and no food."""
    return not chunk.known_food and (chunk.place is not None or chunk.object is not None)


def _joined(draft: Draft, chunk: Chunk) -> bool:
    """`tuna salad and egg salad are both 39`: one figure is of both."""
    if draft.chunk is None or draft.carried or chunk not in draft.line.chunks:
        return False
    first, second = sorted((draft.chunk, chunk), key=lambda one: one.first)
    between = {token.low for token in draft.line.tokens[first.last : second.first]}
    return bool(between) and between <= {"and", "or", "the", "&", ","} and bool(between & {"and", "&", "or"})


_RESTARTS = word_set("or rather actually no wait sorry uh um make that i mean")


def _restarts(said: str) -> bool:
    """Only words of starting again: the `or rather` of `maduros 131, or rather 134`."""
    return bool(said) and _RESTARTS.issuperset(said.lower().split())


def _whole_words(line: Line, span: Span) -> Span:
    """A span without half words: what the second reader got may begin within one."""
    within = [token for token in line.tokens if token.start < span[1] and span[0] < token.end]
    return (within[0].start, within[-1].end) if within else span


def _called(named: Named, draft: Draft, scene: Scene) -> tuple[str | None, Chunk | None]:
    """The item as it was said, and its noun phrase."""
    line = line_back(named.back, draft.line, scene)
    if line is None:
        return None, None
    said = trimmed(line.text[slice(*_whole_words(line, named.span))])
    chunk = chunk_of(line, named.span)
    if _restarts(said):
        return None, None
    if chunk is not None and said:
        name = item_name(line, chunk)
        return (name if heads_agree(name, said) else said), chunk
    return said or None, None
