"""Words around a bare figure that make it a time of day: `toss 3`, `my watch says 2.15`, `now eleven`."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.words.line import Line
from extract.words.text import word_set

_STARTED = word_set("out discard toss start started starts end ends due gone done")
_CAME_OFF = word_set("off pulled cooked started began finished panned")
_CAME = word_set("came went put took pulled made started left since out off opened")


def leads_time(line: Line, figure: Figure) -> bool:
    """`toss 3`, `in at 4, out at 8`, `they came out of the fryer around 11`: nothing but a time follows such
    words."""
    tokens, i = line.tokens, figure.first - 1
    low = tokens[i].low if i >= 0 else ""
    after = tokens[figure.last] if figure.last < len(tokens) else None
    closed = (
        after is None or after.kind == "mark" or after.low in ("and", "so", "but", "out", "today", "then")
    )
    if not closed or figure.unit is not None or figure.number.lone_one:
        return False
    if low in _STARTED:
        return low != "out" or (i > 0 and tokens[i - 1].kind == "mark") or figure.value >= 100
    if low == "at" and i and tokens[i - 1].low in ("in", "out", "back"):
        return figure.value <= 12
    if low == "at" and figure.value == int(figure.value) and 1 < figure.value <= 12:
        first, _ = line.sentence_span(figure.first)
        return any(token.low in _CAME_OFF for token in tokens[max(first, i - 5) : i])
    if low not in ("around", "about", "since", "@") or figure.value > 12:
        return False
    first, _ = line.sentence_span(figure.first)
    return any(token.low in _CAME for token in tokens[max(first, i - 7) : i])


_PERSONS = word_set("it they he she i we")
_LATE_LEADS = word_set("at around about by since till to until")


def when(line: Line, figure: Figure) -> bool:
    """`at one thirty I sat down`, `a truck at two thirty`, `between nine and two`: told of what people do."""
    number, tokens, i = figure.number, line.tokens, figure.first - 1
    if figure.unit is not None or number.clock is None or number.decimals or i < 0:
        return False
    low = tokens[i].low
    after = tokens[figure.last].low if figure.last < len(tokens) else ""
    if number.words and low in _LATE_LEADS and 215 <= figure.value < 600:
        return True
    if low in ("at", "around", "about") and after in _PERSONS and figure.value >= 100:
        begins = i == line.starts[line.sentence[i]] or tokens[i - 1].low in (",", "and", "house", "then")
        return begins or (number.words and low != "at")
    if figure.value > 12 or not number.words or number.lone_one:
        return False
    if low == "between" or (low == "and" and i > 1 and tokens[i - 2].low == "between"):
        return True
    small = line.classes[i - 1] in ("predicates", "adverbs", "verbs", "pronouns") if i else False
    return low == "at" and small and after in ("and", "so", "but", "when")


def by_now(line: Line, found: list[Figure], at: int) -> bool:
    """`made at nine, it's one thirty now and it's 88`, `since six, now eleven, 54`: a later time beside an
    earlier one, with the figure still to come."""
    figure, tokens = found[at], line.tokens
    earlier = any(one.role == "clock" for one in found[:at])
    later = any(two.first > figure.last for two in found[at + 1 :])
    if not earlier or figure.number.clock is None or figure.unit is not None:
        return False
    before = tokens[figure.first - 1].low if figure.first else ""
    after = tokens[figure.last].low if figure.last < len(tokens) else ""
    if not later and figure.number.decimals == 2 and before in ("is", "'s") and after in ("", ".", ",", ";"):
        return True  # `120, pulled at 1.15 and it's 1.50`
    if not later:  # `tag says 11, it's 1 now`
        timed = any(token.low in _TIMERS for token in tokens[: figure.first])
        return timed and after == "now" and before in ("is", "'s") and figure.value <= 12
    if after == "now":
        return before in (",", "is", "'s", ".", "and", "so")
    return before == "now" and after in (",", "and", ".") and figure.value <= 12


_ILL = word_set("""vomited vomit vomits vomiting puked puking sick ill diarrhea diarrhoea threw throwing
toilet slept woke fever feverish""")
_HOUR_LEADS = word_set("at around about again and")


def of_illness(line: Line, figure: Figure) -> bool:
    """`she threw up in the night, at 11 and at 3`: hours of what people went through, no temperatures."""
    first, end = line.sentence_span(figure.first)
    low = line.tokens[figure.first - 1].low if figure.first > first else ""
    if figure.unit is not None or figure.number.decimals or figure.value > 12 or low not in _HOUR_LEADS:
        return False
    lows = {token.low for token in line.tokens[first:end]}
    ill = next((n for n in range(figure.first - 1, first - 1, -1) if line.tokens[n].low in _ILL), None)
    if ill is None or not lows & _PEOPLE:
        return False
    between = {line.chunk_at[n] for n in range(ill + 1, figure.first) if line.chunk_at[n] >= 0}
    return all(line.chunks[at].sort == "thing" and not line.chunks[at].known_food for at in between)


_PEOPLE = word_set("he she they who somebody someone i we cook server waiter waitress dishwasher cashier")


def opens_with(line: Line, found: list[Figure], at: int) -> bool:
    """`2.20 it gave me 151`, `he warms them through, 1.50 he has 171`: a time and then who or what shows the
    figure."""
    figure, tokens, end = found[at], line.tokens, found[at].last
    first, _ = line.sentence_span(figure.first)
    if figure.number.decimals != 2 or figure.unit is not None or end + 1 >= len(tokens):
        return False
    before = tokens[figure.first - 1] if figure.first > first else None
    if before is not None and before.kind != "mark" and before.low not in ("and", "then", "but", "so"):
        return False
    follows = found[at + 1] if at + 1 < len(found) else None
    told = tokens[end].low in _PERSONS and line.classes[end + 1] in ("verbs", "links", "auxiliaries")
    return (
        told
        and follows is not None
        and follows.value > 12
        and line.sentence[follows.first] == line.sentence[figure.first]
        and not any(tokens[n].kind == "mark" for n in range(end, follows.first))
    )


_TIMERS = word_set("""dot dots chip chips tag tags sticker stickers stamp stamps watch wristwatch clock timer
timers phone label ticket time sheet log board""")
_TELLS = word_set("says say said reads read shows show is 's has from at was of marked stamped reading got")
_SURELY = word_set("watch wristwatch clock timer timers phone time")
"""Things that show nothing but a time."""
_WATCHES = word_set("watch wristwatch clock")


def on_a_timer(line: Line, figure: Figure) -> bool:
    """`its dot says 1.50`, `tag on the wraps says 915`, `my watch says 2.15`: told by what shows the time."""
    tokens, first = line.tokens, line.sentence_span(figure.first)[0]
    i = figure.first - 1
    while i >= first and tokens[i].low in _TELLS:
        i -= 1
    if i < first or (i == figure.first - 1 and tokens[i].low not in _WATCHES):
        return False
    for n in range(i, max(first - 1, i - 6), -1):
        low = tokens[n].low
        if low in _TIMERS:
            printed = (
                figure.number.decimals == 2 or low in _SURELY or low not in ("sheet", "log", "board", "label")
            )
            return printed and (n == i or line.classes[n + 1] == "prepositions")
        if tokens[n].kind in ("mark", "number") or line.classes[n] in ("verbs", "links", "conjunctions"):
            return False
    return False


def then_pronoun(line: Line, i: int) -> bool:
    """`and now, what is it, 1.55, it's at 92`: what is read is still to come."""
    after = [token.low for token in line.tokens[i : i + 4]]
    if after[:1] == [","]:
        after = after[1:]
    return (
        len(after) >= 2
        and after[0] in ("it", "they", "he", "she")
        and after[1] in ("'s", "'re", "is", "are", "at")
    )


def read_at(line: Line, found: list[Figure], at: int) -> bool:
    """The 4.08 of `reading at 2.20 is 4.08`: what was read at a time, and no other time."""
    if not at:
        return False
    one, two = found[at - 1 : at + 1]
    between = [token.low for token in line.tokens[one.last : two.first]]
    led = one.first > 0 and line.tokens[one.first - 1].low == "at"
    return led and one.number.clock is not None and between in (["is"], ["was"], ["reads"], ["read"])
