"""Figures of an utterance: numbers with their units, times of day, dates and ranges.

What a figure is *for* (a reading, a limit, a label) is decided in `extract.meant_for.roles`.
"""

from __future__ import annotations

from extract.figures.counts import PRODUCT, is_code, is_count, is_date, is_number_of_place, is_product
from extract.figures.figure import Figure
from extract.figures.homophones import homophones
from extract.figures.hundreds import with_hundreds
from extract.figures.numbered_things import numbers_a_thing
from extract.figures.numbers import numbers
from extract.figures.time_now import an_address, tells_now
from extract.figures.times_in_words import said_times
from extract.figures.times_of_day import as_clock, day_part, in_order, resolved, told_as_time
from extract.figures.units_on import days_on, measures_on
from extract.words.lexicon import Lexicon, Unit
from extract.words.line import NOUN, Line
from extract.words.numerals import PIPES, Number
from extract.words.text import word_set


def figures(line: Line, words: Lexicon, *, hour: float | None = None, acid: bool = False) -> list[Figure]:
    """All figures of the utterance in order. `hour`: when it was said, as hours of the day, to settle
    12-hour times. `acid`: a pH was spoken of just before, so 4.58 is no time of day."""
    tokens = line.tokens
    made = [_with_unit(line, number, words) for number in numbers(tokens)]
    found = _not_overlapping([figure for figure in made if figure is not None])
    found = homophones(line, found, words)
    found.extend(said_times(line, found))
    found.extend(_articles(line, found, words))
    found.sort(key=lambda figure: figure.first)
    found = _not_overlapping(found)
    result: list[Figure] = []
    for figure in found:
        if figure.number.glued is not None and figure.unit is None:
            result.append(figure)
            figure.clock = resolved(figure.number.glued, None, hour)
            continue
        result.append(figure)
    for at, figure in enumerate(result):
        if figure.role == "figure" and not _like_ph(line, figure, acid=acid):
            _settle(line, result, at, hour)
    if hour is None:
        in_order(result, line)
    with_hundreds(line, result)
    _ranges(line, result)
    days_on(line, result)
    measures_on(line, result)
    return result


def _not_overlapping(found: list[Figure]) -> list[Figure]:
    """Without figures that another one has taken in, as in `two hours ten`."""
    kept: list[Figure] = []
    for figure in found:
        if not kept or figure.first >= kept[-1].last:
            kept.append(figure)
    return kept


def _with_unit(line: Line, number: Number, words: Lexicon) -> Figure | None:
    tokens = line.tokens
    first, last = number.first, number.last
    figure = Figure(number, first, last, number.value, alternatives=number.alternatives, codes=number.codes)
    if number.date:
        figure.role = "date"
        return figure
    i = last
    if i < len(tokens) and tokens[i].low == "ish":
        figure.approximate, i = "ish", i + 1
    if i < len(tokens) and (
        tokens[i].low in ("or", "and") and i + 1 < len(tokens) and tokens[i + 1].low == "so"
    ):
        figure.approximate, i = "or so", i + 2
    # `of a`, `of an` between a fraction and its unit; `a` in `half an inch`
    j = i
    if number.needs_unit or number.halved:
        if j < len(tokens) and tokens[j].low == "of":
            j += 1
        if j < len(tokens) and tokens[j].low in ("a", "an"):
            j += 1
    hit = words.units_after.at(tokens, j) if j < len(tokens) else None
    if hit is not None and hit[1].kind == "ph" and hit[0] < len(tokens) and tokens[hit[0]].kind == "number":
        hit = None  # the pH of `water activity 0.91 pH 4.5` is the next figure's
    if hit is not None and _is_unit(line, j, number):
        figure.last, figure.unit, figure.kind = hit[0], hit[1].unit, hit[1].kind
    elif first and tokens[first - 1].low == "day" and 0 < number.value <= 31 and not number.decimals:
        figure.first, figure.unit, figure.kind = first - 1, "day", "duration"
    elif (before := _unit_in_front(line, first, words)) is not None:
        figure.first = before[0] if _close(line, before[0], first) else first
        figure.unit, figure.kind = before[1].unit, before[1].kind
    elif _of_height(line, number):
        figure.unit, figure.kind = "inch", "length"
    elif number.needs_unit and j < len(tokens) and tokens[j].low in PIPES:
        figure.unit, figure.kind = "inch", "length"  # `a three quarter line`
    elif number.needs_unit:
        return None
    if figure.unit == "other" and tokens[last].low in _POUNDS and _of_pressure(line, last):
        figure.unit, figure.kind = "psi", "pressure"
    if figure.unit == "inch" and (tail := _and_fraction(line, figure.last)) is not None:
        figure.value, figure.last = figure.value + tail[0], tail[1]
    if figure.unit in ("hour", "minute") and (tail := _and_fraction(line, figure.last)) is not None:
        figure.value, figure.last = figure.value + tail[0], tail[1]
    elif figure.unit == "hour" and (odd := _odd_minutes(line, figure.last)) is not None:
        figure.value, figure.last = figure.value + odd[0] / 60, odd[1]
    return figure


MOST_PSI = 60.0
"""Pressure that a bare figure beside a pressure may still be: common practice, no source."""
MOST_PH = 14.0
"""Where the scale that strips and meters show ends: from memory."""
_POUNDS = word_set("pounds pound lbs lb")


def _of_pressure(line: Line, i: int) -> bool:
    """`final rinse 186, 18 pounds`: pounds of pressure."""
    first, end = line.sentence_span(i)
    return any(line.tokens[n].low in ("rinse", "pressure", "psi", "gauge") for n in range(first, end))


_TALLEST = 24.0
"""Inches up to which a bare `six and a half off the floor` is understood: common practice, no source."""
_LEVELS = word_set("floor ground tile tiles concrete deck counter countertop table rim drain sink")


def _of_height(line: Line, number: Number) -> bool:
    """`six and a half off the floor`, `clears by 4`, `an air gap of 2`: inches that nobody names."""
    tokens, i = line.tokens, number.last
    if not 0 < number.value <= _TALLEST or number.sure_clock:
        return False
    if i < len(tokens) and tokens[i].low == "up":
        i += 1
    if i + 1 < len(tokens) and tokens[i].low in ("off", "above", "over"):
        after = [token.low for token in tokens[i + 1 : i + 4]]
        if after[:1] and after[0] in ("the", "that", "its"):
            after = after[1:]
        return bool(set(after[:2] if after[:1] == ["flood"] else after[:1]) & _LEVELS)
    before = [token.low for token in tokens[max(0, number.first - 6) : number.first]]
    if before[-1:] == ["by"] and "clears" in before:
        return before[-2] == "clears" or "rim" in before
    near = before[-4:]
    if number.needs_unit or number.decimals > 1:
        return False
    shown = [low for low in near if low not in _SHOWN]
    return shown[-1:] in (["gap"], ["clearance"], ["tape"]) and number.value <= _WIDEST


_SHOWN = word_set("of is 's about says said reads gives me at measures shows a only just")
_WIDEST = 12.0


def _odd_minutes(line: Line, i: int) -> tuple[float, int] | None:
    """`two hours ten`, `an hour and 20 minutes`: the minutes over, and the end."""
    tokens = line.tokens
    first = i + 1 if i < len(tokens) and tokens[i].low == "and" else i
    if first >= len(tokens):
        return None
    for number in numbers(tokens[first : first + 3]):
        end = first + number.last
        minutes = end < len(tokens) and tokens[end].low.startswith("min")
        closes = end >= len(tokens) or tokens[end].kind == "mark"
        closes = closes or (number.words and line.classes[end] == "prepositions" and number.value % 5 == 0)
        round_one = number.value % 5 == 0 and number.value >= 10
        if (
            number.first == 0
            and 1 <= number.value < 60
            and (minutes or (closes and first == i) or (round_one and first > i and (closes or number.words)))
        ):
            return number.value, end + 1 if minutes else end
        break
    return None


_COUNTED = word_set("""door well pan way point cup shelf case rack tray unit cooler sink bag box can tub
bucket container piece
  slice strip test sample batch cycle item seat bottle spot place tier burner basin bay different""")
"""Units of counting: in the singular they count only small numbers (`38 door side` is no count)."""


def _is_unit(line: Line, i: int, number: Number) -> bool:
    """Whether the words behind a number are its unit here. One-letter units count only when printed with
    it."""
    low = line.tokens[i].low
    if low in ("f", "c"):
        text = line.text[line.tokens[i].start : line.tokens[i].end]
        return line.tokens[i].start - line.tokens[i - 1].end <= 1 and (text.isupper() or number.last == i)
    if low in ("day", "days", "way", "point", "cup", "cups", "well", "wells") and number.lone_one:
        return low in ("day", "days")
    if low == "second" and _another(line, i):
        return False
    if low in _COUNTED and low.endswith("s") is False and number.value > 24:
        return False
    if i + 1 < len(line.tokens) and line.tokens[i + 1].low == "of" and low.endswith("s"):
        return True  # `thirty six cups of yogurt at 40`
    if low in _COUNTED or low in ("wells", "cups", "pans"):
        return number.value <= 24 and not number.decimals
    return True


def _another(line: Line, i: int) -> bool:
    """The second of `first pan 81 second pan 67`: which of several, no unit of time."""
    after = line.tokens[i + 1].low if i + 1 < len(line.tokens) else ""
    if after not in _COUNTED and after not in _ONES:
        return False
    return any(token.low in ("first", "one", "top", "next") for token in line.tokens[:i]) or after in _ONES


_ONES = word_set("one time try stab spot batch load basket")


def _skip_links_back(line: Line, i: int) -> int:
    """Back over `is`, `at`, `of`, `the rice` no further than one word, to find `pH` before its number."""
    steps = 0
    while (i > 0 and steps < 4 and line.classes[i - 1] in ("links", "auxiliaries", "adverbs", "fillers")) or (
        i > 0
        and steps < 4
        and line.tokens[i - 1].low
        in ("at", "of", "about", "a", "strip", ",", "level", "meter", "test", "reading", "value", "paper")
    ):
        i -= 1
        steps += 1
    return i


def _close(line: Line, start: int, first: int) -> bool:
    """Whether a unit in front belongs to the figure's own words, with no food named between the two."""
    return not any(
        line.classes[n] == NOUN and line.tokens[n].low not in _METERS for n in range(start + 2, first)
    )


_METERS = word_set("strip strips meter test paper level reading value probe age h")


_WHICH = word_set("last first next this that other each every which new old latest")


def _unit_in_front(line: Line, first: int, words: Lexicon) -> tuple[int, Unit] | None:
    """`pH is 7.5`, `pH of the rice 4.0`: the unit's first token."""
    if line.tokens[first].low == "one" and first and line.tokens[first - 1].low in _WHICH:
        return None  # `a log with pH, last one 4.0`
    hit = words.units_before.ending(line.tokens, _skip_links_back(line, first))
    if hit is not None and not (hit[0] and line.tokens[hit[0] - 1].low in ("that", "this")):
        return hit
    for start in range(first - 1, max(-1, first - 10), -1):
        found = words.units_before.at(line.tokens, start)
        if found is not None and start and line.tokens[start - 1].low in ("that", "this"):
            return None  # `at that pH 82 isn't warm enough`
        if found is None:
            if line.tokens[start].kind in ("number", "mark"):
                return None
            continue
        follows = line.tokens[found[0]].low
        if found[0] <= first and follows in ("of", "on", "for", "in", "from", "by", "per"):
            return start, found[1]
        return None
    return None


def _and_fraction(line: Line, i: int) -> tuple[float, int] | None:
    """`inch and a half`, `hour and a half`: what to add, and the end."""
    tokens = line.tokens
    if i + 1 >= len(tokens) or tokens[i].low != "and":
        return None
    for number in numbers(tokens[i + 1 : i + 4]):
        if number.first == 0 and number.needs_unit:
            return number.value, i + 1 + number.last
        break
    return None


def _articles(line: Line, found: list[Figure], words: Lexicon) -> list[Figure]:
    """`an inch`, `an hour`, `a foot`, `a couple of hours`: one or two of a unit."""
    taken = {i for figure in found for i in range(figure.first, figure.last)}
    made: list[Figure] = []
    tokens = line.tokens
    for i, token in enumerate(tokens[:-1]):
        if i in taken or token.low not in ("a", "an", "couple"):
            continue
        if i and tokens[i - 1].low in ("once", "twice", "times", "thrice"):
            continue  # `once a day`
        j, value, approximate = i + 1, 1.0, None
        if token.low == "couple" or tokens[j].low == "couple":
            j = i + 1 if token.low == "couple" else i + 2
            j += 1 if j < len(tokens) and tokens[j].low == "of" else 0
            value, approximate = 2.0, "a couple"
            if token.low == "a":
                taken.add(i + 1)
        if j >= len(tokens) or j in taken:
            continue
        hit = words.units_after.at(tokens, j)
        if hit is None or hit[1].unit not in ("inch", "foot", "hour", "minute", "day", "week"):
            continue
        figure = Figure(Number(i, j, value, words=True), i, hit[0], value, unit=hit[1].unit, kind=hit[1].kind)
        figure.approximate = approximate
        if (tail := _and_fraction(line, figure.last)) is not None:
            figure.value, figure.last = value + tail[0], tail[1]
        elif figure.unit == "hour" and (odd := _odd_minutes(line, figure.last)) is not None:
            figure.value, figure.last = value + odd[0] / 60, odd[1]
        taken.update(range(figure.first, figure.last))
        made.append(figure)
    return made


def _settle(line: Line, found: list[Figure], at: int, hour: float | None) -> None:
    """Decides whether a figure is a time of day or a count; sets its role and clock."""
    figure = found[at]
    number, tokens = figure.number, line.tokens
    after = tokens[figure.last].low if figure.last < len(tokens) else ""
    if number.sure_clock and number.clock is not None:
        as_clock(figure, line, hour)
        return
    if figure.unit not in (None, "other") or figure.kind in ("ph", "water_activity"):
        return
    if number.clock is not None and day_part(line, figure) is not None:
        as_clock(figure, line, hour)
        return
    if figure.unit == "other":
        clocky = tokens[figure.last - 1].low in ("clock", "o'clock")
        if clocky and number.clock is not None:
            as_clock(figure, line, hour)
        else:
            figure.role = "other"
        return
    if number.clock is not None and (told_as_time(line, found, at) or tells_now(line, found, at, hour)):
        as_clock(figure, line, hour)
        return
    if an_address(line, figure):
        figure.role = "id"
        return
    if "lost_point" in figure.codes and figure.alternatives and number.decimals == 2:
        # printed 1.69 for one sixty nine; the small value only fits where a unit says so
        figure.value, figure.alternatives = figure.alternatives[0], (figure.value,)
        return
    if is_product(line, figure):
        figure.role, figure.why = "id", PRODUCT
        return
    if is_code(line, figure) or _goes_on(line, found, at):
        figure.role = "id"
        return
    if is_number_of_place(line, figure) or numbers_a_thing(line, figure):
        figure.role = "id"
        return
    if is_date(line, figure, after):
        figure.role = "date"
        return
    if is_count(line, figure):
        figure.role = "count"


_TIMED = word_set("at by since until till before from to around about")


def _like_ph(line: Line, figure: Figure, *, acid: bool) -> bool:
    """`checked again, 4.58` where a pH was spoken of."""
    if not acid and not any(token.low in ("ph", "h") for token in line.tokens[: figure.first]):
        return False
    low = line.tokens[figure.first - 1].low if figure.first else ""
    return (
        figure.unit is None
        and figure.number.decimals == 2
        and 2 <= figure.value < 10
        and low not in _TIMED
        and day_part(line, figure) is None
    )


_NUMBERED = word_set("permit license licence phone invoice lot serial telephone account badge")


def _goes_on(line: Line, found: list[Figure], at: int) -> bool:
    """`permit number 20 33`: a number that names, printed in pieces."""
    if at and found[at - 1].last == found[at].first and found[at - 1].role == "id":
        before = found[at - 1]
        return not (is_number_of_place(line, before) or numbers_a_thing(line, before))  # `drawer two 42`
    i = found[at].first - 1
    if i >= 0 and line.tokens[i].low in ("is", "'s"):
        i -= 1
    return i >= 1 and line.tokens[i].low in ("number", "no.", "#") and line.tokens[i - 1].low in _NUMBERED


def _of_a_strength(line: Line, figure: Figure, warm: Figure) -> bool:
    """A sanitizer's name stands right before the figure, or a bucket or a strip that shows such a strength
    beside water as warm as a solution's."""
    if any(0 <= figure.first - end <= 1 for _, end, _ in line.agents):
        return True
    shown = figure.value == 0 or (figure.value >= 50 and figure.value % 25 == 0)
    return shown and warm.value < _HOT_SOLUTION and _named_before(line, figure, _TESTED)


def _named_before(line: Line, figure: Figure, words: frozenset[str]) -> bool:
    """Whether one of the words, and no more than `is at`, stands before the figure."""
    at = figure.first - 1
    while at >= 0 and (line.classes[at] in ("links", "auxiliaries") or line.tokens[at].low in _IS_AT):
        at -= 1
    return at >= 0 and line.tokens[at].low in words


_HOT_SOLUTION = 140.0
"""Degrees, in either scale, that no solution of a chemical has: common practice, no source."""
_TESTED = word_set(
    "bucket buckets strip strips sani sanitizer sanitiser sanitizing solution pail pails bottle"
)
_WATERS = word_set("water rinse wash temp temps temperature")
_IS_AT = word_set("is 's at was reads read about around")


_WIDEST_DOWN = 60.0
"""A range told from its higher end is no wider: common practice, no source."""


def _ranges(line: Line, found: list[Figure]) -> None:
    """Marks `between 45 and 48`, `45 to 48` and `45-48`, and lets both share the unit."""
    for at in range(len(found) - 1):
        one, two = found[at], found[at + 1]
        if one.role != "figure" or two.role != "figure":
            continue
        between = [token.low for token in line.tokens[one.last : two.first]]
        before = line.tokens[one.first - 1].low if one.first else ""
        if (
            between in (["-"], ["to"])
            or (between == ["and"] and before == "between")
            or (before == "from" and between == ["to"])
        ):
            if one.kind is not None and two.kind is not None and one.kind != two.kind:
                continue
            if one.number.words and one.value > two.value and between == ["to"] and before != "from":
                continue
            if one.value - two.value > _WIDEST_DOWN:
                continue  # `slow roasted at 250 to 131`
            one.range_with, two.range_with = at + 1, at
        elif between not in (["and"], ["or"], [","], [",", "and"], ["and", "then"]):
            continue
        if two.kind == "pressure" and one.value > MOST_PSI:
            continue  # `final rinse 186, 18 pounds`
        if two.kind == "temperature" and one.range_with is None and _of_a_strength(line, one, two):
            continue  # `chlorine 50, 75 degrees`, `sani bucket 200, 72 degrees`
        if two.kind == "concentration" and one.range_with is None and _named_before(line, one, _WATERS):
            continue  # `water is 66, 50 ppm`
        if two.first < two.number.first and one.range_with != at + 1:
            continue  # `water 95, pH paper says 7`: the unit stands in front of the second and is its own
        if one.kind is None and two.kind is not None and two.kind != "none" and one.unit is None:
            if two.kind in ("duration",) and one.range_with is None:
                continue
            one.unit, one.kind = two.unit, two.kind
