"""What is made of the second reader's word on stage and item, where the rules say otherwise.

The shares below are chosen on walks that neither the rules nor the network that was asked had seen
(`docs/extraction.md` has the table).
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from extract.of_what.staging import COLD, FOOD_STAGES, HARD_DEGF, HOT, HOT_BASIN, fahrenheit
from extract.scene import Draft, Read, Scene
from extract.second_reader.reader import FigureTold
from extract.settled.items import settle_item
from extract.settled.named import chunk_of, trimmed
from extract.settled.weighing import heated_to
from extract.words.text import word_set
from shared.foods import classify
from shared.units import convert

_FALLEN = 0.1
"""Share of `w` from which a reading may have been taken back."""
TAKEN_BACK = "perhaps_taken_back"
"""The doubt on a reading that may have been taken back; it says nothing of one that was."""
_GUESSED, _TOLD, _KNOWN = 0.2, 0.55, 0.9
"""By how much a stage must be likelier than that of the rules: where these guess, where words tell it, and
where they know more than what stands around the figure (a rule of this case, the food beside a gauge)."""
_BOLD = {
    "cooking": 0.5, "cooling": 0.5, "receiving": 0.7, "sanitizer": 0.5, "hot_holding": 0.5, "reheating": 0.6,
    "other": 0.5, "handwashing": 0.6,
}  # fmt: skip
"""Stages that it is too quick to see; the same where the rules guess."""
_BOLD_WHERE_TOLD = {"hot_holding": 0.75, "reheating": 0.85}
"""The same where words tell the stage."""
_AIR_OF_NAMED = 0.7
"""The same for the air of a unit where a thing is named."""
_DELIVERED = 0.7
"""The same where the rules take food for delivered, which its sentence need not say."""
_ON_TIME = 0.7
"""Share from which food is taken to be under a time plan, which lifts its limit."""
_SURE_STAGE = 0.5
OF_FOOD = FOOD_STAGES - {"freezing"}
"""Stages in which the item is a food; the air of a freezer has none."""
_AIR = {"ambient", "freezing"}
"""The air of a freezer is told as either."""
_NO_TEMPERATURE = frozenset(("storage", "lighting"))


def settle_readings(read: Read, scene: Scene) -> None:
    """Holds stage and item of an utterance's temperatures against the second reader's, in place."""
    for draft in read.drafts:
        if draft.kind != "temperature" or draft.said is not None:
            continue
        told = draft.figure.told
        if told is not None:
            log = [
                (other, other.figure.told)
                for other in read.drafts
                if _go_together(read, draft, other) and other.figure.told is not None
            ]
            if len(log) > 1:
                told = _together(told, [of_it for _, of_it in log if of_it is not None])
                draft.stage_told = any(other.stage_told for other, _ in log)
            if told.meant["w"] > _FALLEN or _broken_off(draft):
                draft.codes.append((TAKEN_BACK, "It may have been taken back at once", ()))
            if not _of_a_solution(draft, read):
                _settle_stage(draft, told, scene)
            if draft.stage in OF_FOOD and not draft.item_fixed and draft.figure.range_with is None:
                settle_item(draft, told, scene)


_NO = word_set("no nope wait")


def _broken_off(draft: Draft) -> bool:
    """`Ham 47, no.`: nothing follows in its place."""
    after = draft.line.tokens[draft.last :]
    return (
        len(after) > 1
        and after[0].low == ","
        and after[1].low in _NO
        and all(token.kind == "mark" for token in after[2:])
    )


def _of_a_unit(draft: Draft, told: FigureTold) -> bool:
    """`topping fridge 36`: it names the unit alone, so it is the unit's air that the rules take it for."""
    if draft.stage not in _AIR or told.item is None or told.item.back:
        return False
    chunk = chunk_of(draft.line, told.item.span)
    return chunk is not None and chunk.place is not None and chunk.place.air and not chunk.known_food


def _of_a_solution(draft: Draft, read: Read) -> bool:
    """`bleach at 75, water's warm, around 90`: of a solution whose strength was read just before."""
    at = read.drafts.index(draft)
    before = read.drafts[at - 1] if at else None
    return (
        draft.stage == "sanitizer"
        and before is not None
        and before.kind == "concentration"
        and before.line.sentence[before.first] == draft.line.sentence[draft.first]
    )


def _go_together(read: Read, one: Draft, other: Draft) -> bool:
    """Timed figures of one food, and the two ends of a range, are of one stage."""
    timed = one.clock is not None and other.clock is not None and one.item == other.item
    end = one.figure.range_with
    return one is other or timed or (end is not None and read.figures[end] is other.figure)


def _together(told: FigureTold, all_told: Sequence[FigureTold]) -> FigureTold:
    """Of figures that are of one stage the shares of all of them."""
    stages = {stage: sum(each.stages[stage] for each in all_told) / len(all_told) for stage in told.stages}
    return replace(told, stages=stages)


def _settle_stage(draft: Draft, told: FigureTold, scene: Scene) -> None:
    shares = {stage: share for stage, share in told.stages.items() if stage not in _NO_TEMPERATURE}
    likeliest = max(shares, key=shares.__getitem__)
    was, overruled, ruled = draft.stage, False, _ruled(draft, told)
    if likeliest != was and _overrules(draft, likeliest, told, shares, ruled=ruled):
        overruled = draft.stage_told or ruled or likeliest == "other"
        _move(draft, likeliest, scene)
        rule = f"stage: {likeliest}, as the second reader takes it"
        draft.rules.append((rule, draft.line.index, *draft.span))
    unsure = shares.get(draft.stage, 0.0) < _SURE_STAGE and {was, likeliest} != _AIR
    if overruled or unsure:
        other = was if was != draft.stage else max(shares.keys() - {was}, key=shares.__getitem__)
        why = f"It may be of {_plain(other)}, and not of {_plain(draft.stage)}"
        draft.codes.append(("stage_unsure", why, ()))


def _to_order(draft: Draft) -> bool:
    """`Over easy for the gentleman, 139`: eggs that are cooked for one guest are not held."""
    food = classify(draft.item) if draft.item else None
    return draft.stage == "cooking" and food is not None and "to_order" in food.tags


def _names_food(draft: Draft, told: FigureTold) -> bool:
    """Whether the second reader sees an item; of a machine one said with the figure that is a food."""
    if told.item is None or draft.stage == "handwashing":
        return told.item is not None
    chunk = None if told.item.back else chunk_of(draft.line, told.item.span)
    return chunk is not None and chunk.known_food


def _ruled(draft: Draft, told: FigureTold) -> bool:
    """A rule that knows just this case set the stage, or a time plan or a unit alone is spoken of."""
    return draft.stage_fixed or _on_a_plan(draft) or _of_a_unit(draft, told)


def _on_a_plan(draft: Draft) -> bool:
    return draft.stage == "time_control" and draft.stage_told


def _overrules(
    draft: Draft, likeliest: str, told: FigureTold, shares: Mapping[str, float], *, ruled: bool
) -> bool:
    if "unsure" in draft.figure.codes or (likeliest == "other" and "split_number" in draft.figure.codes):
        return False  # it has heard another figure than it may be
    if {draft.stage, likeliest} == _AIR or (draft.unit == "degC" and not draft.unit_said):
        return False  # nor does it know that a bare figure is in °C
    if likeliest == "hot_holding" and (_held_in_unit(draft, "cold_holding") or _to_order(draft)):
        return False
    if likeliest == "receiving" and _in_its_unit(draft):
        return False  # `wings in the cabinet came in at 124`
    if draft.stage == "cooling" and draft.stage_told and likeliest == "reheating":
        return False  # `came off the stove at 10, it's one now, 84`
    if draft.stage == "reheating" and likeliest == "hot_holding" and heated_to(draft.line, draft.figure):
        return False
    degf = fahrenheit(draft.value, draft.unit)
    if draft.stage == "sanitizer" and likeliest == "manual_sanitize" and degf < HOT_BASIN:
        return False
    if _NAMED_STAGE.match(draft.line.text, draft.span[1]) and draft.stage_told:
        return False  # `eggs for the buffet 148 cooking temp`
    if likeliest == "cooling" and draft.stage == "cold_holding" and not _may_cool(draft):
        return False
    of_water = draft.stage == "handwashing" or (draft.stage_fixed and draft.stage.startswith("machine"))
    if of_water and likeliest in FOOD_STAGES and not _names_food(draft, told):
        return False  # `tried it again, 103`, of a sink named long before; `number one is 188` behind a rinse
    if likeliest == "receiving" and (_walked_on(draft) or _REFUSED_HERE.search(draft.line.text)):
        return False  # `Case by the door, trout 38`, after a delivery; `52, cook refused to discard`
    around_eggs = draft.stage == "receiving" and bool(draft.known_as)
    if (likeliest == "cold_holding" and draft.just_made) or (likeliest in _AIR and around_eggs):
        return False
    if likeliest == "cooling" and draft.stage in _AIR and fahrenheit(draft.value, draft.unit) < HARD_DEGF:
        return False  # `collards 48. Chest freezer, minus 2`
    if likeliest == "cooling" and _TO_THE_DEGREE.match(draft.line.text, draft.span[1]):
        return False  # `Lasagna 135 on the dot`
    if likeliest.startswith("manual") and _in_machine(draft):
        return False  # `wash still 106`, of a machine named in an utterance before
    if _on_a_plan(draft) and not _held(draft, likeliest):
        return False  # who is told of a plan must see it, and decide
    if likeliest == "time_control":
        if _NO_TIMES.search(draft.line.text):
            return False
        return shares[likeliest] > _ON_TIME
    named = draft.stage == "handwashing" or (draft.item is not None and not draft.carried)
    if (
        ruled
        or draft.stage == "time_control"
        or (likeliest == "cooking" and _held_in_unit(draft, "hot_holding"))
    ):
        by_more = _KNOWN
    elif likeliest == "ambient" and named:
        by_more = _AIR_OF_NAMED
    elif draft.stage == "receiving":
        by_more = _KNOWN if _DELIVERY.search(draft.line.text) else _DELIVERED
    elif draft.stage_told:
        by_more = _BOLD_WHERE_TOLD.get(likeliest, _TOLD)
    else:
        by_more = _BOLD.get(likeliest, _GUESSED)
    return shares[likeliest] - shares.get(draft.stage, 0.0) > by_more


def _may_cool(draft: Draft) -> bool:
    """Whether a time is told or a word of cooling or of how it was made: else food in a cooler is held
    there, and a warm one is no matter of time."""
    return draft.clock is not None or bool(_COOLS.search(draft.line.text))


_COOLS = re.compile(
    r"\b(?:cool(?:s|ed|ing)?|chill\w*|ice bath|ice wand|log|logged|came off|came out|"
    r"(?:made|cooked|boiled) (?:at|it|them|this|last|earlier|about|around|today|yesterday|an?)|just \w+ed|"
    r"off the|out of the|cut (?:at|this|an)|since|hours?|minutes?|ago|overnight|last night|yesterday|"
    r"this morning|still warm|steaming|panned|portioned|\d+ at \d+)\b",
    re.IGNORECASE,
)
"""Words of food that cools, or was made not long ago: common practice, no source."""
_NAMED_STAGE = re.compile(r"\W*(?:degrees\W*)?(?:cook|reheat|hold|receiv)(?:ing)? temp", re.IGNORECASE)
_DELIVERY = re.compile(
    r"\b(?:vans?|trucks?|trailer|reefer|dock|deliver\w*|drivers?|receiv\w*|shipments?|invoice|order)\b", re.I
)
"""Words of what is delivered: common practice, no source."""


def _in_its_unit(draft: Draft) -> bool:
    """Food in a place that its own sentence names, where nothing tells of a delivery."""
    told = _DELIVERY.search(draft.line.text) or (
        draft.place_row is not None and draft.place_row.stage == "receiving"
    )
    first, _ = draft.line.sentence_span(draft.first)
    before = draft.line.words(first, draft.first).lower()
    return not told and draft.place is not None and f"in the {draft.place.lower()}" in before


_REFUSED_HERE = re.compile(
    r"\brefus\w* to (?!accept|take|receive|sign)|"
    r"\b(?:refused|rejected|returned|sent back) by (?:the |a |an |one |our |their )?"
    r"(?:customer|guest|diner|patron|table|client|patient|resident|kid|student)",
    re.IGNORECASE,
)
"""What staff will not do, and what guests send back: no delivery."""
_TO_THE_DEGREE = re.compile(r"\W*(?:degrees\W*)?on the (?:dot|nose|money|button)\b", re.IGNORECASE)


def _walked_on(draft: Draft) -> bool:
    """Whether the utterance opens with a place for cold food and tells of no delivery."""
    row = draft.place_row
    if draft.stage != "cold_holding" or draft.place is None or row is None or row.stage == "receiving":
        return False
    delivered = any(cue.stage == "receiving" for _, _, cue in draft.line.cues)
    return not delivered and trimmed(draft.line.text).lower().startswith(draft.place.lower())


def _in_machine(draft: Draft) -> bool:
    row = draft.place_row
    return draft.stage.startswith("machine") and row is not None and row.stage == "machine"


def _held(draft: Draft, stage: str) -> bool:
    """Food that is hot or cold enough without a time plan: another food is what that was said of."""
    value = convert(draft.value, draft.unit, "degF")
    return stage == "cooking" or (value >= HOT if stage == "hot_holding" else value <= COLD)


_PAPERS = "times?|cards?|stickers?|plans?|tags?|stamps?|marks?|labels?"
_NO_TIMES = re.compile(
    rf"\b(?:{_PAPERS})\?\W*(?:no|negative|none|nope|nothing|nobody)\b|"
    rf"\b(?:no|without(?: a| any)?) (?:\w+ )?(?:{_PAPERS})\b",
    re.IGNORECASE,
)
"""Words that say that no time plan is kept: common practice, no source."""


def _held_in_unit(draft: Draft, stage: str) -> bool:
    """Whether it is taken for held so because of the unit it is in."""
    row = draft.place_row
    return draft.stage == stage and row is not None and row.air and row.stage == stage


def _move(draft: Draft, stage: str, scene: Scene) -> None:
    """Takes a reading to another stage with what belongs to it."""
    of_food = draft.chunk is not None and draft.chunk.known_food
    if stage not in FOOD_STAGES and (stage == "ambient" or of_food):
        draft.item, draft.chunk, draft.food = None, None, False
    if stage == "thermometer_check":
        draft.place = draft.place_row = None
    if stage == "sanitizer" and draft.agent is None and scene.agent_line >= draft.line.index - 1:
        draft.agent = scene.agent
    draft.stage = stage


def _plain(stage: str) -> str:
    return "something without a limit" if stage == "other" else stage.replace("_", " ")
