"""Hearing exactly what a proposal rests on: the sound really moves through the right seconds."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.page.conftest import Visit, open_at

pytestmark = pytest.mark.slow

KEEP = """
  const Plain = window.Audio;
  window.Audio = function () { return (window.sound = new Plain()); };
"""
"""The page's one sound, where a test can reach it; it hangs in no document."""

FOLLOW = """async () => {
  const seen = [], lit = new Set();
  let until = performance.now() + 20000;
  while (performance.now() < until) {
    await new Promise(requestAnimationFrame);
    if (!sound.paused && seen.push(sound.currentTime) === 1) until = performance.now() + 8000;
    for (const word of document.querySelectorAll(".said .lit")) lit.add(word.textContent);
    if (seen.length && sound.paused) break;
  }
  const rising = seen.every((at, n) => !n || at >= seen[n - 1]);
  return { first: seen[0], last: sound.currentTime, rising, lit: [...lit] };
}"""


@pytest.fixture(autouse=True)
def reachable(page: Page) -> None:
    page.add_init_script(KEEP)


def test_space_plays_the_sentence_from_its_first_second_to_its_last(page: Page, visit: Visit) -> None:
    # "There's no thermometer anywhere in this cooler." sounds from 110 s to 112.59 s (timing.json).
    open_at(page, visit.url("desk", "f3"))
    page.keyboard.press("Space")
    heard = page.evaluate(FOLLOW)
    assert 110 <= heard["first"] < 110.4
    assert 112.5 <= heard["last"] < 113.0
    assert heard["rising"]


def test_words_light_up_while_they_are_spoken(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f3"))
    page.keyboard.press("Space")
    assert {"thermometer", "anywhere", "cooler."} <= set(page.evaluate(FOLLOW)["lit"])


def test_a_word_can_be_heard_alone(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("words"))
    page.locator("#said-11 [data-word]", has_text="thermometer").click()
    heard = page.evaluate(FOLLOW)
    assert heard["first"] > 110
    assert heard["last"] - heard["first"] < 1.5


def test_the_line_of_the_visit_is_walked_by_arrows_and_heard_by_enter(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f1"))
    line = page.get_by_role("slider", name="Point of the visit")
    line.focus()
    expect(line).to_have_attribute("aria-valuetext", re.compile("^10:12:02, “Okay, Harbor Wren"))
    page.keyboard.press("ArrowRight")
    expect(line).to_have_attribute("aria-valuetext", re.compile("^10:12:11, “Ice water check"))
    page.keyboard.press("Enter")
    heard = page.evaluate(FOLLOW)
    assert 11 <= heard["first"] < 11.4
    assert 14.7 <= heard["last"] < 15.2


def test_the_wave_is_drawn_and_the_sound_can_be_slowed(page: Page, visit: Visit) -> None:
    open_at(page, visit.url("desk", "f3"))
    page.keyboard.press("Space")
    page.locator(".player .wave canvas").first.wait_for(state="attached")
    page.get_by_label("Speed").select_option("0.5")
    assert page.evaluate("sound.playbackRate") == 0.5
