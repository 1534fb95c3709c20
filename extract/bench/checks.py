"""`probeside bench checks`: verdicts a second against each shipped rules file, beside a bare comparison.

The plain alternative is what a script would do by hand: one dictionary of stage to limit, one comparison, no
food, no band, no sentence. The ratio says what the law as data, the margin and the sentence cost.
"""

from __future__ import annotations

import argparse
import json
import platform
import random
import time
from collections.abc import Callable, Sequence

from extract.checks import Measured, Quantity, check
from shared import rules as law
from shared.rules.model import Rules

_FOODS = (
    "sliced turkey", "chicken thighs", "beef patties", "cooked rice", "cut melon", "salmon", "black beans",
    "eggs", "tuna salad", "prime rib", "milk", "whole apples", "hot dogs", "chili", "pork chops", "a dish",
)  # fmt: skip
_STAGES = ("cold_holding", "hot_holding", "cooking", "reheating", "receiving", "thawing", "cooling")
_PLAIN = {
    "cold_holding": ("<=", 41.0), "receiving": ("<=", 41.0), "thawing": ("<=", 41.0), "cooling": ("<=", 41.0),
    "hot_holding": (">=", 135.0), "cooking": (">=", 165.0), "reheating": (">=", 165.0),
}  # fmt: skip


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declares the options of the benchmark."""
    parser.add_argument("--count", type=int, default=100_000, help="how many readings are checked")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    """Prints checks a second on one core for each rules file, and the ratio to the plain alternative."""
    readings = sample(max(1, options.count))
    plain = _rate(lambda: _plain(readings), len(readings))
    results = {}
    for name in law.names():
        rules = law.load(name)
        _all(readings[:1000], rules)
        results[name] = _rate(lambda rules=rules: _all(readings, rules), len(readings))  # type: ignore[misc]
    if options.json:
        rates = {name: round(rate) for name, rate in results.items()}
        print(json.dumps({"count": len(readings), "checks_a_second": rates, "plain_a_second": round(plain)}))
        return 0
    print(f"{len(readings)} readings on one core, Python {platform.python_version()}")
    for name, rate in results.items():
        print(
            f"{name:20} {rate:10,.0f} checks a second, {plain / rate:6.1f} times the cost of a bare "
            f"comparison"
        )
    print(f"{'bare comparison':20} {plain:10,.0f} a second")
    return 0


def sample(count: int, *, seed: int = 2022) -> list[Measured]:
    """Readings as an inspector takes them: mostly food temperatures, some solutions, lengths and light."""
    draw = random.Random(seed)
    return [_one(draw) for _ in range(count)]


def _one(draw: random.Random) -> Measured:
    kind = draw.random()
    if kind < 0.8:
        stage = draw.choice(_STAGES)
        unit, low, high = draw.choice((("degF", 20, 200), ("degC", -5, 95)))
        held = draw.choice((None, None, 15.0, 60.0))
        return Measured(
            "temperature",
            draw.randrange(low * 2, high * 2) / 2,
            unit,
            stage,
            draw.choice(_FOODS),
            held_s=held,
        )
    if kind < 0.9:
        water = Quantity(draw.randrange(50, 130), "degF")
        return Measured(
            "concentration", draw.randrange(0, 300), "ppm", "sanitizer", agent="chlorine", ph=7.5, water=water
        )
    if kind < 0.95:
        return Measured("length", draw.randrange(0, 12), "inch", "storage", "flour")
    return Measured("illuminance", draw.randrange(0, 80), "foot_candle", "lighting", place="prep table")


def _all(readings: Sequence[Measured], rules: Rules) -> None:
    for reading in readings:
        check(reading, rules)


def _plain(readings: Sequence[Measured]) -> None:
    for reading in readings:
        operator, limit = _PLAIN.get(reading.stage, ("<=", 200.0))
        _ = reading.value <= limit if operator == "<=" else reading.value >= limit


def _rate(work: Callable[[], None], count: int) -> float:
    """The best of three runs, in readings a second of processor time: a busy machine changes little."""
    best = float("inf")
    for _ in range(3):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    return count / best
