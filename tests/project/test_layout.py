"""The shape of the tree: who may import whom, how large a module may grow, what no file may say."""

import ast
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EXTRACT = ROOT / "extract"
MAY_IMPORT = {
    "shared": {"shared"},
    "capture": {"capture", "shared"},
    "extract": {"extract", "shared"},
    "review_api": {"review_api", "extract", "capture", "shared"},
}
LAYERS_OF_EXTRACT = {
    name: layer
    for layer, names in enumerate(
        [
            ("learned_from", "words"),
            ("checks", "second_reader"),
            ("figures",),
            ("meant_for", "amended"),
            ("scene",),
            ("of_what",),
            ("settled",),
            ("measured",),
            ("judged", "revised"),
            ("conditions", "cases"),
            ("likeness",),
            ("put_right",),
            ("proposed",),
            ("extraction", "explain", "tables"),
            ("commands", "bench", "teaching"),
        ]
    )
    for name in names
}
"""How `extract` is put together: a folder or module imports from itself and the layers before its own."""
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


def _modules_imported(path: Path) -> set[str]:
    """The same as dotted names: `from extract.words import line` is of `extract.words.line`."""
    return {
        f"{node.module}.{alias.name}"
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module
        for alias in node.names
    }


@pytest.mark.parametrize(
    "path",
    [path for path in MODULES if path.is_relative_to(EXTRACT) and path != EXTRACT / "__init__.py"],
    ids=lambda path: str(path.relative_to(ROOT)),
)
def test_the_parts_of_extract_import_from_those_before_them(path: Path) -> None:
    own = path.relative_to(EXTRACT).with_suffix("").parts[0]
    imported = {name.split(".")[1] for name in _modules_imported(path) if name.startswith("extract.")}
    layer = LAYERS_OF_EXTRACT[own]
    assert {name for name in imported - {own} if LAYERS_OF_EXTRACT[name] >= layer} == set()


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
