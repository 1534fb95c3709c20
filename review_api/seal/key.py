"""The department's sealing key: RSA-3072 in a PKCS#12 file with its certificate, made at first use."""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import pkcs12
from cryptography.x509.oid import NameOID

from review_api.seal.files import write_once
from shared.errors import InputError

KEY_FOLDER = "key"
"""Where the key lies within a data folder."""

KEY_FILE = "seal.p12"
CERTIFICATE_FILE = "certificate.pem"
KEY_BITS = 3072
VALID_FOR = timedelta(days=365 * 25)

KEEP_WARNING = (
    "A new sealing key was made: {key}. Whoever has this file can seal reports as {department}; if it is "
    "lost, no later report can carry the same seal. Copy it now to a safe place that only the department "
    "reaches. Give {certificate} to all who check reports: it is public."
)


@dataclass(frozen=True, slots=True)
class Key:
    """A loaded sealing key."""

    private: rsa.RSAPrivateKey
    certificate: x509.Certificate

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the certificate, 64 hex digits."""
        return fingerprint(self.certificate)

    @property
    def owner(self) -> str:
        """Whose seal it is, as the certificate says."""
        return owner(self.certificate)


def fingerprint(certificate: x509.Certificate) -> str:
    """SHA-256 of the certificate, 64 hex digits."""
    return certificate.fingerprint(hashes.SHA256()).hex()


def owner(certificate: x509.Certificate) -> str:
    """The organization that the certificate names, else its common name."""
    for kind in (NameOID.ORGANIZATION_NAME, NameOID.COMMON_NAME):
        named = certificate.subject.get_attributes_for_oid(kind)
        if named:
            return str(named[0].value)
    return certificate.subject.rfc4514_string()


def open_key(
    folder: Path,
    *,
    department: str,
    passphrase: bytes | None = None,
    warn: Callable[[str], None],
    now: datetime | None = None,
) -> Key:
    """The key in `folder`, made there if there is none; then `warn` gets a sentence about keeping it.

    Raises InputError when the file cannot be opened with `passphrase`. Never writes over a key.
    """
    path = folder / KEY_FILE
    if not path.exists():
        made = _make(department, now or datetime.now(UTC))
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        if write_once(path, _packed(made, passphrase), mode=0o600):
            warn(KEEP_WARNING.format(key=path, department=department, certificate=folder / CERTIFICATE_FILE))
    key = _load(path, passphrase)
    pem = key.certificate.public_bytes(serialization.Encoding.PEM)
    if not (folder / CERTIFICATE_FILE).exists():
        write_once(folder / CERTIFICATE_FILE, pem, mode=0o644)
    return key


def certificate_in(folder: Path) -> x509.Certificate | None:
    """The certificate of the key in `folder`; nothing is made. None: there is no key, and none of its kept.

    Raises InputError as `open_key`.
    """
    if (folder / KEY_FILE).exists():
        return _load(folder / KEY_FILE, None).certificate
    kept = folder / CERTIFICATE_FILE
    return read_certificate(kept) if kept.exists() else None


def read_certificate(path: Path) -> x509.Certificate:
    """The certificate in a PEM or DER file. Raises InputError naming the file."""
    try:
        content = path.read_bytes()
    except OSError as error:
        raise InputError(
            f"{path}: cannot be read ({error.strerror}); name the department's certificate"
        ) from error
    try:
        if content.lstrip().startswith(b"-----"):
            return x509.load_pem_x509_certificate(content)
        return x509.load_der_x509_certificate(content)
    except ValueError as error:
        raise InputError(f"{path}: not a certificate; give the department's {CERTIFICATE_FILE}") from error


def _load(path: Path, passphrase: bytes | None) -> Key:
    try:
        private, certificate, _ = pkcs12.load_key_and_certificates(path.read_bytes(), passphrase)
    except OSError as error:
        raise InputError(f"{path}: cannot be read ({error.strerror}); check the file's owner") from error
    except ValueError as error:
        raise InputError(
            f"{path}: damaged, or the passphrase is wrong; take the copy from the safe place"
        ) from error
    if not isinstance(private, rsa.RSAPrivateKey) or certificate is None:
        raise InputError(f"{path}: holds no RSA key with its certificate; take the copy from the safe place")
    return Key(private, certificate)


def _packed(key: Key, passphrase: bytes | None) -> bytes:
    encryption: serialization.KeySerializationEncryption = serialization.NoEncryption()
    if passphrase:
        encryption = serialization.BestAvailableEncryption(passphrase)
    return pkcs12.serialize_key_and_certificates(b"seal", key.private, key.certificate, None, encryption)


def _make(department: str, now: datetime) -> Key:
    private = rsa.generate_private_key(public_exponent=65537, key_size=KEY_BITS)
    name = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, department[:64] or "Department"),
            x509.NameAttribute(NameOID.COMMON_NAME, "Seal of inspection reports"),
        ]
    )
    usage = x509.KeyUsage(
        digital_signature=True, content_commitment=True, key_encipherment=False, data_encipherment=False,
        key_agreement=False, key_cert_sign=False, crl_sign=False, encipher_only=False, decipher_only=False,
    )  # fmt: skip
    identifier = x509.SubjectKeyIdentifier.from_public_key(private.public_key())
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(private.public_key())
        .serial_number(int.from_bytes(os.urandom(16), "big") >> 1)
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + VALID_FOR)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(identifier, critical=False)
        .sign(private, hashes.SHA256())
    )
    return Key(private, certificate)
