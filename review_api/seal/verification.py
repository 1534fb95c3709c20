"""Whether a sealed PDF is whole. It must fulfil every condition; anything unexpected is a no.

A valid signature is not enough: readers also accept appended bytes, updates they think harmless, and changes
in the part of the signature that no hash covers. So a whole document has exactly the one field, its signature
covers all bytes from first to last but its own value, and that value is, byte for byte, the only form that
the seal gives it: every bit of the file is either signed or fixed.
"""

from __future__ import annotations

import hashlib
import logging
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives import serialization

from review_api.report.statement import Statement, stated
from review_api.report.tags import FIELD
from review_api.seal.key import fingerprint, owner


@dataclass(frozen=True, slots=True)
class Verification:
    """What a look at a sealed document found."""

    whole: bool
    faults: tuple[str, ...]
    """Why it is not whole, in words; empty when it is."""
    sha256: str
    """Of the file as it is."""
    sealed_by: str | None = None
    sealed: datetime | None = None
    """The time that the sealing machine's clock showed; the seal covers it."""
    certificate_sha256: str | None = None
    statement: Statement | None = None


class _No(Exception):  # noqa: N818 - an answer, not an error
    """One condition that is not fulfilled, in words."""


def verify(pdf: bytes, *, certificate: x509.Certificate, expected_sha256: str | None = None) -> Verification:
    """Whether `pdf` is as the owner of `certificate` sealed it. Costs about 20 ms; never raises.

    `expected_sha256` is the hash kept in the department's records, when it is at hand.
    """
    sha256 = hashlib.sha256(pdf).hexdigest()
    if expected_sha256 is not None and sha256 != expected_sha256.replace(" ", "").lower():
        return Verification(False, ("the file is not the one in the records: its SHA-256 differs",), sha256)
    quiet = logging.getLogger("pyhanko")
    before = quiet.level
    quiet.setLevel(logging.CRITICAL)
    try:
        statement, sealed = _look(pdf, certificate)
    except _No as no:
        return Verification(False, (str(no),), sha256)
    except Exception as error:  # a reader's failure of any kind is a no, never a yes
        words = f"the file is damaged or was changed: it cannot be read as sealed ({type(error).__name__})"
        return Verification(False, (words,), sha256)
    finally:
        quiet.setLevel(before)
    return Verification(True, (), sha256, owner(certificate), sealed, fingerprint(certificate), statement)


def _look(pdf: bytes, certificate: x509.Certificate) -> tuple[Statement, datetime]:
    from pyhanko.pdf_utils.reader import PdfFileReader

    if not pdf.startswith(b"%PDF-"):
        raise _No("it is not a PDF file")
    reader = PdfFileReader(BytesIO(pdf), strict=True)
    signature = _only_signature(reader)
    _covers_all(signature, pdf)
    _only_form(signature, certificate)
    _certifies(reader, signature)
    _valid(signature, certificate)
    keywords = str(reader.trailer["/Info"].get("/Keywords", ""))
    statement = stated(keywords)
    if statement is None:
        raise _No("the file does not say which report it is")
    if statement.draft:
        raise _No("the file is a draft")
    sealed = signature.self_reported_timestamp
    if not certificate.not_valid_before_utc <= sealed <= certificate.not_valid_after_utc:
        raise _No("the department's certificate was not valid when it was sealed")
    return statement, sealed


def _only_signature(reader: Any) -> Any:
    signatures = list(reader.embedded_signatures)
    if not signatures:
        raise _No("there is no seal: it was never sealed, or the seal was taken off")
    fields = reader.root["/AcroForm"]["/Fields"]
    if len(signatures) != 1 or len(fields) != 1 or signatures[0].field_name != FIELD:
        raise _No("it carries other signatures or fields than the department's one seal")
    return signatures[0]


def _covers_all(signature: Any, pdf: bytes) -> None:
    start, first, second, rest = (int(value) for value in signature.byte_range)
    if start != 0 or second + rest != len(pdf):
        raise _No("something was added to the file after it was sealed")
    gap = pdf[first:second]
    written = signature.pkcs7_content.hex().upper().encode()
    # The gap holds the signature's value and zeros alone, in the one spelling that the seal writes.
    if gap[:1] != b"<" or gap[-1:] != b">" or gap[1:-1] != written.ljust(len(gap) - 2, b"0"):
        raise _No("the seal itself was changed")


def _only_form(signature: Any, certificate: x509.Certificate) -> None:
    """The signature's value must be what the seal writes: what its hash does not cover is fixed here."""
    from asn1crypto import cms
    from asn1crypto import x509 as asn1_x509

    pinned = asn1_x509.Certificate.load(certificate.public_bytes(serialization.Encoding.DER))
    info = signature.signer_info
    algorithm = cms.DigestAlgorithm({"algorithm": "sha256"})
    names = cms.IssuerAndSerialNumber({"issuer": pinned.issuer, "serial_number": pinned.serial_number})
    if info["sid"].chosen.dump() != names.dump():
        raise _No("it was sealed with another key than the department's")
    rebuilt = cms.ContentInfo(
        {
            "content_type": "signed_data",
            "content": cms.SignedData(
                {
                    "version": "v1",
                    "digest_algorithms": [algorithm],
                    "encap_content_info": {"content_type": "data"},
                    "certificates": [pinned],
                    "signer_infos": [
                        {
                            "version": "v1",
                            "sid": cms.SignerIdentifier({"issuer_and_serial_number": names}),
                            "digest_algorithm": algorithm,
                            "signed_attrs": info["signed_attrs"].untag(),
                            "signature_algorithm": {"algorithm": "sha256_rsa"},
                            "signature": info["signature"].native,
                        }
                    ],
                }
            ),
        }
    )
    fixed: bytes = rebuilt.dump()
    if signature.pkcs7_content != fixed.ljust(len(signature.pkcs7_content), b"\0"):
        raise _No("the seal itself was changed, or was made with another key than the department's")


def _certifies(reader: Any, signature: Any) -> None:
    """The signature must certify the document and allow no change, as the seal does."""
    from pyhanko.sign.fields import MDPPerm

    certifying = reader.root["/Perms"].raw_get("/DocMDP") if "/Perms" in reader.root else None
    same = certifying is not None and certifying.get_object() is signature.sig_object
    if not same or signature.docmdp_level != MDPPerm.NO_CHANGES:
        raise _No("it is signed, but not sealed against changes: the signature allows them")


def _valid(signature: Any, certificate: x509.Certificate) -> None:
    from asn1crypto import x509 as asn1_x509
    from pyhanko.sign.diff_analysis import ModificationLevel
    from pyhanko.sign.validation import validate_pdf_signature
    from pyhanko.sign.validation.status import SignatureCoverageLevel
    from pyhanko_certvalidator import ValidationContext

    pinned = asn1_x509.Certificate.load(certificate.public_bytes(serialization.Encoding.DER))
    status = validate_pdf_signature(
        signature, ValidationContext(trust_roots=[pinned], allow_fetching=False, revocation_mode="soft-fail")
    )
    if status.signing_cert.dump() != pinned.dump():
        raise _No("it was sealed with another key than the department's")
    conditions = (
        (status.intact, "its content was changed after it was sealed"),
        (status.valid, "the seal is forged: the key does not fit it"),
        (status.trusted, "the department's certificate cannot be trusted for a seal"),
        (status.coverage == SignatureCoverageLevel.ENTIRE_FILE, "the seal does not cover the entire file"),
        (status.modification_level == ModificationLevel.NONE, "it was updated after it was sealed"),
        (status.docmdp_ok is True, "a change was made that the seal does not allow"),
        (status.bottom_line, "the seal does not hold"),
    )
    for fulfilled, words in conditions:
        if not fulfilled:
            raise _No(words)


def reasons(verification: Verification) -> Iterator[str]:
    """Each fault as a sentence for a person."""
    for fault in verification.faults:
        yield fault[0].upper() + fault[1:] + "."
