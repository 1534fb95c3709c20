"""The page as it is put together: up to date, nothing in it unused, kept by the browser as long as may be."""

from __future__ import annotations

import base64
import hashlib
import json
import re

from review_api.service import PAGE
from tests.service.samples import Sample

SOURCES = PAGE.parent
MADE = json.loads((PAGE / "sources.json").read_text("utf-8"))


def sources() -> list[str]:
    """The files that the page is made of."""
    found = (path.relative_to(SOURCES).as_posix() for path in SOURCES.rglob("*") if path.is_file())
    return sorted(
        name
        for name in found
        if re.search(r"\.(js|mjs|css|html|svg)$", name) and not name.startswith("built/")
    )


def test_the_page_is_put_together_from_its_sources_as_they_are_now() -> None:
    digest = hashlib.sha256()
    for name in sources():
        digest.update(f"{name}\0".encode() + (SOURCES / name).read_bytes() + b"\0")
    assert digest.hexdigest() == MADE["sha256"], "run `make page`: its sources were changed since"


def test_no_module_and_no_style_lies_unused() -> None:
    assert {name for name in sources() if name.endswith((".js", ".css"))} - set(MADE["used"]) == set()


def test_the_first_page_asks_for_one_script_and_one_style() -> None:
    index = (PAGE / "index.html").read_text("utf-8")
    assert len(re.findall(r'(?:src|href)="[^"]+\.(?:js|css)"', index)) == 2


def test_what_is_named_by_its_hash_is_kept_for_good_and_the_rest_is_asked_for_again(sample: Sample) -> None:
    index = sample.client.get("/")
    assert index.headers["Cache-Control"] == "no-cache"
    again = sample.client.get("/", headers={"If-None-Match": index.headers["ETag"]})
    assert (again.status_code, again.content) == (304, b"")
    script = re.search(r'src="(page-[A-Z0-9]+\.js)"', index.text)
    assert script is not None
    assert sample.client.get(f"/{script[1]}").headers["Cache-Control"] == "max-age=31536000, immutable"


def test_the_inline_script_is_named_in_the_policy(sample: Sample) -> None:
    index = sample.client.get("/")
    inline = re.search(r"<script>(.*?)</script>", index.text, re.DOTALL)
    assert inline is not None
    digest = hashlib.sha256(inline[1].encode()).digest()
    assert f"'sha256-{base64.b64encode(digest).decode()}'" in index.headers["Content-Security-Policy"]
