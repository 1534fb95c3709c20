"""Whether the sealed file, the event log and the database tell the same story; each disagreement in words."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from cryptography import x509

from review_api.log import Entry
from review_api.log import verify as verify_log
from review_api.record import Amendment, Record
from review_api.report.statement import content_sha256
from review_api.seal.ceremony import SEALED
from review_api.seal.verification import verify


@dataclass(frozen=True, slots=True)
class Kept:
    """What the database says of a sealed document."""

    number: str
    sha256: str
    sealed: datetime
    record: Record | Amendment
    """The record as the database has it now."""


def sealed_hashes(entries: Collection[Entry]) -> frozenset[str]:
    """SHA-256 of every document whose sealing the log tells."""
    return frozenset(str(about.get("sha256")) for about in _sealings(entries))


def disagreements(
    kept: Kept | None,
    pdf: bytes | None,
    entries: Sequence[Entry],
    *,
    number: str,
    certificate: x509.Certificate,
) -> tuple[str, ...]:
    """All that file, log and database say differently of the document `number`; empty when they agree.

    `kept` is None when the database knows no sealed document, `pdf` None when there is no file; `entries` is
    the whole log.
    """
    return tuple(_disagreements(kept, pdf, entries, number, certificate))


def _disagreements(
    kept: Kept | None, pdf: bytes | None, entries: Sequence[Entry], number: str, certificate: x509.Certificate
) -> Iterator[str]:
    sealings = [about for about in _sealings(entries) if about.get("number") == number]
    logged = str(sealings[0].get("sha256")) if sealings else None
    found = verify(pdf, certificate=certificate) if pdf is not None else None
    statement = found.statement if found and found.whole else None

    heads = [statement.log_head] if statement and statement.log_head else []
    for fault in verify_log(entries, anchors=heads):
        yield f"the log, entry {fault.sequence}: {fault.what}" if fault.sequence else f"the log: {fault.what}"
    if len(sealings) > 1:
        yield f"the log tells {len(sealings)} sealings of {number}; there can be one"

    present = {"the database": bool(kept), "the log": bool(sealings), "the folder": pdf is not None}
    if any(present.values()):
        for name, there in present.items():
            if not there:
                knowing = [other for other, says in present.items() if says]
                do = "do" if len(knowing) > 1 else "does"
                yield f"{name} knows no sealed {number}, but {' and '.join(knowing)} {do}"

    if found and not found.whole:
        yield f"the file is not whole: {'; '.join(found.faults)}"
    if statement and statement.number != number:
        yield f"the file is report {statement.number}, not {number}"
    if kept and kept.number != number:
        yield f"the database gives the number {kept.number}, not {number}"
    if kept and logged and kept.sha256 != logged:
        yield "the database and the log give different SHA-256 for the sealed file"
    if found and kept and kept.sha256 != found.sha256:
        yield "the SHA-256 of the file is not the one in the database"
    if found and logged and logged != found.sha256:
        yield "the SHA-256 of the file is not the one in the log"
    if statement and kept and content_sha256(kept.record) != statement.content:
        yield "the record in the database was changed after it was sealed"
    if found and found.sealed and kept and kept.sealed != found.sealed:
        yield "the database and the file give different times of the seal"


def _sealings(entries: Collection[Entry]) -> Iterator[dict[str, object]]:
    for entry in entries:
        about = entry.event.get("about")
        if entry.event.get("did") == SEALED and isinstance(about, dict):
            yield about
