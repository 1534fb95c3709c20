"""What words that take something back are of: a figure, or something else that was told."""

from __future__ import annotations

import re

from extract.words.line import Line
from extract.words.people import written_up
from extract.words.text import word_set

_OF_FIGURE = word_set("number reading temp temperature figure one last first probe thermometer i")


def told_first(line: Line, cue: int) -> bool:
    """`Clean trays on the floor. Strike that`: something other than a figure was told in the sentence before,
    and is what is taken back."""
    before = line.tokens[: line.sentence_span(cue)[0]]
    if sum(token.kind == "word" for token in before) < 3 or any(token.low in _OF_FIGURE for token in before):
        return False
    chunks = [chunk for chunk in line.chunks if chunk.last <= len(before)]
    return any(chunk.sort in ("thing", "object") for chunk in chunks) and not any(
        chunk.known_food for chunk in chunks
    )


def clears_only(line: Line, last: int, begin: int, end: int) -> bool:
    """`retract that, it's on time control`: a proposed violation is taken back, the figure stands."""
    follows = [token.low for token in line.tokens[end : end + 12]]
    if any(token.kind == "number" for token in line.tokens[end : end + 12]):
        return False
    if re.search(r"\bwrite.up\b|\bviolation", line.words(0, last), re.I):
        return True  # `looked like a write up, but the ham's 38. So strike that.`
    return written_up(line.tokens, last, begin) or bool(
        {"time", "fine", "allowed", "good", "violation", "okay", "ok", "compliant", "report"} & set(follows)
    )


def only_wait(line: Line, first: int, end: int) -> bool:
    """`wait` cues take something back only when a reason in the past tense follows: `no wait, that was the
    edge`."""
    text = " ".join(token.low for token in line.tokens[first:end] if token.kind != "mark")
    if text not in ("no wait", "wait no", "no hang on", "no hold on"):
        return False
    follows = [token.low for token in line.tokens[end : end + 5]]
    pointed = "that" in follows and ("'s" in follows or "is" in follows)
    return not (pointed or "was" in follows or "were" in follows or ("is" in follows and "wrong" in follows))


def asks_for(line: Line, first: int, end: int) -> bool:
    """`that should be`, `that should have been`: of a figure said wrongly, or of what the law asks for."""
    return [token.low for token in line.tokens[first : min(end, first + 2)]] == ["that", "should"]
