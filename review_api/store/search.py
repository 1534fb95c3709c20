"""Searching transcripts and findings by words.

The two functions here are all that knows how: on SQLite an FTS5 table. A database with another text search
gets a second implementation behind the same two.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import sqlalchemy as sa
from sqlmodel import Session

from review_api.store.tables import Inspection

Kind = Literal["utterance", "finding"]

OPEN, CLOSE = "\u2068", "\u2069"
"""Around a found word in a snippet; a page turns them into marks after escaping."""


@dataclass(frozen=True, slots=True)
class Found:
    """One place where all the words occur."""

    inspection_id: int
    number: str
    establishment: str | None
    kind: str
    subject: str
    snippet: str


def index(session: Session, inspection: Inspection, kind: Kind, bodies: Sequence[tuple[str, str]]) -> None:
    """Makes the utterances or findings of an inspection findable: (subject, words), in place of those before.

    Row numbers are made from the inspection's, so that its rows are found again without reading the others.
    """
    first = (inspection.key << 20) + (0 if kind == "utterance" else 1 << 19)
    session.execute(
        sa.text("DELETE FROM search WHERE rowid BETWEEN :first AND :last"),
        {"first": first, "last": first + (1 << 19) - 1},
    )
    rows = [
        {"row": first + at, "inspection": inspection.id, "kind": kind, "subject": subject, "body": body}
        for at, (subject, body) in enumerate(bodies)
    ]
    if rows:
        session.execute(
            sa.text(
                "INSERT INTO search (rowid, inspection_id, kind, subject, body)"
                " VALUES (:row, :inspection, :kind, :subject, :body)"
            ),
            rows,
        )


def find(session: Session, words: str, *, limit: int = 50) -> list[Found]:
    """Where all of `words` occur, best first. The last word may be the beginning of one."""
    terms = re.findall(r"\w+", words)
    if not terms:
        return []
    query = " ".join(f'"{term}"' for term in terms[:20]) + "*"
    rows = session.execute(
        sa.text(
            "SELECT search.inspection_id, inspection.number, inspection.establishment,"
            " search.kind, search.subject,"
            " snippet(search, 3, :open, :close, '…', 16)"
            " FROM search JOIN inspection ON inspection.id = search.inspection_id"
            " WHERE search MATCH :query ORDER BY rank LIMIT :limit"
        ),
        {"query": query, "limit": limit, "open": OPEN, "close": CLOSE},
    )
    return [Found(*row) for row in rows]
