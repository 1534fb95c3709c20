"""The e-mail file: a standard message with the sealed PDF byte for byte, that no text can break out of."""

from __future__ import annotations

import hashlib
from email import message_from_bytes, policy
from email.message import EmailMessage

import pytest

from review_api.report.mail import mail
from shared.errors import InputError
from tests.report.samples import at

PDF = b"%PDF-1.7 not a real one \r\n\0\xff" * 900


def message(**other: object) -> EmailMessage:
    facts: dict = {
        "number": "TM-2026-0107", "establishment": "Saltgrass Noodle Bar", "department": "Tamarind County",
        "to": ["pilar@saltgrass.example"], "at": at("12:40"), "appeal": "You may ask for a review.",
    }  # fmt: skip
    read = message_from_bytes(mail(PDF, **{**facts, **other}), policy=policy.default)
    assert isinstance(read, EmailMessage)
    return read


def test_it_reads_back_as_a_standard_message() -> None:
    read = message()
    assert read.defects == []
    assert read["To"] == "pilar@saltgrass.example"
    assert read["Subject"] == "Inspection report TM-2026-0107, Saltgrass Noodle Bar"
    assert read["Date"].datetime == at("12:40")
    assert read["X-Unsent"] == "1"
    body = read.get_body(("plain",))
    assert body
    assert hashlib.sha256(PDF).hexdigest() in body.get_content()
    assert "You may ask for a review." in body.get_content()


def test_the_sealed_pdf_is_attached_byte_for_byte() -> None:
    attached = list(message(courtesy=b"%PDF courtesy").iter_attachments())
    assert [part.get_filename() for part in attached] == [
        "TM-2026-0107.pdf",
        "TM-2026-0107-courtesy-copy.pdf",
    ]
    assert attached[0].get_content() == PDF
    assert attached[0].get_content_type() == "application/pdf"


def test_the_same_message_gives_the_same_file() -> None:
    assert message().as_bytes() == message().as_bytes()


@pytest.mark.parametrize(
    "establishment", ["Bar\r\nBcc: spy@example.org", "Añejo & Søn", "x" * 2000, "‮evil", "名前 🍜", "--=\n--"]
)
def test_hostile_names_stay_within_their_line(establishment: str) -> None:
    read = message(establishment=establishment)
    assert read.defects == []
    assert read["Bcc"] is None
    assert len(list(read.iter_attachments())) == 1
    assert "‮" not in read["Subject"]


@pytest.mark.parametrize(
    "address", ["", "nobody", "a@b", "a@b.example\nBcc: x@y.example", "a b@c.example", "@x.example"]
)
def test_what_is_no_address_is_named(address: str) -> None:
    with pytest.raises(InputError, match="is no e-mail address"):
        message(to=[address])
