"""Closing an inspection: render → seal → verify → keep. At any moment there is one sealed report or none.

The deed is one: the sealed PDF takes its name in the folder, whole and verified. Before that nothing counts
and all can be done again; after that the report is what that file is. The caller takes the signatures before
and writes database and log after, from `Sealed`; stopped in between, it closes again and gets the same.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from cryptography import x509

from review_api.log import Event
from review_api.record import Amendment, Record, SealWords
from review_api.report import Rendered, render, render_amendment
from review_api.report.pictures import PhotoFile
from review_api.report.statement import content_sha256
from review_api.seal.files import write_once
from review_api.seal.key import Key
from review_api.seal.sealing import seal
from review_api.seal.verification import Verification, verify
from shared.errors import InputError, RefusedError

_NUMBER = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")
_STALE_AFTER_S = 3600.0
_READ_ONLY = 0o440
_Kind = TypeVar("_Kind", Record, Amendment)

SEALED = "report sealed"
"""What the log calls it; also of an amendment."""


@dataclass(frozen=True, slots=True)
class Sealed:
    """A sealed document as it lies in its folder."""

    number: str
    path: Path
    sha256: str
    """Of the PDF; the record of it in database and log."""
    content: str
    """`content_sha256` of the record."""
    sealed: datetime
    sealed_by: str
    certificate_sha256: str
    log_head: str | None

    def event(self, *, who: str, at: datetime, inspection: str) -> Event:
        """The log's entry about this seal."""
        return Event(
            at=at,
            who=who,
            did=SEALED,
            inspection=inspection,
            about={
                "number": self.number,
                "sha256": self.sha256,
                "content": self.content,
                "sealed": self.sealed.isoformat(),
                "certificate_sha256": self.certificate_sha256,
            },
        )


def close(
    record: Record,
    photo_files: Mapping[str, PhotoFile],
    *,
    key: Key,
    folder: Path,
    log_head: str | None = None,
) -> Sealed:
    """The sealed report of `record` in `folder`, made now, or as it was made before from the same decisions.

    `log_head` is the hash of the log's last entry; the document states it. Call it from a thread that runs no
    event loop. Raises RefusedError when the record has no receipt yet, or when another content is sealed
    under its number: then only an amendment can change it.
    """
    if record.acknowledgement is None:
        raise RefusedError(
            f"report {record.number}: not signed yet; take a signature, or record the refusal or that nobody "
            "was available"
        )
    if record.acknowledgement.kind == "signed" and record.acknowledgement.signature is None:
        raise RefusedError(f"report {record.number}: said to be signed, but without a signature; sign again")
    return _closed(record, lambda final: render(final, photo_files), key, folder, log_head)


def close_amendment(
    record: Amendment, *, amended: Path, key: Key, folder: Path, log_head: str | None = None
) -> Sealed:
    """The sealed amendment in `folder`; `amended` is the sealed document that it changes.

    Raises RefusedError when that document is not whole, or is not the one that the amendment names.
    """
    found = _verified(amended, key.certificate)
    if found.statement is None or not found.whole:
        raise RefusedError(f"{amended}: cannot be amended, it is not whole: {'; '.join(found.faults)}")
    if (found.statement.number, found.sha256) != (record.amends_number, record.amends_sha256):
        raise RefusedError(
            f"amendment {record.number}: it names {record.amends_number} with another SHA-256 than {amended} "
            "has; take number and hash from that file"
        )
    return _closed(record, render_amendment, key, folder, log_head)


def sealed_file(path: Path, *, certificate: x509.Certificate) -> Sealed:
    """What lies sealed at `path`. Raises RefusedError when it is not whole."""
    found = _verified(path, certificate)
    if not found.whole or found.statement is None or found.sealed is None:
        raise RefusedError(
            f"{path}: not whole: {'; '.join(found.faults)}; take the copy that was handed over"
        )
    return Sealed(
        number=found.statement.number,
        path=path,
        sha256=found.sha256,
        content=found.statement.content,
        sealed=found.sealed,
        sealed_by=found.sealed_by or "",
        certificate_sha256=found.certificate_sha256 or "",
        log_head=found.statement.log_head,
    )


def _closed(
    record: _Kind, rendering: Callable[[_Kind], Rendered], key: Key, folder: Path, log_head: str | None
) -> Sealed:
    if not _NUMBER.fullmatch(record.number):
        raise InputError(
            f"report number {record.number!r}: use letters, digits, dot, hyphen and underscore, 64 at most"
        )
    path = folder / f"{record.number}.pdf"
    folder.mkdir(parents=True, exist_ok=True)
    _sweep(folder)
    if not path.exists():
        words = SealWords(sealed_by=key.owner, certificate_sha256=key.fingerprint, log_head=log_head)
        made = rendering(record.model_copy(update={"draft": False, "seal": words}))
        sealed = seal(made.pdf, key=key)
        found = verify(sealed, certificate=key.certificate)
        if not found.whole:
            raise RefusedError(
                f"report {record.number}: the seal just made does not hold ({'; '.join(found.faults)}); "
                "nothing was kept, close again"
            )
        _keep(path, sealed, made)
    there = sealed_file(path, certificate=key.certificate)
    if (there.number, there.content) != (record.number, content_sha256(record)):
        raise RefusedError(
            f"report {record.number}: already sealed, with other content; nothing in it can be changed any "
            "more: write an amendment"
        )
    return there


def _keep(path: Path, sealed: bytes, made: Rendered) -> None:
    """The other formats first, the deed last. What an interrupted attempt left is made anew."""
    for suffix, content in ((".html", made.html), (".json", made.json)):
        path.with_suffix(suffix).unlink(missing_ok=True)
        write_once(path.with_suffix(suffix), content, mode=_READ_ONLY)
    write_once(path, sealed, mode=_READ_ONLY)


def _verified(path: Path, certificate: x509.Certificate) -> Verification:
    try:
        content = path.read_bytes()
    except OSError as error:
        raise InputError(
            f"{path}: cannot be read ({error.strerror}); check the file's name and owner"
        ) from error
    return verify(content, certificate=certificate)


def _sweep(folder: Path) -> None:
    """Takes away what writes that were cut short long ago have left."""
    for left in folder.glob(".*.pdf.*"):
        if time.time() - left.stat().st_mtime > _STALE_AFTER_S:
            left.unlink(missing_ok=True)
