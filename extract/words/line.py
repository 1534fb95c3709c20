"""One utterance prepared for reading: tokens, sentences, word classes, noun phrases and what they name."""

from __future__ import annotations

from dataclasses import dataclass, field

from extract.words.headings import headings, noun_here
from extract.words.lexicon import Cue, Lexicon, Object, Place
from extract.words.names import Named, names_in
from extract.words.numerals import PARTS, SMALL, TEENS, TENS
from extract.words.text import NOUN as NOUN
from extract.words.text import SENTENCE_MARKS, Span, Token, tokens, word_set

_ABOUT = word_set("""soup cream leg rack side catch bowl container tub bag pot pan tray batch piece bottle
  case carton box cup jar pitcher bucket quarter pack line roll slice hot loin breast rice best""")
"""Words that keep their `of` phrase: `soup of the day`, `pan of rice`."""

_AND_NAMES = frozenset(
    (
        ("mac", "cheese"),
        ("macaroni", "cheese"),
        ("rice", "beans"),
        ("biscuits", "gravy"),
        ("fish", "chips"),
        ("ham", "cheese"),
        ("half", "half"),
        ("spinach", "artichoke"),
        ("broccoli", "cheese"),
        ("beans", "franks"),
        ("pork", "beans"),
        ("salt", "pepper"),
        ("peanut butter", "jelly"),
        ("liver", "onions"),
        ("corned beef", "cabbage"),
        ("sweet", "sour"),
        ("red beans", "rice"),
        ("beans", "rice"),
        ("meat", "cheese"),
        ("shrimp", "grits"),
        ("chicken", "dumplings"),
        ("chicken", "rice"),
        ("beef", "broccoli"),
        ("sausage", "peppers"),
        ("grab", "go"),
        ("turkey", "cheese"),
        ("egg", "cheese"),
        ("eggs", "cheese"),
        ("beef", "bean"),
        ("meat", "potato"),
    )
)


@dataclass(slots=True)
class Chunk:
    """A noun phrase: tokens `first` to `last`, half-open."""

    first: int
    last: int
    sort: str
    """`place`, `object`, `food`, `instrument`, `position` or `thing` (unknown)."""
    place: Place | None = None
    object: Object | None = None
    determiner: str = ""
    preposition: str = ""
    prepared_at: int = 0
    """Where the phrase begins with its determiner and preposition."""
    known_food: bool = False


@dataclass(slots=True)
class Line:
    """One utterance, ready to be read."""

    index: int
    text: str
    tokens: list[Token]
    classes: list[str]
    sentence: list[int]
    chunks: list[Chunk]
    chunk_at: list[int]
    """Token → its chunk, or -1."""
    cues: list[tuple[int, int, Cue]]
    agents: list[tuple[int, int, tuple[str, bool]]]
    starts: list[int] = field(default_factory=list)
    """First token of each sentence."""

    def words(self, first: int, last: int) -> str:
        """The characters from token `first` up to token `last`, as they stand in the text."""
        return self.text[slice(*self.span(first, last))]

    def span(self, first: int, last: int) -> Span:
        """Where these characters begin and end."""
        return self.tokens[first].start, self.tokens[last - 1].end

    def sentence_span(self, i: int) -> tuple[int, int]:
        """First and end token of the sentence that holds token `i`."""
        number = self.sentence[i]
        first = self.starts[number]
        last = self.starts[number + 1] if number + 1 < len(self.starts) else len(self.tokens)
        return first, last


_POSITIONS = word_set("""middle center centre top bottom edge side front back core inside thickest
  shell skin crust surface
left right half
  one check reading temp temperature time try second third first piece pieces another outside tip end part
  next thick thin deep deepest stab poke jab attempt shot
  spot recheck rest round batch scoop portion barrel serving pile row layer bunch""")


_NOUNS_IN_ING = word_set("""thing morning evening ceiling building opening railing string spring ring king
wing pudding dressing
  stuffing icing frosting filling breading seasoning topping coating casing crossing bed red scrambled shed
  seed feed weed sled
  mashed refried plumbing lighting flooring bedding packing shelving housing sibling landing awning""")


def prepare(text: str, index: int, words: Lexicon) -> Line:
    """The utterance as a Line. Never fails: text without words gives a Line without chunks."""
    line = tokens(text)
    size = len(line)
    class_of = words.classes.get
    classes = [
        ("number" if token.low in _NUMBERS else class_of(token.low, NOUN))
        if token.kind == "word"
        else token.kind
        for token in line
    ]
    for i in range(1, size):
        if line[i].low in _CUTS and line[i - 1].low in _IN_QUARTERS:
            classes[i] = NOUN
    sentence, starts, number = [], [0], 0
    for i, token in enumerate(line):
        sentence.append(number)
        if token.kind == "mark" and token.low in SENTENCE_MARKS and i + 1 < size:
            number += 1
            starts.append(i + 1)
    names = names_in(line, words)
    for start, (end, row) in headings(line, classes, words.heads).items():
        known = next((names[n] for n in range(start, end) if n in names and names[n][0] == end), None)
        if known is not None and known[1] == "food":
            continue
        if known is None or known[1] != "place":
            names[start] = (end, "place", row, None)
        for n in range(start, end):
            classes[n] = NOUN
    if any(hit[2] is not None and hit[2].stage == "handwashing" for hit in names.values()):
        # `hot side` at a hand sink is its water
        for start, named in names.items():
            if named[2] is not None and named[3] is not None:
                names[start] = (named[0], "object", None, named[3])
    i = 0
    covered = [False] * size
    while i < size:
        hit_at = names.get(i)
        if hit_at is None:
            i += 1
            continue
        single = hit_at[0] == i + 1
        own_probe = line[i].low == "probe" and i > 0 and classes[i - 1] == NOUN
        if single and classes[i] not in (NOUN,) and not own_probe and not noun_here(line, classes, i):
            del names[i]
            i += 1
            continue
        for n in range(i, hit_at[0]):
            covered[n] = True
            names.pop(n, None) if n > i else None
        i = hit_at[0]
    for i in range(size):
        if covered[i]:
            classes[i] = NOUN
    for i in range(size):
        if (
            classes[i] == NOUN
            and not covered[i]
            and line[i].low.endswith(("ed", "ing"))
            and line[i].low not in _NOUNS_IN_ING
        ):
            before = classes[i - 1] if i else "mark"
            if i + 1 >= size or classes[i + 1] != NOUN or before in ("pronouns", "auxiliaries"):
                classes[i] = "verbs"
    for i in range(1, size):
        if classes[i] == NOUN and not covered[i] and _acts(line, classes, i):
            classes[i] = "verbs"
    for i in range(size - 1):
        if (
            classes[i] == NOUN
            and not covered[i]
            and line[i + 1].low in ("it", "them")
            and classes[i - 1] not in ("determiners", NOUN, "prepositions")
        ):
            classes[i] = "verbs"  # `had them delime it`
    for i in range(size - 2, -1, -1):
        if (
            classes[i] == "predicates"
            and classes[i + 1] == NOUN
            and (i == 0 or classes[i - 1] not in ("auxiliaries",))
        ):
            classes[i] = NOUN
    chunks, chunk_at = _chunks(line, classes, sentence, names)
    return Line(
        index=index,
        text=text,
        tokens=line,
        classes=classes,
        sentence=sentence,
        chunks=chunks,
        chunk_at=chunk_at,
        cues=words.cues.find(line),
        agents=words.agents.find(line),
        starts=starts,
    )


def _acts(line: list[Token], classes: list[str], i: int) -> bool:
    """The second word of `she adds`, `it skips one`: what somebody does, whatever verb it is."""
    if line[i - 1].low not in ("he", "she", "they", "it", "who") or not line[i].low.isalpha():
        return False
    told = line[i - 1].low != "it" or i < 2 or classes[i - 2] in ("mark", "conjunctions", "fillers")
    return told and (line[i].low.endswith("s") or line[i - 1].low in ("they", "who"))


def keep_clear(line: Line, first: int, last: int) -> None:
    """Takes the tokens of a figure with its unit out of the noun phrases they ran into."""
    for n in range(first, last):
        at = line.chunk_at[n]
        if at < 0:
            continue
        chunk = line.chunks[at]
        if chunk.sort == "place" and chunk.first <= first and last <= chunk.last:
            return
        line.chunk_at[n] = -1
        if chunk.first <= n:
            chunk.first = max(chunk.first, n + 1) if chunk.first >= first else chunk.first
            while (
                chunk.first > n and chunk.first < chunk.last and line.tokens[chunk.first].low in ("of", "the")
            ):
                line.chunk_at[chunk.first] = -1
                chunk.first += 1  # the rice of `half pan of rice 71`
        if chunk.first < first:
            chunk.last = min(chunk.last, first)
        if chunk.first >= chunk.last:
            chunk.sort = "gone"
        elif chunk.preposition and chunk.prepared_at < first:
            chunk.prepared_at, chunk.preposition = chunk.first, ""


_CUTS = ("quarters", "halves")
_IN_QUARTERS = word_set(
    "leg legs hind fore chicken duck turkey bird breast lemon apple orange potato sandwich pork beef"
)
"""`leg quarters`, `chicken halves`: no fraction."""
_NUMBERS = frozenset((*SMALL, *TEENS, *TENS, "hundred", *PARTS)) - {"third", "quarter"}


def _chunks(
    line: list[Token],
    classes: list[str],
    sentence: list[int],
    names: dict[int, Named],
) -> tuple[list[Chunk], list[int]]:
    chunks: list[Chunk] = []
    chunk_at = [-1] * len(line)
    i, size = 0, len(line)
    while i < size:
        if classes[i] != NOUN:
            i += 1
            continue
        first = i
        while i < size and sentence[i] == sentence[first] and _goes_on(line, classes, first, i):
            i += 1
        for start, end in _split(line, first, i, names):
            chunk = _chunk(line, classes, start, end, names)
            if chunk.sort == "place" and start == first and _ranked(line, classes, start):
                start -= 1
                classes[start] = NOUN
                chunk = _chunk(line, classes, start, end, names)
            for n in range(start, end):
                chunk_at[n] = len(chunks)
            chunks.append(chunk)
    return chunks, chunk_at


_RANKS = word_set("first second third fourth fifth long little lowest highest far end left right")


def _ranked(line: list[Token], classes: list[str], start: int) -> bool:
    """The `second` of `second well, gravy 139`, which tells the place from the others of its kind."""
    if not start or line[start - 1].low not in _RANKS:
        return False
    before = classes[start - 2] if start > 1 else "mark"
    return before in ("mark", "determiners", "prepositions", "fillers", "conjunctions")


def _goes_on(line: list[Token], classes: list[str], first: int, i: int) -> bool:
    if classes[i] == NOUN:
        return True
    if i == first or i + 1 >= len(line):
        return False
    low = line[i].low
    if low == "of" and line[i - 1].low in _ABOUT:
        after = i + 2 if line[i + 1].low in ("the", "our") else i + 1
        return after < len(line) and classes[after] == NOUN
    if low == "a" and line[i + 1].low == "la":
        return True  # `chicken a la king`
    if low in ("the", "our") and line[i - 1].low == "of":
        return True
    if low == "and" and classes[i + 1] == NOUN:
        return (line[i - 1].low, line[i + 1].low) in _AND_NAMES
    if low == "'s" and classes[i + 1] == NOUN and classes[i - 1] == NOUN:
        # a possessive inside a name (men's room), not the verb (the tuna's at 47)
        return line[i - 1].low in (
            "men",
            "women",
            "ladies",
            "shepherd",
            "children",
            "confectioner",
            "janitor",
            "chef",
        )
    return False


_TRAILING = word_set("""side area section max maximum temp temps temperature level levels reading end unit
one two now surface
  only internal""")
"""Words that may follow a name without changing what it names: `mop sink side`, `plate puck max`."""

_PARTS_OF_A_PLACE = word_set("bottom top lower upper middle left right first second third front back")
"""Words between a place and a part of it: `saute cooler bottom drawers`."""

_LEVELS = frozenset(("bottom", "top", "lower", "upper", "middle"))

_LOOSE_PLACES = word_set("""deli pit grill oven smoker range line bar bakery case rack stand counter block
station hood
  hall shelf grilled kettle buffet table rotisserie skillet griddle window kitchen pass wok tandoor floor""")


_ESTABLISHMENTS = word_set("""place shop joint house parlor market store restaurant cafe diner bar truck
  stand factory plant""")
"""What follows a food in the name of a business: `pizza place`, `noodle shop`."""


def _split(line: list[Token], first: int, last: int, names: dict[int, Named]) -> list[tuple[int, int]]:
    """A run of nouns cut where a place is followed by something else: `walk-in cooler | diced tomatoes`."""
    for start in range(first, last):
        hit = names.get(start)
        if hit is None or hit[1] != "place" or hit[2] is None:
            continue
        if start > first and line[start].low in _LEVELS and not hit[2].stage:
            fed = any(n in names and names[n][1] == "food" for n in range(first, start))
            if fed:  # `raw chicken bottom shelf`
                return [(first, start), *_split(line, start, last, names)]
        if hit[0] >= last:
            continue
        follows = names.get(hit[0])
        what = (
            follows[3].what if follows is not None and follows[0] >= last and follows[3] is not None else ""
        )
        if what in ("gauge", "air", "light", "distance") or (what == "thermometer" and hit[2].air):
            return [(first, hit[0]), (hit[0], last)]
        if what == "water" and hit[2].stage == "handwashing":
            return [(first, hit[0]), (hit[0], last)]
        if what in ("vessel", "water", "bucket", "thermometer") or (
            follows is not None and follows[1] == "place"
        ):
            continue
        if hit[0] == start + 1 and line[start].low in _LOOSE_PLACES:
            continue
        if line[hit[0]].low in _PARTS_OF_A_PLACE and any(
            n in names and names[n][1] == "place" and names[n][0] == last for n in range(hit[0] + 1, last)
        ):
            continue
        behind = (names[n] for n in range(hit[0], last) if n in names)
        named_food = any(name[1] == "food" and name[0] == last for name in behind)
        if not hit[2].stage and not (named_food and hit[0] - start > 1):
            continue
        return [(first, hit[0]), *_split(line, hit[0], last, names)]
    return [(first, last)]


def _chunk(
    line: list[Token],
    classes: list[str],
    first: int,
    last: int,
    names: dict[int, Named],
) -> Chunk:
    chunk = Chunk(first, last, "thing", prepared_at=first)
    i = first - 1
    j = i
    while j >= 0 and classes[j] in ("adverbs", "predicates"):
        j -= 1
    if j < i and j >= 0 and classes[j] == "determiners":
        i = j
    if i >= 0 and classes[i] == "determiners":
        chunk.determiner = line[i].low
        chunk.prepared_at = i
        i -= 1
    if i >= 0 and line[i].low == "same":
        chunk.prepared_at = i
        chunk.determiner = "same"
        i -= 1
        if i >= 0 and classes[i] == "determiners":
            i -= 1
    if i >= 0 and classes[i] == "prepositions":
        chunk.preposition = line[i].low
        chunk.prepared_at = i
    tail = None
    whole = last
    while (
        whole - first > 1
        and line[whole - 1].low in _TRAILING
        and not any(names[n][0] == whole for n in range(first, whole) if n in names)
    ):
        whole -= 1
    for start in range(first, whole):
        hit = names.get(start)
        if hit is None:
            continue
        if hit[1] == "food":
            chunk.known_food = True
        if hit[0] == whole and (tail is None or hit[0] - start > 0):
            tail = tail or hit
    if tail is None and all(
        token.low in ("new", "old", "full", "whole", "own") for token in line[first:last]
    ):
        chunk.sort = "position"
    if tail is not None:
        if tail[1] == "place" and chunk.known_food and line[whole - 1].low in ("block", "blocks", "slab"):
            tail = (whole, "food", None, None)  # `tuna block`
        chunk.sort = tail[1]
        chunk.place, chunk.object = tail[2], tail[3]
        if chunk.object is not None and chunk.object.what == "thermometer":
            chunk.sort = "instrument"
    elif all(token.low in _POSITIONS for token in line[first:last]):
        chunk.sort = "position"
    elif line[last - 1].low in _ESTABLISHMENTS:
        chunk.sort, chunk.known_food = "position", False
    return chunk


def chars(line: Line, first: int, end: int) -> tuple[int, int]:
    """The characters of tokens `first` to `end`."""
    return (line.tokens[first].start, line.tokens[end - 1].end) if end > first else (0, 0)
