"""A form open while something else is saved: what was not touched follows, what was typed is not lost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from review_api.data_folder import DataFolder
from shared.types import Doubt, Evidence
from tests.page.conftest import DESK, Service, Visit, add_visit, open_at, until
from tests.page.seed import Shipped
from tests.page.test_for_everybody import faults

pytestmark = pytest.mark.slow


@pytest.fixture
def second(page: Page) -> Page:
    """Another tab of the same browser: it hears at once of what is saved."""
    return page.context.new_page()


@pytest.fixture
def elsewhere(browser: Browser) -> Iterator[Page]:
    """A page of another browser: it hears of nothing."""
    context = browser.new_context(viewport=DESK)
    context.set_default_timeout(10_000)
    yield context.new_page()
    context.close()


def edit(page: Page, visit: Visit, subject: str = "f2") -> Page:
    open_at(page, visit.url("desk", subject))
    page.keyboard.press("e")
    page.get_by_label("Where").wait_for()
    return page


def save_where(page: Page, visit: Visit, text: str) -> None:
    edit(page, visit)
    page.get_by_label("Where").fill(text)
    page.keyboard.press("Control+Enter")
    until(lambda: visit.finding("f2")["where"] == text)


def dialog(page: Page) -> Locator:
    return page.get_by_role("dialog", name="Changed in two places")


def test_what_was_not_touched_follows_and_is_not_sent(page: Page, second: Page, visit: Visit) -> None:
    edit(second, visit)
    save_where(page, visit, "left door")
    expect(second.get_by_label("Where")).to_have_value("left door")
    second.get_by_label("Who").fill("Tobias Renn")
    second.keyboard.press("Control+Enter")
    until(lambda: visit.finding("f2")["who"] == "Tobias Renn")
    assert visit.finding("f2")["where"] == "left door"
    expect(dialog(second)).to_have_count(0)


def test_a_touched_field_that_was_saved_elsewhere_is_a_conflict(
    page: Page, second: Page, visit: Visit
) -> None:
    edit(second, visit)
    second.get_by_label("Where").fill("right door")
    save_where(page, visit, "left door")
    expect(second.locator('[data-subject="f2"]')).to_contain_text("Edited")
    expect(second.get_by_label("Where")).to_have_value("right door")
    second.keyboard.press("Control+Enter")
    dialog(second).get_by_role("button", name="Keep what is saved").click()
    expect(second.locator(".proposal dl.text")).to_contain_text("left door")
    assert visit.finding("f2")["where"] == "left door"


def test_a_form_over_something_that_was_rejected_meanwhile_is_a_conflict(
    page: Page, second: Page, visit: Visit
) -> None:
    edit(second, visit)
    second.get_by_label("Who").fill("Tobias Renn")
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("x")
    page.keyboard.press("1")
    until(lambda: visit.state("f2") == "rejected")
    expect(second.locator('[data-subject="f2"]')).to_contain_text("Rejected")
    second.keyboard.press("Control+Enter")
    expect(dialog(second)).to_be_visible()
    assert visit.state("f2") == "rejected"


def test_mine_over_what_is_saved_is_only_what_was_changed(page: Page, elsewhere: Page, visit: Visit) -> None:
    edit(elsewhere, visit)
    elsewhere.get_by_label("Who").fill("Tobias Renn")
    save_where(page, visit, "left door")
    elsewhere.keyboard.press("Control+Enter")
    expect(dialog(elsewhere)).to_contain_text("left door")
    dialog(elsewhere).get_by_role("button", name="Save mine over it").click()
    until(lambda: visit.finding("f2")["who"] == "Tobias Renn")
    assert visit.finding("f2")["where"] == "left door"


def test_own_changes_beside_an_open_form_are_no_conflict(page: Page, visit: Visit) -> None:
    edit(page, visit)
    page.get_by_label("Where").fill("left door")
    page.get_by_label("On which day was the package opened?").fill("Saturday")
    page.get_by_role("button", name="Answer").first.click()
    until(lambda: visit.finding("f2")["questions"][0]["answer"] == "Saturday")
    page.get_by_label("Where").press("Control+Enter")
    until(lambda: visit.finding("f2")["where"] == "left door")
    expect(dialog(page)).to_have_count(0)


def test_a_change_of_somebody_else_is_not_passed_over_with_an_own_one(
    page: Page, elsewhere: Page, visit: Visit
) -> None:
    """The own change has the newest revision, and yet what lies before it was never seen."""
    open_at(elsewhere, visit.url("desk", "f3"))
    edit(page, visit)
    page.get_by_label("Where").fill("left door")
    page.keyboard.press("Control+Enter")
    until(lambda: visit.finding("f2")["where"] == "left door")
    elsewhere.route("**/api/inspections/*", lambda route: route.abort())  # it does not read what was done
    elsewhere.keyboard.press("Enter")
    until(lambda: visit.state("f3") == "confirmed")
    elsewhere.locator('[data-subject="f2"]').click()
    expect(elsewhere.locator(".proposal h1")).to_have_text("An opened package of ham had no date on it")
    elsewhere.keyboard.press("e")
    elsewhere.get_by_label("Where").fill("right door")
    elsewhere.keyboard.press("Control+Enter")
    expect(dialog(elsewhere)).to_contain_text("left door")
    assert visit.finding("f2")["where"] == "left door"


def remarks(page: Page) -> Locator:
    return page.get_by_label("What the operator said")


def test_to_look_into_a_field_deletes_nothing_that_was_saved_elsewhere(
    page: Page, second: Page, visit: Visit
) -> None:
    open_at(second, visit.url("report"))
    open_at(page, visit.url("report"))
    remarks(page).fill("The door seal is on order.")
    remarks(page).blur()
    until(lambda: visit.desk["remarks"] == ["The door seal is on order."])
    expect(remarks(second)).to_have_value("The door seal is on order.")
    remarks(second).focus()
    remarks(second).blur()
    second.get_by_label("Discussed as education").fill("Date marks")
    second.get_by_label("Discussed as education").blur()
    until(lambda: visit.desk["education"] == ["Date marks"])
    assert visit.desk["remarks"] == ["The door seal is on order."]


def test_a_field_looked_into_in_another_browser_sends_nothing(
    page: Page, elsewhere: Page, visit: Visit
) -> None:
    open_at(elsewhere, visit.url("report"))
    open_at(page, visit.url("report"))
    remarks(page).fill("The door seal is on order.")
    remarks(page).blur()
    until(lambda: visit.desk["remarks"])
    remarks(elsewhere).focus()
    remarks(elsewhere).blur()
    elsewhere.get_by_label("Discussed as education").fill("Date marks")
    elsewhere.get_by_label("Discussed as education").blur()
    dialog(elsewhere).get_by_role("button", name="Save mine over it").click()
    until(lambda: visit.desk["education"] == ["Date marks"])
    assert visit.desk["remarks"] == ["The door seal is on order."]


def test_after_undo_the_field_says_what_stands(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("report"))
    remarks(page).fill("The door seal is on order. \n\n")
    remarks(page).blur()
    until(lambda: visit.desk["remarks"])
    page.get_by_role("button", name="Undo").click()
    until(lambda: not visit.desk["remarks"])
    expect(remarks(page)).to_have_value("")
    page.get_by_role("button", name="Redo").click()
    expect(remarks(page)).to_have_value("The door seal is on order. \n\n")


def test_two_lists_of_lines_one_after_the_other_are_no_conflict_with_oneself(
    page: Page, visit: Visit
) -> None:
    open_at(page, visit.url("report"))
    remarks(page).fill("On order.")
    page.get_by_label("Discussed as education").fill("Date marks")
    page.get_by_label("Discussed as education").blur()
    until(lambda: (visit.desk["remarks"], visit.desk["education"]) == (["On order."], ["Date marks"]))
    expect(dialog(page)).to_have_count(0)


def open_photo(page: Page, visit: Visit) -> Page:
    open_at(page, visit.url("photos", visit.desk["photos"][0]["sha256"]))
    page.get_by_label("Caption").wait_for()
    return page


def test_an_open_photo_follows_and_sends_what_was_touched(page: Page, second: Page, visit: Visit) -> None:
    open_photo(second, visit)
    open_photo(page, visit).get_by_label("Caption").fill("Top shelf")
    until(lambda: visit.desk["photos"][0]["caption"] == "Top shelf")
    expect(second.get_by_label("Caption")).to_have_value("Top shelf")
    second.get_by_label("What it shows").fill("A shelf with a bowl of turkey.")
    until(lambda: visit.desk["photos"][0]["alternative_text"])
    assert visit.desk["photos"][0]["caption"] == "Top shelf"
    expect(dialog(second)).to_have_count(0)


def test_of_a_photo_too_mine_is_only_what_was_changed(page: Page, elsewhere: Page, visit: Visit) -> None:
    open_photo(elsewhere, visit)
    open_photo(page, visit).get_by_label("Caption").fill("Top shelf")
    until(lambda: visit.desk["photos"][0]["caption"] == "Top shelf")
    elsewhere.get_by_label("What it shows").fill("A shelf with a bowl of turkey.")
    dialog(elsewhere).get_by_role("button", name="Save mine over it").click()
    until(lambda: visit.desk["photos"][0]["alternative_text"])
    assert visit.desk["photos"][0]["caption"] == "Top shelf"


def test_a_photo_says_what_stands_after_undo_and_goes_on_while_it_is_saved(page: Page, visit: Visit) -> None:
    caption = open_photo(page, visit).get_by_label("Caption")
    caption.press_sequentially("Top ")
    until(lambda: visit.desk["photos"][0]["caption"] == "Top")
    expect(page.get_by_text("Saved", exact=True).last).to_be_visible()
    caption.press_sequentially("shelf")
    until(lambda: visit.desk["photos"][0]["caption"] == "Top shelf")
    page.get_by_role("button", name="Close").click()
    page.get_by_role("button", name="Undo").click()
    until(lambda: visit.desk["photos"][0]["caption"] == "Top")
    page.get_by_role("link", name="Photo 1,").or_(page.get_by_role("link", name="Top")).first.click()
    expect(page.get_by_label("Caption")).to_have_value("Top")


@pytest.fixture
def doubted(service: Service, filled: tuple[DataFolder, Shipped]) -> Visit:
    """A visit whose first finding rests on a number that may be another one."""
    shipped = filled[1]
    readings = tuple(
        replace(
            one, alternatives=(45.5,), doubts=(Doubt("passes_disagree", "Two hearings disagree.", one.span),)
        )
        if one.id == "r5"
        else one
        for one in shipped.meant.readings
    )
    return add_visit(service, replace(shipped, meant=replace(shipped.meant, readings=readings)))


def test_an_edit_takes_the_chosen_number_along(page: Page, doubted: Visit) -> None:
    open_at(page, doubted.url("desk", "f1"))
    page.keyboard.press("1")
    page.keyboard.press("e")
    page.get_by_label("What", exact=True).fill("Sliced turkey was warm")
    page.keyboard.press("Control+Enter")
    until(lambda: doubted.state("f1") == "edited")
    assert doubted.finding("f1")["what"] == "Sliced turkey was warm"
    assert doubted.reading("r5")["decision"]["choice"] == 48.5


def test_a_form_without_the_choice_stays_open_with_its_text(page: Page, doubted: Visit) -> None:
    open_at(page, doubted.url("desk", "f1"))
    page.keyboard.press("e")
    page.get_by_label("What", exact=True).fill("Sliced turkey was warm")
    page.keyboard.press("Control+Enter")
    expect(page.get_by_role("alert")).to_contain_text("First choose above which number was said")
    assert faults(page) == []
    expect(page.get_by_label("What", exact=True)).to_have_value("Sliced turkey was warm")
    page.get_by_role("button", name="45.5 °F").click()
    page.get_by_label("What", exact=True).press("Control+Enter")
    until(lambda: doubted.state("f1") == "edited")
    assert doubted.reading("r5")["value"] == 45.5


def test_a_runner_up_is_not_taken_before_the_number_is_chosen(
    page: Page, service: Service, filled: tuple[DataFolder, Shipped]
) -> None:
    shipped = filled[1]
    stew = next(one for one in shipped.meant.findings if one.provision == "3-501.15")
    reading = next(one for one in shipped.meant.readings if one.value == 78)
    doubt = Doubt("passes_disagree", "Two hearings disagree.", reading.span)
    readings = tuple(
        replace(one, alternatives=(98.0,), doubts=(doubt,)) if one.id == reading.id else one
        for one in shipped.meant.readings
    )
    findings = tuple(
        replace(one, evidence=(*one.evidence, Evidence(reading=reading.id))) if one.id == stew.id else one
        for one in shipped.meant.findings
    )
    visit = add_visit(
        service, replace(shipped, meant=replace(shipped.meant, readings=readings, findings=findings))
    )
    open_at(page, visit.url("desk", stew.id))
    page.get_by_role("button", name="3-501.14(A)").click()
    expect(page.get_by_role("button", name="78 °F")).to_be_focused()
    page.keyboard.press("1")
    page.get_by_role("button", name="3-501.14(A)").click()
    until(lambda: visit.finding(stew.id)["provision"] == "3-501.14(A)")
    assert visit.reading(reading.id)["decision"]["state"] == "confirmed"


def test_a_number_chosen_while_a_reading_is_edited_is_saved_with_the_form(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "r10"))
    page.keyboard.press("e")
    page.get_by_label("Food or object").fill("chicken thigh")
    page.get_by_role("button", name="165 °F").click()
    expect(page.get_by_label("Food or object")).to_have_value("chicken thigh")
    page.get_by_label("Food or object").press("Control+Enter")
    until(lambda: visit.state("r10") == "edited")
    assert (visit.reading("r10")["item"], visit.reading("r10")["value"]) == ("chicken thigh", 165)


def test_what_the_service_refuses_stays_in_the_form(page: Page, visit: Visit) -> None:
    problem = {
        "title": "Not valid",
        "status": 422,
        "code": "not_valid",
        "detail": "The service has a reason.",
    }

    def refuse(route: Route) -> None:
        route.fulfill(status=422, json=problem, content_type="application/problem+json")

    edit(page, visit)
    page.route("**/decisions", refuse)
    page.get_by_label("Where").fill("left door")
    page.keyboard.press("Control+Enter")
    expect(page.get_by_role("alert")).to_have_text("Not saved. The service has a reason.")
    expect(page.get_by_label("Where")).to_have_value("left door")
    page.unroute_all()
    page.get_by_label("Where").press("Control+Enter")
    until(lambda: visit.finding("f2")["where"] == "left door")


def test_the_facts_are_saved_without_a_risk_category(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("report"))
    page.get_by_role("button", name="Change", exact=True).first.click()
    page.get_by_label("Risk category").fill("")
    page.get_by_label("Permit").fill("F-2231")
    page.keyboard.press("Control+Enter")
    until(lambda: visit.desk["facts"]["permit"] == "F-2231")
    assert visit.desk["facts"]["risk_category"] is None


def test_a_time_is_on_the_clock_of_the_place_in_winter_too(page: Page, visit: Visit) -> None:
    edit(page, visit)
    page.get_by_label("Correct by").fill("2026-11-20T17:00")
    page.keyboard.press("Control+Enter")
    until(lambda: visit.state("f2") == "edited")
    assert visit.finding("f2")["correct_by"] == "2026-11-20T17:00:00-06:00"


def test_the_class_of_a_section_that_has_several_is_asked_and_chosen(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("n")
    page.get_by_label("Which section?").fill("2-301.16")
    page.get_by_role("button", name="2-301.16").first.click()
    page.get_by_label("What").fill("Hand sanitizer of no known make stood at the sink")
    expect(page.get_by_label("Class")).to_have_value("")
    page.keyboard.press("Control+Enter")
    page.locator('[data-subject="h1"]').click()
    expect(page.get_by_role("heading", name="Which class is it?")).to_be_visible()
    assert faults(page) == []
    page.get_by_role("button", name="Priority foundation (Pf)").click()
    until(lambda: visit.finding("h1")["class"] == "Pf")
    expect(page.get_by_role("heading", name="Which class is it?")).to_have_count(0)
