"""Spans of time, kept only where the rules judge the time itself."""

from __future__ import annotations

from itertools import pairwise

from extract.figures.figure import Figure
from extract.figures.times_of_day import hour_of
from extract.measured.temperatures import carry
from extract.measured.told_dates import tells_its_days
from extract.measured.waits import waiting
from extract.of_what.staging import fahrenheit, heads_agree
from extract.of_what.subject import Subject
from extract.scene import Draft, Read, Scene
from extract.words.line import NOUN, Line
from extract.words.naming import item_name
from extract.words.text import word_set

_ELAPSED = frozenset(
    [
        "out",
        "been",
        "sitting",
        "since",
        "ago",
        "for",
        "over",
        "about",
        "warming",
        "heating",
        "took",
        "old",
        "past",
        "at",
        "made",
        "same",
        "that's",
        "log",
        "holding",
    ]
)


_ON_TIME = 0.8


def _surely_on_time(figure: Figure) -> bool:
    """`turkey subs, an hour and a half, those can stay`, by the second reader."""
    told = figure.told
    return told is not None and told.meant["r"] > _ON_TIME and told.stages["time_control"] > _ON_TIME


def duration(
    read: Read, draft: Draft, about: Subject, parent: Draft | None, scene: Scene, clocks: int
) -> Draft | None:
    """A span of time, kept only where the rules judge the time itself."""
    del clocks, parent
    line, figure = read.line, draft.figure
    if draft.unit == "week":
        draft.value, draft.unit = draft.value * 7, "day"
    first, end = line.sentence_span(figure.first)
    lows = {token.low for token in line.tokens[first:end]}
    before = " ".join(token.low for token in line.tokens[max(first, figure.first - 4) : figure.first])
    after = " ".join(token.low for token in line.tokens[figure.last : min(end, figure.last + 4)])
    last = scene.last
    stage = ""
    cues = {cue.stage for start, _, cue in line.cues if first <= start < end}
    near = {cue.stage for _, _, cue in line.cues}
    if _stood(line, draft, scene, first, end):
        draft.stage = "reheating"
        carry(line, draft, scene)
        return draft
    passed = _till_now(read, figure)
    counted = passed or _counted(line, figure, before) or _coming_up(before)
    allowed = (_allowance(before, after, lows) and not counted) or _of_the_plan(line, figure, first, end)
    allowed = allowed and not passed
    if waiting(line, draft, first, end):
        return draft
    cooked = _cooked_at(line, draft, scene, first, end) if last is not None else None
    if cooked is not None:
        draft.stage, draft.item, draft.chunk, draft.food = "cooking", cooked.item, cooked.chunk, cooked.food
        draft.stage_fixed = True
        draft.place, draft.place_row = cooked.place, cooked.place_row
        return draft
    if draft.unit == "day" and draft.value < _TAGS_KEPT and lows & _TAGS and lows & _KEPT and lows & _SHELLS:
        draft.stage, draft.stage_fixed = "storage", True  # `they keep their shellstock tags for 60 days`
        tags = (c for c in line.chunks if first <= c.first < end and line.tokens[c.last - 1].low in _TAGS)
        draft.chunk = next(tags, None)
        draft.item = item_name(line, draft.chunk) if draft.chunk is not None else None
        return draft
    if draft.unit == "day":
        stage = _days(line, figure, last, lows, cues, before, after)
    elif allowed or (draft.unit == "minute" and draft.value < 30 and "time_control" not in near):
        return None
    elif ("reheating" in cues and _warmed_in(draft)) or (
        last is not None
        and last.stage == "reheating"
        and lows & {"warming", "heating", "reheat", "taken", "took", "getting"}
    ):
        stage = "reheating"
    elif last is not None and last.stage == "freezing" and last.line is line and draft.unit == "hour":
        stage = "freezing"
    elif (passed and lows & _OF_PLANS) or (
        ("time_control" in near or scene.time_line >= line.index - 2)
        and (lows & _ELAPSED or counted or _surely_on_time(figure))
    ):
        stage = "time_control"
    elif last is not None and last.stage == "cooking" and last.line.index >= line.index - 1 and (
        lows & {"at", "held", "log", "holding", "for"} and not lows & {"ago"}
    ) and last.value < 150 and (lows & {"log", "held", "holding"} or "at that" in after):  # fmt: skip
        stage = "cooking"
    stage = stage or _by_second_reader(figure)
    if not stage:
        return None
    draft.stage = stage
    if draft.chunk is None or not draft.chunk.known_food:
        draft.item, draft.chunk, draft.food = None, None, False
        if stage == "time_control":
            same = (
                last is not None
                and last.line is line
                and line.sentence[last.first] == line.sentence[figure.first]
            )
            if (
                scene.topic_line == line.index
                and scene.topic_chunk is not None
                and scene.topic_chunk.first >= first
            ):
                draft.item, draft.chunk, draft.food = scene.topic, scene.topic_chunk, True
            elif same and last is not None:
                draft.item, draft.food = last.item, last.food
        elif (
            stage in ("reheating", "cooking", "freezing", "storage") or last is None or last.line is not line
        ):
            if scene.topic is not None and scene.topic_food and scene.topic_line >= line.index - 1:
                draft.item, draft.chunk, draft.food = scene.topic, scene.topic_chunk, True
            elif last is not None and last.line.index >= line.index - 1:
                draft.item, draft.food = last.item, last.food
    if draft.item is None and stage == "time_control":
        draft.item = _under_plan(line, first)
    if draft.item is None and counted:
        foods = [chunk for chunk in line.chunks if chunk.known_food and chunk.last <= figure.first]
        if foods:
            draft.item, draft.chunk, draft.food = item_name(line, foods[-1]), foods[-1], True
    if last is not None and last.line is line and last.place:
        draft.place, draft.place_row = last.place, last.place_row
    if stage == "reheating" and draft.unit == "hour":
        _being_reheated(draft, scene)
    del about
    return draft


_TAGS_KEPT = 90
"""Days for which tags of shellstock are kept (3-203.12(C)): that they are is no reading."""
_SHELLS = word_set("shellstock shellfish oyster oysters clam clams mussel mussels scallop scallops")
_TAGS = word_set("tag tags")
_KEPT = word_set("keep keeps kept keeping save saves saved hold holds held toss tossed throw throws thrown")
_STOOD = word_set("stood stand stands standing rest rested rests sat sit sits")
_MOST_STOOD = 10.0
"""Minutes for which food stands behind the microwave oven: common practice, no source."""


def _stood(line: Line, draft: Draft, scene: Scene, first: int, end: int) -> bool:
    """`out of the microwave, covered, stood two minutes`: the standing that 3-403.11(B) asks for."""
    if draft.unit != "minute" or draft.value > _MOST_STOOD:
        return False
    near = {token.low for token in line.tokens[max(first, draft.first - 4) : min(end, draft.last + 2)]}
    told = (line, *scene.lines[-3:-1])
    return bool(near & _STOOD) and any("microwave" in one.text.lower() for one in told)


def _being_reheated(draft: Draft, scene: Scene) -> None:
    """`Meatballs 118`, and then `that's two and a half hours warming`: what was read of the food just before
    was of food being reheated."""
    for other in scene.recent(draft.line.index, back=1):
        same = other.item is not None and draft.item is not None and heads_agree(other.item, draft.item)
        if same and other.kind == "temperature" and other.stage == "hot_holding":
            other.stage, other.stage_fixed = "reheating", True


def _under_plan(line: Line, first: int) -> str | None:
    """The slices of `the slices are under a time plan. They have been out for five hours`: what the sentence
    before that names a plan begins with."""
    cue = next((start for start, _, cue in line.cues if cue.stage == "time_control" and start < first), None)
    if cue is None:
        return None
    begin, _ = line.sentence_span(cue)
    chunk = next((chunk for chunk in line.chunks if begin <= chunk.first < cue), None)
    named = chunk is not None and chunk.sort in ("thing", "food") and not chunk.preposition
    return item_name(line, chunk) if named and chunk is not None and chunk.determiner != "no" else None


_SURELY = 0.9
"""Share of the second reader from which a span is one that a rule judges, and of its stage."""


def _by_second_reader(figure: Figure) -> str:
    """`notebook has this batch in there 5 days`: the stage of a span where no words tell it."""
    told = figure.told
    if told is None or told.meant["r"] < _SURELY:
        return ""
    stage = told.likeliest_stage
    return stage if stage in _TIMED and told.stages[stage] > _SURELY else ""


_TIMED = frozenset(("freezing", "time_control", "reheating", "storage"))
_STAYED = word_set("stayed stays stay stood stands kept keeps held holds remained there")
_MEASURED_BY = word_set("watch clock log logs timer chart recorder sheet")
_HELD_BELOW = 158.0
"""°F from which meat need be held for no more than seconds; FDA Food Code 2022, 3-401.11(B)(2)."""


def _cooking(draft: Draft) -> bool:
    told = draft.figure.told
    return draft.stage == "cooking" or (told is not None and told.stages["cooking"] > _SURELY_COOKING)


_SURELY_COOKING = 0.7


def _cooked_at(line: Line, draft: Draft, scene: Scene, first: int, end: int) -> Draft | None:
    """The roast of `131 from the pit. In that temperature 45 minutes by their log`: what was cooked that long
    at the figure said before."""
    cooked = next(iter(scene.recent(line.index, back=0)), None)
    if cooked is None or cooked.kind != "temperature" or not _cooking(cooked):
        return None
    if draft.unit not in ("minute", "hour") or fahrenheit(cooked.value, cooked.unit) >= _HELD_BELOW:
        return None
    before = [token.low for token in line.tokens[first : draft.first]]
    after = [token.low for token in line.tokens[draft.last : end]]
    beside = {*before, *(after[: after.index(",")] if "," in after else after)}
    around = " ".join((*before, "|", *after))
    since = "since" in beside and not any(f"since it {got}" in around for got in _GOT_THERE)
    if since or {"needs", "need", "must", "should", "ago"} & beside or "wants" in before:
        return None
    if ("has", "to") in {*pairwise(before), *pairwise(after)}:
        return None
    there = any(
        held in around
        for held in ("been there", "held that", "held it", "sat at that", "got there", "been at that")
    ) or any(
        f"{small} {which} {thing}" in around
        for small in ("in", "at", "on")
        for which in ("that", "this", "the same")
        for thing in ("temperature", "temp", "heat", "figure", "number")
    )
    by = any(low == "by" and _MEASURED_BY & set(after[n + 1 : n + 3]) for n, low in enumerate(after))
    by = by or bool(_MEASURED_BY & set(before))
    if by and [token.low for token in line.tokens[cooked.last : draft.first]] == ["for"]:
        return cooked  # `their log has it at 136 for 40 minutes`
    return cooked if there or (bool(_STAYED & set(before[-4:])) and (by or "so" in before)) else None


_GOT_THERE = ("got there", "hit that", "hit it", "reached", "came up to")
_LONGEST_REHEATING = 6.0


def _warmed_in(draft: Draft) -> bool:
    """Hours in which food may have been reheated, however late: common practice, no source."""
    return draft.unit != "hour" or draft.value <= _LONGEST_REHEATING


_UNTIL_NOW = word_set("watch now clock riding sitting standing already still gone later around")
_ALLOTTED = word_set("to till until through")


def _counted(line: Line, figure: Figure, before: str) -> bool:
    """`dot's from 10.40 and that makes it four and a half hours`, `tag 9.15, my watch 2.15, that's 5 hours`:
    hours counted from a time to now, and no span that a tag allows."""
    if not before.endswith(
        ("that 's", "that is", "makes it", "makes that", "that makes", "which makes", "comes to")
    ):
        return False
    times = [
        n for n in range(figure.first) if line.tokens[n].kind == "number" and _clock_like(line.tokens[n].low)
    ]
    if not times or any(line.tokens[n - 1].low in _ALLOTTED for n in times if n):
        return False
    around = {token.low for token in line.tokens[: figure.last + 6]}
    return bool(around & _UNTIL_NOW)


_OF_PLANS = word_set("plan dump dumped toss tossed discard tag tagged card sticker stickered stamp stamped")
"""What the time plan of a food is told by."""
_UP_ON = ("coming up on", "going on", "pushing", "close to", "getting on for")
"""What hours that have nearly passed are said with: common practice, no source."""


def _coming_up(before: str) -> bool:
    return before.endswith(_UP_ON)


_NEAR_H = 0.35
"""Hours by which a span said may miss the one from a time told to now: common practice, no source."""


def _till_now(read: Read, figure: Figure) -> bool:
    """`tag says 11.30 and it's quarter to five, so that's five hours and a quarter`: the span from a time
    told before it to now, as the clock has it too."""
    now = read.now
    told = [f for f in read.figures if f.role == "clock" and f.clock and f.last <= figure.first]
    if now is None or not told or figure.unit not in ("hour", "minute"):
        return False
    span = figure.value if figure.unit == "hour" else figure.value / 60
    return any(abs((now - hour_of(one.clock or "")) % 24 - span) <= _NEAR_H for one in told)


def _clock_like(text: str) -> bool:
    hours, _, minutes = text.replace(":", ".").partition(".")
    digits = hours + minutes
    return digits.isdigit() and len(digits) in (3, 4) and len(minutes) in (0, 2)


_THROWN = word_set("throws throw tosses toss dumps dump discards discard pitches pitch bins pulls pull")
_TOSSED = word_set(
    "dump dumps dumped toss tosses tossed discard discards discarded pitch pitches throw throws bin bins"
)


def _of_the_plan(line: Line, figure: Figure, first: int, end: int) -> bool:
    """`four hour tag on it`, `they dump each batch at three hours`: what the plan says, and not how long it
    was."""
    tokens, i = line.tokens, figure.last
    single = tokens[i - 1].low in ("hour", "minute") and figure.value > 1
    if single and i < end and line.chunk_at[i] >= 0 and not line.chunks[line.chunk_at[i]].known_food:
        return True
    ahead = {token.low for token in tokens[first : figure.first]}
    return tokens[figure.first - 1].low in ("at", "after", "every", "by") and bool(ahead & _TOSSED)


def _allowance(before: str, after: str, lows: set[str]) -> bool:
    """A time that is allowed, planned or a comparison rather than one that passed."""
    if any(
        word in after
        for word in (
            "then toss",
            "and toss",
            "then discard",
            "limit",
            "rule",
            "window",
            "to hit",
            "to get",
            "to cool",
        )
    ):
        return True
    if any(before.endswith(word) for word in ("that 's", "that is")) and lows & {"tag", "discard"}:
        return True
    if before.endswith(
        (
            "they get",
            "it gets",
            "gets",
            "you get",
            "allowed",
            "got",
            "says",
            "within",
            "every",
            "in under",
            "another",
            "next",
        )
    ):
        return True
    if "that 's past" in before or "that 's over" in before or "that is over" in before:
        return True
    return (
        "that 's" in before
        and "out" not in lows
        and "been" not in lows
        and not lows & {"warming", "heating", "coming", "old"}
    )


_SURELY_KEPT = 0.65
"""Shares of the second reader from which days are those that a food was kept."""


def _days(
    line: Line,
    figure: Figure,
    last: Draft | None,
    lows: set[str],
    cues: set[str],
    before: str,
    after: str,
) -> str:
    if (
        "freezing" in cues
        or (last is not None and last.stage == "freezing" and last.line is line)
        or "parasite" in lows
    ):
        return "freezing"
    if {"letter", "supplier", "label", "poster", "policy"} & lows or tells_its_days(line):
        return ""
    if last is not None and last.stage == "freezing" and last.line.index == line.index - 1:
        of_it = figure.told
        if of_it is not None and min(of_it.meant["r"], of_it.stages["freezing"]) > _SURELY_KEPT:
            return "freezing"  # `minus 9 in there`, then `the log has this lot in for 4 days`
    if (
        after.startswith("ago")
        and {"i", "we"} & lows
        and {"here", "visited", "came", "inspected", "last"} & lows
    ):
        return ""  # `I was here two weeks ago`
    if (
        before.endswith(
            ("past", "max", "gets", "within", "every", "in", "least", "than", "under", "over", "only")
        )
        and "ago" not in after
    ):
        return ""
    if line.tokens[figure.first].low == "day":
        names = figure.last < len(line.tokens) and line.classes[figure.last] == NOUN
        planned = before.endswith("by") or _THROWN.intersection(before.split())
        return "" if names or planned else "storage"  # `by day four`, `throws on day 6`, `the day six jar`
    if after.startswith(("ago", "old", "past", "since", "in the", "today", "on it")) or lows & {
        "dated",
        "date",
        "made",
        "opened",
        "old",
        "marked",
        "sticker",
        "prep",
    }:
        return "storage"
    told = figure.told
    sure = told is not None and min(told.meant["r"], told.stages["storage"]) > _SURELY_KEPT
    return "storage" if sure else ""
