"""Times of day among the figures of an utterance: `9.15`, `1145`, `quarter past two`, `noon`."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.figures.halves import half_told
from extract.figures.heat import just_so_hot
from extract.figures.times_told import (
    by_now,
    leads_time,
    of_illness,
    on_a_timer,
    opens_with,
    read_at,
    then_pronoun,
    when,
)
from extract.words.line import NOUN, Line
from extract.words.text import word_set

_LATE = 300.0
"""A whole figure from which `on the dot` tells a time and no temperature: common practice, no source."""

_CLOCK_VERBS = word_set("""opened open made make started start arrived came got put set pulled prepped
tagged dated
  checked back marked stamped discard cooked went since delivered left dropped finished took out stopped
  began prep
  probed tested logged closed closes pull received reopened served cut eat eats ate serve serves serving begin
  begins starts leave leaves arrive arrives finish finishes lunch dinner breakfast supper brunch service shift
  doors pickup practice mass class recess""")


_PERSONS = word_set("it they he she we i that was the log 's is and")


_BRIDGE = word_set("degrees degree deg f or so back internal right again fahrenheit recorded logged")


def _bridge(line: Line, first: int, last: int) -> bool:
    """Nothing but a unit between a figure and `at`: `135 at 145`, and not `141, the second at 139`."""
    return all(line.tokens[n].low in _BRIDGE for n in range(first, last))


_DAY_WORDS = word_set("morning afternoon evening night tonight yesterday today close open")
"""In front of `at`: `this morning at 6`."""
_STICKERS = word_set("sticker stickers tag tags tagged stamped stickered")


def _freezing(line: Line, figure: Figure) -> bool:
    first, end = line.sentence_span(figure.first)
    return any(token.stem in ("freezer", "frozen", "fre") for token in line.tokens[first:end])


def day_part(line: Line, figure: Figure) -> int | None:
    """End token of `am`, `pm`, `this morning`, `o'clock` after the figure, or None."""
    tokens, i = line.tokens, figure.last
    if i >= len(tokens):
        return None
    low = tokens[i].low
    if low in ("am", "pm", "o'clock", "oclock"):
        return i + 1
    if low in ("a", "p") and i + 1 < len(tokens) and tokens[i + 1].low == "m":
        return i + 2
    if low in ("sharp", "on") and (figure.number.decimals == 2 or figure.value >= _LATE or low == "sharp"):
        if low == "sharp":
            return None if just_so_hot(line, figure) else i + 1
        if [token.low for token in tokens[i : i + 3]] in (["on", "the", "dot"], ["on", "the", "nose"]):
            return i + 3
    two = " ".join(token.low for token in tokens[i : i + 2])
    three = " ".join(token.low for token in tokens[i : i + 3])
    if figure.value <= 12 or figure.number.decimals == 2 or figure.value >= 100:
        if two in ("this morning", "this afternoon", "this evening", "last night", "yesterday morning"):
            return i + 2 if figure.value <= 12 or figure.number.decimals == 2 or _four(figure) else None
        if three in ("in the morning", "in the afternoon", "in the evening"):
            return i + 3
        if two == "at night":
            return i + 2
    if low == "tonight" and figure.value <= 12:
        return i + 1
    return None


def _four(figure: Figure) -> bool:
    return figure.value >= 600


def _on_a_label(line: Line, found: list[Figure], at: int) -> bool:
    """The strengths of `1100 ppm, label's 700 to 1850`."""
    begin = found[at - 1].first if at and found[at - 1].last == found[at].first - 1 else found[at].first
    first, _ = line.sentence_span(begin)
    before = line.tokens[max(first, begin - 3) : begin]
    labelled = any(token.low in ("label", "jug", "drum") for token in before)
    if labelled and any(figure.kind == "concentration" for figure in found):
        return True
    two = found[at + 1] if at + 1 < len(found) else None
    to = two is not None and [t.low for t in line.tokens[found[at].last : two.first]] in (
        ["to"],
        ["-"],
        ["through"],
    )
    return to and two is not None and two.value > 600 and two.number.clock is None  # `704 to 1875`


def _of_strength_or_light(line: Line, figure: Figure) -> bool:
    """The 610 of `meter's on lux, bagels 610`, the 1000 of `lactic acid, strip says 1000`."""
    if any(token.low == "lux" for token in line.tokens):
        return True
    first, end = line.sentence_span(figure.first)
    tested = any(
        token.low in ("strip", "strips", "ppm", "tests", "tested") for token in line.tokens[first:end]
    )
    low = line.tokens[figure.first - 1].low if figure.first else ""
    solution = any(agent != "hot_water" for _, _, (agent, _) in line.agents) and low not in _AT
    return (tested or solution) and figure.value % 50 == 0


_AT = word_set("at by since until till from before after around about to")


def told_as_time(line: Line, found: list[Figure], at: int) -> bool:
    figure = found[at]
    number, tokens = figure.number, line.tokens
    i = figure.first - 1
    low = tokens[i].low if i >= 0 else ""
    two = tokens[i - 1].low if i >= 1 else ""
    after = tokens[figure.last].low if figure.last < len(tokens) else ""
    value = figure.value
    looks = number.decimals == 2 or (100 <= value < 2400 and value == int(value))
    if _on_a_label(line, found, at) or read_at(line, found, at):
        return False
    if low == "at" and value >= 1300 and looks and value % 100 == 0 and number.clock is not None:
        return True  # `135 degrees at 16 hundred`
    if _was_clock(line, found, at) and (looks or value <= 12):
        return True
    if (looks or value <= 12) and number.decimals in (0, 2) and on_a_timer(line, figure):
        return True
    if low == "," and two == "now" and looks and number.clock is not None and after in ("", ".", ",", "and"):
        return True  # `91 on it now, 2 oh 2`
    told = leads_time(line, figure) or by_now(line, found, at) or when(line, figure)
    if (looks or value <= 12) and number.decimals == 0 and told:
        return True
    if number.decimals == 2 and by_now(line, found, at):
        return True
    if of_illness(line, figure) or opens_with(line, found, at):
        return True
    if number.decimals == 2 and low in (",", "now") and then_pronoun(line, figure.last):
        return True
    if low in _STICKERS and (looks or value <= 12) and number.decimals in (0, 2):
        return True
    if low == "at" and value <= 12 and number.decimals == 0 and not number.lone_one and figure.unit is None:
        if after == "," and _hot_next(found, at) and not _freezing(line, figure):
            return True
        following = found[at + 1] if at + 1 < len(found) else None
        if following is not None and following.first == figure.last and following.value >= _COOLED:
            return True  # `at 10 135, at 11 90`
        if number.words and after == "," and not _freezing(line, figure):
            return True  # `delivered at six, still on the floor`
        if two in _DAY_WORDS:
            return True
        if i >= 2 and two in ("is", "'s", "was") and tokens[i - 2].low in _CLOCK_VERBS:
            return True  # `lunch is at 11`
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
        return not _of_strength_or_light(line, figure)
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
            follows = found[at + 1].first == figure.last if at + 1 < len(found) else False
            return after in _PERSONS or after == "," or follows
        if (
            low in ("at", "now", "'s")
            and after in ("it", "they", "he", "she", "now")
            and two in ("it", "checked", "now", "at", ",", "")
        ):
            return True
        if low == "," and two == "now":
            return True
        if low == "now" and (value >= 3 or _figure_later(line, found, at)):
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


_COOLED = 34.0
_HOT = 60.0
"""A bare figure from which a small one in front of it is a time: common practice, no source."""


def _hot_next(found: list[Figure], at: int) -> bool:
    """`out of the kettle at 2, 141 then`: the figure follows on its time."""
    following = found[at + 1] if at + 1 < len(found) else None
    if following is None or following.unit is not None or following.first != found[at].last + 1:
        return False
    return (following.value >= _HOT and following.number.clock is None) or following.value >= 2 * _HOT


def _figure_later(line: Line, found: list[Figure], at: int) -> bool:
    """`and now 1.05 with my own I get 60`: the figure itself is still to come in the sentence."""
    if at + 1 >= len(found) or line.sentence[found[at + 1].first] != line.sentence[found[at].first]:
        return False
    between = range(found[at].last, found[at + 1].first)
    return any(line.classes[n] == "links" for n in between) and not any(
        line.tokens[n].low in ("and", "then") for n in between
    )


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
            listed = at >= 2 and found[at - 2].role == "clock" and "," in between
            return bool(told & set(between)) or listed
        return "and" not in between or figure.number.decimals == 2
    return False


def _verb_before(line: Line, i: int) -> bool:
    return any(line.tokens[n].low in _CLOCK_VERBS for n in range(max(0, i - 4), i))


def as_clock(figure: Figure, line: Line, hour: float | None) -> None:
    """Takes a figure for the time of day, its half by the words around. `hour`: when it was said."""
    assert figure.number.clock is not None
    figure.role = "clock"
    end = day_part(line, figure)
    half = half_told(line, figure, end, hour)
    figure.last = figure.last if end is None else end
    figure.clock = resolved(figure.number.clock, half, hour)


_GOES_ON = 8.0
"""Hours within which the next time of an utterance follows the one before: common practice, no source."""


def in_order(found: list[Figure], line: Line) -> None:
    """`135 at noon, by 6 it was 68`: where nothing tells the half of the day, times follow on."""
    for one, two in pairwise([figure for figure in found if figure.clock is not None]):
        begin, then, pair = hour_of(one.clock or ""), hour_of(two.clock or ""), two.number.clock
        if (
            pair is not None
            and pair[0] <= 12
            and one.number.clock is not None
            and one.number.clock[0] <= 12
            and not _half_named(line, two)
            and then < 12
            and then < begin < then + 12 <= begin + _GOES_ON
        ):
            two.clock = resolved(pair, "pm", None)


def _half_named(line: Line, clock: Figure) -> bool:
    """Whether `am`, `pm` or a part of the day stands behind a time."""
    told = {token.low for token in line.tokens[clock.first : clock.last]}
    return bool(told & _HALVES)


_HALVES = word_set("am pm a p m morning afternoon evening night tonight yesterday")


def resolved(pair: tuple[int, int], half: str | None, hour: float | None) -> str:
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


def hour_of(clock: str) -> float:
    """HH:MM as hours of the day."""
    return int(clock[:2]) + int(clock[3:]) / 60
