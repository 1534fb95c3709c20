"""Figures that measure nothing: dates, section numbers, which of several places, and counts of things."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from extract.figures.figure import Figure
from extract.words.lexicon import read
from extract.words.line import NOUN, Line
from extract.words.numerals import MONTHS
from extract.words.text import Token, word_set

_MONTHS = frozenset(MONTHS) - {"may"}


def is_date(line: Line, figure: Figure, after: str) -> bool:
    """Whether a figure is of a day. `after`: the word behind it."""
    if _other_day(line, figure):
        return True
    i = figure.first - 1
    low = line.tokens[i].low if i >= 0 else ""
    if low in ("'s", "is") and i and line.tokens[i - 1].low == "today" and _of_dates(line):
        return True  # `bags got julian dates, 325 and 330. Today's 332.`
    if (
        low in _MONTHS
        or after in _MONTHS
        or (low == "may" and figure.value <= 31 and i > 0 and line.tokens[i - 1].low in ("on", "of", "dated"))
    ):
        return True
    return (
        low == "the"
        and figure.number.words is False
        and figure.value <= 31
        and after in ("st", "nd", "rd", "th")
    )


def _of_dates(line: Line) -> bool:
    return any(token.low in ("julian", "date", "dates", "dated") for token in line.tokens)


_SLIPS = word_set("no wait hang hold sorry oops actually make correction")
_BETWEEN = _SLIPS | word_set("on that it it's 's is the uh um er , . a i mean says")


_ORDINAL = word_set("th st nd rd")


def _other_day(line: Line, figure: Figure) -> bool:
    """`Broth says the 20th. no, hang on, 26`: the day of the month said again."""
    n, slip = figure.first - 1, False
    while n >= 0 and line.tokens[n].low in _BETWEEN:
        slip = slip or line.tokens[n].low in _SLIPS
        n -= 1
    day = n >= 0 and (line.tokens[n].low in _ORDINAL or line.tokens[n].low.endswith(tuple(_ORDINAL)))
    near = "".join(token.low for token in line.tokens[max(0, n - 1) : n + 1])
    numbered = day and any(character.isdigit() for character in near)
    return slip and numbered and figure.unit is None and figure.value in range(1, 32)


def _is_digit_told(line: Line, figure: Figure) -> bool:
    """The 7 and the 0 of `No, that's a 7 with a 0, 70`: digits, and no figures."""
    tokens = line.tokens
    after = [token.low for token in tokens[figure.last : figure.last + 2]]
    before = [token.low for token in tokens[max(0, figure.first - 2) : figure.first]]
    single = figure.unit is None and figure.value in range(10)
    return single and (after == ["with", "a"] or before == ["with", "a"])


_ITEMS = 60
"""Items that the form of an inspection has at most: common practice, no source."""


def _marked_on_the_form(line: Line, figure: Figure) -> bool:
    """The 22 of `milk's 38 though, so 22 is still in`: an item of the form, marked in or out."""
    tokens = line.tokens
    before = tokens[figure.first - 1].low if figure.first else ""
    after = [token.low for token in tokens[figure.last : figure.last + 4] if token.low != "still"]
    marked = after[:1] in (["is"], ["'s"], ["stays"]) and after[1:2] in (["in"], ["out"])
    ends = len(after) < 3 or after[2] in (".", ",", ";", "and")
    numbered = figure.unit is None and not figure.number.decimals and figure.value in range(1, _ITEMS + 1)
    return numbered and marked and ends and before in ("so", "item", "number", "and")


def is_code(line: Line, figure: Figure) -> bool:
    """Part of a section number such as 3-501.16, or of a telephone number such as 555 0117, or a digit."""
    tokens, i = line.tokens, figure.first
    if _is_digit_told(line, figure) or _marked_on_the_form(line, figure):
        return True
    if any(_digits(tokens[n : n + 2]) == [3, 4] for n in (max(0, i - 1), i)):
        return True
    if i >= 2 and tokens[i - 1].low == "-" and tokens[i - 2].kind == "number":
        return (
            len(tokens[i].low.partition(".")[0]) == 3 and "." in tokens[i].low and len(tokens[i - 2].low) == 1
        )
    if i + 2 < len(tokens) and tokens[i + 1].low == "-" and tokens[i + 2].kind == "number":
        return (
            len(tokens[i].low) == 1
            and len(tokens[i + 2].low.partition(".")[0]) == 3
            and "." in tokens[i + 2].low
        )
    return False


PRODUCT = "the name of a product"
"""Why a figure is none that was measured."""


def is_product(line: Line, figure: Figure) -> bool:
    """`Quat 256 in a spray bottle`, `WD-40`: the number is part of a name."""
    if figure.unit is not None or figure.last - figure.first != 1 or not figure.first:
        return False
    n = figure.first - 1
    hyphen = line.tokens[n].low == "-" and n > 0 and line.tokens[n].start == line.tokens[n - 1].end
    word, number = line.tokens[n - 1 if hyphen else n], line.tokens[figure.first]
    letters = hyphen and len(word.low) <= 2 and line.text[word.start : word.end].isupper()
    return letters or f"{word.low} {number.low}" in _products()


@cache
def _products() -> frozenset[str]:
    return frozenset(read("roles.toml")["products"]["names"])


def _digits(tokens: Sequence[Token]) -> list[int]:
    """How many digits each token is printed with; 0: it is no whole number."""
    return [len(token.low) if token.low.isdigit() else 0 for token in tokens]


def is_number_of_place(line: Line, figure: Figure) -> bool:
    """`walk-in two`, `reach-in 3`: which of several, not what it reads."""
    i = figure.first - 1
    if i < 0 or figure.unit is not None or figure.value > 12 or figure.value < 1 or figure.number.decimals:
        return False
    at = line.chunk_at[i]
    if at < 0 or line.chunks[at].place is None or line.chunks[at].last != figure.first:
        return False
    chunk = line.chunks[at]
    if chunk.determiner in ("same", "that", "this") or line.tokens[chunk.first - 1].low == "same":
        return False
    place = line.chunks[at].place
    if figure.number.words:
        return True
    follows = line.tokens[figure.last] if figure.last < len(line.tokens) else None
    if follows is not None and line.classes[figure.last] == "auxiliaries" and figure.value <= _FEW_UNITS:
        return True  # `Freezer 2 isn't holding`
    if chunk.preposition in ("on", "of", "to", "for") and figure.value <= _FEW_UNITS:
        return True  # `gasket torn on the reach-in 2`
    ends = follows is None or (follows.kind == "mark" and follows.low not in (",", ":"))
    return not (ends or (place is not None and place.stage == "freezing"))


_FEW_UNITS = 6
"""Units of one kind that a kitchen tells by number: common practice, no source."""
_AFTER_READING = word_set("internal inside even flat exactly plus")


_LOGGED = word_set("log logged sheet chart cooling cooled")
"""Where these are spoken of, `37 by 8` is no size but what was read by eight o'clock."""


def _dimension(line: Line, figure: Figure) -> bool:
    """`8 by 10`: the size of a room or a pan."""
    tokens = line.tokens
    after = tokens[figure.last : figure.last + 2]
    before = tokens[max(0, figure.first - 2) : figure.first]
    timed = any(token.low in _LOGGED for token in tokens)
    size = after[:1] and (after[0].low == "x" or (after[0].low == "by" and not timed))
    ahead = len(after) == 2 and bool(size) and after[1].low.isdigit() and figure.value < 60
    return ahead or (len(before) == 2 and before[1].low in ("by", "x") and before[0].kind == "number")


def _priced(line: Line, figure: Figure) -> bool:
    """`6 for 10 dollars`: so many for a price."""
    after = [token.low for token in line.tokens[figure.last : figure.last + 4]]
    return after[:1] == ["for"] and bool({"dollars", "bucks", "$", "cents"} & set(after))


_SOLD = word_set("""sign menu price prices priced costs cost charge charges charged sells sold sell pays paid
chalkboard blackboard""")


def _price(line: Line, figure: Figure) -> bool:
    """`the menu says wild salmon, 29.90`: two decimals that no thermometer shows and no clock has."""
    first, _ = line.sentence_span(figure.first)
    return (
        figure.number.decimals == 2
        and figure.unit is None
        and figure.number.clock is None
        and any(token.low in _SOLD for token in line.tokens[first : figure.first])
    )


def _many(line: Line, figure: Figure) -> bool:
    """`about 150 meals a day`: many of something that is neither food nor place, not measured."""
    i = figure.last
    at = line.chunk_at[i] if i < len(line.tokens) else -1
    if at < 0 or line.chunks[at].sort != "thing" or line.chunks[at].known_food:
        return False
    before = line.classes[figure.first - 1] if figure.first else "mark"
    low = line.tokens[figure.first - 1].low if figure.first else ""
    plural = line.tokens[line.chunks[at].last - 1].low.endswith("s")
    if low in ("has", "have", "had", "'ve", "got"):
        return plural
    if low == ",":
        end = line.chunks[at].last
        return plural and (end >= len(line.tokens) or line.tokens[end].kind == "mark")
    return plural and before not in ("links", "auxiliaries", "noun") and low != "at"


_SIZES = word_set("deep wide long tall strong thick")
_OWNERS = word_set("they he she we")


def _had_somewhere(line: Line, figure: Figure) -> bool:
    """`they've got 8 on the grill`, `a line 30 deep`: so many things or people."""
    if figure.unit is not None or figure.value != int(figure.value):
        return False
    i, after = figure.first - 1, [token.low for token in line.tokens[figure.last : figure.last + 2]]
    if after[:1] and after[0] in _SIZES:
        return True
    if figure.value > 24 or i < 0 or line.tokens[i].low not in ("got", "has", "have", "had"):
        return False
    owned = any(token.low in _OWNERS for token in line.tokens[max(0, i - 2) : i])
    return owned and after[:1] in (["on"], ["in"], ["at"], ["of"], ["more"])


def _few(line: Line, figure: Figure) -> bool:
    """`all 4`, `got 4 entries`: so many of them."""
    i = figure.first - 1
    low = line.tokens[i].low if i >= 0 else ""
    if low == "all" and figure.unit is None:
        return True
    at = line.chunk_at[figure.last] if figure.last < len(line.tokens) else -1
    if low not in ("got", "has", "have", "had") or at < 0:
        return False
    chunk = line.chunks[at]
    return not chunk.known_food and chunk.sort == "thing" and line.tokens[chunk.last - 1].low.endswith("s")


def _past_the_hour(line: Line, figure: Figure) -> bool:
    """`again at ten past`: minutes of an hour that is not named."""
    i = figure.last
    if i >= len(line.tokens) or line.tokens[i].low != "past" or figure.value >= 60:
        return False
    after = line.tokens[i + 1] if i + 1 < len(line.tokens) else None
    return after is None or after.kind == "mark" or after.low in ("it", "they", "and", "i", "the")


_FEW = 25.0
_OF_A_READING = word_set("compliance temperature temp range limits spec line the it this that there")
"""What a reading is `out of`."""


def _round_many(line: Line, figure: Figure) -> bool:
    """`sixty jars of beets`, `two hundred croissants`, `twelve at a time`: a round number in words, right in
    front of what it counts."""
    number, i, tokens = figure.number, figure.last, line.tokens
    after = [token.low for token in tokens[i : i + 3]]
    lows = [token.low for token in tokens[max(0, figure.first - 2) : figure.first]]
    of_all = after[:2] == ["out", "of"] and not _OF_A_READING & set(after[2:])
    if after == ["at", "a", "time"] or of_all or lows == ["out", "of"]:
        return True
    if lows[-1:] in (["couple"], ["few"], ["several"]) and figure.value >= 100:
        return True
    if (
        not number.words
        or number.decimals
        or figure.value < _FEW
        or figure.value % 10
        or figure.unit is not None
    ):
        return False
    at = line.chunk_at[i] if i < len(tokens) else -1
    if at < 0 or (figure.value % 100 == 50 and figure.value < 200):
        return False
    before = line.classes[figure.first - 1] if figure.first else "mark"
    low = tokens[figure.first - 1].low if figure.first else ""
    if before in ("links", "auxiliaries", NOUN, "mark") or low in ("at", "to", "now", "and"):
        return False
    return tokens[line.chunks[at].last - 1].low.endswith("s")


_EACH = word_set("a an per each every")
_TIMES = word_set("day week hour month shift service night morning lunch dinner weekend game sunday visit")


def _a_day(line: Line, figure: Figure) -> bool:
    """`40 chickens a day`: so many in a time."""
    i = figure.last
    at = line.chunk_at[i] if i < len(line.tokens) else -1
    if figure.unit is not None or at < 0:
        return False
    after = [token.low for token in line.tokens[line.chunks[at].last : line.chunks[at].last + 2]]
    return len(after) == 2 and after[0] in _EACH and after[1] in _TIMES


_AMONG = word_set("in of from through across into")


def _for_people(line: Line, figure: Figure) -> bool:
    """`plates for 80`, `supper for 120`: so many eat. `water for 110` would be a temperature."""
    i, tokens = figure.first - 1, line.tokens
    if i < 1 or tokens[i].low != "for" or figure.value != int(figure.value):
        return False
    follows = line.classes[figure.last] if figure.last < len(tokens) else "mark"
    if follows not in ("mark", "adverbs", NOUN, "conjunctions"):
        return False
    at = line.chunk_at[i - 1]
    return (at >= 0 and line.chunks[at].object is None) or tokens[i - 1].low in ("plates", "trays")


def _in_some(line: Line, figure: Figure) -> bool:
    """`I put the probe in three, haddock 34`: so many of what was spoken of."""
    i = figure.first - 1
    if i < 0 or not figure.number.words or figure.value > 10 or line.tokens[i].low not in _AMONG:
        return False
    closed = figure.last >= len(line.tokens) or line.tokens[figure.last].kind == "mark"
    return closed and line.chunk_at[i] < 0


def is_count(line: Line, figure: Figure) -> bool:
    """A number of things (`two bulbs`, `3 employees`) or `one` as a pronoun, rather than a measurement."""
    number, i = figure.number, figure.last
    if number.lone_one:
        return True
    if _dimension(line, figure) or _priced(line, figure) or _price(line, figure):
        return True
    if (
        _for_people(line, figure)
        or _in_some(line, figure)
        or _a_day(line, figure)
        or _had_somewhere(line, figure)
    ):
        return True
    if _past_the_hour(line, figure) or _round_many(line, figure):
        return True
    if i < len(line.tokens) and line.tokens[i].low == "something":
        _, end = line.sentence_span(figure.first)
        if figure.value < _FEW or any(kind == "number" for kind in line.classes[i:end]):
            return True  # `forty something, 43`
    if number.decimals or figure.value < 0 or figure.value != int(figure.value):
        return False
    if figure.value <= 24 and _few(line, figure):
        return True
    if figure.value > 24:
        return _many(line, figure)
    if i < len(line.tokens) and line.tokens[i].kind == "number" and figure.value < 10:
        return True
    if (
        i < len(line.tokens)
        and line.classes[i] == NOUN
        and not (
            line.tokens[i].low in _AFTER_READING
            and (i + 1 >= len(line.tokens) or line.classes[i + 1] != NOUN)
        )
    ):
        before = line.classes[figure.first - 1] if figure.first else "mark"
        low = line.tokens[figure.first - 1].low if figure.first else ""
        return not (before == "links" or low == "at") or figure.number.words
    if (
        i < len(line.tokens)
        and line.classes[i] == "predicates"
        and i + 1 < len(line.tokens)
        and line.classes[i + 1] == NOUN
    ):
        return True
    low = line.tokens[figure.first - 1].low if figure.first else ""
    if i < len(line.tokens) and line.tokens[i].low in ("of", "more", "other", "different", "or"):
        return True
    return (
        low
        in (
            "all",
            "those",
            "these",
            "other",
            "only",
            "just",
            "first",
            "last",
            "next",
            "any",
            "every",
            "about",
        )
        and number.words
    )
