"""The personal vocabulary: what the inspector corrected, so that the next inspection hears it right."""

from __future__ import annotations

from collections.abc import Sequence

from sqlmodel import Session, col, select

from review_api.store.refusals import NotFound
from review_api.store.tables import Word


def all_words(session: Session) -> Sequence[Word]:
    """All words, in the order of the alphabet."""
    return session.exec(select(Word).order_by(col(Word.meant), col(Word.heard))).all()


def keep(session: Session, *, meant: str, heard: str, kind: str) -> Word:
    """The word as it is kept; kept already, it stays one."""
    meant, heard = " ".join(meant.split()), " ".join(heard.split())
    row = session.exec(select(Word).where(Word.meant == meant, Word.heard == heard)).first()
    if row is None:
        row = Word(meant=meant, heard=heard)
    row.kind = kind
    session.add(row)
    session.flush()
    return row


def forget(session: Session, word_id: int) -> None:
    """Raises NotFound."""
    row = session.get(Word, word_id)
    if row is None:
        raise NotFound(f"there is no word {word_id} in the vocabulary")
    session.delete(row)
