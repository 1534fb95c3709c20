"""A sealed document and what amends it: found among other files by the hash that each amendment names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from cryptography import x509

from review_api.seal.verification import Verification, verify
from shared.errors import InputError

_LARGEST_BYTES = 200_000_000


@dataclass(frozen=True, slots=True)
class Looked:
    """A file and what verification found."""

    path: Path
    found: Verification

    @property
    def amends_sha256(self) -> str | None:
        """The hash of the document that this one amends, if it is whole and says so."""
        statement = self.found.statement
        return statement.amends.sha256 if statement and statement.amends else None


def look(path: Path, *, certificate: x509.Certificate, expected_sha256: str | None = None) -> Looked:
    """The file verified. Raises InputError when it cannot be read."""
    try:
        content = path.read_bytes()
    except OSError as error:
        words = f"{path}: cannot be read ({error.strerror}); check the file's name and owner"
        raise InputError(words) from error
    return Looked(path, verify(content, certificate=certificate, expected_sha256=expected_sha256))


def amendments_of(document: Looked, others: Iterable[Looked]) -> tuple[Looked, ...]:
    """The whole documents of `others` that amend this one or one of its amendments, first sealed first."""
    candidates = [other for other in others if other.found.whole]
    known = {document.found.sha256}
    found: list[Looked] = []
    waiting = [document.found.sha256]
    while waiting:
        amended = waiting.pop()
        for other in candidates:
            if other.amends_sha256 == amended and other.found.sha256 not in known:
                known.add(other.found.sha256)
                found.append(other)
                waiting.append(other.found.sha256)
    return tuple(sorted(found, key=lambda item: item.found.sealed.timestamp() if item.found.sealed else 0.0))


def beside(path: Path, *, certificate: x509.Certificate) -> Iterator[Looked]:
    """The other PDFs in the folder of `path`, verified; what cannot be read is passed over."""
    here = path.resolve()
    for other in sorted(here.parent.glob("*.pdf")):
        try:
            if other != here and other.is_file() and other.stat().st_size < _LARGEST_BYTES:
                yield look(other, certificate=certificate)
        except (InputError, OSError):
            continue
