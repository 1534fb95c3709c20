"""Learns the weights from the sayings; run it after changing them: `make weights`.

Needs scikit-learn, which has a lock and an environment of its own (`lock/train.txt`). Subject: a linear
support vector machine, one section against the rest, over tf-idf of stems. Tone and ending: logistic
regression over all words and their neighbours, the ending over the manner of telling too. Weighing:
logistic regression over the features of `weighing.py`, on sayings that the others had not seen (four folds),
so that it learns how far they, and the catalogue's patterns, can be trusted with new sentences.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from extract.cases import sections_agree
from extract.conditions import find_conditions
from extract.conditions.content import content
from extract.corrections import clauses
from extract.lexicon import lexicon
from extract.likeness.features import neighbours, sounds_of, stems_of
from extract.likeness.judge import WEIGHTS, Likeness, Side, save
from extract.likeness.manner import ending_of, manner_of
from extract.likeness.sayings import NEITHER, OUTCOMES, PUT_RIGHT, VIOLATION, Saying, fingerprint, sayings
from extract.likeness.tone import Tone
from extract.likeness.weighing import FEATURES, considered
from extract.line import prepare
from extract.text import tokens

FOLDS = 4
_FEWEST_SAYINGS = 2
"""A word that stands in fewer sayings is left out."""
_FEWEST_WORDS = 4
"""A shorter clause tells too little alone."""
_SOUNDS_DONE = 0.5
"""A saying of a section, or a clause of one, that sounds more like something put right than this, to a rule
that has not seen it, is not learned as its opposite: `he swapped the shelves` was written for another
question."""
_PRIOR = 0.2
"""Log-odds added to the weighing: sayings stand alone, a walk's sentences lean on each other. Chosen on
the dictations `a` to `d` and `f` of tests/extract/people."""


def main() -> int:
    """Learns, reports how well it does on held-back sayings, and writes the weights."""
    said = sayings()
    lines = [tokens(one.said) for one in said]
    reads = [content(line) for line in lines]
    stems, sounds = [stems_of(read) for read in reads], [sounds_of(line) for line in lines]
    order = np.random.default_rng(3).permutation(len(said))
    endings = [_endings(one) for one in said]
    rows: list[tuple[float, ...]] = []
    right: list[bool] = []
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
        for at in sorted(held):
            if said[at].meant not in OUTCOMES:
                likes = learned.put_right(endings[at])
                clear[at] = [
                    one for one, like in zip(endings[at], likes, strict=True) if like <= _SOUNDS_DONE
                ]
            if said[at].foreseen or said[at].part or said[at].meant == NEITHER:
                continue
            found = find_conditions(said[at].said)
            whole, (sense,) = (0, len(reads[at].stems)), learned.senses([sounds[at]])
            for one in considered(learned, reads[at], whole, sense, found, asked="?" in sounds[at][-1:]):
                rows.append(one.features)
                right.append(
                    said[at].meant == VIOLATION
                    and any(sections_agree(one.section, section) for section in said[at].sections)
                )
        print(f"fold {fold + 1} of {FOLDS}: {len(rows)} sections weighed", file=sys.stderr)
    weights = _weighing(np.array(rows), np.array(right))
    made = _learn(said, stems, sounds, clear, weights)
    save(made)
    print(f"{WEIGHTS.name}: {WEIGHTS.stat().st_size / 1e6:.1f} MB from {len(said)} sayings")
    return 0


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
    weighing: Sequence[float] | None = None,
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
        weighing=[0.0] * (len(FEATURES) + 1) if weighing is None else weighing,
        learned_from=fingerprint(),
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
    return [*weights.tolist(), float(fitted.intercept_[0]) + _PRIOR]


if __name__ == "__main__":
    sys.exit(main())
