"""Why a reading may be wrong: printing, sound, units, and what its stage makes unlikely."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from extract.figures.leaning import leans
from extract.figures.like_figures import teen_partner
from extract.of_what.staging import LIKELY, fahrenheit
from extract.scene import Draft
from extract.words.text import Span, word_set
from shared.types import Doubt, Utterance
from shared.units import written


def doubts(draft: Draft, utterance: Utterance, span: Span) -> tuple[tuple[Doubt, ...], tuple[float, ...]]:
    """The doubts on a reading and the other values that its words could mean, in its unit."""
    found: list[Doubt] = []
    others: list[float] = list(draft.figure.alternatives)
    figure = draft.figure
    printed = draft.line.text[span[0] : span[1]]
    for code in figure.codes:
        found.append(_printed(code, printed, draft, span, others))
    if figure.perhaps_mentioned:
        why = f"“{printed}” may be a limit, a plan or of another day, and not measured now"
        found.append(Doubt("perhaps_mentioned", why, span))
    others = [value for value in others if value != draft.value]
    if draft.kind == "temperature":
        _unlikely(draft, printed, span, found, others)
        _unit(draft, printed, span, found)
        _unknown(draft, printed, span, found)
    if leans(figure.approximate) and draft.said is None:
        found.append(
            Doubt("approximate", f"“{figure.approximate} {printed}” is no exact figure: read it again", span)
        )
    found.extend(_unsure(draft, span))
    for code, why, alternatives in draft.codes:
        found.append(Doubt(code, why, span, alternatives))
    for doubt in utterance.doubts:
        if doubt.span is None or (doubt.span[0] < span[1] and span[0] < doubt.span[1]):
            found.append(doubt)
            others.extend(_numbers(doubt.alternatives, draft.value))
    return tuple(found), tuple(dict.fromkeys(others))


_UNSURE = word_set("thinks guess guesses guessing supposedly maybe unsure")


_HEARSAY = word_set("telling tells told says say said claims claimed swears word account")


def _unsure(draft: Draft, span: Span) -> list[Doubt]:
    """Figures that somebody only thinks, or that the inspector means to take again."""
    line = draft.line
    first, end = line.sentence_span(draft.first) if draft.said is None else (0, 0)
    words = {token.low for token in line.tokens[first:end]}
    told = "symptom_free" in draft.facts and words & _HEARSAY
    if draft.kind == "duration" and (told or words & _UNSURE):
        return [Doubt("hearsay", "the time is what somebody says: find out", span)]
    if words & {"rechecking", "recheck"} and "will" in words | {
        "will" for w in words if w in ("'ll", "'m", "before", "going")
    }:
        return [Doubt("to_be_retaken", "it was said that this is to be measured again", span)]
    return []


def _printed(code: str, printed: str, draft: Draft, span: Span, others: Sequence[float]) -> Doubt:
    value = written(draft.value, draft.unit)
    also = tuple(f"{other:g}" for other in others if other != draft.value)
    if code == "split_number":
        return Doubt(code, f"“{printed}” is printed in two parts; read as {value}", span, also)
    if code == "lost_point":
        return Doubt(code, f"“{printed}” is printed with a point; read as {value}", span, also)
    if code == "glued_time":
        return Doubt(code, f"“{printed}” holds a time as well; read as {value} at {draft.clock}", span, also)
    if code == "restated":
        return Doubt(
            code, f"“{printed}” corrects a figure that was printed otherwise: {', '.join(also)}", span, also
        )
    if code == "unsure":
        return Doubt(code, f"“{printed}” was not told for sure; it may be {', '.join(also)}", span, also)
    if code == "homophone":
        return Doubt(code, f"“{printed}” may stand for {value}", span, also)
    return Doubt(code, f"“{printed}” is doubtful; read as {value}", span, also)


def _unlikely(draft: Draft, printed: str, span: Span, found: list[Doubt], others: list[float]) -> None:
    low, high = LIKELY.get(draft.stage, (-60, 300))
    value = fahrenheit(draft.value, draft.unit)
    if low <= value <= high:
        return
    partner = teen_partner(draft.value)
    where = draft.stage.replace("_", " ")
    if partner is not None and low <= fahrenheit(partner, draft.unit) <= high:
        others.insert(0, partner)
        found.append(
            Doubt(
                "teen_ty",
                f"{draft.value:g} is unlikely for {where}; {partner:g} sounds alike",
                span,
                (f"{partner:g}",),
            )
        )
        return
    other = _other_unit(draft)
    if other is not None and draft.unit_said is False and low <= other <= high:
        found.append(
            Doubt("unit_assumed", f"“{printed}” fits {where} only in the other unit; no unit was said", span)
        )
        return
    found.append(
        Doubt("implausible_for_stage", f"{written(draft.value, draft.unit)} is unlikely for {where}", span)
    )


_TOLD = word_set(
    "reads read reading temps temped temp showing shows degrees internal measures measured probes"
)
_COLD = word_set(
    "freezer freezers frozen froze freeze freezing ice icy gelato sherbet sorbet popsicle solid hard"
)


def _unknown(draft: Draft, printed: str, span: Span, found: list[Doubt]) -> None:
    """A bare figure of nothing, beside a word that is no known food or object, or so cold that only its size
    makes it a freezer's: either may count something else."""
    if draft.unit_said or draft.figure.unit is not None or draft.said is not None or found:
        return
    line, chunk = draft.line, draft.chunk
    if draft.stage == "ambient" and draft.item is None and draft.place is None:
        found.append(
            Doubt("unlike_a_reading", f"nothing was named that has “{printed}”: it may be none", span)
        )
        return
    if draft.stage == "freezing" or (
        draft.stage == "ambient" and draft.value <= _FEW and draft.unit == "degF"
    ):
        place = draft.place_row is not None and draft.place_row.stage == "freezing"
        if not place and draft.value > 0 and not any(token.low in _COLD for token in line.tokens):
            found.append(
                Doubt("unlike_a_reading", f"“{printed}” may be no temperature: nothing cold was named", span)
            )
        return
    if (
        chunk is None
        or chunk.known_food
        or chunk.object is not None
        or chunk.sort != "thing"
        or draft.carried
    ):
        return
    if chunk.last > draft.first or chunk.last > len(line.tokens):
        return
    if any(line.tokens[n].low in _TOLD for n in range(chunk.last, draft.first)):
        return
    found.append(
        Doubt(
            "unlike_a_reading",
            f"“{draft.item} {printed}” may be no temperature: it is no food known here",
            span,
        )
    )


_FEW = 15.0
"""Degrees up to which a bare figure may as well count something: common practice, no source."""


def _other_unit(draft: Draft) -> float | None:
    """The value in °F if it was meant in the unit that was not assumed."""
    return draft.value * 9 / 5 + 32 if draft.unit == "degF" else draft.value


def _unit(draft: Draft, printed: str, span: Span, found: list[Doubt]) -> None:
    """Only where both units would make sense: 4 in a cooler, 60 on a steam table."""
    if draft.unit_said or draft.unit != "degF" or any(d.code == "unit_assumed" for d in found):
        return
    low, high = _BOTH.get(draft.stage, (0.0, -1.0))
    if draft.stage == "receiving":
        first, end = draft.line.sentence_span(draft.first)
        if any(token.low in _COLD for token in draft.line.tokens[first:end]):
            return  # `frozen chicken 8`
    if low <= draft.value <= high:
        found.append(
            Doubt(
                "unit_assumed",
                f"no unit was said with “{printed}”; °F taken from the rules, °C would fit too",
                span,
            )
        )


_BOTH = {
    "cold_holding": (-1.0, 9.0),
    "receiving": (-1.0, 12.0),
    "hot_holding": (54.0, 80.0),
    "cooking": (54.0, 100.0),
    "reheating": (57.0, 100.0),
}


def _numbers(texts: Iterable[str], value: float) -> list[float]:
    values = []
    for text in texts:
        try:
            number = float(text.split()[0])
        except (ValueError, IndexError):
            continue
        if number != value:
            values.append(number)
    return values
