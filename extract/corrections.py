"""What was put right during the visit, told from what was promised."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from extract.lexicon import Phrases, lexicon, read
from extract.likeness import likeness
from extract.likeness.features import sounds_of
from extract.line import Line, prepare
from extract.text import Span, plain, stem, word_set
from extract.walk import sent_there


@dataclass(frozen=True, slots=True)
class Action:
    """A kind of putting right and what it can reach."""

    name: str
    reaches: frozenset[int]
    food: bool


@dataclass(frozen=True, slots=True)
class Correction:
    """One thing that was done, where it was said and about what."""

    line: int
    span: Span
    text: str
    first: int
    """First token of its clause."""
    action: Action
    words: frozenset[str]
    """Stems of the clause, to find what it is about."""
    widely: bool
    """`both`, `all of it`, `everything`: all that was said just before."""
    pronoun: bool
    sure: bool = True
    """Else it counts only for what it names."""


_GREEDY = word_set("both all everything them those these")
_PRONOUNS = word_set("it that them both those these they 's one ones he she him her")
_BREAKS = frozenset((".", "!", "?", ";", "\n"))


@dataclass(frozen=True, slots=True)
class _Tables:
    actions: Phrases[tuple[tuple[Action, bool], ...]]
    """Each action with whether it counts only when confirmed."""
    promise: Phrases[bool]
    temporary: Phrases[bool]
    named: dict[str, Action]
    confirm: Phrases[bool]


@cache
def _tables() -> _Tables:
    data = read("corrections.toml")
    rows: dict[str, list[tuple[Action, bool]]] = {}
    named: dict[str, Action] = {}
    for row in data["action"]:
        action = Action(row["name"], frozenset(row["reaches"]), row.get("food", False))
        named[action.name] = action
        for text in row["done"]:
            rows.setdefault(text, []).append((action, False))
        for text in row.get("bare", ()):
            rows.setdefault(text, []).append((action, True))
    return _Tables(
        Phrases(((text, tuple(actions)) for text, actions in rows.items()), form=plain),
        Phrases(((text, True) for text in data["promise"]), form=plain),
        Phrases(((text, True) for text in data["temporary"]), form=plain),
        named,
        Phrases(((text, True) for text in data["confirm"]), form=plain),
    )


def corrections(line: Line) -> list[Correction]:
    """What the utterance says was done, in order. Promises and stopgaps are left out."""
    tables = _tables()
    tokens = line.tokens
    hits = [*tables.actions.find(tokens), *_sent(line, tables)]
    found = _sounding_done(line, {line.sentence[first] for first, _, _ in hits}, tables)
    for first, last, actions in hits:
        if line.chunk_at[first] >= 0 and line.chunks[line.chunk_at[first]].known_food:
            continue  # the pulled of `pulled pork`
        begin, end = _clause(line, first)
        if tables.temporary.find(tokens, begin, end):
            continue
        confirmed = bool(tables.confirm.find(tokens, last, min(len(tokens), end + 8)))
        if not confirmed and _promised(line, begin, first, tables):
            continue
        if _negated(line, first) or _earlier(line, begin, first):
            continue
        words = frozenset(token.stem for token in tokens[begin:end] if token.kind == "word")
        lows = {token.low for token in tokens[begin:end]}
        for action, bare in actions:
            if bare and not confirmed:
                continue
            found.append(
                Correction(
                    line=line.index,
                    span=(tokens[begin].start, tokens[end - 1].end),
                    text=line.words(begin, end),
                    first=begin,
                    action=action,
                    words=words,
                    widely=bool(lows & _GREEDY),
                    pronoun=bool(lows & _PRONOUNS),
                )
            )
    return sorted(found, key=lambda one: one.span)


_DONE_FROM, _MAYBE_FROM = 2.0, -0.7
"""Log-odds from which a sentence without a known phrase tells of something done: of whatever was said before
it, or only of what it names."""
_LEFT_OVER = Action("sounds done", frozenset(), food=True)


def _sounding_done(line: Line, told: set[int], tables: _Tables) -> list[Correction]:
    """Sentences without a known phrase that sound like something put right: `the tray went to the hogs`.

    `told`: the numbers of the sentences that have one.
    """
    if not line.tokens:
        return []
    found: list[Correction] = []
    for number, first in enumerate(line.starts):
        _, end = line.sentence_span(first)
        begin, stop = line.tokens[first].start, line.tokens[end - 1].end
        sounds = sounds_of(line.tokens[first:end])
        if number in told or len(sounds) < _FEWEST or tables.promise.find(line.tokens, first, end):
            continue
        like = likeness().put_right(sounds)
        if like < _MAYBE_FROM:
            continue
        lows = {token.low for token in line.tokens[first:end]}
        found.append(
            Correction(
                line=line.index,
                span=(begin, stop),
                text=line.words(first, end),
                first=first,
                action=_LEFT_OVER,
                words=frozenset(token.stem for token in line.tokens[first:end] if token.kind == "word"),
                widely=bool(lows & _GREEDY),
                pronoun=bool(lows & _PRONOUNS),
                sure=like >= _DONE_FROM,
            )
        )
    return found


_FEWEST = 2
_SENT = word_set("put puts putting moved moving shifted transferred relocated went goes going took swapped")
_WHAT_IT_DOES = {"cold_holding": "chilled", "freezing": "chilled", "cooking": "reheated"}


def _sent(line: Line, tables: _Tables) -> list[tuple[int, int, tuple[tuple[Action, bool], ...]]]:
    """`put them in the cooler`, `back in the oven they go`: where food was sent tells what was done to it."""
    found: list[tuple[int, int, tuple[tuple[Action, bool], ...]]] = []
    for chunk in line.chunks:
        name = _WHAT_IT_DOES.get(chunk.place.stage) if chunk.place is not None else None
        if name is None or chunk.preposition not in ("to", "in", "into", "on", "onto"):
            continue
        first, end = line.sentence_span(chunk.first)
        back = line.tokens[chunk.prepared_at - 1].low == "back" if chunk.prepared_at > first else False
        around = line.tokens[max(first, chunk.prepared_at - 7) : chunk.prepared_at]
        after = {token.low for token in line.tokens[chunk.last : min(end, chunk.last + 3)]}
        sent = sent_there(line, chunk) or (
            back and (any(token.low in _SENT for token in around) or bool(after & {"go", "goes", "went"}))
        )
        if sent:
            found.append((chunk.prepared_at, chunk.last, ((tables.named[name], False),)))
    return found


def _clause(line: Line, at: int) -> tuple[int, int]:
    """The clause around a token: from mark, `and`, `but`, `so` or `then` to the next one."""
    tokens = line.tokens
    first, end = line.sentence_span(at)
    begin = at
    while begin > first and not (
        tokens[begin - 1].low in _BREAKS or tokens[begin - 1].low in (",", "but", "so")
    ):
        if tokens[begin - 1].low == "and" and begin - 1 > first and _verb_like(line, begin):
            break
        begin -= 1
    stop = at + 1
    while stop < end and tokens[stop].low not in _BREAKS and tokens[stop].low not in (",", "but", "so"):
        if tokens[stop].low == "and" and stop + 1 < end and _verb_like(line, stop + 1):
            break
        stop += 1
    return begin, stop


def _verb_like(line: Line, i: int) -> bool:
    return i < len(line.tokens) and line.classes[i] in ("verbs", "links", "pronouns", "auxiliaries")


def _promised(line: Line, begin: int, first: int, tables: _Tables) -> bool:
    """A promise governs what follows it in the same clause, or the clause before when no subject comes
    between."""
    tokens = line.tokens
    if tables.promise.find(tokens, max(0, begin), first):
        return True
    if any(tokens[n].low == "'ll" and tokens[n - 1].low not in ("i", "we") for n in range(begin + 1, first)):
        return True  # `she'll put it away`, but not `we'll call it corrected`
    if (
        begin
        and tokens[begin - 1].low == "and"
        and not any(t.low in ("i", "he", "she", "they", "we") for t in tokens[begin:first])
    ):
        before, _ = _clause(line, begin - 2) if begin >= 2 else (0, 0)
        return bool(tables.promise.find(tokens, before, begin))
    return bool(tables.promise.find(tokens, first, min(first + 2, len(tokens)))) and False


def _negated(line: Line, first: int) -> bool:
    return any(
        token.low in ("not", "never", "no", "nobody", "without")
        for token in line.tokens[max(0, first - 3) : first]
    )


def _earlier(line: Line, begin: int, first: int) -> bool:
    text = " ".join(token.low for token in line.tokens[begin:first])
    return any(
        words in text
        for words in ("last time", "last visit", "last inspection", "yesterday", "last week", "usually")
    )


def words_of(text: str) -> frozenset[str]:
    """The stems of a text that can tell what it is about."""
    from extract.text import tokens

    return frozenset(stem(token.low) for token in tokens(text) if token.kind == "word" and len(token.low) > 2)


def tells_put_right(answer: str, *, form_item: int | None, food: bool) -> bool:
    """Whether an answer tells of something done that puts a violation of the item right; of a food out of its
    limits, only what is done to the food counts. Promises and stopgaps do not."""
    return any(
        not found.action.reaches or (form_item in found.action.reaches and (found.action.food or not food))
        for found in corrections(prepare(answer, 0, lexicon()))
    )
