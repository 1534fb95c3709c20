"""A running service over the shipped inspection, and a real browser in front of it."""

from __future__ import annotations

import json
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from review_api.bench.chromium import chromium
from review_api.data_folder import DataFolder
from review_api.store.database import Database
from tests.page.seed import Shipped, store, take_in_shipped, understood

DESK = {"width": 1280, "height": 800}
PHONE = {"width": 360, "height": 740}


@dataclass
class Service:
    """`probeside serve` in a process of its own, over one data folder, at one port."""

    root: Path
    port: int = 0
    process: subprocess.Popen[str] | None = field(default=None, repr=False)

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        self.port = self.port or _free_port()
        call = ["serve", "--port", str(self.port), "--data", str(self.root)]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "review_api.command", *call], stdout=subprocess.PIPE, text=True
        )
        assert self.process.stdout is not None
        assert "serves the desk" in self.process.stdout.readline()
        until(self._answers, seconds=30)

    def _answers(self) -> bool:
        try:
            self.get("/api/inspections?limit=1")
        except urllib.error.URLError:
            return False
        return True

    def kill(self) -> None:
        """As when the power goes: nothing can be tidied up."""
        assert self.process is not None
        assert self.process.stdout is not None
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()

    def desk(self, inspection: int) -> dict[str, Any]:
        """What the service has stored, asked past the page."""
        return self.get(f"/api/inspections/{inspection}")

    def get(self, path: str) -> Any:
        with urllib.request.urlopen(self.address + path) as answer:
            return json.load(answer)


def _free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


@dataclass
class Visit:
    """One inspection of a test's own, and ways to ask what is stored of it."""

    service: Service
    id: int

    def url(self, view: str = "desk", subject: str = "") -> str:
        return f"{self.service.address}/#/i/{self.id}/{view}" + (f"/{subject}" if subject else "")

    @property
    def desk(self) -> dict[str, Any]:
        return self.service.desk(self.id)

    def finding(self, name: str) -> dict[str, Any]:
        return next(one for one in self.desk["findings"] if one["id"] == name)

    def reading(self, name: str) -> dict[str, Any]:
        return next(one for one in self.desk["readings"] if one["id"] == name)

    def state(self, name: str) -> str:
        of = self.finding(name) if name[0] in "fh" else self.reading(name)
        return str(of["decision"]["state"])


def until(true: Callable[[], Any], *, seconds: float = 20.0) -> Any:
    """Waits for a fact on the service's side; the page saves in its own time. Meanwhile requests that a test
    answers itself are answered: the driver does that only while it is called."""
    end = time.monotonic() + seconds
    while not (value := true()):
        assert time.monotonic() < end, "it did not come about"
        shown = next((page for page in _shown if not page.is_closed()), None)
        if shown is None:
            time.sleep(_TURN_S)
        else:
            shown.wait_for_timeout(_TURN_S * 1000)
    return value


_TURN_S = 0.05
_shown: list[Page] = []
"""The pages of the test that runs."""


@pytest.fixture(scope="package")
def filled(tmp_path_factory: pytest.TempPathFactory) -> tuple[DataFolder, Shipped]:
    folder = DataFolder(tmp_path_factory.mktemp("page") / "data").make()
    database = Database.at(folder.database)
    database.migrate()
    database.close()
    return folder, take_in_shipped(folder)


@pytest.fixture(scope="package")
def service(filled: tuple[DataFolder, Shipped]) -> Iterator[Service]:
    running = Service(filled[0].root)
    running.start()
    yield running
    running.kill()


def add_visit(service: Service, shipped: Shipped) -> Visit:
    database = Database.at(DataFolder(service.root).database)
    try:
        return Visit(service, store(database, shipped, content=uuid4().hex))
    finally:
        database.close()


@pytest.fixture
def visit(service: Service, filled: tuple[DataFolder, Shipped]) -> Visit:
    """The shipped inspection, all proposed, nothing decided."""
    return add_visit(service, filled[1])


@pytest.fixture(scope="package")
def shipped_understood(filled: tuple[DataFolder, Shipped]) -> Shipped:
    return understood(filled[1])


@pytest.fixture
def understood_visit(service: Service, shipped_understood: Shipped) -> Visit:
    """The shipped inspection with the real extraction's proposals, nothing decided."""
    return add_visit(service, shipped_understood)


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    """Ends with this folder's tests: while Playwright runs, no other test could start an event loop."""
    with chromium() as running:
        yield running


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = browser.new_context(viewport=DESK)
    made.set_default_timeout(10_000)
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext) -> Iterator[Page]:
    """A page at a desk. Whatever the browser complains of in its console fails the test."""
    complaints: list[str] = []
    made = context.new_page()
    made.on("pageerror", lambda error: complaints.append(str(error)))
    made.on("console", lambda message: complaints.append(message.text) if message.type == "error" else None)
    _shown.append(made)
    yield made
    _shown.remove(made)
    assert [text for text in complaints if "Failed to load resource" not in text] == []


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, device_scale_factor=2)
    context.set_default_timeout(10_000)
    yield context.new_page()
    context.close()


def open_at(page: Page, url: str) -> Page:
    """The page once the inspection stands on it."""
    page.goto(url)
    page.locator("main.view").wait_for()
    return page
