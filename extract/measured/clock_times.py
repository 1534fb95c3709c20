"""Which reading a time of day belongs to."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.measured.cooling_since import began_at
from extract.words.line import Line
from extract.words.people import people
from extract.words.text import word_set


def attach_clocks(line: Line, found: list[Figure]) -> int:
    """Gives readings the time said for them (`135 at 9:15`, `at 2:30 it was 88`); returns how many got
    one."""
    count = _in_turn(found, line)
    for at, figure in enumerate(found):
        if figure.role != "figure":
            continue
        if figure.clock is not None:
            count += figure.number.glued is not None
            continue
        clock = (
            _clock_beside(line, found, at) or _clock_after(line, found, at) or _clock_before(line, found, at)
        )
        if clock is not None and _of_before(line, figure, clock):
            continue
        if clock is not None and figure.kind in (None, "temperature"):
            figure.clock = clock.clock
            clock.why = "taken"
            count += 1
    for figure in found:
        other = found[figure.range_with] if figure.range_with is not None else None
        if other is not None and figure.clock is None and "figure" == figure.role == other.role:
            figure.clock = other.clock  # `between 149 and 156 at 18.40`
    return count


def _in_turn(found: list[Figure], line: Line) -> int:
    """`at 9 a.m. 140, ten thirty 128, at noon 95`: times and figures that take turns through a sentence, two
    of each or more, so that each time belongs to the figure on the same side of it. Returns how many."""
    count = 0
    for number in range(len(line.starts)):
        turns = [
            figure
            for figure in found
            if line.sentence[figure.first] == number and figure.role in ("figure", "clock")
        ]
        pairs = list(zip(turns[::2], turns[1::2], strict=False))
        if len(turns) < 4 or len(turns) % 2:
            continue
        for clocks, figures in ((0, 1), (1, 0)):
            if all(
                pair[clocks].role == "clock"
                and pair[figures].role == "figure"
                and pair[figures].clock is None
                and pair[figures].kind in (None, "temperature")
                for pair in pairs
            ):
                for pair in pairs:
                    pair[figures].clock, pair[clocks].why = pair[clocks].clock, "taken"
                count += len(pairs)
    return count


def _clock_beside(line: Line, found: list[Figure], at: int) -> Figure | None:
    """`9 am 135, 10 am 101`: the time stands right in front of its figure."""
    other = found[at - 1] if at else None
    if other is None or other.role != "clock" or other.why == "taken":
        return None
    between = [token.low for token in line.tokens[other.last : found[at].first]]
    told = line.tokens[other.first - 1].low if other.first else ""
    spaced = at >= 2 and any(
        line.tokens[n].kind == "mark" for n in range(found[at - 2].last, other.first)
    )  # `165, rests, at 4 it was 130`
    alone = told not in ("since", "until", "till", "from", "to", "by") and not (
        at >= 2 and found[at - 2].role == "figure" and told in ("at", "@") and not (spaced and between)
    )
    if alone and between and set(between) <= _THEN_WRITTEN and not _WRITTEN.isdisjoint(between):
        return other  # `nothing till the janitor looked at 5.30, and he put down 45`
    return other if alone and all(low in ("it", "was", "is", "'s", "at") for low in between) else None


def _of_before(line: Line, figure: Figure, clock: Figure) -> bool:
    """`in cold at 8.40, 112 now`: the time of what was done before, and the figure is of now."""
    if clock.first < 2 or clock.first > figure.first or figure.last >= len(line.tokens):
        return False
    done = line.tokens[clock.first - 1].low == "at" and line.tokens[clock.first - 2].kind == "word"
    return done and line.tokens[figure.last].low == "now"


_WRITTEN = word_set("put wrote marked logged recorded noted")
_THEN_WRITTEN = _WRITTEN | word_set(", and he she they somebody it was down as at then")


def _clock_after(line: Line, found: list[Figure], at: int) -> Figure | None:
    figure = found[at]
    best = None
    for other in found[at + 1 : at + 4]:
        if other.role != "clock" or line.sentence[other.first] != line.sentence[figure.first]:
            break
        if _opens_next(line, found, other):
            break
        begin = best.last if best is not None else figure.last
        between = [line.tokens[n].low for n in range(begin, other.first)]
        if best is not None and not {"correction", "no", "sorry", "make", "wait", "actually", "mean"} & set(
            between
        ):
            break
        allowed = {
            "at",
            "@",
            "by",
            "around",
            "about",
            "or",
            "so",
            "right",
            "now",
            ",",
            "as",
            "of",
            "degrees",
            "internal",
            "and",
            "it",
            "'s",
            "correction",
            "no",
            "sorry",
            "make",
            "that",
            "wait",
        }
        if "and" in between and "it" not in between:
            break
        if all(
            word in allowed or line.classes[begin + n] in ("adverbs", "fillers")
            for n, word in enumerate(between)
        ):
            best = other
            continue
        break
    return best


def _opens_next(line: Line, found: list[Figure], clock: Figure) -> bool:
    """The time of `140, two thirty it's 98`, which belongs to the figure behind it."""
    after = [token.low for token in line.tokens[clock.last : clock.last + 2]]
    follows = next((figure for figure in found if figure.first >= clock.last), None)
    told = after in (["it", "'s"], ["it", "is"], ["it", "was"], ["they", "were"], ["they", "'re"])
    return told and follows is not None and follows.role == "figure" and follows.first == clock.last + 2


_STILL_HOT = 125.0
"""Degrees Fahrenheit under which food has cooled since the time at which it came off: common practice, no
source."""


def _clock_before(line: Line, found: list[Figure], at: int) -> Figure | None:
    figure = found[at]
    if not at:
        return None
    other = found[at - 1]
    begin = other.last
    if other.kind == "duration" and at >= 2 and (ago := _ago(line, other)) is not None:
        begin, other = ago, found[at - 2]  # `at 10.30, which is four minutes ago, it was 77`
    if (
        other.role != "clock"
        or other.why == "taken"
        or line.sentence[other.first] != line.sentence[figure.first]
    ):
        # a time just before in the sentence before: `Came back at 10.35, it's at 174`
        return None
    between = line.tokens[begin : figure.first]
    lows = [token.low for token in between]
    if len(lows) > 7:
        return None
    if any(
        line.chunk_at[n] >= 0 and line.chunks[line.chunk_at[n]].sort in ("food", "place")
        for n in range(begin, figure.first)
    ):
        return None
    told = line.tokens[other.first - 1].low if other.first else ""
    if told in ("since", "until", "till", "before", "from", "to"):
        return None
    if figure.value < _STILL_HOT and lows[:1] != ["at"] and began_at(line, other):
        return None
    fits = {
        "it",
        "they",
        "he",
        "she",
        "was",
        "is",
        "'s",
        "at",
        ",",
        "and",
        "read",
        "reads",
        "had",
        "were",
        "reading",
        "wrote",
        "log",
        "the",
        "i",
        "got",
        "gave",
        "gives",
        "me",
        "us",
        "have",
        "has",
        "shows",
        "showed",
        "measured",
        "now",
        "checked",
        "with",
        "on",
        "my",
        "own",
        "mine",
        "probe",
        "thermometer",
    }
    staff = {
        n
        for start, end, _ in people().words.find(line.tokens, begin, figure.first)
        for n in range(start, end)
    }
    if all(
        low in fits
        or low in _PAPERS
        or begin + n in staff
        or line.classes[begin + n] in ("adverbs", "fillers", "links", "auxiliaries")
        for n, low in enumerate(lows)
    ):
        return other
    return None


_PAPERS = word_set("sheet chart record book recorder says said their his her our")


def _ago(line: Line, span: Figure) -> int | None:
    """End token of `four minutes ago`."""
    end = span.last
    return end + 1 if end < len(line.tokens) and line.tokens[end].low == "ago" else None
