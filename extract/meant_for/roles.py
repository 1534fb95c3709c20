"""What a figure is for: a reading, a limit, a set point, a label's range, an earlier visit, a guess."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.figures.restated import STEADIED, steadied
from extract.meant_for.earlier_visits import earlier_times, of_earlier_time
from extract.meant_for.frozen import FROZEN, frozen_for
from extract.meant_for.mentions import mentioned
from extract.meant_for.papers import label_named, printed_on, turns_color
from extract.meant_for.reported import claimed, disclaimed, on_label, supposed, told_before
from extract.meant_for.said_limits import asked_too
from extract.meant_for.time_plans import note_plan
from extract.meant_for.told_rules import told_rule
from extract.words.lexicon import Lexicon
from extract.words.line import NOUN, Line
from extract.words.text import stem, word_set

_WINDOW = 9
_STOPS = frozenset((".", "!", "?", ";", "\n", ":"))
_HEDGES = {
    "about": "about",
    "around": "around",
    "roughly": "roughly",
    "almost": "almost",
    "nearly": "nearly",
    "approximately": "approximately",
    "maybe": "maybe",
    "just": "just",
    "barely": "barely",
    "probably": "probably",
}
_LEANING = word_set(
    "little bit hair tad touch shade whisker fraction smidgen just barely slightly well way smidge"
)
_STRICT = word_set("under over above below past")


def settle_roles(line: Line, found: list[Figure], words: Lexicon) -> None:
    """Gives each figure of the utterance its role, in place. Roles already settled stay."""
    rule_from: int | None = None
    told = words.roles_sentence.find(line.tokens) if found else []
    earlier = earlier_times(line) if found else []
    for at, figure in enumerate(found):
        if figure.role != "figure":
            continue
        first, last = line.sentence_span(figure.first)
        if rule_from is not None and line.sentence[rule_from] != line.sentence[figure.first]:
            rule_from = None
        if on_label(line, figure):
            for one in (figure, found[figure.range_with or at]):
                one.role, one.why = "label", line.words(figure.last, figure.last + 1)
            continue
        if steadied(line, figure):
            figure.why = STEADIED
            continue
        if frozen_for(line, found, at, first):
            figure.why = FROZEN
            continue
        hit = printed_on(line, figure, first) or _before(line, found, at, first, words)
        hit = hit or _after(line, found, at, last, words) or mentioned(line, found, at, first)
        hit = hit or told_rule(line, found, at, first)
        partner = found[figure.range_with] if figure.range_with is not None else None
        if hit is None and partner is not None and partner.first < figure.first and partner.role != "figure":
            hit = partner.role, partner.why
        if hit is None and told:
            hit = told_before(line, figure, first, told)
        if hit is None and earlier:
            hit = of_earlier_time(line, figure, first, earlier)
        if hit is None:
            hit = supposed(line, found, at, first, words) or claimed(line, figure)
        if hit is None:
            hit = _conditional(line, figure) or disclaimed(line, figure)
        if hit is None and at and _counted_on(line, found[at - 1], figure, words):
            hit = "count", line.words(found[at - 1].first, found[at - 1].last)
        if hit is None and at and _another_of(line, found[at - 1], figure):
            hit = "id", found[at - 1].why
        if hit is None and at and (_then_to(line, found, at) or asked_too(line, found[at - 1], figure)):
            hit = "limit", found[at - 1].why
        if hit is None and _compared(line, figure):
            hit = "limit", line.words(figure.first - 1, figure.first)
        if hit is None and rule_from is not None and _bare(line, found, at):
            hit = "limit", "rule"
        if hit is None and figure.unit is None and figure.value >= 215 and figure.number.decimals == 0:
            hit = _equipment(line, figure)
        if hit is not None and hit[0] in ("label", "claim") and _logged(line, found, at):
            hit = None
        if hit is not None and figure.kind == "pressure" and hit[1].lower() == "line is":
            hit = None  # `the pressure on that rinse line is 34`
        if hit is not None:
            figure.role, figure.why = hit
            if figure.role in ("previous", "claim") and figure.why.lower().startswith("all "):
                _whole_list(line, found, at)
            if figure.role == "limit" and ("rule" in figure.why or "code" in figure.why):
                rule_from = figure.first
            if partner is not None and partner.first < figure.first and partner.role == "figure":
                partner.role, partner.why = hit
        else:
            _hedge(line, figure)
    for figure in found:
        if figure.role == "figure" and figure.kind == "none":
            figure.role = "other"
    note_plan(line, found)


def _counted_on(line: Line, one: Figure, two: Figure, words: Lexicon) -> bool:
    """`ages 3 and 4`, `ages one to four`: the second of two counts."""
    between = [token.low for token in line.tokens[one.last : two.first]]
    if one.role != "count" or two.unit is not None or between not in (["and"], ["or"], ["to"], ["through"]):
        return False
    hit = words.roles_before.ending(line.tokens, one.first)
    return bool(one.why) or (hit is not None and hit[1] == "count")


def _logged(line: Line, found: list[Figure], at: int) -> bool:
    """`their sheet says 135 at 9:05`, `at 9:05 the sheet says 135`: a figure with its time was measured,
    and is no range or rule."""
    if at and found[at - 1].role == "clock":
        before = [token.low for token in line.tokens[found[at - 1].last : found[at].first]]
        told = line.tokens[found[at - 1].first - 1].low if found[at - 1].first else ""
        if told in ("at", "@") and len(before) <= 4 and _WRITTEN.intersection(before):
            return True
    if at + 1 >= len(found) or found[at + 1].role != "clock":
        return False
    return [token.low for token in line.tokens[found[at].last : found[at + 1].first]] in (["at"], ["@"])


def _another_of(line: Line, one: Figure, two: Figure) -> bool:
    """`stalls 2 and 5`, `rooms 12 to 14`: the second of two numbers that name."""
    between = [token.low for token in line.tokens[one.last : two.first]]
    plural = one.first > 0 and line.tokens[one.first - 1].low.endswith("s")
    return (
        one.role == "id"
        and two.unit is None
        and plural
        and between in (["and"], ["or"], ["to"], ["through"], [","])
    )


def _whole_list(line: Line, found: list[Figure], at: int) -> None:
    """`the log shows 38, 39, 38 all week`: what is said behind a bare list is said of all its figures."""
    while at and found[at - 1].role == "figure" and _bare(line, found, at):
        found[at - 1].role, found[at - 1].why = found[at].role, found[at].why
        at -= 1


def _before(line: Line, found: list[Figure], at: int, first: int, words: Lexicon) -> tuple[str, str] | None:
    """The role that words in front of the figure give it: they reach over small words, never over another
    figure."""
    figure = found[at]
    tokens = line.tokens
    floor = first
    if at and found[at - 1].last > first:
        floor = found[at - 1].last if not _joined(found, at) else found[at - 1].first
    end = figure.first
    steps = 0
    while end > floor and steps <= _WINDOW:
        hit = words.roles_before.ending(tokens, end)
        if hit is not None and hit[0] >= floor:
            if hit[1] == "id" and end != figure.first:
                hit = None
            elif _fits(line, figure, hit[1], hit[0], end):
                return hit[1], line.words(hit[0], end)
        low = tokens[end - 1].low
        kind = line.classes[end - 1]
        if low in (",", ":") and (named := label_named(line, found, at, floor, end - 1, words)) is not None:
            return named
        if low in _STOPS or kind == NOUN or kind in ("verbs", "conjunctions"):
            return None
        if low == ",":
            return None
        end -= 1
        steps += 1
    return None


_CHANGES = frozenset(map(stem, ("dropped", "lost", "climbed", "rose", "fell", "cooled", "warmed")))
_DONE = ("reheated", "heated", "cooked", "brought", "got")
"""Verbs of what was done, where the same in another form gives a limit: `they reheated it to 168`."""


def _joined(found: list[Figure], at: int) -> bool:
    """The second of a range shares what stands before the first."""
    return found[at].range_with == at - 1


def _fits(line: Line, figure: Figure, role: str, start: int, end: int) -> bool:
    """Whether a role phrase really speaks of this figure."""
    text = " ".join(token.low for token in line.tokens[start:end])
    between = [token.low for token in line.tokens[end : figure.first]]
    if role == "limit":
        if text in ("tops out at", "topping out at") and _of_water(line, start):
            return False
        if text.startswith("should") and (between or text.endswith(" at")) and _in_good_order(line, start):
            figure.why = line.words(start - 2, end)
            return False  # `on the bottom shelf where it should be, at 36`, printed without its comma
        if text in ("past",) and figure.kind != "duration" and "way" not in between:
            return False
        if text in ("need", "needs", "want", "wants", "needed", "require", "requires") and any(
            word in ("see", "look", "check") for word in between
        ):
            return False
        if text in ("until", "till", "til") and (figure.clock or line.classes[start - 1] == "determiners"):
            return False  # `by the till, 40` names a place
        if text.startswith("not ") or text in ("shy of", "short of", "away from", "it 's not"):
            return not any(word in ("but", "it", "only") for word in between)
        if text.endswith(("under", "over", "above", "below")) and _LEANING & set(between):
            return False
        if text == "at least" and figure.kind == "duration":
            return False
    if role == "set_point" and text == "cooked overnight at":
        return True
    if role == "set_point" and figure.value < _OVENS_FROM and _out_of(line, start):
        return False
    if role == "count":
        return figure.unit is None and figure.value == int(figure.value)
    if role == "id":
        if text == "day" or (text == "room" and figure.value < 100):
            return False
        if text in ("bay", "unit", "stage", "phase", "line number") and figure.value > 24:
            return False
        return figure.unit is None and figure.value == int(figure.value) and figure.value < 1000
    if role == "difference" and text in ("off about", "within"):
        return text == "within"
    if role == "difference" and end == start + 1 and line.tokens[start].stem in _CHANGES:
        return figure.unit == "deg" and end == figure.first
    if role == "limit" and text.split()[0] in _DONE and not text.startswith("got to "):
        return line.tokens[start - 1].low in ("be", "get", "to") if start else False
    if role == "hypothetical":
        shown = {token.low for token in line.tokens[max(0, start - 3) : start]}
        return not (text == "goes to" and shown & _SHOWS)
    if turns_color(line, role, start):
        return False
    if role == "label":
        # water activity is measured in a laboratory, whose letter is the reading
        return figure.kind != "water_activity" and not ({"strip", "reads", "mine"} & set(between))
    return True


_WRITTEN = word_set("log logs sheet chart record records recorder printout")
_PROBED = word_set("measured found got get have had probed temped checked took read tested")
_OVENS_FROM = 215.0
"""°F above which a figure after an oven is the oven's own; no food or water gets so hot."""


def _out_of(line: Line, at: int) -> bool:
    """`comes out the oven at 171`, `I measured the wings in the oven at 171`: the food that comes out or
    is probed there, not what the oven is set to."""
    chunk = line.chunks[line.chunk_at[at]] if line.chunk_at[at] >= 0 else None
    first, _ = line.sentence_span(at)
    if chunk is None or chunk.place is None or chunk.place.stage != "cooking":  # `come out the oil at 159`
        return [token.low for token in line.tokens[max(first, at - 2) : at]] == ["out", "the"]
    if any(line.tokens[n].low in _WRITTEN for n in range(first, at)):
        return False  # `the log says it came out of the oven at 131`
    of = "out" in [token.low for token in line.tokens[max(first, chunk.first - 3) : chunk.first]]
    probed = chunk.preposition in ("in", "on", "inside") and any(
        token.low in _PROBED and n and line.tokens[n - 1].low in ("i", "we", "and")
        for n, token in enumerate(line.tokens[first:at], first)
    )
    return of or probed or chunk.preposition in ("from", "off")


_SHOWS = word_set("paper strip card dial needle meter gauge probe thermometer display screen readout")


def _of_water(line: Line, at: int) -> bool:
    """`the hand sink tops out at 79`: as hot as it gets, measured."""
    first, _ = line.sentence_span(at)
    if any(line.classes[n] == "number" for n in range(first, at)):
        return False  # `final rinse 203, tops out at 194`
    here = [chunk for chunk in line.chunks if first <= chunk.first < at]
    return any(
        (chunk.place is not None and chunk.place.stage in ("handwashing", "machine", "warewashing"))
        or (chunk.object is not None and chunk.object.what in ("water", "wash", "rinse"))
        for chunk in here
    )


def _in_good_order(line: Line, start: int) -> bool:
    """`where it should be`, `as they should be`: says that all is well, and sets no limit."""
    before = [token.low for token in line.tokens[max(0, start - 2) : start]]
    return len(before) == 2 and before[0] in ("where", "as", "like", "how") and before[1] in _PRONOUNS


_PRONOUNS = word_set("it they he she everything that this")


def _after(line: Line, found: list[Figure], at: int, last: int, words: Lexicon) -> tuple[str, str] | None:
    figure = found[at]
    tokens = line.tokens
    ceiling = found[at + 1].first if at + 1 < len(found) else last
    i = figure.last
    steps = 0
    while i < min(last, ceiling + 4) and steps < 3:
        hit = words.roles_after.at(tokens, i)
        if hit is not None and hit[0] <= last:
            text = " ".join(token.low for token in tokens[i : hit[0]])
            small = text in ("off", "low", "high")
            if text in _SHORT and not _short_by(line, figure, hit[0]):
                return None
            if hit[1] == "difference" and (figure.kind == "length" or (small and figure.value > 15)):
                return None
            if (
                hit[1] == "limit"
                and text in ("required", "limit", "rule", "minimum", "max", "maximum", "tops")
                and steps
            ):
                return None
            if hit[1] == "previous" or steps == 0 or hit[1] == "label":
                return hit[1], line.words(i, hit[0])
        if tokens[i].low in _STOPS or tokens[i].low == ",":
            return None
        if line.classes[i] in ("links", "verbs", "conjunctions"):
            return None
        if line.classes[i] == NOUN and steps:
            return None
        i += 1
        steps += 1
    return None


def _conditional(line: Line, figure: Figure) -> tuple[str, str] | None:
    """`under 135 it goes back in the oven`: what is to be done on one side of a figure, not what was read."""
    i, tokens, end = figure.first - 1, line.tokens, figure.last
    if i < 0 or tokens[i].low not in ("under", "over", "above", "below", "past", "beyond"):
        return None
    if end < len(tokens) and tokens[end].low == ",":
        end += 1
    if end + 1 >= len(tokens) or tokens[end].low not in _DOERS:
        return None
    if line.classes[end + 1] not in ("verbs", "auxiliaries", "links"):
        return None
    if i and line.classes[i - 1] in ("links", "auxiliaries"):
        return None
    return "hypothetical", line.words(i, i + 1)


_DOERS = word_set("it they you we that those")

_SHORT = ("over", "under", "short", "shy")
_MOST_SHORT = 25.0
"""Degrees up to which a bare `three over` is a difference: common practice, no source."""


def _short_by(line: Line, figure: Figure, end: int) -> bool:
    """`that's three over.`, `115, 20 short`: how far off, with nothing behind it."""
    closed = end >= len(line.tokens) or line.tokens[end].kind == "mark"
    return closed and figure.value <= _MOST_SHORT and figure.unit in (None, "deg")


def _then_to(line: Line, found: list[Figure], at: int) -> bool:
    """`cool from 135 to 70 in two hours, then to 41`: the next target of a rule said aloud."""
    earlier = [
        f
        for f in found[:at]
        if line.sentence[f.first] == line.sentence[found[at].first] and f.kind != "duration"
    ]
    if not earlier or earlier[-1].role != "limit":
        return False
    return line.tokens[found[at].first - 1].low == "to" and _bare(line, found, at)


_ALL_OR_NONE = word_set("nothing none not no never neither everything anything")


def _compared(line: Line, figure: Figure) -> bool:
    """`the plates are over 160`: a comparison, not a figure that was read. `reads over 200` is one."""
    i = figure.first - 1
    if i < 1 or line.tokens[i].low not in _STRICT or figure.kind == "duration":
        return False
    if any(token.low in _ALL_OR_NONE for token in line.tokens[max(0, i - 4) : i]):
        return True
    first, end = line.sentence_span(figure.first)
    if any(token.stem in ("strip", "ppm") for token in line.tokens[first:end]):
        return False
    before = i - 1
    while before >= 0 and line.tokens[before].low in (
        "all",
        "still",
        "both",
        "well",
        "just",
        "now",
        "up",
        "not",
    ):
        if line.tokens[before].low in ("well", "just"):
            return False
        before -= 1
    return before >= 0 and line.tokens[before].low in (
        "is",
        "are",
        "was",
        "were",
        "'s",
        "'re",
        "be",
        "everything",
        "stay",
        "stays",
    )


def _bare(line: Line, found: list[Figure], at: int) -> bool:
    """No noun phrase of its own: `old rule said 100 but it's 85 now`."""
    previous = found[at - 1]
    return not any(line.classes[n] == NOUN for n in range(previous.last, found[at].first))


_HEATED = word_set("oil fryer oven ovens griddle burner smoker grill broiler flattop element knob dial")


def _equipment(line: Line, figure: Figure) -> tuple[str, str] | None:
    """A figure no food or water can have: a range, oven or fryer setting, or what a smoker ran at."""
    first, _ = line.sentence_span(figure.first)
    if any(first <= start < figure.first for start, _, _ in line.agents):
        return None
    for n in range(first, figure.first):
        if line.tokens[n].low in _HEATED:
            return "set_point", line.words(n, n + 1)
    for chunk in line.chunks:
        if first <= chunk.first < figure.first and chunk.place is not None and chunk.place.stage == "cooking":
            return "set_point", line.words(chunk.first, chunk.last)
    return None


def _hedge(line: Line, figure: Figure) -> None:
    """Notes `about`, `a little under`, `well over` in front of a reading."""
    tokens, i = line.tokens, figure.first - 1
    words: list[str] = []
    while i >= 0 and len(words) < 4:
        low = tokens[i].low
        if (
            low in _STRICT
            or low in _HEDGES
            or low in _LEANING
            or (low == "a" and words)
            or (
                low in ("than", "better", "more", "less", "up", "on", "coming")
                and (words or low in ("than", "on"))
            )
        ):
            words.insert(0, low)
            i -= 1
        else:
            break
    if words and (set(words) & (_STRICT | set(_HEDGES)) or "than" in words or words[:1] == ["coming"]):
        if words == ["just"] or words == ["on"]:
            return
        figure.approximate = " ".join(words)
