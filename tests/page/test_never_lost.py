"""Nothing is shown as saved that is not: two tabs, a reload, a service that stops in the middle."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from review_api.data_folder import DataFolder
from review_api.store.database import Database
from tests.page.conftest import DESK, Service, Visit, add_visit, open_at, until
from tests.page.seed import Shipped
from tests.page.test_for_everybody import faults

pytestmark = pytest.mark.slow


@pytest.fixture
def other(browser: Browser) -> Iterator[Page]:
    """A page of somebody else: it shares nothing with the first."""
    context = browser.new_context(viewport=DESK)
    yield context.new_page()
    context.close()


def add_by_hand(page: Page, section: str, what: str) -> None:
    page.keyboard.press("n")
    page.get_by_label("Which section?").fill(section)
    page.get_by_role("button", name=section).first.click()
    page.get_by_label("What").fill(what)
    page.keyboard.press("Control+Enter")


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


@pytest.mark.parametrize("plain_http", [False, True], ids=["this machine", "plain http"])
def test_a_finding_whose_answer_was_lost_is_added_once(page: Page, visit: Visit, plain_http: bool) -> None:
    if plain_http:
        page.add_init_script("delete Crypto.prototype.randomUUID")
    keys: list[str] = []

    def stored_but_never_answered(route: Route) -> None:
        keys.append(json.loads(route.request.post_data or "{}")["key"])
        if len(keys) == 1:
            route.fetch()
            route.abort()
        else:
            route.continue_()

    page.route("**/findings", stored_but_never_answered)
    open_at(page, visit.url("desk", "f1"))
    add_by_hand(page, "5-203.13", "Mop water was poured into the hand sink")
    expect(page.locator('[data-subject="h1"]')).to_contain_text("Added by hand")
    until(lambda: len(keys) == 2)
    expect(page.locator(".saved")).to_have_text("Saved")
    assert len(set(keys)) == 1
    assert re.fullmatch(r"[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}", keys[0])
    assert [one["id"] for one in visit.desk["findings"] if one["by_hand"]] == ["h1"]


def test_a_finding_that_a_reload_interrupted_is_added_once(page: Page, visit: Visit) -> None:
    def stored_but_never_answered(route: Route) -> None:
        route.fetch()

    page.route("**/findings", stored_but_never_answered)
    open_at(page, visit.url("desk", "f1"))
    add_by_hand(page, "5-203.13", "Mop water was poured into the hand sink")
    until(lambda: any(one["by_hand"] for one in visit.desk["findings"]))
    page.unroute_all(behavior="ignoreErrors")
    page.once("dialog", lambda dialog: dialog.accept())
    page.reload()
    expect(page.locator('[data-subject="h1"]')).to_contain_text("Added by hand")
    expect(page.locator(".saved")).to_have_text("Saved")
    assert [one["id"] for one in visit.desk["findings"] if one["by_hand"]] == ["h1"]


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


def test_an_edit_made_while_the_service_is_away_waits_and_is_not_lost_when_it_is_refused(
    page: Page, own: Visit
) -> None:
    open_at(page, own.url("desk", "f2"))
    expect(page.locator(".proposal h1")).to_have_text("An opened package of ham had no date on it")
    own.service.kill()
    edit_where(page, "left door")
    page.keyboard.press("Control+Enter")
    expect(page.locator('[data-subject="f2"]')).to_contain_text("Not saved yet")
    expect(page.locator("form.fields")).to_have_count(0)
    problem = {
        "title": "Not valid",
        "status": 422,
        "code": "not_valid",
        "detail": "The service has a reason.",
    }
    page.route("**/decisions", lambda route: route.fulfill(status=422, json=problem))
    own.service.start()
    refused = page.get_by_role("dialog", name="Not saved")
    expect(refused).to_contain_text("The service has a reason.", timeout=15_000)
    expect(refused).to_contain_text("left door")
    assert faults(page) == []
