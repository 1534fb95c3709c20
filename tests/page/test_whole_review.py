"""The whole review: by keyboard alone, with its keystrokes counted, and by thumb on a phone."""

from __future__ import annotations

import json

import pytest
from playwright.sync_api import Page, expect

from tests.page.conftest import Visit, open_at, until
from tests.page.seed import SHIPPED

pytestmark = pytest.mark.slow

GOAL = 1.3
"""Keystrokes a proposal, from opening the inspection to its draft report, where the proposals are right."""


FIVE_MINUTES = 300
LOOK_S = 1.5
"""A person's look at a proposal before the key, on top of listening to what a finding rests on."""


def paced(visit: Visit, pressed: int) -> float:
    """Seconds of a review in which every finding is heard in full and every keystroke takes a look."""
    heard = sum(one["end"] - one["start"] for one in visit.desk["findings"] if one["start"] is not None)
    return float(heard + LOOK_S * pressed)


def true_sections() -> set[str]:
    """The sections that were violated in the shipped inspection."""
    truth = json.loads((SHIPPED / "expected.json").read_text("utf-8"))
    return {row["provision"] for row in truth["findings"]}


class Keyboard:
    """Presses keys and counts them."""

    def __init__(self, page: Page) -> None:
        self.page, self.pressed = page, 0

    def press(self, key: str, times: int = 1) -> None:
        for _ in range(times):
            self.page.keyboard.press(key)
            self.pressed += 1


def test_right_proposals_cost_little_more_than_one_keystroke_each_up_to_the_draft(
    page: Page, understood_visit: Visit
) -> None:
    """The real extraction's proposals: a right one is confirmed, one that is not in the truth is rejected."""
    visit, right = understood_visit, true_sections()
    open_at(page, f"{visit.service.address}/#/i/{visit.id}")
    page.locator(".proposal h1").wait_for()
    keys = Keyboard(page)
    cited = {one["id"]: one["provision"] for one in visit.desk["findings"]}
    proposals = page.locator(".list .item").count()
    for _ in range(2 * proposals):
        open_now = page.locator(".list-head h2").inner_text()
        if open_now == "All decided":
            break
        title = page.locator(".proposal h1").inner_text()
        subject = page.url.rsplit("/", 1)[1]
        if page.locator(".choose").count():
            keys.press("1")  # the doubted number, as proposed
        elif "Question" in page.locator(".proposal-head").inner_text():
            keys.press("1")  # the first of its answers
        elif subject in cited and cited[subject] not in right:
            keys.press("x")
            keys.press("1")
        else:
            keys.press("Enter")
        page.wait_for_function(
            "([was, open]) => document.querySelector('.proposal h1').textContent !== was"
            " || document.querySelector('.list-head h2').textContent !== open",
            arg=[title, open_now],
        )
    expect(page.locator(".list-head h2")).to_have_text("All decided")
    keys.press("d")
    expect(page.get_by_role("button", name="Write the draft report")).to_be_enabled()
    keys.press("d")
    made = until(lambda: visit.desk["reports"], seconds=20)
    assert made[0]["kind"] == "draft"
    assert {visit.state(name) for name, section in cited.items() if section in right} == {"confirmed"}
    assert keys.pressed / proposals <= GOAL
    assert paced(visit, keys.pressed) < FIVE_MINUTES


def test_tab_alone_reaches_every_control_in_the_order_it_is_read(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    page.locator(".proposal h1").focus()
    names: list[str] = []
    for _ in range(40):
        page.keyboard.press("Tab")
        name = page.evaluate(
            "(document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent).trim()"
        )
        names.append(name)
    order = ["Listen", "Before and after", "Edit", "Attach", "Confirm", "Reject"]
    places = [next((at for at, name in enumerate(names) if name.startswith(start)), -1) for start in order]
    assert places == sorted(places), names
    assert -1 not in places, names


def test_by_thumb_on_a_phone(phone: Page, visit: Visit) -> None:
    open_at(phone, visit.url())
    expect(phone.locator(".proposal")).to_have_count(0)  # a phone begins with the list
    phone.locator('[data-subject="f1"]').tap()
    expect(phone.locator(".proposal h1")).to_have_text("Sliced turkey on the top shelf was at 48.5 °F")
    phone.get_by_role("button", name="Attach", exact=False).first.tap()
    until(lambda: visit.finding("f1")["photos"])
    phone.get_by_role("button", name="Confirm").tap()
    until(lambda: visit.state("f1") == "confirmed")
    expect(phone.locator(".proposal h1")).to_have_text("An opened package of ham had no date on it")
    phone.get_by_role("button", name="Reject").tap()
    phone.get_by_role("button", name="in order as I saw it").tap()
    until(lambda: visit.state("f2") == "rejected")
    phone.get_by_role("link", name="All proposals").tap()
    expect(phone.locator('[data-subject="f2"]')).to_contain_text("Rejected")
    phone.get_by_role("button", name="Undo").tap()
    until(lambda: visit.state("f2") == "proposed")
