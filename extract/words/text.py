"""An utterance as tokens that keep their place in the text."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

Span = tuple[int, int]

NOUN = "noun"
"""Class of a word that is in no closed class."""

SENTENCE_MARKS = frozenset(".!?;\n")

_TOKEN = re.compile(
    r"""
    (?P<number>(?<![\w.])-\d+(?:[.,:/]\d+)*|\d+(?:[.,:/]\d+)*|\.\d+|[½¼¾⅓⅔⅛⅜⅝⅞])
    |(?P<half>[AaPp]\.\s?[Mm]\b(?:\.(?!\s+[A-Z]|\s*$))?)
    |(?P<word>[^\W\d_]+(?:['’][^\W\d_]+)*)
    |(?P<bare>['’](?:em|til|cause|s)\b)
    |(?P<mark>[.,;:!?()"\n°%\#/]|-{1,2}|–|—|…|′|″)
    """,
    re.VERBOSE,
)

_CONTRACTED = {
    "dont": 2, "doesnt": 4, "didnt": 3, "isnt": 2, "arent": 3, "wasnt": 3, "werent": 4, "hasnt": 3,
    "havent": 4, "hadnt": 3, "wouldnt": 5, "couldnt": 5, "shouldnt": 6, "wont": 2, "cant": 2, "aint": 2,
    "cannot": 3,
}  # fmt: skip
_NOT_PARTS = {"ca": "can", "wo": "will", "ai": "is"}
_IRREGULAR = {
    "feet": "foot",
    "code": "code",
    "codes": "code",
    "rinsed": "rins",
    "sorry": "sorry",
    "mice": "mouse",
    "shelves": "shelf",
    "knives": "knife",
    "leaves": "leaf",
    "loaves": "loaf",
    "halves": "half",
    "using": "use",
    "used": "use",
    "uses": "use",
    "threw": "throw",
    "thrown": "throw",
    "broke": "break",
    "broken": "break",
    "kept": "keep",
    "stood": "stand",
    "left": "left",
    "flies": "fly",
    "geese": "goose",
    "children": "child",
    "women": "woman",
    "men": "man",
    "people": "person",
    "tore": "torn",
    "gas": "gas",
    "glass": "glass",
    "glasses": "glass",
    "less": "less",
    "always": "always",
    "does": "do",
    "did": "do",
    "done": "do",
    "doing": "do",
    "has": "have",
    "had": "have",
    "having": "have",
    "gone": "go",
    "goes": "go",
    "went": "go",
    "going": "go",
    "ice": "ice",
    "iced": "iced",
    "during": "during",
    "nothing": "nothing",
    "something": "something",
    "anything": "anything",
    "ceiling": "ceiling",
    "morning": "morning",
    "evening": "evening",
    "building": "building",
    "bring": "bring",
    "string": "string",
    "red": "red",
    "bed": "bed",
    "seed": "seed",
    "feed": "feed",
    "need": "need",
    "needs": "need",
    "bleed": "bleed",
    "speed": "speed",
    "raw": "raw",
    "his": "his",
    "this": "this",
    "its": "its",
    "was": "was",
    "gasses": "gas",
    "yes": "yes",
    "us": "us",
    "bus": "bus",
    "plus": "plus",
    "gross": "gross",
    "press": "press",
    "asparagus": "asparagus",
    "hummus": "hummus",
    "couscous": "couscous",
    "molasses": "molasses",
    "tres": "tres",
    "swiss": "swiss",
    "mess": "mess",
    "grass": "grass",
    "moss": "moss",
    "brass": "brass",
    "dress": "dress",
    "business": "business",
    "across": "across",
    "unless": "unless",
    "restless": "restless",
    "stainless": "stainless",
    "express": "express",
    "access": "access",
    "process": "process",
    "compress": "compress",
    "bass": "bass",
    "mass": "mass",
    "pass": "pass",
    "toss": "toss",
    "rinse": "rins",
    "shellfish": "shellfish",
    "fish": "fish",
}


def touch(one: Span, two: Span) -> bool:
    """Whether two stretches have characters in common."""
    return one[0] < two[1] and two[0] < one[1]


def word_set(words: str) -> frozenset[str]:
    """The words of a list written as running text."""
    return frozenset(words.split())


class Token(NamedTuple):
    """A word, number or mark of the text."""

    low: str
    """Lower case; `n't` becomes `not`, a curly apostrophe a straight one."""
    stem: str
    """The word without its ending, for matching vocabulary."""
    start: int
    end: int
    kind: str
    """`word`, `number` or `mark`."""


@lru_cache(maxsize=65536)
def singular(word: str) -> str:
    """The word without a plural ending only: names of things are compared by it, so `topping` is not
    `top`."""
    known = _IRREGULAR.get(word)
    if known is not None:
        return word if word in ("used", "using", "uses") else known
    if len(word) <= 3:
        return word
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("sses", "shes", "ches", "xes", "zes", "toes")):
        return word[:-2]
    if word.endswith("s") and not word.endswith(("ss", "us", "is", "'s")):
        return word[:-1]
    return word


_NEGATIONS = word_set("no not without never nor missing")


def negated(line: Sequence[Token], first: int) -> bool:
    """Whether one of the three words before token `first` denies it."""
    return any(token.low in _NEGATIONS for token in line[max(0, first - 3) : first])


def plain(word: str) -> str:
    """The word itself."""
    return word


@lru_cache(maxsize=65536)
def stem(word: str) -> str:
    """The word without plural and verb endings: `labelled`, `labels` and `label` give the same."""
    known = _IRREGULAR.get(word)
    if known is not None:
        return known
    size = len(word)
    if size <= 3:
        return word
    if (word.endswith("ies") and size > 4) or (word.endswith("ied") and size > 4):
        word = word[:-3] + "y"
    elif word.endswith(("sses", "shes", "ches", "xes", "zes")):
        word = word[:-2]
    elif word.endswith("s") and not word.endswith(("ss", "us", "is", "'s")):
        word = word[:-1]
    if word.endswith("ing") and len(word) >= 6:
        word = _undouble(word[:-3])
    elif word.endswith("ed") and len(word) >= 5 and word[-3] != "e":
        word = _undouble(word[:-2])
    if word.endswith("e") and len(word) > 3:
        word = word[:-1]
    return word


def _undouble(word: str) -> str:
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "sz":
        return word[:-1]
    return word


def tokens(text: str) -> list[Token]:
    """The tokens of `text`, in order; hyphens between letters are dropped, so `walk-in` reads as `walk
    in`."""
    found: list[Token] = []
    add, past = found.append, 0
    for match in _TOKEN.finditer(text):
        start, end = match.span()
        if start < past:
            continue
        kind = match.lastgroup
        piece = match.group()
        if kind == "number":
            add(Token(piece, piece, start, end, "number"))
        elif kind == "word":
            for low, root, length in _words(piece):
                add(Token(low, root, start, start + length, "word"))
                start += length
        elif kind == "half":
            low = f"{piece[0].lower()}m"  # `a.m.`: its points end no sentence
            add(Token(low, low, start, end, "word"))
        elif kind == "bare":
            low = piece.lower().replace("’", "'")
            low = {"'em": "them", "'til": "until", "'cause": "because"}.get(low, low)
            add(Token(low, low, start, end, "word"))
        elif piece == "-":
            before, after = text[start - 1 : start], text[end : end + 1]
            if before.isdigit() and after.isdigit():
                add(Token("-", "-", start, end, "mark"))
            elif before.isspace() and (after.isspace() or not after):
                add(Token(",", ",", start, end, "mark"))
        elif piece in ("–", "—", "--", "…"):
            before, after = text[start - 1 : start], text[end : end + 1]
            low = "-" if before.isdigit() and after.isdigit() else ","
            add(Token(low, low, start, end, "mark"))
        elif piece == "." and text.startswith("...", start):
            past = start + 3
            rest = text[past:].lstrip(" .")[:1]
            low = "." if rest.isupper() or not rest else ","  # `sandwiches... same`
            add(Token(low, low, start, past, "mark"))
        else:
            add(Token(piece, piece, start, end, "mark"))
    return _by_radio(found) if "egative" in text else found


def _by_radio(found: list[Token]) -> list[Token]:
    """`Negative` by itself means no: `129. Negative. 143`, `Towels, negative`, but not `negative 4`."""
    return [
        token._replace(low="no", stem="no")
        if token.low == "negative"
        and (not at or found[at - 1].kind == "mark")
        and (at + 1 == len(found) or found[at + 1].kind == "mark")
        else token
        for at, token in enumerate(found)
    ]


@lru_cache(maxsize=65536)
def _words(piece: str) -> tuple[tuple[str, str, int], ...]:
    """The one or two words of an unbroken piece of text, each with its stem and length: `can't` is two."""
    low = piece.lower().replace("’", "'")
    size = len(piece)
    if "'" not in low:
        cut = _CONTRACTED.get(low)
        return ((low, stem(low), size),) if cut is None else _negated(low[:cut], cut, size)
    if low.endswith("n't"):
        return _negated(low[:-3], size - 3, size)
    at = low.rindex("'")
    first, rest = low[:at], low[at:]
    if rest in ("'s", "'re", "'ll", "'ve", "'d", "'m") and "'" not in first and first:
        return (first, stem(first), at), (rest, rest, size - at)
    return ((low, stem(low), size),)


def _negated(verb: str, cut: int, size: int) -> tuple[tuple[str, str, int], ...]:
    verb = _NOT_PARTS.get(verb, verb)
    return (verb, stem(verb), cut), ("not", "not", size - cut)


def is_plain(word: str) -> bool:
    """Whether `tokens` gives the word as it is, whatever stands around it."""
    return word.isascii() and word.isalpha() and word.islower() and word not in _CONTRACTED


def phrase(text: str, form: Callable[[str], str] = stem) -> tuple[str, ...]:
    """The words of a vocabulary phrase in the given form, as `tokens` would give them."""
    words = text.split()
    if all(map(is_plain, words)):
        return tuple(map(form, words))
    return tuple(form(token.low) if token.kind == "word" else token.low for token in tokens(text))


def words_of(text: str) -> frozenset[str]:
    """The stems of a text that can tell what it is about."""
    return frozenset(stem(token.low) for token in tokens(text) if token.kind == "word" and len(token.low) > 2)
