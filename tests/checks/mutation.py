"""Mutants of the comparison code, each run against the tests: who survives? Not a test; run it by hand.

    pip install cosmic-ray
    python -m tests.checks.mutation [MODULE ...]

cosmic-ray makes the mutants: ordering comparisons (`<`, `<=`, `>`, `>=`) exchanged, numbers changed,
conditions negated; in `comparing.py` every other comparison and sum too. The tests are imported once; each
mutant is put in place in a fork, and tests run until the first failure, the one that failed last first.
Prints each survivor with its line, and returns 1 when one is not listed in `equivalent_mutants.toml`.
"""

from __future__ import annotations

import os
import re
import resource
import sys
import tomllib
import warnings
from collections import Counter
from collections.abc import Iterator, Sequence
from importlib import import_module
from itertools import count
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
CHECKS = ROOT / "extract" / "checks"
VERDICTS = ("test_edges.py", "test_verdicts.py", "test_worked_examples.py")
FOLLOWS = ("test_what_follows.py", "test_worked_examples.py")
COOLING = (
    "test_cooling_edges.py",
    "test_cooling.py",
    "test_cooling_days.py",
    "test_worked_examples.py",
    "test_every_table.py",
)
TESTS = {
    "comparing": ("test_comparing.py", "test_verdicts.py"),
    "between": ("test_edges.py",),
    "holding": (*VERDICTS, "test_every_table.py"),
    "tcs": ("test_edges.py", "test_every_table.py"),
    "date_marks": FOLLOWS,
    "time_control": FOLLOWS,
    "sanitizers": ("test_sanitizers.py", *VERDICTS, "test_every_table.py"),
    "cooling_stages": COOLING,
    "cooling": COOLING,
    "days": ("test_cooling_days.py",),
    "air_gap": VERDICTS,
    "special": (*VERDICTS, "test_instrument.py"),
    "checking": (*VERDICTS, "test_every_row.py"),
    "selecting": (*VERDICTS, "test_every_row.py"),
    "surroundings": VERDICTS,
    "lethality": ("test_lethality.py",),
    "measured": ("test_instrument.py", "test_verdicts.py"),
    "thermometer": ("test_instrument.py", "test_verdicts.py"),
    "boiling": ("test_edges.py", "test_outside_references.py"),
    "exactly": ("test_outside_references.py", *VERDICTS),
    "options": ("test_what_follows.py",),
    "correcting": (*FOLLOWS, "test_outside_references.py"),
}
"""The modules that compare figures, and the tests that must notice a mutant of each."""
_ORDERING = re.compile(r"ReplaceComparisonOperator_(Lt|LtE|Gt|GtE)_|NumberReplacer|AddNot")
_IDENTITY = re.compile("_(Is|IsNot)$")
"""Whether two figures are one object means nothing to anybody."""
_EVERY = re.compile(r"Replace(Comparison|Binary|Unary)Operator|AndWithOr|OrWithAnd|NumberReplacer|AddNot")
_CPU_S = 300
"""A mutant that runs longer never ends, and counts as killed."""
Mutant = tuple[str, str, str]
"""The module, its line, and the mutated line."""


def equivalent() -> dict[Mutant, str]:
    """Why each listed mutant cannot be told apart by any reading."""
    listed = tomllib.loads((Path(__file__).parent / "equivalent_mutants.toml").read_text(encoding="utf-8"))
    return {
        (row["module"], row["line"], becomes): row["why"]
        for row in listed["equivalent"]
        for becomes in row["becomes"]
    }


def mutants(path: Path, *, every: bool) -> Iterator[tuple[str, int, str]]:
    """Each mutant's operator, line and whole text."""
    from cosmic_ray.mutating import mutate_code
    from cosmic_ray.plugins import get_operator, operator_names

    source = path.read_text(encoding="utf-8")
    for name in operator_names():
        if _IDENTITY.search(name) or not (_EVERY if every else _ORDERING).search(name):
            continue
        operator = get_operator(name)
        for arguments in operator.arguments() or [{}]:
            for occurrence in count():
                text = mutate_code(source.encode(), operator(**arguments), occurrence)
                if text is None:
                    break
                yield name.rsplit("/", 1)[-1], _line(source, text), text


def _line(source: str, text: str) -> int:
    """The first line in which two texts differ, from 1."""
    pairs = enumerate(zip(source.splitlines(), text.splitlines(), strict=False), start=1)
    return next((place for place, (mine, theirs) in pairs if mine != theirs), 1)


def put(module: ModuleType, text: str) -> None:
    """Puts mutated code in place: functions keep their identity, so that whoever imported them runs it."""
    fresh = ModuleType(module.__name__)
    fresh.__file__ = module.__file__
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", SyntaxWarning)
        sys.modules[module.__name__] = fresh  # dataclasses look up the module that they are made in
        try:
            exec(compile(text, str(module.__file__), "exec"), fresh.__dict__)
        finally:
            sys.modules[module.__name__] = module
    _put_all(vars(module), vars(fresh), module.__name__)


def _put_all(old: Any, new: Any, owner: str) -> None:
    for name, fresh in list(new.items()):
        was = old.get(name)
        if was is fresh or was is None or (name.startswith("__") and name.endswith("__")):
            continue
        if hasattr(was, "cache_clear"):
            was.cache_clear()
        was, fresh = (getattr(one, "__wrapped__", one) for one in (was, fresh))
        if isinstance(was, property):
            was, fresh = was.fget, fresh.fget
        if isinstance(was, FunctionType):
            if was.__module__ == owner:
                was.__code__, was.__defaults__, was.__kwdefaults__ = (
                    fresh.__code__, fresh.__defaults__, fresh.__kwdefaults__,
                )  # fmt: skip
        elif isinstance(was, type):
            if was.__module__ == owner:
                _put_all(vars(was), vars(fresh), owner)
        elif type(was) is type(fresh) and was != fresh and isinstance(old, dict):
            for module in list(sys.modules.values()):
                if getattr(module, name, None) is was:
                    setattr(module, name, fresh)


class Run:
    """One pytest session whose collected tests are run once for each mutant, in a fork."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = names
        self.unknown = 0

    def pytest_configure(self) -> None:
        """Draws the same examples for each mutant and stops at the first that fails."""
        from hypothesis import Phase, settings

        phases = (Phase.explicit, Phase.generate)
        settings.register_profile("mutation", phases=phases, database=None, derandomize=True, deadline=None)
        settings.load_profile("mutation")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        known = equivalent()
        stale = {key for key in known if key[0] in self.names}
        for name in self.names:
            stale -= self._module(name, session.items, known)
        for module, line, becomes in sorted(stale):
            print(
                f"{module}: no mutant survives as {becomes!r} of {line!r}; take it off the list", flush=True
            )
        self.unknown += len(stale)
        return True

    def _module(self, name: str, items: Sequence[pytest.Item], known: dict[Mutant, str]) -> set[Mutant]:
        """Prints what became of a module's mutants; the listed ones that did survive."""
        path = CHECKS / f"{name}.py"
        module = import_module(f"extract.checks.{name}")
        source = path.read_text(encoding="utf-8")
        lines = source.splitlines()
        order = sorted(
            (item for item in items if item.path.name in TESTS[name]),
            key=lambda item: (
                hasattr(getattr(item, "obj", None), "hypothesis"),
                TESTS[name].index(item.path.name),
            ),
        )
        counted: Counter[str] = Counter()
        used: set[Mutant] = set()
        failing = _killer(module, source, order)
        if failing is not None:
            print(
                f"{name}: {order[failing].nodeid} fails without any mutation; correct that first", flush=True
            )
            self.unknown += 1
            return used
        for operator, line, text in mutants(path, every=name == "comparing"):
            killer = _killer(module, text, order)
            if killer is not None:
                order.insert(0, order.pop(killer))
                counted["killed"] += 1
                continue
            key = (name, lines[line - 1].strip(), text.splitlines()[line - 1].strip())
            used.add(key)
            counted["survived"] += 1
            if key not in known:
                self.unknown += 1
                print(f"  {name}.py:{line} {operator}: {key[1]}  ->  {key[2]}", flush=True)
        survived = f"{counted['survived']} survived"
        print(f"{name}: {sum(counted.values())} mutants, {counted['killed']} killed, {survived}", flush=True)
        return used


def _killer(module: ModuleType, text: str, order: Sequence[pytest.Item]) -> int | None:
    """The place of the first test that fails with that text in place of the module; None when all pass."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        place = 0
        try:
            resource.setrlimit(resource.RLIMIT_CPU, (_CPU_S, _CPU_S))
            null = os.open(os.devnull, os.O_WRONLY)
            os.dup2(null, 1)
            os.dup2(null, 2)
            put(module, text)
            place = _first_failure(order)
        finally:
            os.write(writing, str(place).encode())
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as answer:
        said = answer.read()
    os.waitpid(child, 0)
    place = int(said) if said else 0
    return place if place >= 0 else None


def _first_failure(order: Sequence[pytest.Item]) -> int:
    for place, item in enumerate(order):
        given = item.callspec.params if hasattr(item, "callspec") else {}
        if isinstance(item, pytest.Function) and set(item.fixturenames) <= set(given):
            try:
                item.obj(**given)  # without fixtures a call says the same as pytest's protocol, much sooner
            except BaseException:
                return place
            continue
        after = order[place + 1] if place + 1 < len(order) else None
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if item.session.testsfailed:
            return place
    return -1


def main(names: Sequence[str]) -> int:
    """Prints the survivors of each module and returns 1 when one is not known to be equivalent."""
    os.chdir(ROOT)
    names = list(names or TESTS)
    files = dict.fromkeys(f"tests/checks/{file}" for name in names for file in TESTS[name])
    run = Run(names)
    options = ["-q", "-s", "-p", "no:cacheprovider", "-p", "no:schemathesis", "-o", "addopts="]
    options += ["-o", "timeout=0"]
    status = pytest.main([*options, *files], plugins=[run])
    return 1 if run.unknown or status not in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
