"""`probeside bench NAME`: the project's own benchmarks, each beside a plain alternative in the same run."""

from __future__ import annotations

import argparse
from importlib import import_module

BENCHMARKS = {
    "speech": (
        "capture.bench.speech",
        "the speech stage beside plain faster-whisper; --noise: a table of noise",
    ),
    "extract": ("extract.bench.extract", "readings and findings of a corpus beside plain alternatives"),
    "checks": ("extract.bench.checks", "verdicts a second"),
    "report": ("review_api.bench.report", "drafting and sealing a report of 30 violations and 40 photos"),
    "page": ("review_api.bench.page", "list, desk, photos and search over 500 inspections"),
}
"""Name, module and what it measures. A module has `add_arguments(parser)` and `run(options)`."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "\n".join(f"{name:8} {measures}" for name, (_, measures) in BENCHMARKS.items())
    parser.add_argument("benchmark", choices=tuple(BENCHMARKS), metavar="NAME", help="one of those below")
    parser.add_argument(
        "rest", nargs=argparse.REMAINDER, metavar="…", help="its own options; --help lists them"
    )


def run(options: argparse.Namespace) -> int:
    """The benchmark's exit status. Only the module that is asked for is imported."""
    module, measures = BENCHMARKS[options.benchmark]
    benchmark = import_module(module)
    parser = argparse.ArgumentParser(prog=f"probeside bench {options.benchmark}", description=measures)
    benchmark.add_arguments(parser)
    return int(benchmark.run(parser.parse_args(options.rest)))
