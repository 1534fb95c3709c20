"""The first view of the desk in a real browser: from the address to a proposal that can be decided.

Beside it, in the same run, the floor: the same browser opening the inspection's bare JSON. Needs Playwright
and Chromium, which come with the test tools.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from review_api.bench.chromium import chromium

if TYPE_CHECKING:
    from playwright.sync_api import Browser

GOAL_MS = 1000.0

_SHOWN = """() => new Promise((resolve) => {
  const look = () => {
    if (document.querySelector(".proposal h1")) resolve(performance.now());
    else requestAnimationFrame(look);
  };
  look();
})"""


def measure(port: int, inspection: int, times: int) -> Iterator[str]:
    """Lines of a table: nothing kept by the browser, everything kept, and the floor."""
    address = f"http://127.0.0.1:{port}"
    desk = f"{address}/#/i/{inspection}/desk"
    with chromium() as browser:
        first = [_in_new_context(browser, [desk])[-1] for _ in range(times)]
        again = [_in_new_context(browser, [desk, desk])[-1] for _ in range(times)]
        bare = [_bare(browser, f"{address}/api/inspections/{inspection}") for _ in range(times)]
        asked, weight = _requests(browser, desk, address)
    for what, took in (
        ("first view", first),
        ("first view again", again),
        ("bare JSON in the browser", bare),
    ):
        over = "" if max(took) < GOAL_MS else f"  over the goal of {GOAL_MS:g} ms"
        yield f"{what:26}{statistics.median(took):10.0f} ms median{max(took):8.0f} ms slowest{over}"
    yield f"{'requests of the page':26}{asked:10} with {weight / 1000:.0f} KB, without the inspection itself"


def _in_new_context(browser: Browser, addresses: list[str]) -> list[float]:
    """Milliseconds until a proposal stands, for one address after the other in one browser profile."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    took = []
    for address in addresses:
        page = context.new_page()
        page.goto(address, wait_until="commit")
        took.append(float(page.evaluate(_SHOWN)))
        page.close()
    context.close()
    return took


def _bare(browser: Browser, address: str) -> float:
    context = browser.new_context()
    page = context.new_page()
    page.goto(address)
    took = float(page.evaluate("performance.now()"))
    context.close()
    return took


def _requests(browser: Browser, desk: str, address: str) -> tuple[int, int]:
    """How many files of the page were asked for, and their bytes."""
    context = browser.new_context()
    page = context.new_page()
    sizes: list[int] = []

    def note(response: Any) -> None:
        if response.url.startswith(address) and "/api/" not in response.url:
            sizes.append(len(response.body()))

    page.on("response", note)
    page.goto(desk)
    page.evaluate(_SHOWN)
    page.wait_for_load_state("networkidle")
    context.close()
    return len(sizes), sum(sizes)
