"""Mutants of the comparison code, each run against the tests: who survives? Not a test; run it by hand.

    pip install cosmic-ray
    python -m tests.checks.mutation [MODULE ...]

cosmic-ray makes the mutants: ordering comparisons (`<`, `<=`, `>`, `>=`) exchanged, numbers changed,
conditions negated; in `comparing.py` every other operator too. Each runs in a fork, by the tests named
below, until the first failure. Prints each survivor with its line, and returns 1 when one is not listed in
`EQUIVALENT`.
"""

from __future__ import annotations

import importlib.abc
import importlib.util
import io
import os
import re
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from importlib.machinery import ModuleSpec
from itertools import count
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]
HERE = "tests/checks/"
TESTS = {
    "comparing": ("test_verdicts.py",),
    "holding": ("test_verdicts.py", "test_every_table.py", "test_worked_examples.py"),
    "tcs": ("test_every_table.py",),
    "date_marks": ("test_what_follows.py",),
    "time_control": ("test_what_follows.py", "test_worked_examples.py"),
    "sanitizers": (
        "test_verdicts.py",
        "test_every_table.py",
        "test_worked_examples.py",
        "test_properties.py",
    ),
    "cooling": ("test_cooling.py", "test_every_table.py", "test_worked_examples.py"),
    "air_gap": ("test_verdicts.py",),
}
_ORDERING = re.compile(r"ReplaceComparisonOperator_(Lt|LtE|Gt|GtE)_|NumberReplacer|AddNot")
EQUIVALENT: dict[str, str] = {
    "comparing:*,": "keyword-only or position-only: no call passes these by position",
    'comparing:return distance < band if rule == "guarded_acceptance" else distance <= band': (
        "the name comes first in the alphabet of the rules that reach this line"
    ),
    'comparing:unsure = band > 0 and rule != "guarded_acceptance" and beyond <= band': (
        "the name comes first in the alphabet of the rules"
    ),
    'comparing:elif operator == ">=":': "of the operators that are left, only this one is not before it",
}
"""Survivors that cannot be told apart by any reading, as "module:line text", with the reason."""


class _Mutated(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives the mutated text when the module is imported."""

    def __init__(self, name: str, path: Path, text: str) -> None:
        self.name, self.path, self.text = name, path, text

    def find_spec(self, name: str, path: object, target: object = None) -> ModuleSpec | None:
        if name != self.name:
            return None
        return importlib.util.spec_from_loader(name, self, origin=str(self.path))

    def exec_module(self, module: ModuleType) -> None:
        module.__file__ = str(self.path)
        exec(compile(self.text, str(self.path), "exec"), module.__dict__)


def mutants(path: Path, *, every: bool) -> Iterator[tuple[str, int, str]]:
    """Each mutant's operator, line and whole text."""
    from cosmic_ray.mutating import mutate_code
    from cosmic_ray.plugins import get_operator, operator_names

    source = path.read_text(encoding="utf-8")
    for name in operator_names():
        if not (every or _ORDERING.search(name)) or "Decorator" in name or "Exception" in name:
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


def survives(module: str, path: Path, text: str, tests: Sequence[str]) -> bool:
    """Whether the tests pass with the mutated text in place of the module."""
    child = os.fork()
    if child == 0:
        status = 1
        try:
            import pytest

            sys.meta_path.insert(0, _Mutated(f"extract.checks.{module}", path, text))
            quiet = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:schemathesis", "-o", "addopts="]
            with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
                status = int(pytest.main([*quiet, *(HERE + test for test in tests)]))
        except BaseException:
            status = 1
        finally:
            os._exit(0 if status == 0 else 1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


def main(names: Sequence[str]) -> int:
    """Prints the survivors of each module and returns 1 when one is not known to be equivalent."""
    os.chdir(ROOT)
    import numpy  # noqa: F401 - imported once, before the forks

    from shared.rules import load

    load("food_code_2022")
    load("quillmere_county")
    unknown = 0
    for module in names or TESTS:
        path = ROOT / "extract" / "checks" / f"{module}.py"
        lines = path.read_text(encoding="utf-8").splitlines()
        counted: Counter[str] = Counter()
        if not survives(module, path, path.read_text(encoding="utf-8"), TESTS[module]):
            print(f"{module}: its tests fail without any mutation; correct that first", flush=True)
            return 1
        for operator, line, text in mutants(path, every=module == "comparing"):
            alive = survives(module, path, text, TESTS[module])
            counted["survived" if alive else "killed"] += 1
            if alive:
                known = EQUIVALENT.get(f"{module}:{lines[line - 1].strip()}")
                unknown += known is None
                print(
                    f"  {module}.py:{line} {operator}: {lines[line - 1].strip()}  [{known or 'survived'}]",
                    flush=True,
                )
        print(f"{module}: {counted['killed']} killed, {counted['survived']} survived", flush=True)
    return 1 if unknown else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
