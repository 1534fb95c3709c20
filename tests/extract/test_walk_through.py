"""A walk through a kitchen in ordinary talk: shelves in a list, times beside figures, discs and loaves.

Wording: common practice, no source; stages: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts


def test_a_shelf_in_a_list_is_no_part_of_the_food() -> None:
    said = "Reach-in, top shelf: diced ham 40, bottom shelf raw burger patties 39."
    assert shorts(said) == ["40 cold_holding diced ham", "39 cold_holding raw burger patties"]


def test_a_disc_sent_through_the_machine_tells_the_surface() -> None:
    assert shorts("Dish machine, wash 158, final 191, my disc says 167.")[-1] == "167 utensil_surface disc"


def test_what_is_done_with_a_food_is_no_part_of_its_name() -> None:
    found = meant("Cooling pork shoulder since 9, it was 134 then, now it's 11.10 and it's 72.").readings
    assert [one.item for one in found] == ["pork shoulder", "pork shoulder"]


def test_the_hour_that_it_is_now_is_no_reading() -> None:
    assert [one.value for one in meant("Rice is on time, tag says 11, it's 1 now.").readings] == []


@pytest.mark.parametrize("when", ["when it came out", "when he pulled it"])
def test_a_figure_from_the_moment_food_came_out_is_of_cooking(when: str) -> None:
    assert shorts(f"The turkey loaf temped at 158 {when}.") == ["158 cooking turkey loaf"]
