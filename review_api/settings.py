"""The department's own settings, from `settings.toml` in the data folder; every one may be missing."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from review_api.deadlines import Office, read_office
from review_api.record import Department
from shared import rules as law
from shared.errors import InputError, ProbesideError

FILE = "settings.toml"
DEFAULT_RULES = "food_code_2022"
_KNOWN = ("department", "office", "rules")


@dataclass(frozen=True, slots=True)
class Settings:
    """What the service is told from outside."""

    department: Department = field(
        default_factory=lambda: Department(name="Health department (name not set)")
    )
    rules: str = DEFAULT_RULES
    """The rules of an inspection for which no others are named."""
    speech_model: str | None = None
    """A folder or name; None: the one that comes with Probeside."""
    office: Office | None = None
    """The department's business days and hours; None: Monday to Friday in the visit's own zone."""
    hosts: tuple[str, ...] = ()
    """Names besides the loopback's under which the service answers."""


def read_settings(folder: Path, **more: Any) -> Settings:
    """The settings of a data folder. Raises InputError that names the file and entry."""
    path = folder / FILE
    if not path.exists():
        return Settings(**more)
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError) as error:
        raise InputError(f"{path}: cannot be read as TOML ({error}); correct it or take it away") from error
    for name in raw:
        if name not in _KNOWN:
            near = get_close_matches(name, _KNOWN, 1)
            hint = f"did you mean {near[0]}?" if near else f"known are {', '.join(_KNOWN)}"
            raise InputError(f"{path}: {name}: is not known here; {hint}")
    try:
        if "department" in raw:
            more["department"] = Department.model_validate(raw["department"])
        if "office" in raw:
            more["office"] = read_office(raw["office"])
        if "rules" in raw:
            more["rules"] = _rules(raw["rules"])
    except ValidationError as error:
        faults = (
            f"{'.'.join(str(part) for part in ('department', *one['loc']))}: {one['msg']}"
            for one in error.errors()
        )
        raise InputError(f"{path}: {'; '.join(faults)}") from error
    except InputError as error:
        raise InputError(f"{path}: {error}") from error
    return Settings(**more)


def _rules(given: object) -> str:
    """The rules' name, or where they lie. Raises InputError where there are none, or they have faults."""
    if not isinstance(given, str):
        raise InputError(f'rules: {given!r} is no name; write it as rules = "{DEFAULT_RULES}"')
    try:
        loaded = law.load(given)
    except ProbesideError as error:
        raise InputError(f"rules: {error}") from error
    return loaded.name if given in law.names() else str(Path(given).resolve())
