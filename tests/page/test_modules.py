"""The page's own files: every module is asked for at once, and nothing is asked for that is not used."""

from __future__ import annotations

import re
from pathlib import Path

from review_api.service import PAGE

STATIC = re.compile(r'^(?:import|export)\b[^;]*?\bfrom "(\.[^"]+)";', re.MULTILINE)


def reachable(start: Path) -> set[str]:
    """The modules that `start` needs before it runs; libraries are not read further."""
    found: set[str] = set()
    waiting = [start]
    while waiting:
        module = waiting.pop()
        name = module.relative_to(PAGE).as_posix()
        if name in found:
            continue
        found.add(name)
        if not name.startswith("vendor/"):
            waiting += [(module.parent / one).resolve() for one in STATIC.findall(module.read_text("utf-8"))]
    return found


def test_the_first_page_asks_for_every_module_at_once() -> None:
    index = (PAGE / "index.html").read_text("utf-8")
    asked = set(re.findall(r'<link rel="modulepreload" href="([^"]+)">', index))
    own = {name for name in reachable((PAGE / "main.js").resolve()) if name != "main.js"}
    libraries = {"vendor/preact-hooks.js", "vendor/signals-core.js"}  # needed by libraries, not by name
    assert asked == own | libraries


def test_no_module_lies_unused() -> None:
    used = reachable((PAGE / "main.js").resolve())
    own = {path.relative_to(PAGE).as_posix() for path in PAGE.rglob("*.js")}
    own -= {name for name in own if name.startswith("vendor/")}
    assert own - used == {"theme.js"}  # runs before the first paint
