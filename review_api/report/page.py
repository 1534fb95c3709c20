"""A document as one HTML file: accessible, printable, loading nothing from anywhere."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

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


class _Addresses:
    """The pictures as `data:` addresses, each made when asked for: all at once would fill the memory."""

    def __init__(self, files: Mapping[str, bytes]) -> None:
        self._files = files

    def __getitem__(self, name: str) -> Markup:
        content = b64encode(self._files[name]).decode("ascii")
        return Markup(f"data:{_TYPES[Path(name).suffix]};base64,{content}")


def page(document: Document, files: Mapping[str, bytes]) -> bytes:
    """The document as UTF-8 HTML, pictures inside. Text stays text: everything is escaped."""
    shown: Document = texts_through(document, clean)
    template = _templates().get_template("page.html")
    style = (_HERE / "page.css").read_text("utf-8")
    pieces = template.generate(doc=plain(shown), files=_Addresses(files), css=style)
    return b"".join(piece.encode("utf-8", "replace") for piece in pieces)
