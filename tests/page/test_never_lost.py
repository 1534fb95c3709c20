"""Nothing is shown as saved that is not: two tabs, a reload, a service that stops in the middle."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from review_api.data_folder import DataFolder
from review_api.store.database import Database
from tests.page.conftest import DESK, Service, Visit, add_visit, open_at, until
from tests.page.seed import Shipped

pytestmark = pytest.mark.slow


@pytest.fixture
def other(browser: Browser) -> Iterator[Page]:
    """A page of somebody else: it shares nothing with the first."""
    context = browser.new_context(viewport=DESK)
    yield context.new_page()
    context.close()


def edit_where(page: Page, text: str) -> None:
    page.keyboard.press("e")
    page.get_by_label("Where").fill(text)


def test_the_same_thing_changed_in_two_places_is_shown_twice_and_the_person_chooses(
    page: Page, other: Page, visit: Visit
) -> None:
    open_at(page, visit.url("desk", "f2"))
    open_at(other, visit.url("desk", "f2"))
    edit_where(page, "left door")
    edit_where(other, "right door")
    page.keyboard.press("Control+Enter")
    until(lambda: visit.finding("f2")["where"] == "left door")
    other.keyboard.press("Control+Enter")
    dialog = other.get_by_role("dialog", name="Changed in two places")
    expect(dialog).to_contain_text("left door")
    expect(dialog).to_contain_text("right door")
    expect(other.locator(".saved")).to_contain_text("Not saved")
    assert visit.finding("f2")["where"] == "left door"
    dialog.get_by_role("button", name="Save mine over it").click()
    until(lambda: visit.finding("f2")["where"] == "right door")
    expect(other.locator(".saved")).to_contain_text("Saved")


def test_keeping_what_is_saved_drops_the_other_change(page: Page, other: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    open_at(other, visit.url("desk", "f2"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f2") == "confirmed")
    other.keyboard.press("x")
    other.keyboard.press("3")
    other.get_by_role("button", name="Keep what is saved").click()
    expect(other.locator('[data-subject="f2"]')).to_contain_text("Confirmed")
    assert visit.state("f2") == "confirmed"


def test_two_people_on_different_things_do_not_disturb_each_other(
    page: Page, other: Page, visit: Visit
) -> None:
    open_at(page, visit.url("desk", "f2"))
    open_at(other, visit.url("desk", "f3"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f2") == "confirmed")
    other.keyboard.press("Enter")
    until(lambda: visit.state("f3") == "confirmed")
    expect(other.get_by_role("dialog")).to_have_count(0)


def test_another_tab_of_the_same_browser_follows(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    second = open_at(page.context.new_page(), visit.url("desk", "f5"))
    page.keyboard.press("Enter")
    expect(second.locator('[data-subject="f2"]')).to_contain_text("Confirmed")


def test_a_reload_in_the_middle_comes_back_to_the_same_place_with_what_was_saved(
    page: Page, visit: Visit
) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f1") == "confirmed")
    page.reload()
    expect(page.locator(".proposal h1")).to_have_text("An opened package of ham had no date on it")
    expect(page.locator('[data-subject="f1"]')).to_contain_text("Confirmed")


def test_a_reload_before_the_answer_came_is_no_conflict_with_oneself(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))

    def stored_but_never_answered(route: Route) -> None:
        if route.request.method == "GET":
            route.continue_()
        else:
            route.fetch()

    page.route("**/api/inspections/**", stored_but_never_answered)
    page.keyboard.press("Enter")
    until(lambda: visit.state("f1") == "confirmed")
    page.unroute_all(behavior="ignoreErrors")
    page.once("dialog", lambda dialog: dialog.accept())  # the browser asks, as something is not saved yet
    page.reload()
    expect(page.locator('[data-subject="f1"]')).to_contain_text("Confirmed")
    expect(page.get_by_role("dialog")).to_have_count(0)


@pytest.fixture
def own(filled: tuple[DataFolder, Shipped], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Visit]:
    """An inspection on a service of its own, which may be killed."""
    folder = DataFolder(tmp_path_factory.mktemp("own") / "data").make()
    database = Database.at(folder.database)
    database.migrate()
    database.close()
    service = Service(folder.root)
    service.start()
    yield add_visit(service, filled[1])  # sound and photos are not asked for here
    service.kill()


def test_a_service_that_stops_in_the_middle_loses_nothing_and_is_not_taken_for_saved(
    page: Page, own: Visit
) -> None:
    open_at(page, own.url("desk", "f1"))
    page.keyboard.press("Enter")
    until(lambda: own.state("f1") == "confirmed")
    own.service.kill()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("The service does not answer")
    expect(page.locator(".saved")).to_contain_text("Not saved: 2 changes")
    expect(page.locator('[data-subject="f2"]')).to_contain_text("Not saved yet")
    expect(page.locator('[data-subject="f1"]')).to_contain_text("Confirmed")
    own.service.start()
    until(lambda: own.state("f2") == "confirmed", seconds=15)
    expect(page.locator(".saved")).to_contain_text("Saved")
    expect(page.locator('[data-subject="f2"]')).to_contain_text("Confirmed")
    assert own.state("f1") == "confirmed"
