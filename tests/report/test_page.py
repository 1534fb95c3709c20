"""The HTML: the same content as the PDF, one file that loads nothing, and no fault that axe finds."""

from __future__ import annotations

import html
import re
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from review_api.record import Acknowledgement, Record
from review_api.report import render, render_amendment
from review_api.report.courtesy import courtesy_html
from tests.report.samples import at, photo_files, record, signed
from tests.seal.test_ceremony import amended

FILES = photo_files()
REFUSED = Acknowledgement(
    kind="refused", at=at("12:20"), reason="he wants to ask first", supervisor="T. Quill"
)
PAGES = {
    "draft": lambda: render(record(), FILES).html,
    "signed": lambda: render(signed(), FILES).html,
    "refused": lambda: render(record(draft=False, acknowledgement=REFUSED), FILES).html,
    "amendment": lambda: render_amendment(amended("TM-2026-0107", "0" * 64)).html,
    "courtesy": lambda: courtesy_html(record()),
}


@cache
def page_of(name: str) -> bytes:
    return PAGES[name]()


@pytest.mark.parametrize("name", PAGES)
def test_it_loads_nothing_and_runs_nothing(name: str) -> None:
    page = page_of(name).decode()
    assert page.startswith("<!doctype html>")
    assert "default-src 'none'" in page
    assert "<script" not in page
    assert not re.findall(r'(?:src|href)="(?!data:image/|https:|mailto:)', page)
    assert "url(" not in page


def test_it_says_the_same_as_the_record() -> None:
    page = html.unescape(page_of("signed").decode())
    whole: Record = signed()
    for item in whole.violations:
        assert item.provision in page
        for text in (item.where, item.who, *item.evidence):
            assert text is None or text in page
    for reading in whole.readings:
        assert reading.item is None or reading.item[1:] in page
    for line in (*whole.education, *whole.remarks, *whole.left_open):
        assert line in page
    assert 'PIC said "mixed early" - told them to remix' in page  # as typed, without a full stop added


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    found = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    with sync_playwright() as playwright:
        launched = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield launched
        launched.close()


@pytest.mark.slow
@pytest.mark.parametrize("width", [360, 1200])
@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_no_fault_and_nothing_runs_off_the_side(
    name: str, width: int, browser: Any, tmp_path: Path
) -> None:
    from axe_playwright_python.sync_playwright import Axe

    path = tmp_path / "report.html"
    # axe is a script: the page's own rule that none may run is lifted for it
    path.write_bytes(re.sub(rb"<meta http-equiv=.Content-Security-Policy.[^>]*>", b"", page_of(name)))
    page = browser.new_page(viewport={"width": width, "height": 900})
    try:
        page.goto(path.as_uri())
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
        assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")
    finally:
        page.close()
