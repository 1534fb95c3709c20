"""Figures of an utterance: numbers with their units, times of day, dates and ranges.

What a figure is *for* (a reading, a limit, a label) is decided in `extract.roles`.
"""

from __future__ import annotations

from dataclasses import dataclass

from extract.lexicon import Lexicon, Unit
from extract.line import NOUN, Line
from extract.numbers import Number, numbers
from extract.text import Token, word_set


@dataclass(slots=True)
class Figure:
    """One number as it stands in an utterance; tokens `first` to `last` hold it with its unit."""

    number: Number
    first: int
    last: int
    value: float
    unit: str | None = None
    kind: str | None = None
    role: str = "figure"
    """`figure` until `extract.roles` knows better; `clock`, `date`, `count`, `other` are settled here."""
    clock: str | None = None
    """HH:MM of a time of day, or of the reading it belongs to."""
    alternatives: tuple[float, ...] = ()
    codes: tuple[str, ...] = ()
    approximate: str | None = None
    range_with: int | None = None
    why: str = ""
    """The words that decided the role."""
    withdrawn: bool = False


_DAY_PARTS = {"am": 0, "pm": 12, "a.m": 0, "p.m": 12}
_CLOCK_VERBS = word_set("""opened open made make started start arrived came got put set pulled prepped tagged dated
  checked back marked stamped discard cooked went since delivered left dropped finished took out stopped began prep
  probed tested logged closed closes pull received reopened served cut""")
_PERSONS = word_set("it they he she we i that was the log 's is and")


def figures(line: Line, words: Lexicon, *, hour: float | None = None) -> list[Figure]:
    """All figures of the utterance in order. `hour`: when it was said, as hours of the day, to settle 12-hour times."""
    tokens = line.tokens
    found = [_with_unit(line, number, words) for number in numbers(tokens)]
    found = _not_overlapping([figure for figure in found if figure is not None])
    found = _homophones(line, found, words)
    found.extend(_said_times(line, found))
    found.extend(_articles(line, found, words))
    found.sort(key=lambda figure: figure.first)
    result: list[Figure] = []
    for figure in found:
        if figure.number.glued is not None and figure.unit is None:
            result.append(figure)
            figure.clock = _resolved(figure.number.glued, None, hour)
            continue
        result.append(figure)
    for at, figure in enumerate(result):
        if figure.role == "figure":
            _settle(line, result, at, hour)
    _ranges(line, result)
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
    if hit is not None and _is_unit(line, j, number):
        figure.last, figure.unit, figure.kind = hit[0], hit[1].unit, hit[1].kind
    elif first and tokens[first - 1].low == "day" and 0 < number.value <= 31 and not number.decimals:
        figure.first, figure.unit, figure.kind = first - 1, "day", "duration"
    elif (before := _unit_in_front(line, first, words)) is not None:
        figure.first = before[0] if _close(line, before[0], first) else first
        figure.unit, figure.kind = before[1].unit, before[1].kind
    elif number.needs_unit:
        return None
    if figure.unit == "inch" and (tail := _and_fraction(line, figure.last)) is not None:
        figure.value, figure.last = figure.value + tail[0], tail[1]
    if figure.unit in ("hour", "minute") and (tail := _and_fraction(line, figure.last)) is not None:
        figure.value, figure.last = figure.value + tail[0], tail[1]
    elif figure.unit == "hour" and (odd := _odd_minutes(line, figure.last)) is not None:
        figure.value, figure.last = figure.value + odd[0] / 60, odd[1]
    return figure


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
        if number.first == 0 and 1 <= number.value < 60 and (minutes or (first == i and closes)):
            return number.value, end + 1 if minutes else end
        break
    return None


_COUNTED = word_set("""door well pan way point cup shelf case rack tray unit cooler sink bag box can tub bucket container piece
  slice strip test sample batch cycle item seat bottle spot place tier burner basin bay different""")
"""Units of counting: in the singular they count only small numbers (`38 door side` is no count)."""


def _is_unit(line: Line, i: int, number: Number) -> bool:
    """Whether the words behind a number are its unit here. One-letter units count only when printed with it."""
    low = line.tokens[i].low
    if low in ("f", "c"):
        text = line.text[line.tokens[i].start : line.tokens[i].end]
        return line.tokens[i].start - line.tokens[i - 1].end <= 1 and (text.isupper() or number.last == i)
    if low in ("day", "days", "way", "point", "cup", "cups", "well", "wells") and number.lone_one:
        return low in ("day", "days")
    if low in _COUNTED or low in ("wells", "cups", "pans"):
        return number.value <= 24 and not number.decimals
    return True


def _skip_links_back(line: Line, i: int) -> int:
    """Back over `is`, `at`, `of`, `the rice` no further than one word, to find `pH` before its number."""
    steps = 0
    while (i > 0 and steps < 4 and line.classes[i - 1] in ("links", "auxiliaries", "adverbs", "fillers")) or (
        i > 0
        and steps < 4
        and line.tokens[i - 1].low
        in ("at", "of", "about", "strip", ",", "level", "meter", "test", "reading", "value", "paper")
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


def _unit_in_front(line: Line, first: int, words: Lexicon) -> tuple[int, Unit] | None:
    """`pH is 7.5`, `pH of the rice 4.0`: the unit's first token."""
    hit = words.units_before.ending(line.tokens, _skip_links_back(line, first))
    if hit is not None:
        return hit
    for start in range(first - 1, max(-1, first - 10), -1):
        found = words.units_before.at(line.tokens, start)
        if found is None:
            if line.tokens[start].kind in ("number", "mark"):
                return None
            continue
        follows = line.tokens[found[0]].low
        if found[0] <= first and follows in ("of", "on", "for", "in"):
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
        taken.update(range(figure.first, figure.last))
        made.append(figure)
    return made


_SOUND_ALIKE = {"for": 4.0, "fore": 4.0, "to": 2.0, "too": 2.0, "ate": 8.0, "won": 1.0, "sex": 6.0, "sick": 6.0, "tree": 3.0,
                "free": 3.0, "fife": 5.0, "tin": 10.0}  # fmt: skip


def _homophones(line: Line, found: list[Figure], words: Lexicon) -> list[Figure]:
    """`for inches` is four inches: a number that the speech model printed as another word."""
    taken = {i for figure in found for i in range(figure.first, figure.last)}
    for i, token in enumerate(line.tokens[:-1]):
        value = _SOUND_ALIKE.get(token.low)
        if value is None or i in taken or i + 1 in taken:
            continue
        hit = words.units_after.at(line.tokens, i + 1)
        if hit is None or hit[1].unit not in ("inch", "foot", "foot_candle", "ppm", "psi"):
            continue
        if token.low in ("to", "too") and hit[1].unit != "inch":
            continue
        found.append(
            Figure(Number(i, i + 1, value, words=True), i, hit[0], value, unit=hit[1].unit, kind=hit[1].kind,
                   codes=("homophone",))
        )  # fmt: skip
    return found


def _said_times(line: Line, found: list[Figure]) -> list[Figure]:
    """`noon`, `midnight`, `quarter past two`, `ten to three`."""
    tokens = line.tokens
    made: list[Figure] = []
    for i, token in enumerate(tokens):
        low = token.low
        if low in ("noon", "midnight"):
            clock = "12:00" if low == "noon" else "00:00"
            number = Number(i, i + 1, 12.0 if low == "noon" else 0.0, sure_clock=True, words=True)
            made.append(Figure(number, i, i + 1, number.value, role="clock", clock=clock))
        elif low in ("past", "after", "to", "till", "of") and 0 < i < len(tokens) - 1:
            minutes = _minutes_before(found, line, i)
            hour = next((f for f in found if f.first == i + 1 and f.number.clock and f.unit is None), None)
            if minutes is None or hour is None or hour.value > 12 or hour.value != int(hour.value):
                continue
            if low == "of" and minutes[0] > 30:
                continue
            total = int(hour.value) * 60 + (minutes[0] if low in ("past", "after") else -minutes[0])
            pair = (total // 60 % 24, total % 60)
            number = Number(minutes[1], hour.last, 0.0, clock=pair, sure_clock=True, words=True)
            found[:] = [f for f in found if f is not hour and not (minutes[1] <= f.first < i)]
            made.append(Figure(number, minutes[1], hour.last, 0.0))
    return made


def _minutes_before(found: list[Figure], line: Line, i: int) -> tuple[int, int] | None:
    low = line.tokens[i - 1].low
    first = i - 1
    if low in ("quarter", "half"):
        if first and line.tokens[first - 1].low == "a":
            first -= 1
        return (15 if low == "quarter" else 30), first
    figure = next((f for f in found if f.last == i and f.unit in (None, "minute")), None)
    if figure is None or figure.value not in (5, 10, 15, 20, 25):
        return None
    if figure.unit is None and not figure.number.words:
        return None
    return int(figure.value), figure.first


# ---------------------------------------------------------------- times of day


def _settle(line: Line, found: list[Figure], at: int, hour: float | None) -> None:
    """Decides whether a figure is a time of day or a count; sets its role and clock."""
    figure = found[at]
    number, tokens = figure.number, line.tokens
    after = tokens[figure.last].low if figure.last < len(tokens) else ""
    if number.sure_clock and number.clock is not None:
        _as_clock(figure, line, hour)
        return
    if figure.unit not in (None, "other") or figure.kind in ("ph", "water_activity"):
        return
    if number.clock is not None and _day_part(line, figure) is not None:
        _as_clock(figure, line, hour)
        return
    if figure.unit == "other":
        clocky = tokens[figure.last - 1].low in ("clock", "o'clock")
        if clocky and number.clock is not None:
            _as_clock(figure, line, hour)
        else:
            figure.role = "other"
        return
    if number.clock is not None and _told_as_time(line, found, at):
        _as_clock(figure, line, hour)
        return
    if "lost_point" in figure.codes and figure.alternatives and number.decimals == 2:
        # printed 1.69 for one sixty nine; the small value only fits where a unit says so
        figure.value, figure.alternatives = figure.alternatives[0], (figure.value,)
        return
    if _is_code(line, figure):
        figure.role = "id"
        return
    if _is_number_of_place(line, figure):
        figure.role = "id"
        return
    if _is_date(line, figure, after):
        figure.role = "date"
        return
    if _is_count(line, figure):
        figure.role = "count"


def _day_part(line: Line, figure: Figure) -> int | None:
    """End token of `am`, `pm`, `this morning`, `o'clock` after the figure, or None."""
    tokens, i = line.tokens, figure.last
    if i >= len(tokens):
        return None
    low = tokens[i].low
    if low in ("am", "pm", "o'clock", "oclock"):
        return i + 1
    if low in ("a", "p") and i + 2 < len(tokens) and tokens[i + 1].low == "." and tokens[i + 2].low == "m":
        return i + 3
    if low in ("a", "p") and i + 1 < len(tokens) and tokens[i + 1].low == "m":
        return i + 2
    two = " ".join(token.low for token in tokens[i : i + 2])
    three = " ".join(token.low for token in tokens[i : i + 3])
    if figure.value <= 12 or figure.number.decimals == 2 or figure.value >= 100:
        if two in ("this morning", "this afternoon", "this evening", "last night", "yesterday morning"):
            return i + 2 if figure.value <= 12 or figure.number.decimals == 2 or _four(figure) else None
        if three in ("in the morning", "in the afternoon", "in the evening", "at night"):
            return i + 3
    if low == "tonight" and figure.value <= 12:
        return i + 1
    return None


def _four(figure: Figure) -> bool:
    return figure.value >= 600


def _told_as_time(line: Line, found: list[Figure], at: int) -> bool:
    figure = found[at]
    number, tokens = figure.number, line.tokens
    i = figure.first - 1
    low = tokens[i].low if i >= 0 else ""
    two = tokens[i - 1].low if i >= 1 else ""
    after = tokens[figure.last].low if figure.last < len(tokens) else ""
    value = figure.value
    looks = number.decimals == 2 or (100 <= value < 2400 and value == int(value))
    if _was_clock(line, found, at) and (looks or value <= 12):
        return True
    if low in _STICKERS and (looks or value <= 12) and number.decimals in (0, 2):
        return True
    if low == "at" and value <= 12 and number.decimals == 0 and not number.lone_one and figure.unit is None:
        if two in ("morning", "afternoon", "evening", "night", "tonight", "yesterday", "today"):
            return True
        if (
            i >= 1
            and line.classes[i - 1] in ("verbs", "pronouns", "prepositions")
            and not _freezing(line, figure)
        ):
            return True
    if low == "since" or (
        low in ("by", "until", "till", "before", "til")
        and two not in ("off", "out", "over", "under", "high", "low")
    ):
        return number.decimals == 2 or value <= 12 or looks
    if value >= 600 and number.decimals == 0:
        return True
    previous = found[at - 1] if at else None
    if low in ("at", "by", "around", "about", "@", "from", "to", "now") and (looks or value <= 12):
        if previous is not None and previous.role == "clock" and low in ("to", "from"):
            return True
        if (
            previous is not None
            and previous.role in ("figure", "limit")
            and previous.kind in (None, "temperature")
            and previous.last >= i - 3
            and line.sentence[previous.first] == line.sentence[figure.first]
            and not any(
                line.classes[n] == NOUN or tokens[n].low in (",", "and", "it", "then")
                for n in range(previous.last, i)
            )
            and low in ("at", "by", "around", "about", "@")
            and (number.decimals == 2 or not 100 <= value < 600 or _bridge(line, previous.last, i))
        ):
            return True
        if (
            two in _CLOCK_VERBS
            or (
                two in ("in", "on", "out", "it", "off", "up", "them", "this", "down", "here")
                and _verb_before(line, i - 1)
            )
        ) and low in ("at", "around", "about", "by", "from"):
            return number.decimals == 2 or value <= 12 or value >= 600
    if number.decimals == 2:
        if value >= 2.26 or low in (
            "tagged",
            "stamped",
            "marked",
            "dated",
            "labeled",
            "labelled",
            "tag",
            "sticker",
        ):
            return True
        if low in (",", "again") and after in ("they", "it", "he", "she"):
            return True
        if low == "at" and (
            i == line.starts[line.sentence[i]]
            or two in (",", "and", "now", "then", "again")
            or line.classes[i - 1] == "number"
        ):
            return after in _PERSONS or after == ","
        if (
            low in ("at", "now", "'s")
            and after in ("it", "they", "he", "she", "now")
            and two in ("it", "checked", "now", "at", ",", "")
        ):
            return True
        if low == "," and two == "now":
            return True
        if low == "now" and value >= 3:
            return True
        return value >= 3 and low in ("to", "'s", "is", ",") and "lost_point" not in figure.codes
    if (
        value <= 12
        and number.decimals == 0
        and low == "at"
        and after in ("it", "they", "he", "she", "and")
        and not number.lone_one
    ):
        at_place = i >= 1 and line.chunk_at[i - 1] >= 0 and line.chunks[line.chunk_at[i - 1]].sort == "place"
        return i == line.starts[line.sentence[i]] or two in (",", "and", "then") or at_place
    if (
        looks
        and number.words
        and number.decimals == 0
        and low == "at"
        and after in ("it", "they", "he", "she")
    ):
        return i == line.starts[line.sentence[i]] or two in (",", "and", "then")
    return False


_BRIDGE = word_set("degrees degree deg f or so back internal right again f fahrenheit recorded logged")


def _bridge(line: Line, first: int, last: int) -> bool:
    """Nothing but a unit between a figure and `at`: `135 at 145`, and not `141, the second at 139`."""
    return all(line.tokens[n].low in _BRIDGE for n in range(first, last))


_STICKERS = word_set("sticker stickers tag tags tagged stamped stickered")


def _freezing(line: Line, figure: Figure) -> bool:
    first, end = line.sentence_span(figure.first)
    return any(token.stem in ("freezer", "frozen", "fre") for token in line.tokens[first:end])


def _was_clock(line: Line, found: list[Figure], at: int) -> bool:
    """The second half of `from 11.30 to 3.30`, `12.13, correction, 12.30`."""
    if not at:
        return False
    previous, figure = found[at - 1], found[at]
    if previous.role != "clock" or line.sentence[previous.first] != line.sentence[figure.first]:
        return False
    between = [line.tokens[n].low for n in range(previous.last, figure.first)]
    if between and all(
        word
        in (
            "to",
            "until",
            "till",
            "and",
            "through",
            "-",
            "no",
            ",",
            "correction",
            "sorry",
            "make",
            "that",
            "wait",
            "uh",
            "i",
            "mean",
            "or",
        )
        for word in between
    ):
        if figure.number.decimals != 2 and figure.value < 600:
            told = {
                "to",
                "until",
                "till",
                "through",
                "-",
                "correction",
                "sorry",
                "no",
                "make",
                "mean",
                "wait",
            }
            return bool(told & set(between))
        return "and" not in between or figure.number.decimals == 2
    return False


def _verb_before(line: Line, i: int) -> bool:
    return any(line.tokens[n].low in _CLOCK_VERBS for n in range(max(0, i - 4), i))


def _as_clock(figure: Figure, line: Line, hour: float | None) -> None:
    assert figure.number.clock is not None
    figure.role = "clock"
    end = _day_part(line, figure)
    half: str | None = None
    if end is not None:
        said = " ".join(token.low for token in line.tokens[figure.last : end])
        if said.startswith("a") or "morning" in said:
            half = "am"
        elif said.startswith("p") or "afternoon" in said or "evening" in said or "night" in said:
            half = "pm"
        figure.last = end
    figure.clock = _resolved(figure.number.clock, half, hour)


def _resolved(pair: tuple[int, int], half: str | None, hour: float | None) -> str:
    """24-hour time. Of the two halves of the day, the one last past when it was said, unless it was named."""
    hours, minutes = pair
    if half == "am":
        hours = hours % 12
    elif half == "pm":
        hours = hours % 12 + 12
    elif 1 <= hours <= 12:
        early, late = hours % 12, hours % 12 + 12
        if hour is None:
            hours = late if hours < 6 or hours == 12 else early
        else:
            hours = min((early, late), key=lambda h: _how_far(h + minutes / 60, hour))
    return f"{hours:02d}:{minutes:02d}"


def _how_far(clock: float, said: float) -> float:
    """Hours between a time and when it was said; what is an hour or more ahead counts as less likely."""
    ahead = clock - said
    return -ahead if ahead <= 0 else ahead if ahead <= 1 else ahead + 9


# ---------------------------------------------------------------- what is no measurement


_DATED = word_set("""dated date made opened expired expires sell best use stamped marked prepped prepared thawed
  january february march april june july august september october november december jan feb mar apr jun jul aug sep
  sept oct nov dec""")


def _is_date(line: Line, figure: Figure, after: str) -> bool:
    i = figure.first - 1
    low = line.tokens[i].low if i >= 0 else ""
    months = [
        "january",
        "february",
        "march",
        "april",
        "june",
        "july",
        "august",
        "september",
        "october",
        "november",
        "december",
    ]
    if (
        low in months
        or after in months
        or (low == "may" and figure.value <= 31 and i > 0 and line.tokens[i - 1].low in ("on", "of", "dated"))
    ):
        return True
    return (
        low == "the"
        and figure.number.words is False
        and figure.value <= 31
        and after in ("st", "nd", "rd", "th")
    )


def _is_code(line: Line, figure: Figure) -> bool:
    """Part of a section number such as 3-501.16."""
    tokens, i = line.tokens, figure.first
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


def _is_number_of_place(line: Line, figure: Figure) -> bool:
    """`walk-in two`, `reach-in 3`: which of several, not what it reads."""
    i = figure.first - 1
    if i < 0 or figure.unit is not None or figure.value > 12 or figure.value < 1 or figure.number.decimals:
        return False
    at = line.chunk_at[i]
    if at < 0 or line.chunks[at].place is None or line.chunks[at].last != figure.first:
        return False
    place = line.chunks[at].place
    if figure.number.words:
        return True
    follows = line.tokens[figure.last] if figure.last < len(line.tokens) else None
    ends = follows is None or (follows.kind == "mark" and follows.low != ",")
    return not (ends or (place is not None and place.stage == "freezing"))


_AFTER_READING = word_set("internal inside even flat exactly plus")


def _is_count(line: Line, figure: Figure) -> bool:
    """A number of things (`two bulbs`, `3 employees`) or `one` as a pronoun, rather than a measurement."""
    number, i = figure.number, figure.last
    if number.lone_one:
        return True
    if number.decimals or figure.value < 0 or figure.value > 24 or figure.value != int(figure.value):
        return False
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
            one.range_with, two.range_with = at + 1, at
        elif between not in (["and"], ["or"], [","], [",", "and"], ["and", "then"]):
            continue
        if one.kind is None and two.kind is not None and two.kind != "none" and one.unit is None:
            if two.kind in ("duration",) and one.range_with is None:
                continue
            one.unit, one.kind = two.unit, two.kind


def hour_of(clock: str) -> float:
    """HH:MM as hours of the day."""
    return int(clock[:2]) + int(clock[3:]) / 60


__all__ = ["Figure", "Token", "figures", "hour_of"]
