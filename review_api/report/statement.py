"""What a document says of itself to programs: one keyword that holds JSON, covered by the seal."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from typing import Any

import rfc8785

from review_api.record import Amendment, Record


@dataclass(frozen=True, slots=True)
class Amends:
    """Which sealed document is amended."""

    number: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Statement:
    """Kind, number and state of a document."""

    schema: str
    number: str
    draft: bool
    content: str
    """`content_sha256` of the record that it was made from."""
    log_head: str | None = None
    """Hash of the event log's last entry before the seal."""
    amends: Amends | None = None


def content_sha256(record: Record | Amendment) -> str:
    """SHA-256 of all that was decided: the record as canonical JSON, but for when and how it was written."""
    decided = record.model_dump(mode="json", exclude={"made", "draft", "seal"})
    return hashlib.sha256(rfc8785.dumps(_sound(decided))).hexdigest()


def _sound(value: Any) -> Any:
    """The value without lone surrogates, which no Unicode text may hold and some programs make."""
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode()
    if isinstance(value, dict):
        return {key: _sound(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_sound(item) for item in value]
    return value


def statement_of(record: Record | Amendment) -> Statement:
    """What the document of this record says of itself."""
    amends = None
    if isinstance(record, Amendment):
        amends = Amends(record.amends_number, record.amends_sha256)
    return Statement(
        schema=record.schema_,
        number=record.number,
        draft=record.draft,
        content=content_sha256(record),
        log_head=record.seal.log_head if record.seal else None,
        amends=amends,
    )


def keyword(statement: Statement) -> str:
    """The statement as the document's keyword: ASCII JSON."""
    whole: dict[str, object] = {
        "schema": statement.schema,
        "number": statement.number,
        "draft": statement.draft,
        "content": statement.content,
        "log_head": statement.log_head,
    }
    if statement.amends:
        whole["amends"] = {"number": statement.amends.number, "sha256": statement.amends.sha256}
    return json.dumps(whole, ensure_ascii=True)


def stated(keywords: str) -> Statement | None:
    """The statement in a document's keywords; None when there is none that can be read."""
    at = keywords.find('{"schema"')
    if at < 0:
        return None
    try:
        whole, _ = json.JSONDecoder().raw_decode(keywords, at)
        amends, head = whole.get("amends"), whole["log_head"]
        return Statement(
            schema=str(whole["schema"]),
            number=str(whole["number"]),
            draft=bool(whole["draft"]),
            content=str(whole["content"]),
            log_head=None if head is None else str(head),
            amends=Amends(str(amends["number"]), str(amends["sha256"])) if amends else None,
        )
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
