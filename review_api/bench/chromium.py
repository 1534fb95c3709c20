"""Chromium without a window, for whatever is measured, tested or pictured in it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from shared.errors import InputError

if TYPE_CHECKING:
    from playwright.sync_api import Browser

_NAMES = ("chromium", "chromium-browser", "google-chrome")
_ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", "--autoplay-policy=no-user-gesture-required",
    "--mute-audio",
]  # fmt: skip


@contextmanager
def chromium() -> Iterator[Browser]:
    """The system's Chromium, else Playwright's own. Raises InputError where the test tools are missing."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError as error:
        raise InputError("the browser is driven by Playwright: run `make install-dev` first") from error
    path = next(filter(None, map(shutil.which, _NAMES)), None)
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=path, args=_ARGUMENTS)
        try:
            yield running
        finally:
            running.close()
