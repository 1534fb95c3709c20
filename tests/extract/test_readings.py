"""A line in, its readings out: value, unit unless °F, stage, and what it is of. All rows are invented.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from extract import extract
from shared.types import Facts, Utterance, Word
from tests.extract.said import meant, rules, shorts

READINGS = [
    (["The cooler's own thermometer says 38."], ["38 ambient -"]),
    (
        ["thermometer hanging in there says 41, my probe in the cottage cheese says 40"],
        ["41 ambient -", "40 cold_holding cottage cheese"],
    ),
    (
        ["the dial on the front of the reach-in reads 38 but the ham inside is 45"],
        ["38 ambient -", "45 cold_holding ham"],
    ),
    (["LED on the salad bar says 39, lettuce 44"], ["39 ambient -", "44 cold_holding lettuce"]),
    (["The unit reads 40. Milk is 39."], ["40 ambient -", "39 cold_holding milk"]),
    (["door display 38, butter 39"], ["38 ambient -", "39 cold_holding butter"]),
    (["reach-in's at 44 by its own gauge"], ["44 ambient -"]),
    (["walk-in built-in thermometer is showing 36"], ["36 ambient -"]),
    (["hot box thermometer says 150, chicken inside 141"], ["150 ambient -", "141 hot_holding chicken"]),
    (["hot cabinet's dial reads 160 but the meatloaf is 128"], ["160 ambient -", "128 hot_holding meatloaf"]),
    (["The air in the display case is 43, cheesecake 42"], ["43 ambient -", "42 cold_holding cheesecake"]),
    (["prep fridge air 41"], ["41 ambient -"]),
    (["cooler temp is 37"], ["37 ambient -"]),
    (["ambient 38 in the walk-in"], ["38 ambient -"]),
    (["walk-in ambient is 39 degrees, product 40"], ["39 ambient -", "40 cold_holding product"]),
    (
        ["Walk-in cooler 36, walk-in freezer minus 3, reach-in 38"],
        ["36 ambient -", "-3 freezing -", "38 ambient -"],
    ),
    (["Their gauge says 38 but I get 46 in the tuna salad"], ["38 ambient -", "46 cold_holding tuna salad"]),
    (["gauge on the cooler says 35 and the yogurt is 36"], ["35 ambient -", "36 cold_holding yogurt"]),
    (["soup of the day 152"], ["152 hot_holding soup of the day"]),
    (
        ["on the steam table the rice is one thirty and the beans are one forty two"],
        ["130 hot_holding rice", "142 hot_holding beans"],
    ),
    (["nacho cheese 128"], ["128 hot_holding nacho cheese"]),
    (
        ["Rotisserie chickens in the warmer 141, 138 and 129"],
        [
            "141 hot_holding rotisserie chickens",
            "138 hot_holding rotisserie chickens",
            "129 hot_holding rotisserie chickens",
        ],
    ),
    (
        ["two pans of lasagna, one's at 141 the other at 139"],
        ["141 hot_holding lasagna", "139 hot_holding lasagna"],
    ),
    (["The egg rolls under the heat lamp were at 121."], ["121 hot_holding egg rolls"]),
    (
        ["I temped the gravy at 133 and the stuffing at 147"],
        ["133 hot_holding gravy", "147 hot_holding stuffing"],
    ),
    (["holding the pulled pork at 137"], ["137 hot_holding pulled pork"]),
    (["the clam chowder in the kettle by the register reads 130 even"], ["130 hot_holding clam chowder"]),
    (
        ["pizza slices in the display warmer 126 to 131"],
        ["126 hot_holding pizza slices", "131 hot_holding pizza slices"],
    ),
    (["got 143 on the meatballs"], ["143 hot_holding meatballs"]),
    (["144 for the pasta and 151 for the sauce"], ["144 hot_holding pasta", "151 hot_holding sauce"]),
    (
        ["Hot holding: ribs 141, corn 138, mash 150."],
        ["141 hot_holding ribs", "138 hot_holding corn", "150 hot_holding mash"],
    ),
    (["wings in the cabinet came in at 124"], ["124 hot_holding wings"]),
    (["coffee creamer at 51 degrees on the counter"], ["51 cold_holding coffee creamer"]),
    (["final cook temp on the salmon was 151"], ["151 cooking salmon"]),
    (["chicken breast coming off the grill at 159"], ["159 cooking chicken breast"]),
    (["cooked the turkey to 167"], ["167 cooking turkey"]),
    (["checked the fryer basket, tenders at 171"], ["171 cooking tenders"]),
    (["beans cooling since 12.30, started at 138, now 95"], ["138 cooling beans", "95 cooling beans"]),
    (["soup cooling in an ice bath, 88"], ["88 cooling soup"]),
    (
        ["truck pulled up, checking product: ground beef 38, lettuce 44, eggs 45"],
        ["38 receiving ground beef", "44 receiving lettuce", "45 receiving eggs"],
    ),
    (["ice water, 32 on mine, 34 on theirs"], ["32 thermometer_check mine", "34 thermometer_check theirs"]),
    (["boiling water test, 211"], ["211 thermometer_check -"]),
    (["sanitizer in the third sink is 200 ppm quat"], ["200 ppm sanitizer -"]),
    (["bucket's at 50 ppm"], ["50 ppm sanitizer bucket"]),
    (["bleach water tested 100"], ["100 ppm sanitizer -"]),
    (["chlorine in the dish machine is at 50 parts per million"], ["50 ppm sanitizer -"]),
    (["dish machine sanitizing at 100 ppm chlorine"], ["100 ppm sanitizer -"]),
    (["dish machine final rinse 182"], ["182 machine_rinse -"]),
    (["wash water in the three compartment sink 112"], ["112 manual_wash wash water"]),
    (["hot water at the hand sink is 104"], ["104 handwashing hand sink"]),
    (["hand sink by the fryer 78 degrees"], ["78 handwashing hand sink"]),
    (["boxes stored 3 inches off the floor"], ["3 inch storage boxes"]),
    (["air gap on the prep sink is one inch"], ["1 inch other air gap"]),
    (["light in the walk-in is 5 foot candles"], ["5 foot_candle lighting -"]),
    (["light over the prep table 35 foot-candles"], ["35 foot_candle lighting -"]),
    (["water activity on the jerky came back 0.82"], ["0.82 aw other jerky"]),
    (["pH on the salsa 4.0"], ["4 ph other salsa"]),
    (["salsa pH 4.2"], ["4.2 ph other salsa"]),
    (["the rice is at a pH of 4.1"], ["4.1 ph other rice"]),
    (["sauce tested 3.9 pH"], ["3.9 ph other sauce"]),
    (["potato salad's been out for 5 hours under time control"], ["5 hour time_control potato salad"]),
    (["rice is on time, been out 3 hours"], ["3 hour time_control rice"]),
    (["sushi out since ten so four and a half hours, time tag says ten"], ["4.5 hour time_control sushi"]),
    (["tuna salad was made 9 days ago"], ["9 day storage tuna salad"]),
    (["cut melon dated 6 days back, fine"], ["6 day storage cut melon"]),
    (["ham's on day eight"], ["8 day storage ham"]),
    (["milk opened ten days ago by the sticker"], ["10 day storage milk"]),
    (["gap under the door is half an inch"], ["0.5 inch other gap"]),
    (["shelf is only 2 inches off the floor"], ["2 inch storage shelf"]),
    (["faucet's an inch above the rim"], ["1 inch other faucet"]),
    (["water pressure on the final rinse is 18 psi"], ["18 psi machine_rinse -"]),
    (["tofu 5 celsius eggs 7 celsius"], ["5 degc cold_holding tofu", "7 degc cold_holding eggs"]),
    (["walk-in at 3 C, milk 4 C"], ["3 degc ambient -", "4 degc cold_holding milk"]),
    (["soup 65 degrees centigrade"], ["65 degc hot_holding soup"]),
    (["freezer's minus 20 Celsius"], ["-20 degc freezing -"]),
    (["chicken 74C out of the oven"], ["74 degc cooking chicken"]),
    (["egg rolls 131, hmm, check again, 136"], ["131 hot_holding egg rolls", "136 hot_holding egg rolls"]),
]

COOLING = [
    ("chili was at 135 at 10 and at noon it's 68", ["135@10:00", "68@12:00"]),
    ("Log sheet: rice 140 at 11:15, 90 at 12:15, 66 at 1:15.", ["140@11:15", "90@12:15", "66@13:15"]),
    ("roast was pulled at 11 at 145 and now it's 80", ["145@11:00", "80@"]),
    ("clam chowder went from 135 at 11 to 70 at 1, so that's good", ["135@11:00", "70@13:00"]),
    (
        "the beef barley was at 135 at nine thirty this morning and it's 75 now at 11.40",
        ["135@09:30", "75@11:40"],
    ),
    ("Pot roast cooling. At 1 it was 135. At 3 it was 80.", ["135@13:00", "80@15:00"]),
    ("rice, 135.1030 and then 70.1220", ["135@10:30", "70@12:20"]),
    ("stock hit 135 at 1.05 pm, an hour later it was 101", ["135@13:05", "101@"]),
    ("Marinara pulled at 165 at 10, 135 by 10.40, 68 at 12.30", ["165@10:00", "135@10:40", "68@12:30"]),
    ("egg salad made with warm eggs, 85 at 10 and 43 at 1", ["85@10:00", "43@13:00"]),
    ("Taco meat 57 C at 9.30, 21 C at 11", ["57@09:30", "21@11:00"]),
    (
        "pasta cooling on sheet trays, one thirty at eleven forty five, sixty nine at one fifteen",
        ["130@11:45", "69@13:15"],
    ),
]

NOT_READINGS = [
    "if it gets above 41 you have to toss it",
    "remember hot food at 135 or above, cold at 41 or below",
    "last inspection the walk-in was 50",
    "needs to be at 165 for 15 seconds",
    "they set the thermostat to 34",
    "the oven's at 350 and the fryer's at 360",
    "she says she keeps it at 38",
    "label says store below 40",
    "cool from 135 to 70 in two hours then to 41 in four more",
    "you want that at 41 or lower",
    "it used to run at 45 before they fixed it",
    "thermometer accurate to plus or minus 2 degrees",
    "about 20 people in the dining room, 3 cooks on the line",
    "the recipe calls for 165",
    "sign says keep below 41",
    "",
    "two sinks, three cooks and one dishwasher",
    "cited under 3-501.16 last year",
    "section 4-601.11 covers that",
    "a 2 gallon bucket and a 4 inch pan",
    "they open at 10 and close at 9",
    "the 3 compartment sink is set up right",
    "number 7 on the form",
    "we need 165 for that",
    "it takes 4 hours",
    "about 60 percent full",
]


@pytest.mark.parametrize(("lines", "expected"), READINGS, ids=lambda value: str(value)[:60])
def test_what_a_figure_is_of(lines: list[str], expected: list[str]) -> None:
    assert shorts(*lines) == expected


@pytest.mark.parametrize(("line", "expected"), COOLING, ids=lambda value: str(value)[:60])
def test_figures_of_a_cooling_log_carry_their_times(line: str, expected: list[str]) -> None:
    readings = meant(line).readings
    assert [f"{reading.value:g}@{reading.clock or ''}" for reading in readings] == expected
    assert {reading.stage for reading in readings} == {"cooling"}


@pytest.mark.parametrize("line", NOT_READINGS)
def test_what_is_no_reading(line: str) -> None:
    assert shorts(line) == []


def test_a_place_holds_until_another_is_named() -> None:
    found = meant("Walk-in cooler, ham 38.", "turkey 39", "Now the steam table, soup 150.", "beans 141")
    assert [reading.place for reading in found.readings] == [*["Walk-in cooler"] * 2, *["steam table"] * 2]


def test_words_of_the_inspection_name_items() -> None:
    found = meant("zorvath 38 wuzzle bowl 39", facts=Facts(words=("zorvath", "wuzzle bowl")))
    assert [reading.item for reading in found.readings] == ["zorvath", "wuzzle bowl"]


def test_a_span_points_at_its_words_and_seconds() -> None:
    text = "the ham is at 47.5 degrees"
    words = tuple(Word(word, n * 0.5, n * 0.5 + 0.4, 0.9) for n, word in enumerate(text.split()))
    said = Utterance(text, start=0.0, end=3.0, words=words)
    (reading,) = extract([said], rules=rules()).readings
    assert said.text[slice(*reading.span)] == reading.said == "47.5 degrees"
    assert (reading.start, reading.end) == (2.0, 2.9)
