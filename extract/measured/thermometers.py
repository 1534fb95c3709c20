"""Whose thermometer was checked, and thermometers that hang in a unit."""

from __future__ import annotations

from extract.figures.figure import Figure
from extract.of_what.subject import Subject
from extract.words.line import Chunk, Line
from extract.words.naming import item_name
from extract.words.text import stem


def is_unit_thermometer(line: Line, chunk: Chunk) -> bool:
    """`its thermometer`, `the thermometer inside`: what hangs in a cooler, not the inspector's probe."""
    words = {token.low for token in line.tokens[chunk.first : chunk.last + 1]}
    if chunk.determiner == "my" or words & {"probe", "thermocouple", "digital", "infrared", "stem", "pocket"}:
        return False
    before = line.tokens[chunk.first - 1].low if chunk.first else ""
    after = {token.low for token in line.tokens[chunk.last : chunk.last + 3]}
    if after & {"hanging", "inside", "mounted", "outside"} or "inside" in words:
        return True
    at = line.chunk_at[chunk.first - 1] if chunk.first else -1
    if at >= 0 and line.chunks[at].place is not None:
        return True
    return chunk.determiner in ("its", "their", "the") or before == "'s"


def is_check_medium(line: Line, chunk: Chunk) -> bool:
    return any(
        cue.stage == "thermometer_check" and start < chunk.last and end > chunk.first
        for start, end, cue in line.cues
    )


def pronoun_nearer(line: Line, about: Subject, figure: Figure) -> bool:
    assert about.instrument is not None
    return any(line.tokens[n].low == about.pronoun for n in range(about.instrument.last, figure.first))


_OWNERS = frozenset(
    map(stem, ("chef", "cook", "manager", "kitchen", "owner", "restaurant", "operator", "house"))
)


def _of_person(line: Line, chunk: Chunk) -> bool:
    """The dial of `the cook's dial 193`."""
    shows = chunk.sort == "instrument" or (chunk.object is not None and chunk.object.what == "gauge")
    shows = shows or line.tokens[chunk.last - 1].low in ("stem", "dial", "stick", "one")
    owned = chunk.first >= 2 and line.tokens[chunk.first - 1].low == "'s"
    return shows and owned and line.tokens[chunk.first - 2].stem in _OWNERS


def owner(line: Line, figure: Figure) -> str | None:
    """`the chef's 36`: whose thermometer, when only the person is named."""
    i = figure.first - 1
    while i >= 0 and line.classes[i] in ("links", "auxiliaries", "adverbs") and line.tokens[i].low != "'s":
        i -= 1
    named = line.chunks[line.chunk_at[i]] if i >= 0 and line.chunk_at[i] >= 0 else None
    if named is not None and _of_person(line, named):
        before = line.chunk_at[named.first - 2]
        return line.words(line.chunks[before].first if before >= 0 else named.first - 2, named.last)
    if i >= 1 and line.tokens[i].low == "'s" and line.tokens[i - 1].stem in _OWNERS:
        at = line.chunk_at[i - 1]
        return line.words(line.chunks[at].first if at >= 0 else i - 1, i + 1)
    return None


def owner_after(line: Line, figure: Figure) -> str | None:
    """`32 on mine, 34 on theirs`."""
    after = line.tokens[figure.last : figure.last + 2]
    if (
        len(after) == 2
        and after[0].low in ("on", "for", "with")
        and after[1].low in ("mine", "theirs", "ours", "hers", "his")
    ):
        return line.words(figure.last + 1, figure.last + 2)
    return None


def said_pronoun(line: Line, figure: Figure, pronoun: str) -> str:
    for n in range(figure.first - 1, -1, -1):
        if line.tokens[n].low == pronoun:
            return line.words(n, n + 1)
    return pronoun


_SHOWERS = frozenset(("dial", "stem", "stick", "digital", "thermometer", "probe"))


def dial_before(line: Line, figure: Figure) -> str | None:
    """The dial of `their pen probe 30.8, and the old dial is sitting at 27`: named before its figure."""
    i, first = figure.first - 1, line.sentence_span(figure.first)[0]
    while i >= first and line.chunk_at[i] < 0 and line.classes[i] not in ("number", "mark"):
        i -= 1
    if i < first or line.chunk_at[i] < 0:
        return None
    chunk = line.chunks[line.chunk_at[i]]
    shows = chunk.sort in ("object", "thing") and line.tokens[chunk.last - 1].low in _SHOWERS
    return item_name(line, chunk) if shows else None


def any_instrument(line: Line, figure: Figure) -> str | None:
    before = [chunk for chunk in line.chunks if chunk.sort == "instrument" and chunk.first < figure.first]
    return item_name(line, before[-1]) if before else None
