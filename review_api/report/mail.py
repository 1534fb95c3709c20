"""The sealed report as an e-mail file that the user's own mail program opens, to be sent by a person."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from datetime import datetime
from email import policy
from email.errors import HeaderParseError
from email.headerregistry import Address
from email.message import EmailMessage
from email.utils import format_datetime

from review_api.report.text import clean
from shared.errors import InputError

_BODY = """\
{establishment}

Attached is {kind} {number} of {department}.

It is sealed: any change made to the file after sealing can be found. The file's SHA-256 is
{sha256}

{appeal}{contact}
The code in force at this establishment and the judgement of the licensing authority decide.
"""


def mail(
    pdf: bytes,
    *,
    number: str,
    kind: str = "inspection report",
    establishment: str,
    department: str,
    to: Sequence[str],
    at: datetime,
    appeal: str = "",
    contact: str = "",
    courtesy: bytes | None = None,
) -> bytes:
    """A standard .eml (RFC 5322), marked unsent, with the sealed PDF and a courtesy copy if given.

    The PDF is attached byte for byte. `at` needs an offset. Raises InputError for an address that is none.
    """
    message = EmailMessage(policy=policy.SMTP)
    message["To"] = ", ".join(str(_address(text)) for text in to)
    message["Subject"] = _line(f"{kind.capitalize()} {number}, {establishment}")
    message["Date"] = format_datetime(at)
    message["X-Unsent"] = "1"
    message.set_content(
        _BODY.format(
            establishment=_line(establishment),
            kind=kind,
            number=_line(number),
            department=_line(department),
            sha256=hashlib.sha256(pdf).hexdigest(),
            appeal=_paragraph(appeal),
            contact=_paragraph(contact),
        )
    )
    message.add_attachment(pdf, maintype="application", subtype="pdf", filename=f"{_line(number)}.pdf")
    if courtesy is not None:
        message.add_attachment(
            courtesy, maintype="application", subtype="pdf", filename=f"{_line(number)}-courtesy-copy.pdf"
        )
    # The parts' boundary follows from the content: the same message gives the same file.
    message.set_boundary(f"={hashlib.sha256(pdf + (courtesy or b'')).hexdigest()[:40]}=")
    return message.as_bytes()


def _address(text: str) -> Address:
    try:
        address = Address(addr_spec=text.strip())
    except (HeaderParseError, ValueError, IndexError) as error:
        raise InputError(f"{text!r}: is no e-mail address; write it as name@example.org") from error
    if not address.username or "." not in address.domain or any(sign.isspace() for sign in text.strip()):
        raise InputError(f"{text!r}: is no e-mail address; write it as name@example.org")
    return address


def _line(text: str) -> str:
    return " ".join(clean(text).split())


def _paragraph(text: str) -> str:
    return f"{clean(text).strip()}\n" if text.strip() else ""
