"""Learns the weights from the sayings; run it after changing them: `make weights`.

Needs scikit-learn, which has a lock and an environment of its own (`lock/train.txt`). Subject: a linear
support vector machine, one section against the rest, over tf-idf of stems. Tone and ending: logistic
regression over all words and their neighbours, the ending over the manner of telling too. Weighing:
logistic regression over the features of `weighing.py`, on walks of which the others had not seen a sentence,
so that it learns how far they, the second reader and the catalogue's patterns can be trusted with new ones.
Its argument is the file in which `extract.teaching.train` told what it takes unseen sentences for.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from extract.cases import sections_agree
from extract.conditions.content import content
from extract.learned_from import OF_LIKENESS, fingerprint
from extract.likeness.features import neighbours, sounds_of, stems_of
from extract.likeness.judge import WEIGHTS, Likeness, Side, save
from extract.likeness.manner import ending_of, manner_of
from extract.likeness.tone import Tone
from extract.likeness.weighing import FEATURES, considered
from extract.measured.readings import read_line
from extract.proposed.proposing import hear
from extract.scene import Scene
from extract.teaching.examples import marked_walks, read_unseen
from extract.teaching.sayings import NEITHER, OUTCOMES, PUT_RIGHT, VIOLATION, Saying, sayings
from extract.words.clauses import clauses
from extract.words.lexicon import lexicon
from extract.words.line import prepare
from extract.words.text import tokens
from shared.rules import load as load_rules

FOLDS = 4
_FEWEST_SAYINGS = 2
"""A word that stands in fewer sayings is left out."""
_FEWEST_WORDS = 4
"""A shorter clause tells too little alone."""
_SOUNDS_DONE = 0.5
"""A saying of a section, or a clause of one, that sounds more like something put right than this, to a rule
that has not seen it, is not learned as its opposite: `he swapped the shelves` was written for another
question."""


def main() -> int:
    """Learns, reports what counts for how much, and writes the weights."""
    said = sayings()
    lines = [tokens(one.said) for one in said]
    reads = [content(line) for line in lines]
    stems, sounds = [stems_of(read) for read in reads], [sounds_of(line) for line in lines]
    endings = [_endings(one) for one in said]
    clear = _clear(said, stems, sounds, endings)
    made = _learn(said, stems, sounds, clear)
    rows, right = _weighed_walks(made, Path(sys.argv[1]))
    made = replace(made, weighing=_weighing(np.array(rows), np.array(right)))
    save(made)
    print(f"{WEIGHTS.name}: {WEIGHTS.stat().st_size / 1e6:.1f} MB from {len(said)} sayings")
    return 0


def _clear(
    said: Sequence[Saying],
    stems: Sequence[Sequence[str]],
    sounds: Sequence[Sequence[str]],
    endings: Sequence[list[list[str]]],
) -> list[list[list[str]]]:
    """The clauses without those that were written for another question and sound like something put right."""
    order = np.random.default_rng(3).permutation(len(said))
    clear = list(endings)
    for fold in range(FOLDS):
        held = set(order[fold::FOLDS].tolist())
        rest = [at for at in range(len(said)) if at not in held]
        learned = _learn(
            [said[at] for at in rest],
            [stems[at] for at in rest],
            [sounds[at] for at in rest],
            [endings[at] for at in rest],
        )
        for at in held:
            if said[at].meant not in OUTCOMES:
                likes = learned.put_right(endings[at])
                clear[at] = [
                    one for one, like in zip(endings[at], likes, strict=True) if like <= _SOUNDS_DONE
                ]
        print(f"fold {fold + 1} of {FOLDS}", file=sys.stderr)
    return clear


def _weighed_walks(learned: Likeness, unseen: Path) -> tuple[list[tuple[float, ...]], list[bool]]:
    """What is weighed of each section that the sentences of the walks may go against, and whether they do.

    `unseen`: what second readers that had not seen them take the sentences for (`train.py`).
    """
    rules = load_rules("food_code_2022")
    told = read_unseen(unseen)
    rows: list[tuple[float, ...]] = []
    right: list[bool] = []
    for first, walk in marked_walks():
        scene, reads = Scene(), []
        for n, one in enumerate(walk):
            reads.append(read_line(one.text, n, scene, lexicon(), hour=None, degrees="degF"))
        heard = [hear(reads, n, rules) for n in range(len(reads))]
        senses = iter(learned.senses([each.sounds for one in heard for each in one.sentences]))
        for n, (one, heard_one) in enumerate(zip(walk, heard, strict=True)):
            for sentence in heard_one.sentences:
                sense, begin = next(senses), heard_one.read.starts[sentence.words[0]]
                marked = next((m for m in one.sentences if m.span[0] <= begin < m.span[1]), None)
                taken = told.get((first + n, marked.span)) if marked is not None else None
                if marked is None or taken is None:
                    continue
                for each in considered(
                    learned, heard_one.read, sentence.words, sense, sentence.found, taken,
                    before=sentence.before, asked="?" in sentence.sounds[-1:],
                ):  # fmt: skip
                    rows.append(each.features)
                    right.append(any(sections_agree(each.section, section) for section in marked.sections))
    print(f"{len(rows)} sections weighed", file=sys.stderr)
    return rows, right


def _endings(saying: Saying) -> list[list[str]]:
    """A saying as the rule for things put right counts it, and the clauses of one that tells none, since it
    is clauses that are judged."""
    line = prepare(saying.said, 0, lexicon())
    whole = len(line.tokens)
    made = [ending_of(line, 0, whole, manner_of(line, 0, whole))]
    if saying.meant not in OUTCOMES:
        parts = list(clauses(line))
        for first, end in parts if len(parts) > 1 else ():
            if sum(token.kind == "word" for token in line.tokens[first:end]) >= _FEWEST_WORDS:
                made.append(ending_of(line, first, end, manner_of(line, first, end)))
    return made


def _learn(
    said: Sequence[Saying],
    stems: Sequence[Sequence[str]],
    sounds: Sequence[Sequence[str]],
    endings: Sequence[Sequence[Sequence[str]]],
) -> Likeness:
    from sklearn.svm import LinearSVC

    about = [at for at, one in enumerate(said) if one.sections]
    subject, table = _side([stems[at] for at in about])
    by_section = LinearSVC(C=0.5).fit(table, [said[at].sections[0] for at in about])
    scale = float(np.abs(by_section.coef_).max()) / 127
    told = [at for at, one in enumerate(said) if one.meant != NEITHER and not one.part]
    ended = [
        (part, one.meant == PUT_RIGHT) for one, parts in zip(said, endings, strict=True) for part in parts
    ]
    return Likeness(
        columns={str(section): at for at, section in enumerate(by_section.classes_)},
        subject=subject,
        by_section=np.round(by_section.coef_.T / scale).astype(np.int8),
        scale=scale,
        level=by_section.intercept_.astype(np.float32),
        tone=_tone([neighbours(sounds[at]) for at in told], [said[at].meant == VIOLATION for at in told]),
        ending=_tone([part for part, _ in ended], [right for _, right in ended]),
        weighing=[0.0] * (len(FEATURES) + 1),
        learned_from=fingerprint(OF_LIKENESS),
    )


def _tone(texts: Sequence[Sequence[str]], outcome: Sequence[bool]) -> Tone:
    from sklearn.linear_model import LogisticRegression

    side, table = _side(texts)
    learned = LogisticRegression(C=10, max_iter=3000, class_weight="balanced").fit(table, outcome)
    return Tone("\n".join(side.places), np.array(side.idf), learned.coef_[0], float(learned.intercept_[0]))


def _side(texts: Sequence[Sequence[str]]) -> tuple[Side, Any]:
    """The words of the texts and their tf-idf table."""
    from sklearn.feature_extraction.text import TfidfVectorizer

    counter = TfidfVectorizer(analyzer=list, sublinear_tf=True, min_df=_FEWEST_SAYINGS)
    table = counter.fit_transform(texts)
    words = sorted(counter.vocabulary_, key=counter.vocabulary_.__getitem__)
    return Side({word: at for at, word in enumerate(words)}, counter.idf_.tolist()), table


def _weighing(rows: NDArray[np.float64], right: NDArray[np.bool_]) -> list[float]:
    from sklearn.linear_model import LogisticRegression

    spread = rows.std(0)
    fitted = LogisticRegression(C=1, max_iter=2000).fit(rows / spread, right)
    weights = fitted.coef_[0] / spread
    for name, weight in zip(FEATURES, weights, strict=True):
        print(f"  {name:<12} {weight:+.2f}", file=sys.stderr)
    return [*weights.tolist(), float(fitted.intercept_[0])]


if __name__ == "__main__":
    sys.exit(main())
