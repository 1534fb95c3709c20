"""One block of a recording heard: each voiced stretch gets its words, or is listed as not understood."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import zip_longest

from capture.audio import levelled
from capture.speech.coverage import uncovered
from capture.speech.decode import Encoded, Window, pack, short_frames, slowed, window
from capture.speech.doubts import (
    doubts,
    faint_voice,
    left_out,
    rules_for,
    runs_on,
    talked_over,
    undecided,
    words_missing,
    worth_hearing_again,
)
from capture.speech.ear import Ear, Piece, Second, hear_alone, hear_windows, take
from capture.speech.line import Line
from capture.speech.mending import mended
from capture.speech.numerals import tokens
from capture.speech.utterances import gather, spans_of, utterance
from capture.speech.whispers import whispers
from capture.voice import PAD_S, Block
from shared.types import Doubt, Removed, Stretch, Transcript, Utterance, Word

_FIRST_SHARE = 0.6  # of the time of a block, about
_SHORT_BATCH = {
    1000: 12,
    2000: 4,
    3000: 2,
}  # stretches of all workers together, by their frames; memory grows with the square

_POOR = -1.5  # mean log probability of a token; below it, what is heard in a gap is not believed


def hear_block(block: Block, ear: Ear, *, tell: Callable[[float], None] | None = None) -> Transcript:
    """The utterances of a block with their doubts, what was not understood, and what was taken out.

    `tell` gets how much of the block is done, from 0 to 1.
    """
    report = tell or (lambda _: None)
    pieces = [(stretch, block.piece(stretch)) for stretch in block.stretches]
    words: dict[Stretch, Sequence[Word]] = {}
    removed: list[Removed] = []
    at_once: list[Stretch] = []
    windows = pack(pieces)
    for done, (heard, where) in enumerate(hear_windows(windows, ear.model, ear.bias), start=1):
        take(heard, where, words, removed)
        at_once += heard.at_once
        report(_FIRST_SHARE * done / len(windows))
    again = [piece for piece in pieces if not words.get(piece[0])]
    for heard, where in hear_windows([window([piece]) for piece in again], ear.model, ear.bias):
        take(heard, where, words, removed)
    alone = _split(pieces, words, removed, block, ear)
    faint = whispers(block, ear)
    words |= faint.words
    pieces += [(stretch, levelled(block.piece(stretch))) for stretch in faint.words]
    pieces.sort(key=lambda piece: piece[0].start)
    lines = {stretch: Line.of(words[stretch]) for stretch, _ in pieces if words.get(stretch)}
    found = _doubts([piece for piece in pieces if piece[0] in lines], lines, ear)
    found += [left_out(lines[stretch]) for stretch in alone if stretch in lines]
    found += talked_over([word for line in lines.values() for word in line.words], at_once)
    found += [faint_voice(lines[stretch]) for stretch in faint.words]
    for stretch, line in lines.items():
        missing = words_missing(line, stretch.end - stretch.start - 2 * PAD_S)
        found += [missing] if missing and stretch not in faint.words else []
    rows = gather(
        ((stretch.start + PAD_S, stretch.end - PAD_S, words.get(stretch, ())) for stretch, _ in pieces),
        holes=block.holes,
    )
    missed = [*faint.not_understood, *(stretch for stretch, _ in pieces if stretch not in lines)]
    return Transcript(
        tuple(_with_doubts(mended(utterance(row), known=ear.known), found) for row in rows),
        tuple(sorted(missed, key=lambda stretch: stretch.start)),
        tuple(removed),
    )


# ---------------------------------------------------------------- what the words leave uncovered


def _split(
    pieces: list[Piece],
    words: dict[Stretch, Sequence[Word]],
    removed: list[Removed],
    block: Block,
    ear: Ear,
) -> list[Stretch]:
    """Makes stretches of their own of the parts that no word covers, hears them alone, and names them."""
    alone: list[Stretch] = []
    whole, pieces[:] = list(pieces), []
    for stretch, samples in whole:
        row = list(words.get(stretch, ()))
        parts: list[Stretch] = []
        at, taken = stretch.start, 0
        for count, gap in uncovered(stretch, row):
            heard, where = hear_alone(gap, at, block, ear)
            part = where.stretches[0]
            parts += [Stretch(at, part.start), part]
            last = row[count - 1]
            words[parts[-2]] = [*row[taken : count - 1], replace(last, end=min(last.end, gap.start))]
            words[part] = ()
            if heard.log_probability < _POOR and heard.words:
                removed.append(Removed(heard.text, part.start, part.end, "the model is unsure of all of it"))
            else:
                take(heard, where, words, removed)
            alone.append(part)
            at, taken = part.end, count
        if parts and taken < len(row):
            parts.append(Stretch(at, stretch.end))
            words[parts[-1]] = row[taken:]
        if parts:
            del words[stretch]
        pieces += [(part, block.piece(part)) for part in parts] or [(stretch, samples)]
    return alone


# ---------------------------------------------------------------- doubts


def _doubts(pieces: Sequence[Piece], lines: dict[Stretch, Line], ear: Ear) -> list[Doubt]:
    """The doubts on all numbers of the block, after the stretches with numbers were heard again.

    A stretch goes on to the next hearing only while that could still change what is doubted.
    """
    rules = rules_for(lines.values())
    row = [lines[stretch] for stretch, _ in pieces]
    others: dict[Stretch, list[list[str]]] = {
        stretch: []
        for (stretch, _), line, following in zip_longest(pieces, row, row[1:])
        if worth_hearing_again(line, rules) or (following is not None and runs_on(line, following))
    }
    for second in ear.seconds:
        asked = [
            window([piece])
            for piece in pieces
            if piece[0] in others and undecided(lines[piece[0]], others[piece[0]], rules)
        ]
        for one, text in _again(asked, second, ear.bias):
            if text is not None:
                others[one.stretches[0]].append(tokens(text))
    return [doubt for stretch, row in others.items() for doubt in doubts(lines[stretch], row, rules)]


def _again(windows: Sequence[Window], second: Second, bias: str) -> Iterable[tuple[Window, str | None]]:
    """The windows heard by themselves, those of like length together, encoded no longer than they are."""
    by_length: dict[int, list[tuple[Window, Window]]] = {}
    for one in windows:
        played = slowed(one, second.speed) if second.speed != 1.0 else one
        if played.duration_s > 30.0:
            played = one
        by_length.setdefault(short_frames(played), []).append((one, played))

    def hear(job: tuple[int, Sequence[Window]]) -> list[str | None]:
        frames, batch = job
        return Encoded(second.model, batch, frames=frames).texts(hotwords=bias)

    sizes = {frames: max(1, size // second.model.workers) for frames, size in _SHORT_BATCH.items()}
    jobs = [
        (frames, pairs[first : first + sizes[frames]])
        for frames, pairs in sorted(by_length.items())
        for first in range(0, len(pairs), sizes[frames])
    ]
    with ThreadPoolExecutor(second.model.workers) as workers:
        heard = workers.map(hear, [(frames, [played for _, played in pairs]) for frames, pairs in jobs])
        for (_, pairs), texts in zip(jobs, heard, strict=True):
            for (one, _), text in zip(pairs, texts, strict=True):
                yield one, text


def _with_doubts(said: Utterance, found: Iterable[Doubt]) -> Utterance:
    """The utterance with the doubts that fall into its seconds, each pointing at its words."""
    spans = spans_of(said.words)
    own: list[Doubt] = []
    for doubt in found:
        if doubt.start is None or doubt.end is None:
            continue
        inside = [
            span
            for word, span in zip(said.words, spans, strict=True)
            if doubt.start <= (word.start + word.end) / 2 <= doubt.end
        ]
        if inside:
            own.append(replace(doubt, span=(inside[0][0], inside[-1][1])))
    return replace(said, doubts=tuple(own)) if own else said
