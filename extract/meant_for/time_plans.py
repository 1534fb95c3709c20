"""Food whose time is written on it: `sticker says out 11.15, gone by 3.15` tells of a time plan."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from extract.figures.figure import Figure
from extract.words.lexicon import Cue, Phrases, read
from extract.words.line import Line
from extract.words.text import plain, word_set, words_of

_ON_IT = word_set("""sticker stickers tag tags tagged label labels dot dots tape taped chip chips marker
marked marks written wrote writes stamp stamped timer timers card plan procedure sheet board slip clock""")
_OUT = word_set("out from since pulled pull at made start started in says say said reads written")
_GONE = word_set("""gone toss tossed tosses dump dumped dumps until till til to by discard discarded pitch
pitched expires expire throw thrown trash trashed through off bin binned good""")
HOURS_ONLY = 3
"""Weight of two times alone; words that name a plan have more."""
_HOURS = (4.0, 6.0)
"""Hours for which food may be kept by time alone (3-501.19); FDA Food Code 2022."""


def note_plan(line: Line, found: list[Figure]) -> None:
    """Adds what two times four or six hours apart tell of the stage, where something shows them; a plan that
    was asked for in vain (`Time plan? No.`) tells nothing."""
    line.cues[:] = [
        (first, last, cue)
        for first, last, cue in line.cues
        if not (cue.stage == "time_control" and (_in_vain(line, last) or _unheard_of(line, first)))
    ]
    if not any(token.low in _ON_IT for token in line.tokens):
        return
    times = [figure for figure in found if figure.role == "clock" and figure.clock]
    for one, two in pairwise(times):
        before = {token.low for token in line.tokens[max(0, one.first - 3) : one.first]}
        between = {token.low for token in line.tokens[one.last : two.first]}
        apart = round((_hours(two) - _hours(one)) % 12, 2)
        if apart in _HOURS and between & _GONE and (before & _OUT or "to" in between) and len(between) < 8:
            line.cues.append((one.first, two.last, Cue("time_control", HOURS_ONLY)))
            return


_NONE = word_set("no none nope nothing nobody never")


def _in_vain(line: Line, last: int) -> bool:
    after = [token.low for token in line.tokens[last : last + 2]]
    return len(after) == 2 and after[0] == "?" and after[1] in _NONE


def _unheard_of(line: Line, at: int) -> bool:
    """`nobody here ever heard about a time plan`."""
    first, _ = line.sentence_span(at)
    before = {token.low for token in line.tokens[max(first, at - _FAR) : at]}
    return not _HEARD.isdisjoint(before) and not _NONE.isdisjoint(before)


_FAR = 8
"""Words between `nobody` and the plan that is not known: common practice, no source."""
_HEARD = word_set("heard hear knows know knew")


def _hours(figure: Figure) -> float:
    hours, minutes = (figure.clock or "0:0").split(":")
    return int(hours) + int(minutes) / 60


@cache
def _starts() -> Phrases[bool]:
    return Phrases(((text, True) for text in read("said.toml")["clock_starts"]["words"]), form=plain)


_LONGEST = 9
_LEFT_HOT = 88.0
"""°F above which food left heat, half-way between the two limits: common practice, no source."""


def clock_starts(line: Line, first: int, degf: float) -> frozenset[str]:
    """`went on the time plan at 120`: that a temperature is the one at which food left heat, or cold.
    `first`: the token that the figure begins with."""
    if _starts().ending(line.tokens, first, longest=_LONGEST) is None:
        return frozenset()
    return frozenset(("leaving_hot" if degf > _LEFT_HOT else "leaving_cold",))


def of_all(line: Line, first: int, at: int) -> bool:
    """`burritos 121, hash browns 130, they're on a four hour timer`: said of the whole list."""
    return any(
        token.low in ("they", "these", "those", "all", "both", "everything")
        for token in line.tokens[max(first, at - 6) : at]
    )


def of_another_food(line: Line, at: int, item: str | None) -> bool:
    """`The horchata's 54. Pico's been on the time card since 9.30`: the plan is told of the food that its
    sentence begins with."""
    first, _ = line.sentence_span(at)
    head = next((chunk for chunk in line.chunks if chunk.first in (first, first + 1)), None)
    if head is None or not head.known_food or item is None or head.last > at:
        return False
    return words_of(item).isdisjoint(words_of(line.words(head.first, head.last)))
