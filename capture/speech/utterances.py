"""Words gathered into utterances: what was said in one go."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shared.types import Span, Stretch, Utterance, Word

PAUSE_S = 1.0
"""A pause of this length ends an utterance."""
_LONG_S = 20.0  # talk without such a pause is cut where a sentence ends, once it is longer than this

Said = Sequence[Word]


def gather(runs: Iterable[tuple[float, float, Said]], *, holes: Sequence[Stretch] = ()) -> list[list[Word]]:
    """The words of each utterance, from runs of `(voice starts, voice ends, words)` in order of time.

    None reaches over one of the `holes`, where nobody knows what was said.
    A run is one voiced stretch: its ends are where the voice detector hears it, which is more exact than the
    times of words.
    """
    gathered: list[list[Word]] = []
    quiet_since: float | None = None
    for start, end, words in runs:
        if not words:
            continue
        if gathered and quiet_since is not None and start - quiet_since < PAUSE_S:
            gathered[-1].extend(words)
        else:
            gathered.append(list(words))
        quiet_since = end
    return [part for whole in gathered for side in _sides(whole, holes) for part in _parts(side)]


def text_of(words: Said) -> str:
    """The words as one line."""
    return " ".join(word.text for word in words)


def spans_of(words: Said) -> list[Span]:
    """Where each word lies in `text_of(words)`."""
    spans: list[Span] = []
    at = 0
    for word in words:
        spans.append((at, at + len(word.text)))
        at += len(word.text) + 1
    return spans


def utterance(words: Said) -> Utterance:
    """The utterance that the words make."""
    return Utterance(text_of(words), words[0].start, words[-1].end, tuple(words))


def _sides(words: list[Word], holes: Sequence[Stretch]) -> Iterable[list[Word]]:
    """The words before, between and after the holes."""
    sides: list[list[Word]] = [[]]
    before = 0
    for word in words:
        middle = (word.start + word.end) / 2
        passed = sum((hole.start + hole.end) / 2 < middle for hole in holes)
        if passed != before:
            sides.append([])
        before = passed
        sides[-1].append(word)
    return [side for side in sides if side]


def _parts(words: list[Word]) -> list[list[Word]]:
    parts: list[list[Word]] = [[]]
    for word in words:
        parts[-1].append(word)
        if word.text[-1] in ".?!" and word.end - parts[-1][0].start > _LONG_S:
            parts.append([])
    return [part for part in parts if part]
