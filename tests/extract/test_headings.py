"""Places that only a heading names, and words that name a place without anybody being there.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.test_where_and_what import told

HEADINGS = [
    (["Far end, tuna salad 38."], ["38 cold_holding | tuna salad | far end"]),
    (["Okay so the hot drop-in, gravy 141."], ["141 hot_holding | gravy | hot drop-in"]),
    (["Steam table, corn 140.", "Next well, rice 138."],
     ["140 hot_holding | corn | steam table", "138 hot_holding | rice | next well"]),
    (["Pass, fried rice 150."], ["150 hot_holding | fried rice | pass"]),
    (["Well, the rice is 150."], ["150 hot_holding | rice | -"]),
    (["Food hall, stall 7, tuna salad 38.", "Stall 9 has ham at 37."],
     ["38 cold_holding | tuna salad | stall 7", "37 cold_holding | ham | stall 9"]),
    (["Walk-in two, ham 38."], ["38 cold_holding | ham | walk-in two"]),
    (["Salmon 139, other side, 142."], ["139 hot_holding | salmon | -", "142 hot_holding | salmon | -"]),
    (["Beans in the glass warmer 139."], ["139 hot_holding | beans | glass warmer"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), HEADINGS, ids=lambda value: str(value)[:60])
def test_a_heading_names_the_place_of_what_follows(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


ONLY_NAMED = [
    (["Salad station. That butter belongs in the cooler, it was out.", "Coleslaw 39."],
     ["39 cold_holding | coleslaw | salad station"]),
    (["Walk-in. No date on the beans, that's a separate line on the report.", "Ham 38."],
     ["38 cold_holding | ham | walk-in"]),
    (["Deli case. Lights dim when the oven kicks on.", "Ham 38."], ["38 cold_holding | ham | deli case"]),
    (["Raw bar. He's pouring melted ice down the hand sink.", "Oysters 38."],
     ["38 cold_holding | oysters | raw bar"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), ONLY_NAMED, ids=lambda value: str(value)[:60])
def test_a_place_that_is_only_spoken_of_is_not_where_the_next_food_is(
    lines: list[str], expected: list[str]
) -> None:
    assert told(lines) == expected


STAYS = [
    (["Loading dock, truck one's open, raw chicken 36."], ["36 receiving | raw chicken | loading dock"]),
    (["Truck one. Raw chicken 36.", "Truck two. Raw fish 38."],
     ["36 receiving | raw chicken | truck one", "38 receiving | raw fish | truck two"]),
    (["Caterer's van. Hot boxes, beef stew 124."], ["124 hot_holding | beef stew | hot boxes"]),
    (["Steam table. Hot box, beef stew 124."], ["124 hot_holding | beef stew | hot box"]),
    (["Pool bar, two stools loose.", "Hand sink runs at 98."], ["98 handwashing | hand sink | pool bar"]),
    (["Cold cart, egg salad 36.", "Pureed carrot 151."],
     ["36 cold_holding | egg salad | cold cart", "151 hot_holding | pureed carrot | -"]),
    (["Cold cart, egg salad 36.", "Pureed carrot on the cold cart 131."],
     ["36 cold_holding | egg salad | cold cart", "131 hot_holding | pureed carrot | cold cart"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), STAYS, ids=lambda value: str(value)[:60])
def test_how_long_a_place_holds(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected
