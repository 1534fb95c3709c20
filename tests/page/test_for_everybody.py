"""Every view, light and dark, at a desk and at 360 px: no fault, nothing cut off, light to load.

Sizes: WCAG 2.2, 1.4.10 (reflow), 1.4.4 (twice the size) and 2.5.5 (44 px for thumbs).
"""

from __future__ import annotations

import re
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.page.conftest import DESK, PHONE, Visit, open_at

pytestmark = pytest.mark.slow

VIEWS = ["desk/f4", "desk/r10", "words", "photos", "sheet", "report", "sign"]
WEIGHT_LIMIT = 400_000
"""Bytes of the page without media, as they go over the wire."""


def faults(page: Page, *rules: str) -> list[str]:
    """What axe finds, by all its rules or only by these."""
    page.wait_for_timeout(100)
    # The report that is framed in two views is checked where it is made (tests/report).
    options: dict[str, Any] = {"iframes": False, "resultTypes": ["violations"]}
    if rules:
        options["runOnly"] = {"type": "rule", "values": rules}
    found: list[dict[str, Any]] = Axe().run(page, options=options).response["violations"]
    return [f"{one['id']}: {node['html'][:160]}" for one in found for node in one["nodes"][:3]]


@pytest.mark.parametrize(
    ("size", "scheme", "rules"),
    [(DESK, "light", ()), (DESK, "dark", ("color-contrast",)), (PHONE, "light", ())],
    ids=["desk", "dark", "phone"],
)
def test_no_view_has_a_fault_that_axe_finds(
    browser: Browser, visit: Visit, size: Any, scheme: Any, rules: tuple[str, ...]
) -> None:
    context = browser.new_context(viewport=size, color_scheme=scheme)
    page = context.new_page()
    found = {}
    page.goto(visit.service.address)
    page.get_by_role("heading", name="Inspections").wait_for()
    found["list"] = faults(page, *rules)
    for view in VIEWS:
        open_at(page, visit.url(view))
        found[view] = faults(page, *rules)
    context.close()
    assert {view: list_ for view, list_ in found.items() if list_} == {}


@pytest.mark.parametrize("key", ["e", "x", "n", "?"], ids=["edit", "reject", "add", "keys"])
def test_no_form_has_a_fault_that_axe_finds(page: Page, visit: Visit, key: str) -> None:
    open_at(page, visit.url("desk/f4"))
    page.keyboard.press(key)
    assert faults(page) == []


def test_the_form_that_corrects_words_has_no_fault_that_axe_finds(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("words"))
    page.get_by_role("button", name="Misheard?").nth(5).click()
    page.get_by_label("What was really said").fill("other words")
    assert faults(page) == []


def test_a_photo_in_full_has_no_fault_that_axe_finds(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("photos"))
    page.locator(".tile").nth(4).click()
    page.get_by_role("dialog").wait_for()
    assert faults(page) == []


CUT_OFF = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
CONTROLS = "button, select, input:not([type=checkbox], [type=radio], [type=file]), .item, .cell, .mark-choice"
SMALL = """controls => [...document.querySelectorAll(controls)]
  .filter((one) => one.checkVisibility())
  .map((one) => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])
  .filter(([, box]) => box.height < 43.5 || box.width < 43.5)
  .map(([one, box]) => `${one} ${box.width} x ${box.height}`)"""


def test_nothing_is_cut_off_at_360_px_nor_at_twice_the_size_and_thumbs_have_room(
    browser: Browser, visit: Visit
) -> None:
    found = {}
    for name, size in {"phone": PHONE, "zoom": {"width": 640, "height": 400}}.items():
        context = browser.new_context(viewport=size, has_touch=True)
        page = context.new_page()
        for view in ["desk", *VIEWS]:
            open_at(page, visit.url(view))
            page.wait_for_timeout(100)
            found[name, view] = (page.evaluate(CUT_OFF), page.evaluate(SMALL, CONTROLS))
        context.close()
    assert {key: value for key, value in found.items() if value != (0, [])} == {}


def test_the_page_is_light_and_loads_nothing_from_elsewhere(page: Page, visit: Visit) -> None:
    weights: dict[str, int] = {}

    def note(response: Any) -> None:
        if not re.search(r"/api/(photos|recordings)/", response.url):
            weights[response.url] = len(response.body())

    page.on("response", note)
    open_at(page, visit.url("desk/f3"))
    page.keyboard.press("Space")
    page.locator(".player .wave canvas").first.wait_for(state="attached", timeout=30_000)
    for view in VIEWS:
        open_at(page, visit.url(view))
    assert {url for url in weights if not url.startswith(visit.service.address)} == set()
    own = {url: size for url, size in weights.items() if "/api/" not in url}
    assert sum(own.values()) < WEIGHT_LIMIT


def test_a_screen_reader_is_told_what_was_done(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk/f1"))
    page.keyboard.press("Enter")
    page.locator("[role=log]", has_text="confirmed").wait_for(state="attached")
