"""The shape of the tree: who may import whom, how large a module may grow, what no file may say."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MAY_IMPORT = {
    "shared": {"shared"},
    "capture": {"capture", "shared"},
    "extract": {"extract", "shared"},
    "review_api": {"review_api", "extract", "capture", "shared"},
}
MODULES = [path for package in MAY_IMPORT for path in sorted((ROOT / package).rglob("*.py"))]
MOST_LINES = 450


def _imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names.update(alias.name.split(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            names.add(node.module.split(".")[0])
    return names


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_point_one_way(path: Path) -> None:
    package = path.relative_to(ROOT).parts[0]
    stages_imported = _imported(path) & set(MAY_IMPORT)
    assert stages_imported <= MAY_IMPORT[package]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_a_module_holds_one_idea_and_stays_small(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES
    assert path.stem not in {"utils", "helpers", "misc", "common"}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_module_says_what_it_is(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))), f"{path}: no docstring"


def _tracked() -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True)
    return [ROOT / name for name in listed.stdout.split("\0") if name]


def test_no_registry_address_is_written_anywhere() -> None:
    address = re.compile(rb'index[-]url|"resolved["]: *"http|https?://[^ ]*/simple[/]')
    saying = [
        path.relative_to(ROOT) for path in _tracked() if path.is_file() and address.search(path.read_bytes())
    ]
    assert saying == []


def test_every_locked_package_has_a_hash() -> None:
    for lock in sorted((ROOT / "lock").glob("*.txt")):
        text = lock.read_text(encoding="utf-8")
        pinned = re.findall(r"(?m)^[A-Za-z0-9_.\-\[\]]+==.*$", text)
        assert pinned
        unhashed = [line for line in pinned if not line.endswith("\\")]
        assert not unhashed, f"{lock.name}: {unhashed}"


def test_the_tree_stays_light_enough_to_clone() -> None:
    fixtures = sum(
        path.stat().st_size
        for path in _tracked()
        if path.is_file() and path.is_relative_to(ROOT / "audio_fixtures")
    )
    assert fixtures < 20_000_000
