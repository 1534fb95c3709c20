"""The files of a jurisdiction, laid over those it inherits from: raw rows, each with its file."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shared.errors import InputError
from shared.rules.fields import Fault, Row

FORMAT = "probeside/rules/1"
HERE = Path(__file__).parent
_LARGEST_FILE = 4_000_000

KEYS = {
    "source": "id",
    "provision": "section",
    "form_item": "number",
    "limit": "id",
    "time_temperature": "id",
    "ambiguity": "id",
    "sanitizer": "id",
    "cooling": "id",
    "tcs_cell": "id",
    "deadline": "id",
    "hazard": "id",
    "category": "number",
    "option": "id",
    "illness": "id",
    "duty": "id",
    "edition_note": "id",
}
"""Every kind of row, and the field that names one."""
_HEADER = ("format", "name", "title", "edition", "effective", "inherits", "caution", "decision", "remove")


@dataclass(slots=True)
class Layers:
    """The merged rows of a jurisdiction and all it inherits from, with every fault found on the way."""

    header: dict[str, Any] = field(default_factory=dict)
    header_file: str = ""
    inherits: list[str] = field(default_factory=list)
    rows: dict[str, dict[Any, tuple[dict[str, Any], str]]] = field(
        default_factory=lambda: {kind: {} for kind in KEYS}
    )
    faults: list[Fault] = field(default_factory=list)
    files: list[str] = field(default_factory=list)

    def of(self, kind: str) -> Iterator[Row]:
        """Rows of one kind, in the order of the files."""
        for key, (raw, file) in self.rows[kind].items():
            yield Row(raw, file, f"{kind} {key}", self.faults)


def names() -> list[str]:
    """The jurisdictions that ship with the program, in order of the alphabet."""
    found = [path.stem for path in HERE.glob("*.toml")]
    found += [path.parent.name for path in HERE.glob("*/rules.toml")]
    return sorted(found)


def find(name_or_path: str | Path) -> Path:
    """The file or folder that `name_or_path` means. Raises `InputError` when there is none."""
    given = str(name_or_path)
    if given in names():
        folder = HERE / given
        return folder if folder.is_dir() else HERE / f"{given}.toml"
    try:
        path = Path(given)
        if path.is_dir() and (path / "rules.toml").is_file():
            return path
        if path.is_file():
            return path
    except (OSError, ValueError):
        pass
    raise InputError(
        f"no rules are called {given!r}: name a TOML file, a folder with a rules.toml in it, "
        f"or one of {', '.join(names())}"
    )


def gather(path: Path) -> Layers:
    """All rows of the jurisdiction at `path` over those it inherits from; faults are noted, not raised."""
    layers = Layers()
    _lay(path, layers, seen=())
    return layers


def _lay(path: Path, layers: Layers, seen: tuple[Path, ...]) -> None:
    where = path.resolve()
    if where in seen:
        layers.faults.append(
            Fault(path.name, "inherits", "it inherits from itself, directly or by way of others")
        )
        return
    folder = path.is_dir()
    main = path / "rules.toml" if folder else path
    header = _read(main, path, layers)
    parent = header.get("inherits")
    if isinstance(parent, str):
        try:
            found = _parent(parent, main.parent)
        except InputError as error:
            layers.faults.append(Fault(main.name, "inherits", str(error)))
        else:
            _lay(found, layers, (*seen, where))
            layers.inherits.insert(0, str(layers.header.get("name", parent)))
    elif parent is not None:
        layers.faults.append(Fault(main.name, "inherits", "`inherits` must be the name of other rules"))
    layers.header = {
        **{key: value for key, value in layers.header.items() if key in ("decision", "caution")},
        **header,
    }
    layers.header_file = _label(main, path)
    _merge(header, _label(main, path), layers)
    for part in sorted(path.glob("*.toml")) if folder else ():
        if part != main:
            raw = _read(part, path, layers)
            for key in raw:
                if key in _HEADER and key != "remove":
                    layers.faults.append(
                        Fault(_label(part, path), key, f"`{key}` belongs in rules.toml, not in a part")
                    )
            _merge(raw, _label(part, path), layers)


def _parent(name: str, beside: Path) -> Path:
    if name in names():
        return find(name)
    try:
        sibling = beside / name
        if sibling.exists():
            return find(sibling)
    except (OSError, ValueError):
        pass
    return find(name)


def _label(file: Path, root: Path) -> str:
    return f"{root.name}/{file.name}" if root.is_dir() else file.name


def _read(file: Path, root: Path, layers: Layers) -> dict[str, Any]:
    label = _label(file, root)
    layers.files.append(label)
    try:
        if file.stat().st_size > _LARGEST_FILE:
            raise ValueError(f"larger than {_LARGEST_FILE // 1_000_000} MB")
        return tomllib.loads(file.read_text(encoding="utf-8"))
    except OSError as error:
        message = f"cannot be read ({error.strerror}): check the path and its permissions"
    except UnicodeDecodeError as error:
        message = f"is not UTF-8 text (byte {error.start}): save it as UTF-8"
    except (tomllib.TOMLDecodeError, ValueError, RecursionError) as error:
        message = f"is not valid TOML: {error or 'nested too deep'}"
    layers.faults.append(Fault(label, "file", message))
    return {}


def _merge(raw: Mapping[str, Any], label: str, layers: Layers) -> None:
    """Lays rows over those already there: the same key changes the fields it names and keeps the others."""
    for kind, rows in raw.items():
        if kind in _HEADER:
            continue
        if kind not in KEYS:
            layers.faults.append(
                Fault(label, str(kind), f"no such kind of row; kinds are {', '.join(sorted(KEYS))}")
            )
            continue
        if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
            layers.faults.append(Fault(label, kind, f"write each row as [[{kind}]]"))
            continue
        seen: set[Any] = set()
        for place, row in enumerate(rows, 1):
            key = row.get(KEYS[kind])
            if not isinstance(key, str | int) or isinstance(key, bool):
                layers.faults.append(
                    Fault(label, f"{kind} {place}", f"`{KEYS[kind]}` is missing or not a name")
                )
            elif key in seen:
                layers.faults.append(Fault(label, f"{kind} {key}", "stands twice in this file"))
            else:
                seen.add(key)
                before = layers.rows[kind].get(key, ({}, ""))[0]
                for message in _dropped(before, row):
                    layers.faults.append(Fault(label, f"{kind} {key}", message))
                layers.rows[kind][key] = ({**before, **row}, label)
    _remove(raw.get("remove", {}), label, layers)


def _dropped(before: Mapping[str, Any], row: Mapping[str, Any]) -> Iterator[str]:
    """What to say of each unit that an inherited row has and the row laid over it leaves out: no limit would
    hold for a reading in it. Times and lengths are held against a limit in any unit."""
    if row.get("quantity", before.get("quantity")) in ("duration", "length"):
        return
    for name, value in row.items():
        had, has = _units(before.get(name)), _units(value)
        if has and had - has:
            yield (
                f"`{name}` leaves out {', '.join(sorted(had - has))}, which the inherited row has, so that "
                f"nothing would be held against it: give the figure in {' and '.join(sorted(had))}"
            )


def _units(value: object) -> frozenset[str]:
    """The units of a table of figures, or of those in a list of steps."""
    if isinstance(value, dict):
        return frozenset(str(unit) for unit in value)
    parts = [step for step in value if isinstance(step, dict)] if isinstance(value, list) else []
    return frozenset(unit for step in parts for part in step.values() for unit in _units(part))


def _remove(removed: object, label: str, layers: Layers) -> None:
    if not isinstance(removed, dict):
        layers.faults.append(Fault(label, "remove", 'must be a table, as {limit = ["id"]}'))
        return
    for kind, keys in removed.items():
        if kind not in KEYS or not isinstance(keys, list):
            layers.faults.append(Fault(label, f"remove.{kind}", "must be a list of names of a kind of row"))
            continue
        for key in keys:
            if not isinstance(key, str | int) or layers.rows[kind].pop(key, None) is None:
                layers.faults.append(Fault(label, f"remove.{kind}", f"nothing is called {key!r}"))
