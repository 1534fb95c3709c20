"""A prepared PDF with its seal: a certification signature (PAdES) that allows no change."""

from __future__ import annotations

from io import BytesIO

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric.padding import PKCS1v15

from review_api.report.tags import FIELD
from review_api.seal.key import Key
from shared.errors import RefusedError

REASON = "Sealed when the inspection was closed. No change is allowed."


def seal(pdf: bytes, *, key: Key) -> bytes:
    """The PDF with its field filled: RSA with SHA-256, DocMDP `no changes`.

    The PDF must hold the one empty field that `review_api.report` prepares. The bytes given stand unaltered
    at the head of the result; nothing may be added to the result, not even by saving it again. Runs an event
    loop of its own: call it from a thread that has none. Raises RefusedError for a draft, or a PDF that is
    signed already.
    """
    from asn1crypto import x509 as asn1_x509
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.pdf_utils.misc import PdfError
    from pyhanko.sign import fields, signers
    from pyhanko.sign.general import SigningError
    from pyhanko_certvalidator.registry import SimpleCertificateStore

    class DepartmentSigner(signers.Signer):
        """Signs with the loaded key: pyHanko's own would load and check it again for each signature."""

        async def async_sign_raw(self, data: bytes, digest_algorithm: str, dry_run: bool = False) -> bytes:
            if digest_algorithm != "sha256":
                raise ValueError(f"the seal uses sha256, not {digest_algorithm}")
            if dry_run:  # only the length counts
                return bytes(key.private.key_size // 8)
            return key.private.sign(data, PKCS1v15(), hashes.SHA256())

    signer = DepartmentSigner(
        signing_cert=asn1_x509.Certificate.load(key.certificate.public_bytes(serialization.Encoding.DER)),
        cert_registry=SimpleCertificateStore(),  # type: ignore[no-untyped-call]
    )
    how = signers.PdfSignatureMetadata(
        field_name=FIELD,
        md_algorithm="sha256",
        certify=True,
        docmdp_permissions=fields.MDPPerm.NO_CHANGES,
        subfilter=fields.SigSeedSubFilter.PADES,
        name=key.owner,
        reason=REASON,
    )
    out = BytesIO()
    try:
        signers.PdfSigner(how, signer).sign_pdf(
            IncrementalPdfFileWriter(BytesIO(pdf)), existing_fields_only=True, output=out
        )
    except (SigningError, PdfError) as error:
        raise RefusedError(f"this PDF cannot be sealed, it is not prepared for it: {error}") from error
    return out.getvalue()
