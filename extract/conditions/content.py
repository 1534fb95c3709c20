"""An utterance as the words that carry meaning, with the distance between them.

Articles, pronouns, fillers and forms of "to be" are left out, so that a pattern needs none of them: "there
isn't any soap" and "no soap to be seen" read as `not soap` and `no soap to`. Sentence ends and commas stay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import accumulate

from extract.words.text import Token, is_plain, tokens
from extract.words.text import stem as stem_of

STOP, COMMA = ".", ","
"""How a sentence end and a comma appear among the stems."""

_FAR = 1000.0
_FRAGMENT = 9
_FRAGMENT_COST = 0.5
_HEADING = 6
_HEADING_COST = 1.5
_SAYS = frozenset(
    {
        "is", "are", "was", "were", "'s", "'re", "'ve", "'d", "isn't", "has", "have", "had", "having", "got",
        "gets", "good", "fine", "clean", "great", "okay", "ok", "perfect", "no", "not", "n't", "nothing",
        "none",
        "never", "done", "all", "yes", "yeah", "right", "sure", "thanks", "thank", "you", "i", "we", "they",
        "he", "she", "it", "please", "let", "me", "need", "needs", "looks", "look", "see", "saw", "found",
        "there", "go",
    }
)  # fmt: skip
"""Words of a sentence that says something by itself, so that it is no mere heading."""
_GOES_ON = frozenset({"no", "not", "nothing", "none", "never", "without"})
_BACK = frozenset({"it", "them"})
_COSTS = {
    STOP: _FAR, COMMA: 1.5, "but": 4.0, "becaus": 3.0, "so": 3.0, "whil": 3.0, "and": 0.7, "or": 0.5,
    "still": 0.0, "again": 0.0, "now": 0.0, "today": 0.3, "currently": 0.0, "here": 0.2, "all": 0.2,
    "just": 0.2, "right": 0.3, "straight": 0.3, "directly": 0.3, "too": 0.3, "there": 0.3,
}  # fmt: skip

_LEFT_OUT = """
    a an the is are was were be been being am 's 're 've 'll 'm 'd uh um er erm ah oh hm hmm okay ok
    alright like really very pretty quite also even already yet either some any both each every such his
    her their my your our its this that these those it they them he she we i you him us me do ain
    actually basically literally completely totally whole entire let let's see look got get gets getting
    gonna please maybe probably apparently obviously looks looking seems appears
"""
_GLUE = frozenset(_LEFT_OUT.split())
_STAND_ALONE = """
    droppings coating breading opened cooked watched can watching filled filing file files filed
    frost frosted stuff stuffed here trip trips chilling chilled white whites caked jammed popped
    wins tipped stocked stocking chipped chipping dipped dipping crumbling dressed topped top tops
    gone wrapped winning cracking tube
"""
_OWN_STEMS = {word: word for word in _STAND_ALONE.split()} | {
    "coatings": "coating", "toppings": "topping", "topping": "topping", "fillings": "filling",
    "filling": "filling", "herrings": "herring", "herring": "herring", "whiting": "whiting",
    "stuffing": "stuffing", "frosting": "frosting", "dressings": "dressing", "dressing": "dressing",
    "files": "file", "tops": "top", "whites": "white", "trips": "trip",
    "tubes": "tube",
}  # fmt: skip
"""Words that must not share a stem with another: mouse droppings are not dropped, "here" is no herring."""
_SUBJECTS = frozenset(
    {"i", "you", "we", "they", "he", "she", "it", "nobody", "that", "who", "which", "everyone"}
)
_POINTERS = frozenset({"it", "them"})
_POINTED = frozenset({"on", "in", "to"})
"""After these a pronoun is kept, so that "nothing on it" is not the beginning of "nothing on the floor"."""
_STOPS = frozenset(".!?;\n")
_COMMAS = frozenset(',:()"')
_BE = frozenset(
    {"is", "are", "was", "were", "'s", "'re", "be", "been", "all", "both", "right", "still", "always"}
)
_AFTER_THERE = frozenset({"and", "but", "so", "too", "now", "today", "either"})


@dataclass(slots=True)
class Content:
    """The words of one utterance; position k of every list is the same word."""

    stems: list[str]
    starts: list[int]
    ends: list[int]
    with_subject: frozenset[int]
    """Positions right after a pronoun that was left out, so that "they don't use gloves" is no order."""
    distance: list[float]
    """Running sum: what lies between positions i and j costs `distance[j] - distance[i]`."""

    def between(self, i: int, j: int) -> float:
        """How far position j is from the end i of what comes before it; marks count more."""
        return self.distance[j] - self.distance[i]


def content(line: Sequence[Token]) -> Content:
    """The words of `line` that carry meaning."""
    stems: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    with_subject: set[int] = set()
    size = len(line)
    for at, token in enumerate(line):
        low = token.low
        if token.kind == "mark":
            if low in _STOPS:
                stem = STOP
            elif low in _COMMAS:
                stem = COMMA
            else:
                continue
        elif low in _GLUE:
            if low not in _POINTERS or not stems or stems[-1] not in _POINTED:
                if low in _SUBJECTS:
                    with_subject.add(len(stems))
                continue
            stem = "it"
        elif low == "there":
            if not _stands_alone(line, at, size):
                continue
            stem = low
        elif low == "one" and stems and stems[-1] == "no":
            stems[-1] = "nobody"
            ends[-1] = token.end
            continue
        elif low == "to" and _in_use(line, at):
            stem = "for"
        elif low in _OWN_STEMS:
            stem = _can(line, at, size) if low == "can" else _OWN_STEMS[low]
        else:
            stem = token.stem
        stems.append(stem)
        starts.append(token.start)
        ends.append(token.end)
    costs = _COSTS
    distance = list(accumulate([costs.get(stem, 1.0) for stem in stems], initial=0.0))
    if STOP in stems[:-1]:
        distance = _over_fragments(line, stems, ends, distance)
    return Content(stems, starts, ends, frozenset(with_subject), distance)


_BEING = frozenset(("is", "'s", "are", "'re", "being", "gets", "getting", "be", "was", "were", "s"))


def _in_use(line: Sequence[Token], at: int) -> bool:
    """The `to` of `the sink is being used to dump coffee`: what it is used for, and no habit of old."""
    return at > 1 and line[at - 1].low == "used" and line[at - 2].low in _BEING


def _over_fragments(
    line: Sequence[Token], stems: list[str], ends: list[int], distance: list[float]
) -> list[float]:
    """The distances, with a sentence end made passable where the next sentence goes on with the one before.

    "Spray bottle under the sink. No label on it." is one remark in two sentences.
    """
    near = [distance[at + 1] - distance[at] for at in range(len(stems))]
    stops = [at for at, stem in enumerate(stems) if stem == STOP]
    for at, following in zip(stops, [*stops[1:], len(stems)], strict=True):
        until = ends[following] if following < len(ends) else line[-1].end
        words = [token.low for token in line if ends[at] <= token.start and token.end < until]
        if words and len(words) <= _FRAGMENT and (words[0] in _GOES_ON or _BACK.intersection(words)):
            near[at] = _FRAGMENT_COST
    return list(accumulate(near, initial=0.0))


LONGEST_HEADING = 60
"""Characters of an utterance that may be a heading for the next one: common practice, no source."""


def is_heading(words: Sequence[str]) -> bool:
    """Whether the words of a sentence only name what the next one is about: "Hand sink in the bakery."."""
    named = [word for word in words if word not in _STOPS]
    if not 0 < len(named) <= _HEADING or _SAYS.intersection(named):
        return False
    return not any(
        word.endswith("ing") and word not in ("ceiling", "building", "handwashing") for word in named
    )


def headings(line: Sequence[Token], read: Content) -> list[int]:
    """The positions of the sentence ends after headings that another sentence follows."""
    ended: list[int] = []
    began = 0
    for at, stem in enumerate(read.stems[:-1]):
        if stem == STOP:
            if is_heading([token.low for token in line if began <= token.start < read.ends[at]]):
                ended.append(at)
            began = read.ends[at]
    return ended


def under_headings(read: Content, ended: Sequence[int]) -> Content:
    """The same words, with what is said under a heading no further from it than after a comma."""
    near = [read.distance[at + 1] - read.distance[at] for at in range(len(read.stems))]
    for at in ended:
        near[at] = min(near[at], _HEADING_COST)
    return replace(read, distance=list(accumulate(near, initial=0.0)))


def _can(line: Sequence[Token], at: int, size: int) -> str:
    """Whether "can" is a tin or the verb."""
    after = line[at + 1].low if at + 1 < size else ""
    before = line[at - 1].low if at else ""
    return "can_verb" if after == "not" or after in _SUBJECTS or before in _SUBJECTS else "can"


def _stands_alone(line: Sequence[Token], at: int, size: int) -> bool:
    """Whether "there" says that something is present ("soap's there") rather than opening "there is"."""
    before = line[at - 1].low if at else ""
    if before not in _BE and before != "not" and before not in ("in", "over", "up"):
        return False
    after = line[at + 1] if at + 1 < size else None
    return after is None or after.kind == "mark" or after.low in _AFTER_THERE


def meaning(words: Sequence[Token]) -> tuple[str, ...]:
    """The stems of a vocabulary phrase as `content` would give them, without marks."""
    if len(words) == 1 and words[0].low == "there":
        return ("there",)
    read = content(words)
    return tuple(stem for stem in read.stems if stem not in (STOP, COMMA))


def phrase_meaning(text: str) -> tuple[str, ...]:
    """`meaning` of a phrase as written; quick where all its words are plain."""
    stems: list[str] = []
    for word in text.split():
        plain = _plain(word)
        if plain is None:
            return meaning(tokens(text))
        if plain:
            stems.append(plain)
    return tuple(stems)


@lru_cache(maxsize=16384)
def _plain(word: str) -> str | None:
    """The stem of a lower-case word, empty if it is left out; None: its neighbours must be seen to tell."""
    if not is_plain(word) or word in _POINTERS or word in ("there", "one", "can"):
        return None
    if word in _OWN_STEMS:
        return _OWN_STEMS[word]
    return "" if word in _GLUE else stem_of(word)
