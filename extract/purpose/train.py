"""Learns the weights from the marked sayings; run it after changing them: `make weights`.

Needs scikit-learn, which has a lock and an environment of its own (`lock/train.txt`). A logistic regression
over `features.py`, with the rules' roles among them. How well it does is told of one file at a time, learned
from the others: each file is by another hand.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from typing import NamedTuple

from extract.lexicon import lexicon
from extract.line import prepare
from extract.purpose.features import features, words_of
from extract.purpose.judge import WEIGHTS, Purpose, save
from extract.purpose.marked import MEASURED, Said, files, fingerprint, sayings
from extract.quantities import figures
from extract.roles import settle_roles

_FEWEST = 2
"""A feature of fewer figures is left out."""
_NOT_COUNTED = "wu"
"""What is taken back or said again is told by other rules, and was measured all the same."""


class Row(NamedTuple):
    """One figure: what is counted of it, whether it was measured, and whether the rules say so."""

    counted: frozenset[str]
    measured: bool
    by_rules: bool


def main() -> int:
    """Learns, reports how well it does on held-back files, and writes the weights."""
    by_file = {path.stem: _rows(sayings(path)) for path in files()}
    for name, held in by_file.items():
        learned = _learn([row for other, rows in by_file.items() if other != name for row in rows])
        right = sum((_odds(learned, row) > 0) == row.measured for row in held)
        rules = sum(row.by_rules == row.measured for row in held)
        shares = f"learned {right / len(held):.3f}, rules {rules / len(held):.3f}"
        print(f"  {name:<27} {len(held)} figures: {shares}", file=sys.stderr)
    made = _learn([row for rows in by_file.values() for row in rows])
    save(made)
    figures_in_all = sum(map(len, by_file.values()))
    print(f"purpose/{WEIGHTS.name}: {WEIGHTS.stat().st_size / 1e6:.1f} MB from {figures_in_all} figures")
    return 0


def _rows(said: Sequence[Said]) -> list[Row]:
    words, rows = lexicon(), []
    for one in said:
        line = prepare(one.text, 0, words)
        found = figures(line, words, hour=None, acid=False)
        settle_roles(line, found, words)
        stems = words_of(line, found)
        for at, figure in enumerate(found):
            first, last = line.tokens[figure.first].start, line.tokens[figure.last - 1].end
            mark = next((mark for mark in one.marks if mark.span[0] < last and first < mark.span[1]), None)
            if mark is not None and mark.meant not in _NOT_COUNTED:
                counted = frozenset(features(line, found, at, stems))
                rows.append(Row(counted, mark.meant == MEASURED, figure.role == "figure"))
    return rows


def _learn(rows: Sequence[Row]) -> Purpose:
    from sklearn.feature_extraction import DictVectorizer
    from sklearn.linear_model import LogisticRegression

    seen: dict[str, int] = {}
    for row in rows:
        for each in row.counted:
            seen[each] = seen.get(each, 0) + 1
    kept = {each for each, times in seen.items() if times >= _FEWEST}
    table = DictVectorizer(sort=True)
    counted = table.fit_transform([dict.fromkeys(sorted(row.counted & kept), 1.0) for row in rows])
    learned = LogisticRegression(C=0.5, max_iter=3000).fit(counted, [row.measured for row in rows])
    weights = dict(zip(table.get_feature_names_out().tolist(), learned.coef_[0].tolist(), strict=True))
    return Purpose(weights, float(learned.intercept_[0]), fingerprint())


def _odds(learned: Purpose, row: Row) -> float:
    return learned.level + sum(learned.weights.get(each, 0.0) for each in row.counted)


if __name__ == "__main__":
    sys.exit(main())
