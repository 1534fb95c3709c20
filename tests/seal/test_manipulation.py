"""Every change to a sealed report is found; no untouched one is doubted.

The manipulations are those that issue 7 lists. `python -m tests.seal.every_byte` tries every byte.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from cryptography.hazmat.primitives.serialization import NoEncryption, pkcs12
from pyhanko.pdf_utils import generic
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.sign import fields, signers

from review_api.report import render
from review_api.report.tags import FIELD
from review_api.seal import Key, open_key, seal, verify
from shared.errors import RefusedError
from tests.report.samples import record

Change = Callable[[bytes, random.Random], bytes]


def flip(pdf: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(pdf))
    return pdf[:at] + bytes([pdf[at] ^ 1 << chance.randrange(8)]) + pdf[at + 1 :]


def replace(pdf: bytes, chance: random.Random) -> bytes:
    at, length = chance.randrange(len(pdf)), chance.randrange(1, 200)
    return pdf[:at] + chance.randbytes(min(length, len(pdf) - at)) + pdf[at + length :]


def insert(pdf: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(pdf))
    return pdf[:at] + chance.randbytes(chance.randrange(1, 50)) + pdf[at:]


def delete(pdf: bytes, chance: random.Random) -> bytes:
    at = chance.randrange(len(pdf))
    return pdf[:at] + pdf[at + chance.randrange(1, 50) :]


def cut(pdf: bytes, chance: random.Random) -> bytes:
    return pdf[: chance.randrange(len(pdf))]


def append(pdf: bytes, chance: random.Random) -> bytes:
    return pdf + chance.choice([b"\n", b" ", b"\0", b"%%EOF", b"% a remark\n", chance.randbytes(30)])


def swap(pdf: bytes, chance: random.Random) -> bytes:
    a, b = sorted(chance.sample(range(len(pdf)), 2))
    return pdf[b:] + pdf[a:b] + pdf[:a]


def digit(pdf: bytes, chance: random.Random) -> bytes:
    """Another hex digit in the seal's own value, which no hash covers."""
    start = pdf.rindex(b"/Contents <") + 11
    at = chance.randrange(start, pdf.index(b">", start))
    return pdf[:at] + bytes([chance.choice(b"0123456789ABCDEFabcdef")]) + pdf[at + 1 :]


KINDS: list[Change] = [flip, replace, insert, delete, cut, append, swap, digit]


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_a_thousand_random_changes_are_found(kind: Change, sealed: bytes, key: Key) -> None:
    chance = random.Random(kind.__name__)
    tried = 0
    while tried < 125:
        changed = kind(sealed, chance)
        if changed == sealed:
            continue
        tried += 1
        found = verify(changed, certificate=key.certificate)
        assert not found.whole
        assert found.faults


def places(pdf: bytes) -> list[int]:
    """The first and last 100 bytes, all around the seal's own value, and every 419th byte."""
    start = pdf.rindex(b"/Contents <")
    end = pdf.index(b">", start)
    near = [*range(start - 60, start + 100), *range(end - 20, end + 160)]
    return sorted({*range(100), *range(len(pdf) - 100, len(pdf)), *near, *range(0, len(pdf), 419)})


def test_a_flipped_bit_is_found_wherever_it_is(sealed: bytes, key: Key) -> None:
    missed = [
        at
        for at in places(sealed)
        if verify(sealed[:at] + bytes([sealed[at] ^ 1]) + sealed[at + 1 :], certificate=key.certificate).whole
    ]
    assert missed == []


def incremental(pdf: bytes, edit: Callable[[IncrementalPdfFileWriter], None]) -> bytes:
    writer = IncrementalPdfFileWriter(BytesIO(pdf))
    edit(writer)
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def edited_metadata(pdf: bytes) -> bytes:
    def edit(writer: IncrementalPdfFileWriter) -> None:
        info = generic.DictionaryObject({generic.NameObject("/Title"): generic.TextStringObject("Other")})
        writer.set_info(writer.add_object(info))

    return incremental(pdf, edit)


def added_annotation(pdf: bytes) -> bytes:
    def edit(writer: IncrementalPdfFileWriter) -> None:
        note = generic.DictionaryObject(
            {
                generic.NameObject("/Type"): generic.NameObject("/Annot"),
                generic.NameObject("/Subtype"): generic.NameObject("/Text"),
                generic.NameObject("/Rect"): generic.ArrayObject(map(generic.NumberObject, (10, 10, 40, 40))),
                generic.NameObject("/Contents"): generic.TextStringObject("All was fine."),
            }
        )
        page = writer.root["/Pages"]["/Kids"][0]
        page[generic.NameObject("/Annots")] = generic.ArrayObject([writer.add_object(note)])
        writer.update_container(page)

    return incremental(pdf, edit)


def empty_update(pdf: bytes) -> bytes:
    return incremental(pdf, lambda writer: writer.update_root())


def saved_again(pdf: bytes) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as document:
        document.save(out)
    return out.getvalue()


def stripped(pdf: bytes) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as document:
        del document.Root.AcroForm
        del document.Root.Perms
        for page in document.pages:
            if "/Annots" in page:
                del page.Annots
        document.save(out)
    return out.getvalue()


def lower_case_seal(pdf: bytes) -> bytes:
    return re.sub(rb"/Contents <[0-9A-F]+>", lambda found: b"/Contents <" + found[0][11:].lower(), pdf)


def used_padding(pdf: bytes) -> bytes:
    end = pdf.index(b">", pdf.rindex(b"/Contents <"))
    return pdf[: end - 2] + b"41" + pdf[end:]


def later_date(pdf: bytes) -> bytes:
    changed = pdf.replace(rb"/M (D\0722", rb"/M (D\0723")
    assert changed != pdf
    return changed


def doubled(pdf: bytes) -> bytes:
    return pdf + pdf


def in_front(pdf: bytes) -> bytes:
    return b"\n" + pdf


EDITS = [
    edited_metadata, added_annotation, empty_update, saved_again, stripped, lower_case_seal, used_padding,
    later_date, doubled, in_front,
]  # fmt: skip


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.__name__)
def test_a_deliberate_edit_is_found(edit: Callable[[bytes], bytes], sealed: bytes, key: Key) -> None:
    changed = edit(sealed)
    assert changed != sealed
    assert not verify(changed, certificate=key.certificate).whole


def test_the_older_revision_under_the_seal_is_not_whole(prepared: bytes, sealed: bytes, key: Key) -> None:
    assert sealed.startswith(prepared)
    assert "no seal" in verify(prepared, certificate=key.certificate).faults[0]


def test_a_seal_by_another_key_is_named(prepared: bytes, key: Key, stranger: Key) -> None:
    found = verify(seal(prepared, key=stranger), certificate=key.certificate)
    assert "another key" in found.faults[0]


def test_a_seal_made_after_the_certificate_s_end_is_refused(prepared: bytes, tmp_path: Path) -> None:
    # It is trusted whenever one verifies; but the sealing must fall within its years.
    old = datetime(1990, 1, 1, tzinfo=UTC)
    expired = open_key(tmp_path, department="Tamarind County", warn=lambda _: None, now=old)
    found = verify(seal(prepared, key=expired), certificate=expired.certificate)
    assert found.faults == ("the department's certificate was not valid when it was sealed",)


def test_the_seal_of_another_report_does_not_fit(sealed: bytes, key: Key) -> None:
    visit = record(number="TM-2026-0108", draft=False, violations=(), photos=(), figures=(), marks=())
    other = seal(render(visit, {}).pdf, key=key)
    value = re.search(rb"/Contents (<[0-9A-F]+>)", other)
    assert value
    swapped = re.sub(rb"/Contents <[0-9A-F]+>", b"/Contents " + value[1], sealed)
    assert len(swapped) == len(sealed)
    assert "changed after" in verify(swapped, certificate=key.certificate).faults[0]


def ordinary(key: Key) -> signers.SimpleSigner:
    """pyHanko's own signer with this key."""
    packed = pkcs12.serialize_key_and_certificates(None, key.private, key.certificate, None, NoEncryption())
    return signers.SimpleSigner.load_pkcs12_data(packed, other_certs=[])


def test_a_second_signature_is_refused(prepared: bytes, stranger: Key, key: Key) -> None:
    out = BytesIO()
    how = signers.PdfSignatureMetadata(field_name="Second")
    signers.PdfSigner(how, ordinary(stranger), new_field_spec=fields.SigFieldSpec("Second")).sign_pdf(
        IncrementalPdfFileWriter(BytesIO(prepared)), output=out
    )
    with pytest.raises(
        RefusedError, match="cannot be sealed"
    ):  # nor can the department seal what another has signed
        seal(out.getvalue(), key=key)
    assert not verify(out.getvalue(), certificate=key.certificate).whole


def test_an_ordinary_signature_is_no_seal(prepared: bytes, key: Key) -> None:
    # Without certification later changes would be allowed.
    signer = ordinary(key)
    out = BytesIO()
    signers.PdfSigner(signers.PdfSignatureMetadata(field_name=FIELD, md_algorithm="sha256"), signer).sign_pdf(
        IncrementalPdfFileWriter(BytesIO(prepared)), existing_fields_only=True, output=out
    )
    assert not verify(out.getvalue(), certificate=key.certificate).whole


def test_a_certification_that_allows_filling_in_is_no_seal(prepared: bytes, key: Key) -> None:
    signer = ordinary(key)
    how = signers.PdfSignatureMetadata(
        field_name=FIELD, md_algorithm="sha256", certify=True, docmdp_permissions=fields.MDPPerm.FILL_FORMS,
        subfilter=fields.SigSeedSubFilter.PADES,
    )  # fmt: skip
    out = BytesIO()
    signers.PdfSigner(how, signer).sign_pdf(
        IncrementalPdfFileWriter(BytesIO(prepared)), existing_fields_only=True, output=out
    )
    assert "allows" in verify(out.getvalue(), certificate=key.certificate).faults[0]


def test_the_hash_kept_in_the_records_decides_too(prepared: bytes, sealed: bytes, key: Key) -> None:
    again = seal(prepared, key=key)
    kept = verify(sealed, certificate=key.certificate).sha256
    assert verify(sealed, certificate=key.certificate, expected_sha256=kept).whole
    assert "records" in verify(again, certificate=key.certificate, expected_sha256="0" * 64).faults[0]


def test_a_hundred_untouched_reports_all_pass(key: Key) -> None:
    for number in range(100):
        visit = record(
            number=f"TM-{number}", draft=False, readings=(), violations=(), photos=(), figures=(), marks=()
        )
        found = verify(seal(render(visit, {}).pdf, key=key), certificate=key.certificate)
        assert found.whole, found.faults
        assert found.statement
        assert found.statement.number == f"TM-{number}"


@pytest.mark.parametrize(
    "content", [b"", b"%PDF-", b"%PDF-1.7\n%%EOF", b"\0" * 5000, b"<html>", b"%PDF-1.7" * 999]
)
def test_what_is_no_pdf_is_a_no_in_words(content: bytes, key: Key) -> None:
    found = verify(content, certificate=key.certificate)
    assert not found.whole
    assert found.faults
