"""The check sheet, the photos and the list of inspections."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.page.conftest import Visit, open_at, until
from tests.page.seed import SHIPPED

pytestmark = pytest.mark.slow


def mark(visit: Visit, number: int) -> str | None:
    value: str | None = next(line for line in visit.desk["marks"] if line["number"] == number)["mark"]
    return value


def test_a_confirmed_finding_marks_its_item_out_and_leads_back_to_it(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    until(lambda: mark(visit, 22) == "OUT")
    page.get_by_role("link", name="Check sheet").click()
    row = page.locator("#item-22")
    expect(row.get_by_role("radio", name="Out of compliance")).to_be_checked()
    row.get_by_role("link", name="finding 3-501.16(A)(2)").click()
    expect(page.locator(".proposal h1")).to_have_text("Sliced turkey on the top shelf was at 48.5 °F")


def test_one_key_marks_an_item_and_goes_to_the_next_that_nobody_mentioned(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("sheet"))
    page.keyboard.press("j")
    page.keyboard.press("i")
    page.keyboard.press("a")
    until(lambda: mark(visit, 2) == "NA")
    assert mark(visit, 1) == "IN"
    expect(page.locator("#item-1")).to_contain_text("Set by you")
    expect(page.locator("#item-3").get_by_role("radio").first).to_be_focused()


def test_what_was_said_to_be_in_order_is_proposed_and_taken_over_at_once(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("sheet"))
    expect(page.locator("#item-8")).to_contain_text("No bare hands on ready to eat food")
    page.get_by_role("button", name="proposed from what was said").click()
    until(lambda: next(line for line in visit.desk["marks"] if line["number"] == 8)["accepted"])


def test_the_nearest_photo_is_attached_by_key_and_taken_off_by_press(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("a")
    attached = until(lambda: visit.finding("f2")["photos"])
    names = {photo["sha256"]: photo["name"] for photo in visit.desk["photos"]}
    assert [names[one["sha256"]] for one in attached] == ["ham-no-date.heic"]
    page.get_by_role("button", name="Attached").click()
    until(lambda: not visit.finding("f2")["photos"])


def test_a_photo_is_attached_by_dragging_it_to_another_proposal(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    photo = page.locator(".thumb a").first
    photo.scroll_into_view_if_needed()
    expect(photo.locator("img")).to_have_js_property("complete", True)  # it loads only where it is seen
    photo.drag_to(page.locator('[data-subject="f2"]'))
    until(lambda: visit.finding("f2")["photos"])


def test_one_photo_belongs_to_several_findings(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("photos"))
    page.get_by_role("link", name="Photo 1,").click()
    page.get_by_label("3-501.16(A)(2)").check()
    page.get_by_label("3-501.17").check()
    until(lambda: visit.desk["photos"][0]["findings"] == ["f1", "f2"])


def test_words_boxes_and_covers_go_on_the_copy_and_the_original_stays(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("photos"))
    page.get_by_role("link", name="Photo 8,").click()
    page.get_by_label("Caption").fill("Hand sink without towels")
    page.get_by_label("What it shows").fill("A hand sink; the towel holder above it is empty.")
    page.get_by_role("button", name="Box").click()
    box = page.locator(".overlay").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] * 0.2, box["y"] + box["height"] * 0.2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] * 0.6, box["y"] + box["height"] * 0.5, steps=4)
    page.mouse.up()
    page.get_by_role("button", name="Cover").focus()
    page.keyboard.press("Enter")
    shape = page.get_by_role("button", name="Covered area 2 of 2")
    shape.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")

    def photo() -> dict[str, object]:
        found: dict[str, object] = visit.desk["photos"][7]
        return found

    until(lambda: photo()["covers"] == [{"kind": "cover", "x": 0.42, "y": 0.4, "width": 0.2, "height": 0.22}])
    drawn = photo()["drawn"]
    assert isinstance(drawn, list)
    assert drawn[0]["kind"] == "box"
    assert drawn[0]["width"] == pytest.approx(0.4, abs=0.01)
    assert photo()["caption"] == "Hand sink without towels"
    expect(page.get_by_text("Saved", exact=True).last).to_be_visible()


def test_a_photo_that_may_be_blurred_says_so(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("photos"))
    expect(page.get_by_role("link", name="Photo 5,")).to_contain_text("blurred")


def test_what_was_heard_where_the_program_understood_nothing_is_typed_in(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("words"))
    row = page.locator(".unheard")
    row.get_by_label("What was said").fill("Behind you, hot!")
    row.get_by_role("button", name="Keep").click()
    until(lambda: visit.desk["not_understood"][0]["text"] == "Behind you, hot!")


def test_words_are_found_across_inspections_and_lead_to_their_place(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("words"))
    row = page.locator("li.utterance", has_text="degreaser").first
    row.get_by_role("button", name="Misheard?").click()
    field = page.get_by_label("What was really said")
    field.fill(field.input_value().replace("degreaser", "wintermint degreaser"))
    field.press("Enter")
    until(lambda: any("wintermint" in one["text"] for one in visit.desk["utterances"]))
    page.goto(f"{visit.service.address}/#/")
    page.get_by_role("heading", name="Inspections").wait_for()
    page.keyboard.press("/")
    page.keyboard.type("wintermint")
    hit = page.locator(f'a[href^="#/i/{visit.id}/"]', has_text="wintermint").first
    hit.click()
    expect(page.locator("main")).to_contain_text("wintermint degreaser")


def test_files_are_taken_in_with_progress_and_open_as_an_inspection(
    page: Page, visit: Visit, tmp_path: Path
) -> None:
    (tmp_path / "inspection.toml").write_text('[establishment]\nname = "Plum and Kettle"\n')
    (tmp_path / "dumpster.jpg").write_bytes((SHIPPED / "dumpster.jpg").read_bytes())
    page.goto(f"{visit.service.address}/#/")
    page.get_by_role("heading", name="Take in a visit").wait_for()
    page.locator("input[type=file]:not([webkitdirectory])").set_input_files(sorted(tmp_path.iterdir()))
    page.get_by_role("heading", name="The visit is being read").wait_for()
    expect(page.locator(".visit-name")).to_contain_text("Plum and Kettle", timeout=30_000)
    page.get_by_role("link", name="Photos").click()
    expect(page.locator(".tile")).to_have_count(1)
