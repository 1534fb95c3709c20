"""The department's own settings, from `settings.toml` in the data folder; every one may be missing."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from review_api.deadlines import Office, read_office
from review_api.record import Department
from shared.errors import InputError

FILE = "settings.toml"
DEFAULT_RULES = "food_code_2022"


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
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
        if "department" in raw:
            more["department"] = Department.model_validate(raw["department"])
        if "office" in raw:
            more["office"] = read_office(raw["office"])
        if isinstance(raw.get("rules"), str):
            more["rules"] = raw["rules"]
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise InputError(f"{path}: cannot be read as TOML ({error}); correct it or take it away") from error
    except ValidationError as error:
        first = error.errors()[0]
        where = ".".join(str(part) for part in first["loc"])
        raise InputError(f"{path}: department.{where}: {first['msg']}") from error
    return Settings(**more)
