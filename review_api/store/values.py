"""The stages' frozen values as JSON for the database, and back. Exact: nothing is rounded or dropped."""

from __future__ import annotations

from functools import cache
from typing import Any, TypeVar

from pydantic import TypeAdapter

T = TypeVar("T")


@cache
def _adapter(kind: Any) -> TypeAdapter[Any]:
    return TypeAdapter(kind)


def to_json(value: object) -> dict[str, Any]:
    """A dataclass of `shared.types` as plain JSON."""
    kind: Any = type(value)
    plain: dict[str, Any] = _adapter(kind).dump_python(value, mode="json")
    return plain


def from_json(kind: type[T], plain: object) -> T:
    """The value that `to_json` wrote. Raises `pydantic.ValidationError` for anything else."""
    wanted: Any = kind
    value: T = _adapter(wanted).validate_python(plain)
    return value
