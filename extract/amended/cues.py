"""Words between two figures by which the second takes the place of the first: `no wait`, `make that`."""

from __future__ import annotations

from extract.amended.excuses import let_me_again, sent_back, tells_a_limit
from extract.words.lexicon import Lexicon, read
from extract.words.line import Line
from extract.words.text import word_set


def cue_between(line: Line, first: int, last: int, words: Lexicon) -> tuple[int, int] | None:
    """The words (first and end token) between two figures by which the second replaces the first."""
    if (again := let_me_again(line, first, last)) is not None:
        return again
    if [token.low for token in line.tokens[first:last] if token.kind != "mark"] == ["say"]:
        return first, last  # `I'd put it under 300, say 270`
    i = first
    while i < last:
        if line.tokens[i].low in _ALONE and _stands_alone(line, i, last):
            return i, i + 1
        hit = words.replaces.at(line.tokens, i)
        if hit is not None and hit[0] <= last:
            text = " ".join(token.low for token in line.tokens[i : hit[0]] if token.kind != "mark")
            if text in ("that is", "actually", "actually it 's") and not _leads(line, hit[0], last):
                i = hit[0]
                continue
            if (
                text == "no"
                and hit[0] < last
                and line.tokens[hit[0]].low in ("problem", "issue", "issues", "problems")
            ):
                return None
            if text == "no" and sent_back(line, hit[0], last):
                return None
            if text == "that is" and hit[0] < last and line.tokens[hit[0]].low in _APPROVED:
                return None  # `18 pounds, I think that is okay, 5 to 30`
            if text in ("waited", "waiting", "waits"):
                return None
            if hit[0] < last and tells_a_limit(line, hit[0]):
                return None
            if text == "wait" and i > first and line.tokens[i - 1].low in ("to", "will", "'ll", "can", "had"):
                return None
            return i, hit[0]
        i += 1
    return None


def cues_end(line: Line, end: int, last: int, words: Lexicon) -> int:
    """The end of words like these that follow each other: `excuse me, I said that wrong`."""
    i = end
    while i < last and line.classes[i] in ("mark", "pronouns", "auxiliaries", "fillers", "conjunctions"):
        i += 1
    hit = words.replaces.at(line.tokens, i) if i < last else None
    return cues_end(line, hit[0], last, words) if hit is not None and hit[0] <= last else end


_APPROVED = word_set("okay ok fine good right alright allowed enough plenty")
_ALONE = frozenset(read("amendments.toml")["replace_alone"])


def _stands_alone(line: Line, i: int, last: int) -> bool:
    """The `wrong` of `tuna 47. Wrong. 41.`"""
    return line.tokens[i - 1].kind == "mark" and i + 1 < last and line.tokens[i + 1].kind == "mark"


def _leads(line: Line, at: int, last: int) -> bool:
    return all(
        line.classes[n] in ("fillers", "adverbs", "mark", "links", "auxiliaries", "pronouns")
        for n in range(at, last)
    )
