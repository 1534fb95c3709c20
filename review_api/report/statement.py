"""What a document says of itself to programs: one keyword that holds JSON, covered by the seal."""

from __future__ import annotations

import json
from dataclasses import dataclass


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
    amends: Amends | None = None


def keyword(statement: Statement) -> str:
    """The statement as the document's keyword: ASCII JSON."""
    whole: dict[str, object] = {
        "schema": statement.schema,
        "number": statement.number,
        "draft": statement.draft,
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
        amends = whole.get("amends")
        return Statement(
            schema=str(whole["schema"]),
            number=str(whole["number"]),
            draft=bool(whole["draft"]),
            amends=Amends(str(amends["number"]), str(amends["sha256"])) if amends else None,
        )
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None
