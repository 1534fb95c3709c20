"""A record as JSON and back: `probeside/record/1` and `probeside/amendment/1`."""

from __future__ import annotations

import json
import re
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from shared.errors import InputError

_Model = TypeVar("_Model", bound=BaseModel)
_STEERING = re.compile(r"[\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]")
_PYTHON_NAMES = {"schema": "schema_", "class": "class_"}


def to_json(record: BaseModel) -> bytes:
    """The record whole, as indented UTF-8 JSON; names lose Python's trailing mark (`class`, `schema`).

    Invisible and steering characters and lone surrogates are written as escapes: the file reads as it is.
    """
    whole = _renamed(record.model_dump(mode="json"), {value: key for key, value in _PYTHON_NAMES.items()})
    text = json.dumps(whole, ensure_ascii=False, indent=1, allow_nan=False)
    return (_STEERING.sub(lambda found: f"\\u{ord(found[0]):04x}", text) + "\n").encode()


def from_json(content: bytes, model: type[_Model], *, name: str) -> _Model:
    """The record that `to_json` wrote. Raises InputError naming the file and the faulty entries."""
    try:
        return model.model_validate(_renamed(json.loads(content), _PYTHON_NAMES))
    except ValidationError as error:
        entries = "; ".join(
            f"{'.'.join(map(str, fault['loc'])) or 'record'}: {fault['msg']}" for fault in error.errors()[:5]
        )
        raise InputError(f"{name}: not a record: {entries}") from error
    except (ValueError, RecursionError) as error:
        raise InputError(f"{name}: not JSON; export the record again") from error


def _renamed(value: Any, names: dict[str, str]) -> Any:
    if isinstance(value, dict):
        return {names.get(key, key): _renamed(item, names) for key, item in value.items()}
    if isinstance(value, list):
        return [_renamed(item, names) for item in value]
    return value
