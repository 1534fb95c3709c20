"""Figures that are only mentioned: somebody's age, a rule by its number, what is enough or asked for."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.lexicon import read
from extract.words.line import Line
from extract.words.text import word_set

_ROWS = read("roles.toml")["mention"]
_RULES = word_set(" ".join(_ROWS["rules"]))
_HOLDS = word_set(" ".join(_ROWS["holds"]))
_ENOUGH = word_set(" ".join(_ROWS["enough"]))
_AT_MOST = frozenset(tuple(text.split()) for text in _ROWS["at_most"])
_PERSONS = word_set("he she who")
_BEING = word_set("is was 's turned turns be being are were 're 'm")
_VERBS = word_set("is 's will 'll would does ought should")
_OLDEST = 110.0
"""Years: common practice, no source."""


_STRUCK_OFF = 86
"""`the chef 86'd it`: a cook's word for thrown out or taken off the menu; common practice, no source."""


def mentioned(line: Line, found: list[Figure], at: int, first: int) -> tuple[str, str] | None:
    """The role and the words of a bare figure that was not read but only spoken of."""
    figure = found[at]
    if figure.unit is not None or figure.range_with is not None:
        return None
    begin = figure.first
    if figure.value == _STRUCK_OFF and line.tokens[figure.last : figure.last + 1] and (
        line.tokens[figure.last].low in ("d", "'d", "ed")
    ):  # fmt: skip
        return "id", line.words(begin, figure.last + 1)
    if _pointed_at(line, figure, first):
        return "restated", line.words(begin - 1, figure.last)
    if _today(line, figure, first):
        return "date", line.words(begin - 2, figure.last)
    if _kind_of_thing(line, figure, first):
        return "id", line.words(begin - 1, begin)
    if _age(line, figure, first):
        return "count", line.words(begin - 1, begin + 1)
    if _rule(line, figure, first) or _enough(line, figure, first) or _at_most(line, figure):
        return "limit", line.words(begin, figure.last)
    if _before_it_goes(line, figure):
        return "limit", line.words(begin, figure.last + 2)
    if [token.low for token in line.tokens[figure.last : figure.last + 2]] == ["at", "that"]:
        return "limit", line.words(begin, figure.last + 2)  # `4 days, it's 7 at that temperature`
    if _for_such(line, found, at, first):
        return "limit", line.words(begin, figure.last + 1)
    if _far_from(line, figure, first) or (at and _asked_for(line, found[at - 1], figure)):
        return "limit", line.words(begin - 1, begin)
    return None


def _pointed_at(line: Line, figure: Figure, first: int) -> bool:
    """`the 43 I leave`: a reading that was told before."""
    after = line.tokens[figure.last].low if figure.last < len(line.tokens) else ""
    return figure.first > first and line.tokens[figure.first - 1].low == "the" and after in ("i", "we")


_LAST_DAY = 31


def _today(line: Line, figure: Figure, first: int) -> bool:
    """`today is 11, so nine days already`: the day of the month."""
    told = [token.low for token in line.tokens[max(first, figure.first - 2) : figure.first]]
    whole = figure.value == int(figure.value) and 1 <= figure.value <= _LAST_DAY
    return whole and told[:1] == ["today"] and told[1:] in (["is"], ["'s"])


_IS = word_set("is isn't 's ain't n't not was")
_LEAST_DEGREES = 130.0
"""Degrees Fahrenheit from which food may be told by what it must reach: common practice, no source."""


def _kind_of_thing(line: Line, figure: Figure, first: int) -> bool:
    """`it's a 150 machine`, `a 155 egg`: what kind of thing it is."""
    i, end = figure.first - 1, figure.last
    if i < first or line.tokens[i].low != "a" or end >= len(line.tokens) or line.chunk_at[end] < 0:
        return False
    chunk = line.chunks[line.chunk_at[end]]
    said_to_be = figure.value >= _LEAST_DEGREES and i > first and line.tokens[i - 1].low in _IS
    return (not chunk.known_food or said_to_be) and chunk.sort != "position" and chunk.first == end


def _age(line: Line, figure: Figure, first: int) -> bool:
    """`she's 62`, `a volunteer who's 91`: food is no he or she."""
    i, value = figure.first - 1, figure.value
    if value != int(value) or not 1 < value <= _OLDEST or i <= first or line.tokens[i].low not in _BEING:
        return False
    return line.tokens[i - 1].low in _PERSONS


def _rule(line: Line, figure: Figure, first: int) -> bool:
    """`the 135 thing`, `no paper, so the 41 stands`."""
    tokens, end = line.tokens, figure.last
    if figure.first <= first or tokens[figure.first - 1].low not in ("the", "that", "this", "our", "your"):
        return False
    follows = [token.low for token in tokens[end : end + 3]]
    if follows[:1] and follows[0] in ("degree", "degrees"):
        follows = follows[1:]
    if follows[:1] and follows[0] in ("still", "always", "just", "only", "then"):
        follows = follows[1:]
    return bool(follows[:1]) and (follows[0] in _RULES or follows[0] in _HOLDS)


_GOES = word_set("goes leaves gets moves is 's comes can touches hits")


def _before_it_goes(line: Line, figure: Figure) -> bool:
    """`one sixty five before it goes anywhere`: what it must reach first."""
    after = [token.low for token in line.tokens[figure.last : figure.last + 3]]
    return len(after) == 3 and after[0] == "before" and after[1] in _IT and after[2] in _GOES


_IT = word_set("it they that any anything you we those these")


def _enough(line: Line, figure: Figure, first: int) -> bool:
    """`so 50 is enough`, `135 will do`: opens its clause, so that nothing is named that has it; or `the 50 is
    enough`."""
    tokens, i = line.tokens, figure.first - 1
    if i > first and tokens[i].low == "the":
        i = first - 1
    while i >= first and line.classes[i] in ("adverbs", "fillers", "conjunctions"):
        i -= 1
    if i >= first and tokens[i].low not in (",", ":", "so", "and", "but", "then"):
        return False
    follows = [token.low for token in tokens[figure.last : figure.last + 4]]
    verb = bool(follows[:1]) and follows[0] in _VERBS
    return verb and bool(_ENOUGH & set(follows[1:3]))


def _at_most(line: Line, figure: Figure) -> bool:
    """`45, tops`, `41 around them, no more`: the highest there may be, said last."""
    tokens, i = line.tokens, figure.last
    while i < len(tokens) and i - figure.last <= 4 and tokens[i].kind == "word":
        i += 1
    if i >= len(tokens) or tokens[i].low != ",":
        return False
    end = i + 1
    while end < len(tokens) and tokens[end].kind == "word" and end - i <= 6:
        end += 1
    return tuple(token.low for token in tokens[i + 1 : end]) in _AT_MOST


_NEVER = word_set("nowhere not hardly never barely isn't ain't n't neither nothing")


def _far_from(line: Line, figure: Figure, first: int) -> bool:
    """`nowhere close to 70`, `isn't anywhere near 165`."""
    i = figure.first - 1
    before = [token.low for token in line.tokens[max(first, i - 5) : figure.first]]
    near = before[-1:] == ["near"] or before[-2:] in (["close", "to"], ["near", "to"], ["nearly", "at"])
    return near and bool(_NEVER & set(before))


def _for_such(line: Line, found: list[Figure], at: int, first: int) -> bool:
    """`Chicken off the spit 158. 165 for chicken.`: what such food must reach, said in short after the figure
    that was read of it. `171 for the chicken` is another reading."""
    figure, tokens, end = found[at], line.tokens, line.sentence_span(found[at].first)[1]
    if figure.first != first or not at or figure.value % 5 or figure.last + 1 >= len(tokens):
        return False
    if tokens[figure.last].low != "for" or line.chunk_at[figure.last + 1] < 0:
        return False
    kind = line.chunks[line.chunk_at[figure.last + 1]]
    closed = kind.last >= end or (kind.last == end - 1 and tokens[kind.last].kind == "mark")
    if not kind.known_food or kind.determiner or kind.first != figure.last + 1 or not closed:
        return False
    name = {token.stem for token in tokens[kind.first : kind.last]}
    read_of = found[at - 1].role == "figure" and found[at - 1].kind in (None, "temperature")
    return read_of and any(
        chunk.known_food and name <= {token.stem for token in tokens[chunk.first : chunk.last]}
        for chunk in line.chunks
        if chunk.last <= found[at - 1].first
    )


def _asked_for(line: Line, one: Figure, two: Figure) -> bool:
    """`44 foot candles, it's knives so it's 50`: what the thing asks for, told by its reason."""
    if one.role != "figure" or one.kind in (None, "temperature", "duration"):
        return False
    between = [token.low for token in line.tokens[one.last : two.first]]
    return between[-3:] in (["so", "it", "'s"], ["so", "that", "'s"]) and len(between) > 4
