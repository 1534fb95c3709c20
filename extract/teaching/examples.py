"""What the second reader learns from, as numbers: `python -m extract.teaching.examples FILE SOUNDS`.

Marked sayings and walks teach what figures are for; walks and the written sayings of `extract.likeness`
teach what sentences tell, and walks whether a violation was put right; walks with words misprinted teach
which words are not to be trusted. SOUNDS: a pronouncing dictionary (`sounds.py`). A line of the file is one
utterance, or one violation with what was said around it, as JSON; the first one names the labels.
"""

from __future__ import annotations

import json
import random
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from extract.figures.quantities import figures
from extract.measured.mishearings import misheard
from extract.second_reader.labels import (
    KINDS,
    MEANT,
    NO_VIOLATION,
    NOT_MEASURED,
    NOT_PUT_RIGHT,
    STAGES,
    TOLD,
    UNKNOWN,
)
from extract.second_reader.marked import MEASURED, Mark, Said, files, walks
from extract.second_reader.pieces import Pieces, around, pieces
from extract.second_reader.reader import SentenceTold
from extract.settled.asking import sentences_of
from extract.teaching.bare import bare, with_kinds
from extract.teaching.garbling import Garbler, known_misprints
from extract.teaching.sayings import IN_ORDER, NOTHING, PROMISED, PUT_RIGHT, VIOLATION, sayings
from extract.teaching.sounds import Sounds
from extract.words.lexicon import lexicon
from extract.words.line import prepare
from extract.words.text import Span, touch

_SAYINGS = "sayings"
_TIMES_OF_SAYINGS, _TIMES_OF_WALKS, _MISPRINTED, _TIMES_OF_MISPRINTED = 0.5, 1.5, 2, 0.5
"""How often a saying and a walk are learned from in each round; how many misprinted versions of a walk there
are, and how often each of them is learned from."""
_TOLD = {VIOLATION: 0, IN_ORDER: 1, NOTHING: 2, PUT_RIGHT: 3, PROMISED: 4}
_JOINED_BELOW = 200
"""Characters of a saying that may be joined with another one, as sentences stand together in talk."""


class _Figure(NamedTuple):
    span: Span
    mark: Mark | None
    violates: int
    """1: it shows a violation; 0: it shows none; or UNKNOWN."""


class Sentence(NamedTuple):
    """One sentence, what it tells by number of `labels.TOLD` (or less), and the sections it is about."""

    span: Span
    told: int
    sections: tuple[str, ...]


class Example(NamedTuple):
    """One utterance and what is to be learned from it."""

    source: str
    """The file it comes from, without its ending: each is by another hand."""
    text: str
    before: tuple[str, ...]
    figures: tuple[_Figure, ...]
    sentences: tuple[Sentence, ...]
    misheard: tuple[Span, ...] = ()
    """Words that are printed for others."""


def main() -> int:
    """Writes the examples to the file named, and says how many there are."""
    made = [*_of_walks(kinds=True), *_of_sayings()]
    sections = sorted({section for one in made for each in one.sentences for section in each.sections[:1]})
    place = {section: n for n, section in enumerate(sections)}
    with Path(sys.argv[1]).open("w", encoding="utf-8") as out:
        out.write(
            json.dumps({"meant": MEANT, "stages": STAGES, "told": TOLD, "kinds": KINDS, "sections": sections})
            + "\n"
        )
        for one in made:
            times = _TIMES_OF_SAYINGS if one.source == _SAYINGS else _TIMES_OF_WALKS
            out.write(json.dumps(_numbers(one, place, times)) + "\n")
        violations = list(_violations())
        for each in violations:
            out.write(json.dumps(each) + "\n")
        for one in _misprinted(Path(sys.argv[2])):
            out.write(json.dumps(_numbers(one, place, _TIMES_OF_MISPRINTED) | {"copy": True}) + "\n")
    print(f"{len(made)} utterances, {len(violations)} violations, {len(sections)} sections: {sys.argv[1]}")
    return 0


def _of_walks(*, kinds: bool = False) -> Iterator[Example]:
    """`kinds`: with what kind of measure each figure tells of, which takes time."""
    for path in files():
        made = walks(path)
        judged = _judged(made)
        for walk in made:
            yield from _of_walk(path.stem, with_kinds(walk) if kinds else walk, judged=judged)


def _misprinted(dictionary: Path) -> Iterator[Example]:
    """All walks with most units left unsaid and some of their words misprinted."""
    garbler, chance = Garbler(Sounds(dictionary), known_misprints()), random.Random(5)
    for path in files():
        made = walks(path)
        judged = _judged(made)
        for walk in made:
            for _ in range(_MISPRINTED):
                printed = garbler.garbled(bare(with_kinds(walk), chance), chance)
                yield from _of_walk(path.stem, printed, judged=judged)


def _judged(made: Sequence[Sequence[Said]]) -> bool:
    """Whether figures that show a violation are marked so."""
    return any(mark.corrected is not None for walk in made for said in walk for mark in said.marks)


def _of_walk(source: str, walk: Sequence[Said], *, judged: bool) -> Iterator[Example]:
    for n, said in enumerate(walk):
        yield _example(source, said, [each.text for each in walk[:n]], judged=judged)


def _example(source: str, said: Said, before: Sequence[str], *, judged: bool) -> Example:
    line = prepare(said.text, 0, lexicon())
    marked = []
    for figure in figures(line, lexicon(), hour=None, acid=False):
        span = line.span(figure.first, figure.last)
        mark = next((mark for mark in said.marks if touch(mark.span, span)), None)
        known = judged and mark is not None and mark.meant == MEASURED
        marked.append(_Figure(span, mark, int(mark.corrected is not None) if known and mark else UNKNOWN))
    told = []
    for span in sentences_of(line).values():
        if said.told is None:
            told.append(Sentence(span, UNKNOWN, ()))
            continue
        here = [each.section for each in said.told if _mostly(each.span, span)]
        told.append(Sentence(span, _TOLD[VIOLATION] if here else NO_VIOLATION, tuple(here)))
    printed = [doubt.span for doubt in misheard(line) if doubt.span is not None]
    return Example(source, said.text, tuple(before), tuple(marked), tuple(told), (*said.misheard, *printed))


def _of_sayings() -> Iterator[Example]:
    alone = [
        Example(
            _SAYINGS,
            one.said,
            (),
            (),
            (Sentence((0, len(one.said)), _TOLD.get(one.meant, NOT_PUT_RIGHT), one.sections),),
        )
        for one in sayings()
    ]
    yield from alone
    short = [one for one in alone if len(one.text) < _JOINED_BELOW]
    random.Random(7).shuffle(short)
    for first, other in zip(short[::2], short[1::2], strict=False):
        gap = " " if first.text.rstrip().endswith((".", "?", "!")) else ". "
        start = len(first.text) + len(gap)
        (second,) = other.sentences
        moved = second._replace(span=(start, start + len(other.text)))
        yield first._replace(text=first.text + gap + other.text, sentences=(*first.sentences, moved))


def _numbers(one: Example, sections: dict[str, int], times: float) -> dict[str, Any]:
    """`misheard`: the word pieces of the utterance that are printed for other words, each time the first and
    the last."""
    made = _cut(one)
    return {
        "source": one.source,
        "times": times,
        "misheard": [
            inside for span in one.misheard if (inside := _inside(made, 0, span)) != (UNKNOWN, UNKNOWN)
        ],
        "ids": made.ids,
        "types": made.types,
        "violations": [],
        "figures": [
            (at, *_labels(each, one, made))
            for at, each in zip(made.figures, one.figures, strict=True)
            if at is not None and each.mark is not None
        ],
        "sentences": [
            (at, each.told, sections.get(each.sections[0], UNKNOWN) if each.sections else UNKNOWN)
            for at, each in _known_sentences(one, made)
        ],
    }


def _violations() -> Iterator[dict[str, Any]]:
    """Each violation of the walks, by words or by a figure, and whether it was put right: as it was said, and
    once more with what follows told later."""
    chance = random.Random(11)
    for path in files():
        made = walks(path)
        strangers = [said.text for walk in made for said in walk if _tells_no_violation(said)]
        for walk in made:
            texts = [said.text for said in walk]
            for n, said in enumerate(walk):
                told = [(each.span, each.corrected) for each in said.told or ()]
                told += [(each.span, each.corrected) for each in said.marks if each.corrected is not None]
                for span, corrected in told:
                    before, after = texts[:n], texts[n + 1 :]
                    ways = [(said.text, span, after), _told_later(said.text, span, after, strangers, chance)]
                    for text, place, later in ways:
                        cut = around(text, place, before, later)
                        yield {
                            "source": path.stem,
                            "times": 1,
                            "misheard": None,
                            "ids": cut.ids,
                            "types": cut.types,
                            "figures": [],
                            "sentences": [],
                            "violations": [(cut.begins, cut.ends, int(corrected))],
                        }


def _tells_no_violation(said: Said) -> bool:
    return not said.told and all(mark.corrected is None for mark in said.marks)


_MOST_BETWEEN, _FEWEST_WORDS = 2, 3


def _told_later(
    text: str, span: Span, after: Sequence[str], strangers: Sequence[str], chance: random.Random
) -> tuple[str, Span, list[str]]:
    """The violation by a few of its words, its utterance to the end of its sentence, and what follows: first
    some utterances of other walks, then the rest of its own."""
    line = prepare(text, 0, lexicon())
    end = next((last for _, last in sentences_of(line).values() if last >= span[1]), len(text))
    words = [token for token in line.tokens if span[0] <= token.start < span[1]]
    first = chance.randrange(max(1, len(words) - _FEWEST_WORDS + 1))
    few = words[first : first + chance.randint(_FEWEST_WORDS, 2 * _FEWEST_WORDS)]
    place = (few[0].start, few[-1].end) if few else span
    between = chance.sample(strangers, min(len(strangers), chance.randint(0, _MOST_BETWEEN)))
    rest = text[end:].lstrip(" .,;")
    return text[:end], place, [*between, *([rest] if rest else []), *after]


def _known_sentences(one: Example, made: Pieces) -> list[tuple[int, Sentence]]:
    return [
        (at, each)
        for at, each in zip(made.sentences, one.sentences, strict=True)
        if at is not None and each.told != UNKNOWN
    ]


def _cut(one: Example) -> Pieces:
    return pieces(
        one.text, one.before, [each.span for each in one.figures], [each.span for each in one.sentences]
    )


def marked_walks() -> Iterator[tuple[int, list[Example]]]:
    """All walks, each with the number of its first utterance among all examples; a saying with figures is a
    walk of one utterance."""
    walk: list[Example] = []
    for n, one in enumerate(_of_walks()):
        if walk and not one.before:
            yield n - len(walk), walk
            walk = []
        walk.append(one)
    yield n + 1 - len(walk), walk


def read_unseen(path: Path) -> dict[tuple[int, Span], SentenceTold]:
    """What second readers took sentences for that they had not been taught (`train.py` writes it), by number
    of the example and place of the sentence."""
    made = list(_of_walks())
    told = {}
    with path.open(encoding="utf-8") as lines:
        for line in lines:
            found = json.loads(line)
            if not found["sentences"]:
                continue
            one = made[found["n"]]
            for (_, sentence), (tells, sections) in zip(
                _known_sentences(one, _cut(one)), found["sentences"], strict=True
            ):
                shares = dict(zip(TOLD, tells, strict=True))
                told[found["n"], sentence.span] = SentenceTold(shares, sections)
    return told


def _labels(figure: _Figure, one: Example, made: Pieces) -> tuple[int, ...]:
    """What a figure is for, its stage, the first and last piece of its item (0, 0: it has none), whether it
    shows a violation, the first and last piece of its place, and of what kind it is."""
    mark = figure.mark
    assert mark is not None
    unknown = (UNKNOWN, UNKNOWN)
    kind = KINDS.index(mark.kind) if mark.kind is not None else UNKNOWN
    if mark.meant == "o":
        return NOT_MEASURED, UNKNOWN, *unknown, UNKNOWN, *unknown, kind
    meant = MEANT.index(mark.meant) if mark.meant in MEANT else MEANT.index("n")
    if mark.meant != MEASURED or mark.stage is None:
        return meant, UNKNOWN, *unknown, UNKNOWN, *unknown, kind
    item = _item_of(figure, mark, one, made)
    as_item = mark._replace(item=mark.place or None, elsewhere=False)
    place = _item_of(figure, as_item, one, made) if mark.place is not None else unknown
    return meant, STAGES.index(mark.stage), *item, figure.violates, *place, kind


def _item_of(figure: _Figure, mark: Mark, one: Example, made: Pieces) -> tuple[int, int]:
    if mark.item is None:
        return 0, 0
    named = _named(mark, figure.span, one)
    return _inside(made, *named) if named is not None else (UNKNOWN, UNKNOWN)


def _inside(made: Pieces, back: int, span: Span) -> tuple[int, int]:
    """The first and last piece of a stretch of the utterance so many back; UNKNOWN where it was cut off."""
    inside = [
        at
        for at, piece in enumerate(made.stands)
        if piece is not None and piece.back == back and touch(piece.span, span)
    ]
    return (inside[0], inside[-1]) if inside else (UNKNOWN, UNKNOWN)


def _named(mark: Mark, span: Span, one: Example) -> tuple[int, Span] | None:
    """Where the item of a figure is named: how many utterances back, and where in it."""
    assert mark.item is not None
    if not mark.elsewhere and (found := _nearest(mark.item, one.text, span[0])) is not None:
        return 0, found
    for back, said in enumerate(reversed(one.before), start=1):
        if (found := _nearest(mark.item, said, len(said))) is not None:
            return back, found
    return None


def _nearest(item: str, text: str, at: int) -> Span | None:
    words = r"\W+".join(re.escape(word) for word in item.split())
    found = [match.span() for match in re.finditer(rf"\b{words}", text, re.IGNORECASE)]
    return min(found, key=lambda span: min(abs(span[0] - at), abs(span[1] - at)), default=None)


def _mostly(told: Span, sentence: Span) -> bool:
    """Whether a sentence holds half of what is told, or is half filled by it."""
    common = min(told[1], sentence[1]) - max(told[0], sentence[0])
    return common >= 0.5 * min(told[1] - told[0], sentence[1] - sentence[0])


if __name__ == "__main__":
    sys.exit(main())
