"""The seal: made once over a finished document, verified by anyone who has the department's certificate."""

from review_api.seal.ceremony import Sealed, close, close_amendment, sealed_file
from review_api.seal.key import Key, open_key, read_certificate
from review_api.seal.sealing import seal
from review_api.seal.verification import Verification, verify

__all__ = [
    "Key",
    "Sealed",
    "Verification",
    "close",
    "close_amendment",
    "open_key",
    "read_certificate",
    "seal",
    "sealed_file",
    "verify",
]
