"""Makes `docs/screenshots/` again, from the real service and page: `python -m tests.page.screenshots`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import Browser, Page

from review_api.bench.chromium import chromium
from tests.page.conftest import DESK, PHONE, Service, until
from tests.page.seed import ROOT, seed

OUT = ROOT / "docs" / "screenshots"
ZOOMED = {"width": 640, "height": 400}
"""A desk of 1280 px at 200 %."""
LOOKS: dict[str, dict[str, Any]] = {
    "desk-light": {"viewport": DESK, "color_scheme": "light"},
    "desk-dark": {"viewport": DESK, "color_scheme": "dark"},
    "phone-light": {"viewport": PHONE, "color_scheme": "light", "has_touch": True, "is_mobile": True},
    "zoom-light": {"viewport": ZOOMED, "color_scheme": "light", "device_scale_factor": 2},
}


def proposal(page: Page) -> None:
    page.keyboard.press("Space")
    page.locator(".said .lit").first.wait_for()
    if page.locator(".player .wave").is_visible():  # a phone keeps the room for the proposal
        page.locator(".player .wave canvas").first.wait_for(state="attached")
    page.wait_for_timeout(900)


def doubt(page: Page) -> None:
    page.locator(".choose").wait_for()


def photo(page: Page) -> None:
    page.locator(".tile").nth(7).click()
    page.get_by_role("dialog").wait_for()
    page.wait_for_timeout(400)


def nothing(_: Page) -> None:
    return


VIEWS: dict[str, tuple[str, Callable[[Page], None]]] = {
    "inspections": ("", nothing),
    "proposal": ("i/1/desk/f4", proposal),
    "doubt": ("i/1/desk/r10", doubt),
    "words": ("i/1/words", nothing),
    "photos": ("i/1/photos", nothing),
    "photo": ("i/1/photos", photo),
    "sheet": ("i/1/sheet", nothing),
    "report": ("i/1/report", nothing),
    "sign": ("i/1/sign", nothing),
}
ALL_LOOKS = {"proposal", "doubt", "sheet"}
"""Views that are shown in every look; the others at a desk and on a phone."""


def main() -> int:
    OUT.mkdir(parents=True, exist_ok=True)
    for old in OUT.glob("*.png"):
        old.unlink()
    with TemporaryDirectory() as folder:
        service = Service(Path(folder) / "data")
        seed(service.root)
        service.start()
        try:
            with chromium() as browser:
                decide_some(browser, service)
                for look, options in LOOKS.items():
                    take(browser, service, look, options)
        finally:
            service.kill()
    print(f"{len(list(OUT.glob('*.png')))} pictures in {OUT}", file=sys.stderr)
    return 0


def decide_some(browser: Browser, service: Service) -> None:
    """A review in its middle: the first findings confirmed with a photo, a reading rejected."""
    page = browser.new_page(viewport=DESK)
    page.goto(f"{service.address}/#/i/1/desk/f1")
    page.locator(".proposal h1").wait_for()
    for key in ("a", "Enter", "a", "Enter", "x", "3"):
        page.keyboard.press(key)
        page.wait_for_timeout(300)
    page.keyboard.press("Enter")
    until(lambda: len(decided(service.desk(1))) >= 4)
    page.close()


def decided(desk: dict[str, Any]) -> list[str]:
    subjects = [*desk["findings"], *desk["readings"]]
    return [one["id"] for one in subjects if one["decision"]["state"] != "proposed"]


def take(browser: Browser, service: Service, look: str, options: dict[str, Any]) -> None:
    context = browser.new_context(**options)
    page = context.new_page()
    for name, (where, then) in VIEWS.items():
        if look not in ("desk-light", "phone-light") and name not in ALL_LOOKS:
            continue
        page.goto("about:blank")
        page.goto(f"{service.address}/#/{where}")
        page.locator("main.view").wait_for()
        page.wait_for_timeout(700)
        then(page)
        page.screenshot(path=OUT / f"{name}-{look}.png")
    context.close()


if __name__ == "__main__":
    sys.exit(main())
