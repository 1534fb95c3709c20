"""Deciding one proposal: confirm, edit, reject, choose a doubted number, answer, undo."""

from __future__ import annotations

from dataclasses import replace

import pytest
from playwright.sync_api import Page, expect

from review_api.data_folder import DataFolder
from shared.types import Doubt
from tests.page.conftest import Service, Visit, add_visit, open_at, until
from tests.page.seed import Shipped

pytestmark = pytest.mark.slow


def heading(page: Page, text: str) -> None:
    expect(page.locator(".proposal h1")).to_have_text(text)


def test_enter_confirms_and_moves_on_to_the_next_in_the_order_of_the_visit(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    heading(page, "Sliced turkey on the top shelf was at 48.5 °F")
    page.keyboard.press("Enter")
    heading(page, "An opened package of ham had no date on it")
    until(lambda: visit.state("f1") == "confirmed")
    assert visit.reading("r5")["decision"]["state"] == "confirmed"  # what the finding rests on


def hold(page: Page, key: str, times: int = 6) -> None:
    """The key is kept down, and repeats as keyboards do."""
    for _ in range(times):
        page.keyboard.down(key)
        page.wait_for_timeout(60)
    page.keyboard.up(key)


def decided(visit: Visit) -> list[str]:
    """Findings that are decided, and readings that are rejected."""
    found = [one["id"] for one in visit.desk["findings"] if one["decision"]["state"] != "proposed"]
    return found + [one["id"] for one in visit.desk["readings"] if one["decision"]["state"] == "rejected"]


def test_a_held_enter_confirms_one_and_not_what_nobody_has_seen(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    hold(page, "Enter")
    until(lambda: visit.state("f1") == "confirmed")
    heading(page, "An opened package of ham had no date on it")
    page.get_by_role("button", name="Confirm").focus()
    hold(page, "Enter")
    until(lambda: visit.state("f2") == "confirmed")
    assert decided(visit) == ["f1", "f2"]


@pytest.mark.parametrize("key", ["x", "u", "1"])
def test_a_held_key_decides_nothing_more_than_a_pressed_one(page: Page, visit: Visit, key: str) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    heading(page, "An opened package of ham had no date on it")
    page.keyboard.press("Enter")
    until(lambda: decided(visit) == ["f1", "f2"])
    if key == "1":
        page.keyboard.press("x")
    hold(page, key)
    if key == "x":
        expect(page.get_by_role("heading", name="Why not?")).to_be_visible()
    until(lambda: len(decided(visit)) == {"x": 2, "u": 1, "1": 3}[key])
    page.wait_for_timeout(200)
    assert len(decided(visit)) == {"x": 2, "u": 1, "1": 3}[key]


def test_what_was_just_decided_can_be_taken_back_before_the_inspection_is_read_again(
    page: Page, visit: Visit
) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.route(f"**/api/inspections/{visit.id}", lambda route: None)  # never answered
    with page.expect_response("**/decisions"):
        page.keyboard.press("Enter")
    expect(page.get_by_role("status").filter(has_text="Saved")).to_be_visible()
    page.keyboard.press("u")
    until(lambda: visit.state("f1") == "proposed")
    page.keyboard.press("y")
    until(lambda: visit.state("f1") == "confirmed")


def test_a_held_letter_does_not_go_on_in_the_field_that_it_opened(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    hold(page, "e")
    expect(page.get_by_role("combobox", name="Section")).to_have_value("3-501.17")


@pytest.mark.parametrize(("key", "field"), [("e", "field-provision"), ("x", "")])
def test_what_opens_has_the_focus_before_the_next_key_can_come(
    page: Page, visit: Visit, key: str, field: str
) -> None:
    """Else the first letters of a quick hand go into another field."""
    open_at(page, visit.url("desk", "f2"))
    heading(page, "An opened package of ham had no date on it")
    focused = page.evaluate(
        """async (key) => {
            const pressed = new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true });
            document.body.dispatchEvent(pressed);
            await new Promise((drawn) => setTimeout(drawn));
            return document.activeElement.closest("form") && document.activeElement.id;
        }""",
        key,
    )
    assert focused == field


def test_a_held_arrow_moves_through_the_list(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    before = page.locator('.item[aria-current="true"]').get_attribute("data-subject")
    hold(page, "j", times=3)
    index = page.locator(".item").evaluate_all(
        "items => items.findIndex((item) => item.getAttribute('aria-current'))"
    )
    first = page.locator(".item").evaluate_all(
        f"items => items.findIndex((item) => item.dataset.subject === '{before}')"
    )
    assert index - first == 3


def test_a_decided_proposal_is_passed_over_by_enter(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f1") == "confirmed")
    heading(page, "An opened package of ham had no date on it")  # else it moves on after the click
    page.locator('[data-subject="f1"]').click()
    heading(page, "Sliced turkey on the top shelf was at 48.5 °F")
    page.keyboard.press("Enter")
    heading(page, "An opened package of ham had no date on it")
    assert visit.state("f1") == "confirmed"


def test_editing_in_place_keeps_what_the_program_proposed(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("e")
    page.get_by_label("Where").fill("reach-in cooler by the grill")
    page.keyboard.press("Control+Enter")
    until(lambda: visit.state("f2") == "edited")
    assert visit.finding("f2")["where"] == "reach-in cooler by the grill"
    assert visit.finding("f2")["proposed"] == {"where": "reach-in cooler"}


def test_a_section_that_the_rules_do_not_have_is_refused_in_the_form(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("e")
    expect(page.locator("datalist option").first).to_be_attached()  # else the service refuses
    page.get_by_role("combobox", name="Section").fill("9-999.99")
    page.keyboard.press("Control+Enter")
    expect(page.get_by_role("alert")).to_contain_text("“9-999.99” is no section of these rules")
    assert visit.state("f2") == "proposed"


def test_escape_leaves_a_form_and_changes_nothing(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    page.keyboard.press("e")
    page.get_by_label("Where").fill("elsewhere")
    page.keyboard.press("Escape")
    expect(page.locator(".proposal dl.text")).to_contain_text("reach-in cooler")
    assert visit.state("f2") == "proposed"


def test_rejecting_asks_for_a_reason_and_one_key_gives_it(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f3"))
    page.keyboard.press("x")
    page.keyboard.press("2")
    until(lambda: visit.state("f3") == "rejected")
    assert visit.finding("f3")["decision"]["reason"] == "side talk, not an observation"


def test_a_doubted_number_is_not_confirmed_without_a_choice(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "r10"))
    expect(page.get_by_role("heading", name="Which number was said?")).to_be_visible()
    page.keyboard.press("Enter")
    heading(page, "Chicken breast, hot line")
    assert visit.state("r10") == "proposed"


@pytest.mark.parametrize(("key", "value"), [("1", 169), ("2", 165)])
def test_one_key_chooses_what_was_said(page: Page, visit: Visit, key: str, value: float) -> None:
    open_at(page, visit.url("desk", "r10"))
    page.keyboard.press(key)
    until(lambda: visit.state("r10") != "proposed")
    assert visit.reading("r10")["value"] == value
    assert visit.reading("r10")["decision"]["choice"] == value


def test_where_one_number_was_heard_the_question_is_whether_the_reading_is_right(
    page: Page, service: Service, filled: tuple[DataFolder, Shipped]
) -> None:
    """The doubt may be of the stage; one key confirms the reading as proposed."""
    shipped = filled[1]
    why = "It may be of hot holding, and not of cooking"
    readings = tuple(
        replace(one, alternatives=(), doubts=(Doubt("stage_unsure", why, one.span),))
        if one.id == "r10"
        else one
        for one in shipped.meant.readings
    )
    visit = add_visit(service, replace(shipped, meant=replace(shipped.meant, readings=readings)))
    open_at(page, visit.url("desk", "r10"))
    expect(page.get_by_role("heading", name="Is this reading right?")).to_be_visible()
    expect(page.get_by_text(why)).to_be_visible()
    page.keyboard.press("1")
    until(lambda: visit.state("r10") == "confirmed")
    assert visit.reading("r10")["value"] == 169


def test_an_answer_goes_into_the_finding_at_once(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f2"))
    expect(page.get_by_text("The report lacks this")).to_be_visible()
    page.keyboard.press("q")
    page.keyboard.type("Saturday")
    page.keyboard.press("Enter")
    until(lambda: visit.finding("f2")["questions"][0]["answer"] == "Saturday")
    expect(page.get_by_text("The report lacks this")).to_be_hidden()


def test_a_runner_up_section_is_taken_over_by_one_press(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f10"))
    page.get_by_role("button", name="7-101.11").click()
    until(lambda: visit.state("f10") == "edited")
    assert visit.finding("f10")["provision"] == "7-101.11"


def test_undo_takes_back_one_change_after_the_other_and_shows_it(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    until(lambda: visit.state("f1") == "confirmed")
    heading(page, "An opened package of ham had no date on it")
    page.keyboard.press("x")
    page.keyboard.press("1")
    until(lambda: visit.state("f2") == "rejected")
    page.keyboard.press("u")
    until(lambda: visit.state("f2") == "proposed")
    heading(page, "An opened package of ham had no date on it")
    page.keyboard.press("u")
    until(lambda: visit.state("f1") == "proposed")
    heading(page, "Sliced turkey on the top shelf was at 48.5 °F")


def test_a_finding_is_added_by_hand_from_words_of_its_section(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("n")
    page.get_by_label("Which section?").fill("service sink")
    page.get_by_role("button", name="5-203.13").click()
    page.get_by_label("What").fill("Mop water was poured into the hand sink")
    page.get_by_label("Where").fill("back hall")
    page.keyboard.press("Control+Enter")
    added = until(lambda: [one for one in visit.desk["findings"] if one["by_hand"]])
    assert (added[0]["provision"], added[0]["where"]) == ("5-203.13", "back hall")
    expect(page.locator('[data-subject="h1"]')).to_contain_text("Added by hand")


def remembered(visit: Visit, heard: str, meant: str) -> bool:
    """The page sends it once the correction itself is stored."""
    words = visit.service.get("/api/vocabulary")
    return any((word["heard"], word["meant"]) == (heard, meant) for word in words)


def test_a_corrected_word_can_be_kept_for_the_next_inspection(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "r6"))
    page.keyboard.press("e")
    page.get_by_label("Food or object").fill("cabbage slaw")
    page.get_by_label("Next time, understand").check()
    page.keyboard.press("Control+Enter")
    until(lambda: visit.state("r6") == "edited")
    until(lambda: remembered(visit, "coleslaw", "cabbage slaw"))


def test_by_weight_the_priority_findings_come_first_and_what_is_in_order_last(
    page: Page, visit: Visit
) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.get_by_label("Order").select_option("weight")
    tags = page.locator(".list .item .tag").all_inner_texts()
    assert tags == sorted(tags, key=["P", "Pf", "C"].index)
    last = page.locator(".list .item").last
    expect(last).not_to_contain_text("Outside the limit")


def test_what_is_decided_can_be_left_out_of_the_list(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("Enter")
    page.get_by_label("only to decide").check()
    expect(page.locator('[data-subject="f1"]')).to_have_count(0)
    expect(page.locator('[data-subject="f3"]')).to_have_count(1)


def test_all_open_questions_are_gathered_and_answered_in_one_place(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("report"))
    group = page.locator("details", has_text="Open questions")
    expect(group.locator("form.ask")).to_have_count(5)
    group.get_by_label("On which day was the package opened?").fill("Saturday")
    page.keyboard.press("Enter")
    until(lambda: visit.finding("f2")["questions"][0]["answer"] == "Saturday")
    expect(group.locator("form.ask")).to_have_count(4)


def test_a_cooling_is_drawn_and_described(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f5"))
    expect(page.locator(".figure figcaption")).to_contain_text("78 °F at 10:15")
    assert page.locator(".figure img").evaluate(
        "picture => picture.decode().then(() => picture.naturalWidth)"
    )


def test_letters_do_nothing_once_they_are_switched_off(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.keyboard.press("?")
    page.get_by_label("Single letters act").uncheck()
    page.keyboard.press("Escape")
    page.keyboard.press("x")
    expect(page.get_by_text("Why not?")).to_be_hidden()


def test_an_answer_is_read_in_the_part_that_it_fills_and_in_the_report(
    page: Page, understood_visit: Visit
) -> None:
    visit = understood_visit
    warm = next(one["id"] for one in visit.desk["findings"] if one["provision"] == "3-501.16(A)(1)")
    open_at(page, visit.url("desk", warm))
    page.keyboard.press("q")
    page.keyboard.type("since nine, says the cook")
    page.keyboard.press("Enter")
    text = page.locator(".proposal dl.text")
    expect(text).to_contain_text("Out of temperature: since nine, says the cook.")
    expect(text).to_contain_text("(from your answer)")
    asked = page.locator(".ask", has_text="What was done with it?")
    asked.get_by_role("button", name="thrown out").click()
    expect(text).to_contain_text("Yes: Thrown out.")
    expect(asked).to_contain_text("stands in “Correction”")
    expect(page.locator(".proposal-head")).to_contain_text("Corrected on site")
    page.keyboard.press("u")
    expect(text).not_to_contain_text("Yes: Thrown out.")
    page.keyboard.press("y")
    expect(text).to_contain_text("Yes: Thrown out.")
    page.keyboard.press("Control+z")
    expect(text).not_to_contain_text("Yes: Thrown out.")
    page.keyboard.press("Control+Shift+Z")
    expect(text).to_contain_text("Yes: Thrown out.")
    page.keyboard.press("Enter")
    until(lambda: visit.state(warm) == "confirmed")
    page.goto(visit.url("report"))
    expect(page.get_by_role("button", name="Write the draft report")).to_be_enabled()
    page.keyboard.press("d")
    until(lambda: visit.desk["reports"], seconds=20)
    told = visit.service.get(f"/api/inspections/{visit.id}/report.json")["violations"]
    assert [one["what"].endswith("since nine, says the cook.") for one in told] == [True]
    assert (told[0]["corrected_on_site"], told[0]["correction"]) == (True, "Thrown out.")


def test_a_misheard_word_is_corrected_and_the_visit_understood_anew(
    page: Page, understood_visit: Visit
) -> None:
    visit = understood_visit
    line = next(one for one in visit.desk["utterances"] if "forty eight point five" in one["text"])
    warm = next(one["id"] for one in visit.desk["findings"] if one["provision"] == "3-501.16(A)(2)")
    open_at(page, visit.url("words", str(line["index"])))
    row = page.locator(f"#said-{line['index']}")
    row.locator("[data-word]", has_text="forty").first.click()
    row.get_by_role("button", name="Misheard?").click()
    field = row.get_by_label("What was really said")
    expect(field).to_be_focused()
    assert (
        page.evaluate(
            "getSelection().toString() || document.activeElement.value.slice("
            "document.activeElement.selectionStart, document.activeElement.selectionEnd)"
        )
        == "forty"
    )
    page.keyboard.type("thirty")
    expect(row.get_by_label("Next time")).to_have_count(0)  # a figure is true of one sentence only
    field.press("Enter")
    until(lambda: not [one for one in visit.desk["findings"] if one["id"] == warm])
    expect(row).to_contain_text("thirty eight point five")
    expect(row).to_contain_text("Heard as “" + line["text"])
    expect(row).to_contain_text("corrected by Ines Calloway")
    assert [one["value"] for one in visit.desk["readings"] if one["utterance"] == line["index"]] == [38.5]
    row.get_by_role("button", name="As it was heard").click()
    until(lambda: [one for one in visit.desk["findings"] if one["id"] == warm])


def test_the_words_are_corrected_beside_the_proposal_too(page: Page, understood_visit: Visit) -> None:
    visit = understood_visit
    warm = next(one for one in visit.desk["findings"] if one["provision"] == "3-501.16(A)(1)")
    open_at(page, visit.url("desk", warm["id"]))
    page.locator(".heard").get_by_role("button", name="Misheard?").first.click()
    field = page.get_by_label("What was really said")
    field.fill(field.input_value().replace("chowder", "bisque"))
    field.press("Escape")
    expect(field).to_have_count(0)
    page.locator(".heard").get_by_role("button", name="Misheard?").first.click()
    field.fill(field.input_value().replace("chowder", "bisque"))
    page.get_by_label("Next time, understand “chowder” as “bisque”").check()
    page.get_by_role("button", name="Correct it").click()
    until(lambda: "bisque" in visit.finding(warm["id"])["what"])
    expect(page.locator(".proposal h1")).to_contain_text("bisque")
    until(lambda: remembered(visit, "chowder", "bisque"))
