"""A record in its three formats, which say the same."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from review_api.record import Amendment, Record
from review_api.report.amendment import amendment
from review_api.report.blocks import Document
from review_api.report.export import to_json
from review_api.report.inspection import inspection
from review_api.report.page import page
from review_api.report.pdf import pdf
from review_api.report.pictures import PhotoFile, files_of
from review_api.report.receipt import drawings


@dataclass(frozen=True, slots=True)
class Rendered:
    """One document in three formats."""

    pdf: bytes
    """Made to PDF/UA-1 and PDF/A-2a by the renderer's own checks."""
    html: bytes
    """One file, UTF-8, that loads nothing."""
    json: bytes
    """The record itself."""


def render(record: Record, photo_files: Mapping[str, PhotoFile]) -> Rendered:
    """The report of `record`: a marked draft, or prepared for its seal when the record is no draft.

    `photo_files` has, by SHA-256, the path of each photo that the record names, or the bytes of a copy that
    `capture.photos.copy_of` made. Raises InputError when one is missing or unfit.
    """
    return _rendered(
        record, inspection(record), files_of(record, photo_files), f"Seal of report {record.number}"
    )


def render_amendment(record: Amendment) -> Rendered:
    """The amendment: a marked draft, or prepared for its seal when the record is no draft."""
    return _rendered(record, amendment(record), drawings(record), f"Seal of amendment {record.number}")


def _rendered(
    record: Record | Amendment, document: Document, files: Mapping[str, bytes], field_words: str
) -> Rendered:
    return Rendered(
        pdf=pdf(document, files, made=record.made, field_words=None if record.draft else field_words),
        html=page(document, files),
        json=to_json(record),
    )
