"""Going over the report with the operator: signed on glass or refused, then sealed, handed over, amended."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.page.conftest import Visit, open_at, until
from tests.page.test_for_everybody import faults

pytestmark = pytest.mark.slow

WHY = "The operator has to leave; the rest is settled at the revisit."


def sign(page: Page, name: str) -> None:
    """A stroke across the field."""
    glass = page.get_by_role("group", name=name).get_by_role("img")
    glass.scroll_into_view_if_needed()
    box = glass.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 20, box["y"] + 60)
    page.mouse.down()
    for step in range(1, 12):
        page.mouse.move(box["x"] + 20 + 14 * step, box["y"] + 60 + (18 if step % 2 else -18))
    page.mouse.up()


def drafted_with_remarks(visit: Visit) -> bool:
    """Whether the newest draft has the remarks; until they are saved, one without them is ready to seal."""
    desk = visit.desk
    drafts = desk["reports"]
    return bool(desk["remarks"] and drafts and drafts[-1]["revision"] + 1 >= desk["revision"])


def test_nothing_is_sealed_before_all_that_it_needs_is_said(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("sign"))
    seal = page.get_by_role("button", name="Seal the report")
    expect(seal).to_be_disabled()
    page.get_by_label("The operator refuses to sign").check()
    expect(page.get_by_text("The reason for the refusal is missing")).to_be_visible()
    page.get_by_label("The reason, as it was given").fill("Wants to ask the owner first.")
    expect(page.get_by_text("still open: settle them, or say why")).to_be_visible()
    expect(seal).to_be_disabled()
    assert visit.desk["state"] == "ready"


def test_signed_sealed_handed_over_and_then_closed_to_edits(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f1") == "confirmed")
    page.goto(visit.url("sign"))
    page.get_by_label("Remarks").fill("The door seal is on order.")
    page.get_by_label("The operator signs").check()
    page.get_by_role("group", name="The operator").get_by_label("Name").fill("Tobias B. Renn")
    until(lambda: drafted_with_remarks(visit), seconds=20)
    sign(page, "The operator")
    page.get_by_label("Why it is closed all the same").fill(WHY)
    expect(page.get_by_text("Ready to seal.")).to_be_visible(timeout=30_000)
    page.get_by_role("button", name="Seal the report").click()
    expect(page.get_by_text("The seal is whole")).to_be_visible(timeout=30_000)
    assert visit.desk["state"] == "closed"
    record = visit.service.get(f"/api/inspections/{visit.id}/report.json")
    assert record["remarks"] == ["The door seal is on order."]
    assert record["acknowledgement"]["signature"]["name"] == "Tobias B. Renn"
    assert len(record["acknowledgement"]["signature"]["strokes"][0]) > 5
    assert WHY in record["left_open"][-1]
    page.get_by_label("To", exact=True).fill("tobias@harbor-wren.example")
    with page.expect_download() as download:
        page.get_by_role("link", name="Make the message").click()
    assert "tobias@harbor-wren.example" in download.value.path().read_text()
    page.get_by_role("button", name="Take down the hand-over").click()
    until(lambda: [one["to_whom"] for one in visit.desk["hand_overs"]] == ["Tobias Renn"])
    open_at(page, visit.url("desk", "f2"))
    expect(page.locator(".doing")).to_have_count(0)
    page.keyboard.press("x")
    page.keyboard.press("1")
    page.keyboard.press("Enter")
    assert visit.state("f2") == "proposed"


def test_when_the_supervisor_was_told_is_asked_for_and_not_made_up(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("sign"))
    page.get_by_label("The operator refuses to sign").check()
    page.get_by_label("The reason, as it was given").fill("Wants to ask the owner first.")
    page.get_by_label("Why it is closed all the same").fill(WHY)
    page.get_by_label("Supervisor who was told of it").fill("  ")
    expect(page.get_by_label("When the supervisor was told")).to_have_count(0)
    expect(page.get_by_text("Ready to seal.")).to_be_visible(timeout=30_000)
    page.get_by_label("Supervisor who was told of it").fill("Odile Marsh")
    expect(page.get_by_text("Say when the supervisor was told.")).to_be_visible()
    expect(page.get_by_role("button", name="Seal the report")).to_be_disabled()
    page.get_by_label("When the supervisor was told").fill("2026-10-13T11:40")
    assert faults(page) == []
    page.get_by_role("button", name="Seal the report").click()
    expect(page.get_by_text("The seal is whole")).to_be_visible(timeout=30_000)
    told = visit.service.get(f"/api/inspections/{visit.id}/report.json")["acknowledgement"]
    assert (told["supervisor"], told["supervisor_told"]) == ("Odile Marsh", "2026-10-13T11:40:00-05:00")


def test_a_correction_that_was_made_is_marked_where_it_is_due(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f2") == "confirmed")
    page.goto(visit.url("sign"))
    page.get_by_label("Nobody is there who could sign").check()
    page.get_by_label("What was tried").fill("Rang twice, waited ten minutes.")
    page.get_by_label("Why it is closed all the same").fill(WHY)
    page.get_by_role("button", name="Seal the report").click(timeout=30_000)
    expect(page.get_by_text("The seal is whole")).to_be_visible(timeout=30_000)

    def due() -> list[str]:
        return [one["what"] for one in visit.service.get("/api/due") if one["inspection"] == visit.id]

    assert "correct by" in due()
    page.goto(f"{visit.service.address}/#/")
    for more in page.get_by_role("button", name="more: show all").all():
        more.click()
    line = page.locator(f'li.due:has(a[href="#/i/{visit.id}/desk"])')
    line.get_by_role("button", name="Mark as corrected").click()
    until(lambda: "correct by" not in due())
    expect(line.locator(".state")).to_have_text("Corrected")
    line.get_by_role("button", name="Take back").click()
    until(lambda: "correct by" in due())
    assert faults(page) == []


def test_an_amendment_is_a_document_of_its_own(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("sign"))
    page.get_by_label("Nobody is there who could sign").check()
    page.get_by_label("What was tried").fill("Rang twice, waited ten minutes.")
    page.get_by_label("Why it is closed all the same").fill(WHY)
    expect(page.get_by_text("Ready to seal.")).to_be_visible(timeout=30_000)
    page.get_by_role("button", name="Seal the report").click()
    page.get_by_role("button", name="Write an amendment").click(timeout=30_000)
    for label, text in {
        "Which place in the report": "establishment, address",
        "What it says": "41 Saltgate Street",
        "What it shall say": "43 Saltgate Street",
        "Why": "The number was wrong in the register.",
        "Approved by": "Odile Marsh",
        "Told how": "by telephone",
    }.items():
        page.get_by_label(label, exact=True).fill(text)
    assert faults(page) == []
    page.get_by_role("button", name="Another place").click()
    second = page.get_by_role("group", name="Change 2 of 2")
    for label, text in {
        "Which place in the report": "establishment, permit",
        "What it says": "none",
        "What it shall say": "F-2231",
    }.items():
        second.get_by_label(label, exact=True).fill(text)
    page.get_by_label("Approved at").fill("2026-11-20T09:30")
    page.get_by_label("Told at").fill("2026-11-20T11:05")
    seal = page.get_by_role("button", name="Seal the amendment")
    expect(page.get_by_text("Your signature is missing")).to_be_visible()
    expect(seal).to_be_disabled()
    page.get_by_role("group", name="You, the inspector").get_by_label("Name").fill("Ines Calloway")
    sign(page, "You, the inspector")
    page.get_by_label("Approved by").fill("   ")
    expect(page.get_by_text("“Approved by” is missing.")).to_be_visible()
    page.get_by_label("Approved by").fill("Odile Marsh")
    assert faults(page) == []
    seal.click()
    until(lambda: [one["kind"] for one in visit.desk["reports"]][-1] == "amendment", seconds=20)
    expect(page.get_by_text("Amendment sealed")).to_be_visible()
    expect(page.get_by_text("The seal is whole")).to_be_visible()
    sealed = visit.desk["reports"][-1]["id"]
    record = visit.service.get(f"/api/inspections/{visit.id}/report.json?report={sealed}")
    assert [change["where"] for change in record["changes"]] == [
        "establishment, address",
        "establishment, permit",
    ]
    assert (record["approved"][11:16], record["operator_told"][11:16]) == ("09:30", "11:05")
    assert record["inspector_signature"]["name"] == "Ines Calloway"
    assert len(record["inspector_signature"]["strokes"][0]) > 5
    assert faults(page) == []
