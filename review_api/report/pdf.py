"""A document as PDF: tagged, made to PDF/UA-1 and PDF/A-2a by the renderer's own checks, fonts included."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

import typst

from review_api.report.blocks import Document, plain, texts_through
from review_api.report.tags import finish
from review_api.report.text import printable
from review_api.report.typeface import covered, fonts

TEMPLATE = Path(__file__).with_name("document.typ")
_REMEMBERED_BYTES = 2_000_000
"""Pictures of more than this, unpacked many times larger, are not kept in memory for the next document."""

_DOCUMENTS_REMEMBERED = 10
STANDARDS: list[typst.PDFStandard] = ["ua-1", "a-2a"]


def pdf(document: Document, files: Mapping[str, bytes], *, made: datetime, field_words: str | None) -> bytes:
    """The PDF: the same bytes for the same document, files and time.

    `files` are the pictures by the names that the blocks use. `field_words` prepares the field for a seal.
    Data reach the template as JSON and are never read as markup.
    """
    signs = covered()
    shown: Document = texts_through(document, lambda text: printable(text, covered=signs))
    with tempfile.TemporaryDirectory(prefix="probeside-report-") as folder:
        root = Path(folder)
        (root / "document.json").write_text(json.dumps(plain(shown), ensure_ascii=False), encoding="utf-8")
        (root / "document.typ").write_bytes(TEMPLATE.read_bytes())
        for name, content in files.items():
            (root / name).write_bytes(content)
        rendered = typst.compile(
            root / "document.typ",
            root=root,
            font_paths=fonts(),
            ignore_system_fonts=True,
            pdf_standards=STANDARDS,
            timestamp=int(made.timestamp()),
        )
    if sum(map(len, files.values())) > _REMEMBERED_BYTES:
        forget()
    return finish(rendered, field_words=field_words)


def forget() -> None:
    """Lets the typesetter drop its memory of pictures: it keeps the parts of the last ten documents."""
    for _ in range(_DOCUMENTS_REMEMBERED + 1):
        typst.compile(b"", font_paths=fonts())
