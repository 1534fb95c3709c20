"""A document as one HTML file: accessible, printable, loading nothing from anywhere."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from review_api.report.blocks import Document, plain, texts_through
from review_api.report.text import clean

_HERE = Path(__file__).parent
_TYPES = {".jpg": "image/jpeg", ".svg": "image/svg+xml"}


@cache
def _templates() -> Environment:
    return Environment(
        loader=FileSystemLoader(_HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def page(document: Document, files: Mapping[str, bytes]) -> bytes:
    """The document as UTF-8 HTML, pictures inside. Text stays text: everything is escaped."""
    shown: Document = texts_through(document, clean)
    addresses = {
        name: f"data:{_TYPES[Path(name).suffix]};base64,{b64encode(content).decode('ascii')}"
        for name, content in files.items()
    }
    text = (
        _templates()
        .get_template("page.html")
        .render(doc=plain(shown), files=addresses, css=(_HERE / "page.css").read_text("utf-8"))
    )
    return text.encode("utf-8", "replace")
