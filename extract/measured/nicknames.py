"""Names that the people of a kitchen give to a place or machine, as in `the Dungeon, that's the lowboy`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from extract.checks.surroundings import conditions
from extract.words.lexicon import Lexicon, Phrases, Place
from extract.words.text import SENTENCE_MARKS, Token, tokens

_CALLS = frozenset(("call", "calls", "called", "nicknamed", "named"))
_PRONOUNS = frozenset(("it", "that", "this", "him", "her", "them"))
_SAYERS = frozenset(("he", "she", "they", "we", "everybody", "everyone", "folks", "staff", "cooks", "people"))
_SMALL = frozenset(("the", "old", "our", "their", "his", "her"))
_CLOSED = frozenset(
    ("verbs", "links", "auxiliaries", "pronouns", "prepositions", "conjunctions", "determiners", "fillers")
)
_MOST_WORDS = 3
_MAY_NAME = re.compile(r"[\w,;:]\s+[A-Z][a-z]|,\s+(?:that|this|it|which)\b|\b(?:call|nicknamed|named)")
"""Without any of these a text gives no name: capitals inside a sentence, `that's the …`, `they call it …`."""
_MACHINES = ("stationary", "single_tank", "multitank", "chemical_machine")

Stretch = tuple[int, int]
Named = tuple[Place, str]
"""A place with the words that name it."""


def with_nicknames(words: Lexicon, texts: Iterable[str]) -> Lexicon:
    """The vocabulary and the names of places that these texts tell, wherever in them they are told."""
    named: Phrases[Place] = Phrases()
    for text in texts:
        if _MAY_NAME.search(text) is None:
            continue
        for name, place in _told(text, words):
            named.add(name, place)
    return replace(words, nicknames=named) if named else words


def _told(text: str, words: Lexicon) -> Iterator[tuple[str, Place]]:
    line = tokens(text)
    before: Named | None = None
    sentences = list(_cut(line, 0, len(line), SENTENCE_MARKS))
    for n, (first, last) in enumerate(sentences):
        parts = list(_cut(line, first, last, frozenset(",:")))
        here = next((hit for part in parts if (hit := _place(line, part, words)) is not None), None)
        for name in _names(text, line, parts, words, near=here is not None or before is not None):
            yield from _forms(text, line, name, _row(here or before, text, line, parts, name))
        whole = _name(text, line, parts[0], words) if parts and line[first].low == "the" else None
        if whole is not None and not any(_verb(line, part, words) for part in parts):
            after = sentences[n + 1] if n + 1 < len(sentences) else None
            if here or before or (after is not None and _names_something(line, after, words)):
                yield from _forms(text, line, whole, _row(here or before, text, line, parts, whole))
        fragment = not any(_verb(line, part, words) for part in parts)
        before = here if here is not None and fragment else None


def _names(
    text: str, line: list[Token], parts: Sequence[Stretch], words: Lexicon, *, near: bool
) -> Iterator[Stretch]:
    """The names that one sentence gives, where a place is `near` that they can belong to."""
    if not near:
        return
    for n, (first, last) in enumerate(parts):
        calls = next((i for i in range(first, last) if line[i].low in _CALLS), None)
        name = None
        if calls is not None:
            begin = calls + 1
            given = line[calls].low in ("called", "nicknamed", "named")
            if begin < last and line[begin].low in _PRONOUNS:
                begin, given = begin + 1, True
            name = _name(text, line, (begin, last), words) if given else None
            if name is None and (at := _place_end(line, (begin, last), words)) is not None:
                name = _name(text, line, (at, last), words)  # `they call the walk-in Siberia`
            sayer = next((i for i in range(first, calls) if line[i].low in _SAYERS), None)
            if name is None and sayer is not None:
                at_once = sayer > first
                name = _name(text, line, (first, sayer) if at_once else parts[n - 1], words) if (
                    at_once or n
                ) else None  # fmt: skip
        elif n + 1 < len(parts) and _that_is(line, parts[n + 1]):
            name = _name(text, line, (first, last), words) if _place(line, parts[n + 1], words) else None
        elif (n and _ends_in_place(line, parts[n - 1], words)) or (
            n + 1 < len(parts)
            and line[first].low == "the"
            and _place_end(line, parts[n + 1], words) == parts[n + 1][1]
        ):
            name = _name(text, line, (first, last), words)
        if name is not None:
            yield name


def _that_is(line: list[Token], part: Stretch) -> bool:
    lows = [token.low for token in line[part[0] : part[0] + 3]]
    told = lows[:1] in (["that"], ["this"], ["it"], ["which"]) and lows[1:2] in (["'s"], ["is"])
    return told and lows[2:] not in (["on"], ["in"], ["at"], ["from"], ["off"])


def _name(text: str, line: list[Token], part: Stretch, words: Lexicon) -> Stretch | None:
    """The part without its article, when it is a name: capitals where no sentence begins, and not a word for
    a food, place, thing or stage."""
    first, last = part
    while first < last and line[first].low == "the":
        first += 1
    if not 0 < last - first <= _MOST_WORDS or any(token.kind != "word" for token in line[first:last]):
        return None
    if not all(text[token.start].isupper() for token in line[first:last]):
        return None
    if any(words.classes.get(token.low) in _CLOSED and token.low not in _SMALL for token in line[first:last]):
        return None
    for i in range(first, last):
        if (
            words.foods.at(line, i)
            or words.own.at(line, i)
            or words.cues.at(line, i)
            or words.agents.at(line, i)
        ):
            return None
        if words.units_after.at(line, i) or words.roles_before.at(line, i):
            return None
    known = words.places.at(line, first)
    return None if known is not None and known[0] >= last else (first, last)


def _row(place: Named | None, text: str, line: list[Token], parts: Sequence[Stretch], name: Stretch) -> Place:
    """The place that the name stands for: one that is named, or what the rest of the sentence tells."""
    row, plain = place if place is not None else (Place("", air=False), "")
    rest = [part for part in parts if not part[0] <= name[0] < part[1]]
    if not row.stage and rest:
        plain = f"{plain}, {text[line[rest[0][0]].start : line[rest[-1][1] - 1].end]}"
        if any(kind.startswith(_MACHINES) for kind in conditions(None, plain)):
            row = replace(row, stage="machine")
    return replace(row, nickname=plain)


def _forms(text: str, line: list[Token], name: Stretch, row: Place) -> Iterator[tuple[str, Place]]:
    """The name, and the last word of `Old Sparky`, by which it may be called too."""
    first, last = name
    yield text[line[first].start : line[last - 1].end], row
    if last - first > 1 and line[first].low in _SMALL | {"big", "little"}:
        yield line[last - 1].low, row


def _place(line: list[Token], part: Stretch, words: Lexicon) -> Named | None:
    """The place that the part names; of several, the last that food is held in."""
    found = None
    i = part[0]
    while i < part[1]:
        hit = words.places.at(line, i)
        if hit is not None:
            if found is None or hit[1].stage:
                found = hit[1], " ".join(token.low for token in line[part[0] : hit[0]])
            i = hit[0]
        else:
            i += 1
    return found


def _place_end(line: list[Token], part: Stretch, words: Lexicon) -> int | None:
    """Where the last place of the part ends."""
    end, i = None, part[0]
    while i < part[1]:
        hit = words.places.at(line, i)
        i = hit[0] if hit is not None else i + 1
        end = i if hit is not None else end
    return end


def _ends_in_place(line: list[Token], part: Stretch, words: Lexicon) -> bool:
    """`out of the microwave`, `the warmer by the till`: the part closes with a place."""
    end = _place_end(line, part, words)
    return end is not None and (end == part[1] or not _verb(line, (end, part[1]), words))


def _verb(line: list[Token], part: Stretch, words: Lexicon) -> bool:
    return any(
        token.kind == "number" or words.classes.get(token.low) in ("verbs", "links", "auxiliaries")
        for token in line[slice(*part)]
    )


def _names_something(line: list[Token], part: Stretch, words: Lexicon) -> bool:
    """Whether a food or thing is named before any figure."""
    for i in range(*part):
        if line[i].kind == "number":
            return False
        if words.foods.at(line, i) or words.objects.at(line, i):
            return True
    return False


def _cut(line: list[Token], first: int, last: int, marks: frozenset[str]) -> Iterator[Stretch]:
    """The stretches of tokens between the marks."""
    begin = first
    for i in range(first, last + 1):
        if i == last or (line[i].kind == "mark" and line[i].low in marks):
            if i > begin:
                yield begin, i
            begin = i + 1
