"""`probeside bench extract`: an extraction scored beside plain alternatives, and its speed."""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from extract.bench.alternatives import library_values, nearest_phrase, regex_values, value_f1
from extract.bench.corpus import Dictation, load_corpus
from extract.bench.scoring import PARTS, Score, score
from extract.extraction import extract
from shared.errors import InputError
from shared.rules import load
from shared.types import Utterance

SIZES = (100, 1_000, 10_000, 100_000)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--corpus", required=True, type=Path, metavar="FILE", help="dictations, one JSON object a line"
    )
    parser.add_argument("--from", dest="first", metavar="ID", help="only dictations from this id on")
    parser.add_argument("--to", dest="last", metavar="ID", help="only dictations up to this id")
    parser.add_argument("--errors", action="store_true", help="list what went wrong")
    parser.add_argument(
        "--speed", action="store_true", help="measure utterances a second and how cost grows, instead"
    )
    parser.add_argument(
        "--most", type=int, default=SIZES[-1], metavar="N", help="with --speed: utterances at most"
    )


def run(options: argparse.Namespace) -> int:
    """Prints the table; exit status 0."""
    corpus = [d for d in load_corpus(options.corpus) if _within(d, options.first, options.last)]
    if not corpus:
        raise InputError(f"{options.corpus}: no dictation between --from and --to; give ids that are in it")
    if options.speed:
        _speed(corpus, options.most)
        return 0
    made = evaluate(corpus)
    _table(corpus, made)
    if options.errors:
        print("\nErrors")
        for line in made.errors:
            print(f"  {line}")
    return 0


def _within(dictation: Dictation, first: str | None, last: str | None) -> bool:
    return (first is None or dictation.id >= first) and (last is None or dictation.id <= last)


def evaluate(corpus: Sequence[Dictation]) -> Score:
    """The score of this project's extraction on a corpus."""
    made = Score()
    for dictation in corpus:
        score(extract(dictation.utterances, rules=load(dictation.rules)), dictation, made)
    return made


def _table(corpus: Sequence[Dictation], made: Score) -> None:
    print(
        f"{len(corpus)} dictations, {sum(len(d.utterances) for d in corpus)} utterances, "
        f"{made.wanted} readings, {made.violations} findings"
    )
    print(f"{'':34}{'P':>7}{'R':>7}{'F1':>7}")
    for part in PARTS:
        _row(part, made.rates(part))
    _row("sections", made.section_rates())
    print("Beside it, values whatever their unit, and sections")
    _row("values, quantulum3", value_f1(corpus, library_values()))
    _row("values, regular expression", value_f1(corpus, regex_values))
    *rates, clean = nearest_phrase(corpus)
    _row("sections, nearest phrase", (rates[0], rates[1], rates[2]))
    print("Shares")
    _share("corrected on site told right", made.corrected_right, made.violations_found)
    _share("dictations without a finding left clean", made.left_clean, made.without)
    print(f"  {'the same, nearest phrase':44}{clean:6.1f} %")
    _share("flagged words and figures doubted", made.flagged, made.flags)
    _share("readings that carry a doubt", made.doubted, made.given)
    print(f"  {'readings nobody said, without a doubt':44}{made.unsupported:6}")


def _row(name: str, rates: tuple[float, float, float]) -> None:
    print(f"  {name:32}" + "".join(f"{rate:7.1f}" for rate in rates))


def _share(name: str, part: int, whole: int) -> None:
    print(f"  {name:44}{100 * part / whole if whole else 100.0:6.1f} %  ({part} of {whole})")


# ---------------------------------------------------------------- speed


def _speed(corpus: Sequence[Dictation], most: int) -> None:
    """Utterances a second of processor time on one core, at growing sizes, and the time to start."""
    rules = load("food_code_2022")
    said = [Utterance(u.text, at=u.at) for dictation in corpus for u in dictation.utterances]
    extract(said[:20], rules=rules)
    print(f"{'utterances':>12}{'seconds':>10}{'a second':>10}{'quantulum3':>12}")
    values = library_values()
    for size in [n for n in SIZES if n <= most]:
        many = _in_ever_new_order(said, size)
        began = time.process_time()
        extract(many, rules=rules)
        took = time.process_time() - began
        beside = ""
        if size <= 1_000:
            began = time.process_time()
            for utterance in many:
                values(utterance.text)
            beside = f"{size / (time.process_time() - began):12.0f}"
        print(f"{size:12}{took:10.2f}{size / took:10.0f}{beside}")
    print(f"start-up, processor seconds: {_startup():.2f}")


def _in_ever_new_order(said: Sequence[Utterance], size: int) -> list[Utterance]:
    """As many utterances; the same ones stand between others each time, so that no answer of the second
    reader, which reads them with the two before, is asked for twice."""
    chance = random.Random(4)
    many: list[Utterance] = []
    while len(many) < size:
        many += chance.sample(said, len(said))
    return many[:size]


def _startup() -> float:
    """Processor seconds of a fresh process that extracts one line."""
    program = (
        "import time\nfrom extract import extract\n"
        "from shared.rules import load\nfrom shared.types import Utterance\n"
        "extract([Utterance('soup 150')], rules=load('food_code_2022'))\nprint(time.process_time())"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    return float(done.stdout)
