"""One figure told twice in a breath: the same words or digits again, its last digits, or the other scale."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.words.line import Chunk, Line
from extract.words.numerals import OH, SMALL
from extract.words.text import word_set

_EQUALS = word_set("is are was about that 's so or which equals roughly around call it in a = ( ) be")


def _likened(line: Line, one: Figure, begin: int, two: Figure) -> bool:
    """`113, thirteen like the unlucky one`: the last digits, told by what they are like."""
    after = [token.low for token in line.tokens[two.last : two.last + 2]]
    like = after[:1] == ["like"] or after in (["as", "in"], ["as", "with"])
    lows = [token.low for token in line.tokens[begin : two.first] if token.kind != "mark"]
    return like and lows in ([], ["that", "'s"], ["so"]) and two.value in (one.value, one.value % 100)


STEADIED = "where it came to rest"
"""Why a figure is the reading of those before it."""
_STEADIES = word_set("stops stopped settles settled steadies steadied landed lands")


def steadied(line: Line, figure: Figure) -> bool:
    """`41, 39, ok it stops at 38`."""
    before = [token.low for token in line.tokens[max(0, figure.first - 3) : figure.first]]
    after = [token.low for token in line.tokens[figure.last : figure.last + 4]]
    if len(after) == 4 and after[0] in ("is", "'s") and after[1:3] == ["where", "it"]:
        return after[3] in _STEADIES  # `94 is where it stops`
    return len(before) == 3 and before[0] in ("it", "that") and before[1] in _STEADIES and before[2] == "at"


def tail_again(line: Line, one: Figure, begin: int, two: Figure, lows: list[str]) -> bool:
    """`one five five, that's five five`: the last digits said once more."""
    tail = f"{two.value:g}"
    whole = f"{one.value:g}"
    spelled = two.unit is None and two.number.words and two.last - two.first == len(tail) >= 2
    after = [token.low for token in line.tokens[two.last : two.last + 3]]
    said_on = lows in (["that", "'s"], ["that", "is"], ["so"]) or (not lows and after == ["at", "the", "end"])
    return (spelled and said_on and whole != tail and whole.endswith(tail)) or _likened(line, one, begin, two)


def converted(one: Figure, two: Figure, lows: list[str]) -> bool:
    """`9 Celsius is about 48 Fahrenheit`: one temperature in both scales."""
    if not _EQUALS.issuperset(lows):
        return False
    scales = {"degC", "degF"}
    if {one.unit, two.unit} != scales and not (two.unit is None and lows and one.unit in scales):
        return False
    cold, warm = (one, two) if one.unit == "degC" else (two, one)
    return abs(cold.value * 9 / 5 + 32 - warm.value) <= 1.5


def digit_by_digit(line: Line, one: Figure, two: Figure, lows: list[str]) -> bool:
    """`for fifteen hours, one five`: a figure with a unit, spelled out once more right behind it."""
    spelled = two.number.words and two.last - two.first == len(f"{one.value:g}") >= 2
    digits = all(token.low in SMALL for token in line.tokens[two.first : two.last])
    return (
        not lows
        and one.unit is not None
        and two.unit is None
        and two.value == one.value
        and spelled
        and digits
    )


_ANOTHER = word_set("again still second next other both also another same first third")
"""What tells a further measurement, though it shows the same."""


def said_on(line: Line, one: Figure, two: Figure) -> bool:
    """The same figure again in one sentence, of nothing that is known as food or place: `reads 44, the top
    reads 44`."""
    if line.sentence[one.first] != line.sentence[two.first] or (two.unit is not None and one.unit is None):
        return False
    lows = {token.low for token in line.tokens[one.last : two.first]}
    if lows & _ANOTHER or len(lows) < 3:
        return False
    chunks = {line.chunk_at[n] for n in range(one.last, two.first) if line.chunk_at[n] >= 0}
    return all(
        line.chunks[at].sort in ("position", "gone", "object")
        and not line.chunks[at].known_food
        and not _of_washing(line, at)
        for at in chunks
    ) and bool(chunks)


def _of_washing(line: Line, at: int) -> bool:
    """The rinse of `wash 166, final rinse 166`, which has its own figure."""
    thing = line.chunks[at].object
    return thing is not None and thing.what in ("wash", "rinse", "surface", "water")


_SAYING = word_set("""it said says really that is yeah yes again so okay ok right um uh repeat i say
  's wrote write writing put putting down call calling""")


def spelled_again(line: Line, one: Figure, two: Figure) -> bool:
    """The same value spelled out again: `1 72, one seventy two`, `50 that is, five zero`."""
    lows = [token.low for token in line.tokens[one.last : two.first] if token.kind != "mark"]
    digits = line.tokens[two.first : two.last]
    if len(digits) >= 3 and all(token.low in SMALL for token in digits):
        return True
    if one.last == two.first:
        return True  # `44 44`: printed twice
    if not lows and one.unit == two.unit and one.kind == two.kind == "length":
        return True  # `a half inch, half inch`
    for told in (one, two):
        spelled = line.tokens[told.first : told.last]
        if not lows and len(spelled) >= 2 and all(token.low in SMALL or token.low in OH for token in spelled):
            return True  # `four one, forty one`, `fifty, five oh`
    if lows == ["now"]:
        return one.number.words != two.number.words  # `164 now, one sixty four`
    return all(low in _SAYING for low in lows) and (
        one.number.words != two.number.words
        or "split_number" in one.codes
        or (bool(lows) and "again" not in lows)
    )


def said_whole(one: Figure, two: Figure, lows: list[str]) -> bool:
    """`at 1 37, I repeat, 37 degrees`: what a figure printed in pieces may have been, said once more."""
    pieces = "split_number" in one.codes and two.value in one.alternatives
    return one.role == two.role == "figure" and pieces and bool(lows) and _SAYING.issuperset(lows)


_CORRECTS = frozenset(("correction", "corrected"))


def said_anew(line: Line, found: list[Figure]) -> list[tuple[int, int]]:
    """The figures of `The log shows 49 at 11.40. Correction, the log shows 94 at 11.40.`: which falls, which
    stands, where a sentence that corrects names nothing that the one before did not."""
    pairs = []
    for number, start in enumerate(line.starts):
        if not number or line.tokens[start].low not in _CORRECTS:
            continue
        before, here = line.starts[number - 1], [n for n, f in enumerate(found) if f.role == "figure"]
        old = [n for n in here if before <= found[n].first < start]
        new = [n for n in here if found[n].first > start and line.sentence[found[n].first] == number]
        if not old or not new or found[old[-1]].kind != found[new[0]].kind:
            continue
        told = {token.stem for token in line.tokens[before : found[old[-1]].first]}
        again = {line.tokens[n].stem for n in range(start + 1, found[new[0]].first) if line.chunk_at[n] >= 0}
        if again <= told:
            pairs.append((old[-1], new[0]))
    return pairs


def same_time_again(line: Line, found: list[Figure]) -> list[tuple[int, int]]:
    """`93 at 1.50, excuse me, 83 at 1.50`: which falls, which stands, as both are of one time."""
    pairs = []
    for at in range(len(found) - 3):
        one, clock, two, again = found[at : at + 4]
        roles = [figure.role for figure in (one, clock, two, again)]
        between = {token.low for token in line.tokens[clock.last : two.first]}
        if (
            roles == ["figure", "clock", "figure", "clock"]
            and clock.value == again.value
            and line.sentence[one.first] == line.sentence[two.first]
            and between & _TAKES_BACK
            and not any(line.chunks[n].known_food for n in line.chunk_at[clock.last : two.first] if n >= 0)
        ):
            pairs.append((at, at + 2))
    return pairs


_TAKES_BACK = word_set("no sorry excuse pardon correction wait mean make apologies")


def after_no(line: Line, found: list[Figure]) -> list[tuple[int, int]]:
    """`strip's 30. No, wait. Sign's on my strip. Outside it's 20`: which falls, which stands, where a
    sentence of its own takes back what was read, and the same thing is told anew behind it."""
    pairs = []
    here = [n for n, figure in enumerate(found) if figure.role == "figure"]
    for number, start in enumerate(line.starts):
        end = line.starts[number + 1] if number + 1 < len(line.starts) else len(line.tokens)
        words = [token.low for token in line.tokens[start:end] if token.kind != "mark"]
        old = [n for n in here if found[n].first < start and line.sentence[found[n].first] >= number - 2]
        if not old or not words or not set(words) <= _NO_WAIT or _NO_WAIT_SURE.isdisjoint(words):
            continue
        one = old[-1]
        first, _ = line.sentence_span(found[one].first)
        told = {token.low for token in line.tokens[first : found[one].first] if token.kind == "word"} | {"it"}
        for two in here:
            n = found[two].first
            if n <= end or n - end > _LATER or found[two].unit not in (None, found[one].unit):
                continue
            tied = line.tokens[n - 1].low in ("is", "'s") and line.tokens[n - 2].low in told
            if tied:
                pairs.append((one, two))
                break
    return pairs


def by_another(line: Line, found: list[Figure]) -> list[tuple[int, int]]:
    """`strip shows 4.4. Strip expired, forget the strip. Meter says 3.9`: which falls, which stands, where
    what it was read on is given up."""
    pairs = []
    here = [n for n, figure in enumerate(found) if figure.role == "figure"]
    for i in range(len(line.tokens) - 2):
        low, the, thing = (token.low for token in line.tokens[i : i + 3])
        if low not in _GIVES_UP or the not in ("the", "that") or thing not in _READ_ON:
            continue
        old = [n for n in here if found[n].last <= i and _read_on(line, found[n], thing)]
        new = [n for n in here if found[n].first > i + 2]
        if old and new and found[old[-1]].kind == found[new[0]].kind:
            pairs.append((old[-1], new[0]))
    return pairs


def no_that_is(line: Line, found: list[Figure]) -> list[tuple[int, int]]:
    """`chlorine, 50, hold on, I have to match it in the light. No that's 100`, `had 133, stirred it, 147. So
    just the 147`: which falls, which stands, where a sentence names the figure that is to count."""
    pairs = []
    here = [n for n, figure in enumerate(found) if figure.role == "figure"]
    for start in line.starts:
        at = next((n for n in here if found[n].first > start), None)
        before = [n for n in here if found[n].first < start]
        if at is None or not before:
            continue
        words = [token.low for token in line.tokens[start : found[at].first] if token.low not in _OPENS]
        if words in _NO_THAT_IS:
            old, new = before[-1], at
        elif words in _JUST_THE and (same := [n for n in before[1:] if found[n].value == found[at].value]):
            old, new = same[-1] - 1, same[-1]
        else:
            continue
        if old in before and _takes_its_place(line, found[old], found[new]):
            pairs.append((old, new))
    return pairs


def _takes_its_place(line: Line, one: Figure, two: Figure) -> bool:
    """Whether the second, not far behind, may be another figure of the same thing."""
    near = line.sentence[two.first] - line.sentence[one.first] <= _SENTENCES
    food = any(chunk.known_food for chunk in _between(line, one, two))
    return near and not food and two.unit in (None, one.unit) and one.value != two.value


def _between(line: Line, one: Figure, two: Figure) -> list[Chunk]:
    """What is named between two figures."""
    named = {line.chunk_at[n] for n in range(one.last, two.first) if line.chunk_at[n] >= 0}
    return [line.chunks[at] for at in sorted(named)]


_OPENS = word_set("so okay and well , . - oh")
_NO_THAT_IS = tuple(["no", one, two] for one in ("that", "it") for two in ("'s", "is"))
_JUST_THE = (["just", "the"], ["only", "the"], ["just", "that"], ["it", "'s", "the"])
_SENTENCES = 3
"""Sentences between a figure and the one that is to count, at most: common practice, no source."""


def _read_on(line: Line, figure: Figure, thing: str) -> bool:
    first, _ = line.sentence_span(figure.first)
    return any(token.low == thing for token in line.tokens[first : figure.first])


_GIVES_UP = word_set("forget scratch ignore disregard drop")
_READ_ON = word_set("strip strips paper meter gauge dial probe thermometer")


_NO_WAIT = word_set("no nope wait hold on hang a minute second")
_NO_WAIT_SURE = word_set("no nope wait")
_LATER = 25
"""Words in which it is told anew: common practice, no source."""


def confirmed(line: Line, one: Figure, two: Figure, corrected: bool) -> bool:
    """`it is 6 inches, I am reading the tape again, 6 inches`: a corrected figure is said once more."""
    return corrected and not any(
        chunk.known_food or chunk.sort == "place" for chunk in _between(line, one, two)
    )


_APOLOGY = word_set("sorry excuse pardon")
_TALK = 12
"""Words to somebody who came between, at most: common practice, no source."""


def after_talk(line: Line, one: Figure, two: Figure, lows: list[str]) -> bool:
    """`158, sorry young man, go ahead and squeeze by, 158`: once more, as somebody came between."""
    named = any(chunk.known_food or chunk.place is not None for chunk in _between(line, one, two))
    return lows[:1] != [] and lows[0] in _APOLOGY and len(lows) <= _TALK and not named


def broken_off(line: Line, one: Figure, two: Figure) -> bool:
    """`the mash is at 13, uh, 139`: a figure begun, and said whole behind nothing but a filler."""
    between = line.tokens[one.last : two.first]
    fillers = [token.low for token in between if token.kind != "mark"]
    begun, whole = line.words(one.first, one.last), line.words(two.first, two.last)
    return (
        one.role == two.role == "figure"
        and bool(fillers)
        and all(low in _FILLERS for low in fillers)
        and begun.isdigit()
        and whole.isdigit()
        and len(begun) < len(whole)
        and whole.startswith(begun)
    )


_FILLERS = frozenset(("uh", "um", "er", "uhm", "eh", "hm", "ah"))


def past_its_where(line: Line, i: int) -> int:
    """Past the place right behind a figure: `sixteen inches above the floor. Excuse me, 6`."""
    if i >= len(line.tokens) or line.classes[i] != "prepositions":
        return i
    n = i + 2 if i + 1 < len(line.tokens) and line.classes[i + 1] == "determiners" else i + 1
    at = line.chunk_at[n] if n < len(line.tokens) else -1
    where = at >= 0 and not line.chunks[at].known_food and line.chunks[at].prepared_at == i
    return line.chunks[at].last if where else i


_RATHER = (["it", "'s"], ["it", "is"], ["that", "'s"], ["but"], ["make", "it"], ["it", "reads"])


def denied_ahead(line: Line, found: list[Figure]) -> None:
    """The 41 of `not 41, it's 47`: what it is not, said ahead of what it is."""
    for one, two in pairwise(found):
        i = one.first - 1
        opens = i >= 0 and line.tokens[i].low == "not" and (i == 0 or line.tokens[i - 1].kind == "mark")
        lows = [token.low for token in line.tokens[one.last : two.first] if token.kind != "mark"]
        if opens and lows in _RATHER and one.role == two.role == "figure" and one.kind == two.kind:
            one.role = "denied"


EXACTLY = word_set("exactly exact dead yep yeah yes precisely that 's right")
"""Words between a figure and the same once more: `165, exactly 165`."""
_SHOWN_BY = word_set("dial display gauge readout log chart sheet screen panel")


def shown_else(line: Line, one: Figure, lows: list[str]) -> bool:
    """`the dial reads 40 but it's actually 46`: what a thing shows, beside what was measured; both stand."""
    first, _ = line.sentence_span(one.first)
    shown = any(token.low in _SHOWN_BY for token in line.tokens[first : one.first])
    return shown and lows[:1] == ["but"] and "actually" in lows
