"""The list of inspections: folders with their dates, what is overdue before what is to come."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.page.conftest import Service, until
from tests.page.seed import SHIPPED
from tests.page.test_for_everybody import faults

pytestmark = pytest.mark.slow

SENT = """
const send = XMLHttpRequest.prototype.send;
XMLHttpRequest.prototype.send = function (form) {
  window.sent = [...form.entries()].map(([name, value]) => [name, value.name ?? value]);
  return send.call(this, form);
};
"""
MORNING, EVENING = 1_792_000_000, 1_792_030_000


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Two devices' photos under one and the same name, without a time of their own."""
    visit = tmp_path / "visit"
    for device, shipped, at in (("Tern 5", "dumpster.jpg", MORNING), ("DCIM", "hand-sink.jpg", EVENING)):
        photo = visit / device / "IMG_0001.jpg"
        photo.parent.mkdir(parents=True)
        photo.write_bytes(without_exif((SHIPPED / shipped).read_bytes()))
        os.utime(photo, (at, at))
    (visit / "inspection.toml").write_text('[establishment]\nname = "Plum and Kettle"\n')
    (visit / ".hidden").mkdir()
    (visit / ".hidden" / "IMG_0002.jpg").write_bytes(b"not meant")
    return visit


def without_exif(jpeg: bytes) -> bytes:
    """The picture with its EXIF segment blanked."""
    return jpeg.replace(b"Exif\x00\x00", b"none\x00\x00", 1)


def test_two_devices_photos_of_one_name_keep_their_own_dates(
    page: Page, service: Service, folder: Path
) -> None:
    page.add_init_script(SENT)
    page.goto(f"{service.address}/#/")
    page.locator("input[webkitdirectory]").set_input_files(folder)
    page.get_by_role("heading", name="The visit is being read").wait_for()
    sent: list[list[str]] = page.evaluate("sent")
    names = sorted(value for name, value in sent if name == "files")
    assert names == ["DCIM/IMG_0001.jpg", "Tern 5/IMG_0001.jpg", "inspection.toml"]
    inspection = int(page.url.split("/i/")[1].split("/")[0])
    until(lambda: service.desk(inspection)["state"] == "ready", seconds=40)
    page.get_by_role("link", name="Photos").wait_for()
    photos = service.desk(inspection)["photos"]
    assert [one["taken_from"] for one in photos] == ["file_date", "file_date"]
    assert len({one["taken"] for one in photos}) == 2


def test_files_dropped_one_by_one_keep_their_names(page: Page, service: Service) -> None:
    page.add_init_script(SENT)
    page.goto(f"{service.address}/#/")
    page.locator("input[type=file]:not([webkitdirectory])").set_input_files(SHIPPED / "dumpster.jpg")
    page.get_by_role("heading", name="The visit is being read").wait_for()
    assert [value for name, value in page.evaluate("sent") if name == "files"] == ["dumpster.jpg"]


def due(number: int, *, late: bool) -> dict[str, Any]:
    on = f"2026-{3 if late else 12:02d}-{number:02d}T17:00:00-05:00"
    return {
        "inspection": 1, "number": f"P-{number}", "establishment": None, "what": "correct by",
        "subject": f"f{number}", "text": f"{'old' if late else 'new'} {number}", "on": on, "late": late,
    }  # fmt: skip


def test_what_is_overdue_comes_first_and_the_rest_is_counted(page: Page, service: Service) -> None:
    told = [*(due(n, late=True) for n in range(1, 21)), *(due(n, late=False) for n in range(1, 4))]
    page.route("**/api/due", lambda route: route.fulfill(json=told))
    page.goto(f"{service.address}/#/")
    headings = page.locator("section:has(> h2:text-is('Due')) h3")
    expect(headings).to_have_text(["Overdue 20", "Still to come 3"])
    expect(page.get_by_text("new 1")).to_be_visible()  # not hidden behind what is overdue
    expect(page.get_by_text("old 9")).to_have_count(0)
    assert faults(page) == []
    more = page.get_by_role("button", name="12 more: show all 20")
    more.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("old 20")).to_be_visible()
    expect(page.get_by_role("button", name="Only the first 8")).to_have_attribute("aria-expanded", "true")
