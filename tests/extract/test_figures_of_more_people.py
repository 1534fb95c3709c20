"""Figures as further people say them: what is only mentioned, and what is taken anew.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts, values

MENTIONED = [
    "The cook says she's 62 and never sick. Slaw 38.",
    "Waiter who's 17, he tells me. Slaw 38.",
    "He has not moved since he was 30. Slaw 38.",
    "Stall 6, the arepa stand. Slaw 38.",
    "Stalls 3 and 7 share the drain. Slaw 38.",
    "Kiosk 12. Slaw 38.",
    "Slaw 38, so that's the 41 rule met.",
    "Slaw 38. Nothing on paper so the 41 stands.",
    "Slaw 38. They keep asking, and the 41 still applies.",
    "Slaw 38, where it should be 41 or less.",
    "Slaw 38. That's nowhere close to 41.",
    "Slaw 38. Hardly near 41.",
    "Slaw 38. Forty one around it, tops.",
    "Slaw 38. Forty one, and not a degree more.",
    "Slaw 38, made at 9 40, sticker says out by 1 40.",
    "Slaw 38, tag says 9 10.",
    "Slaw 38, out at 12 05.",
    "Slaw 38, it is 10 47.",
    "Slaw 38, in at 4 and out at 8.",
    "They came out of the fryer around 11. Slaw 38.",
    "Slaw 38, use by 11 28.",
    "Slaw 38. Call me at 555 0117.",
    "Manager's extension is 204. Slaw 38.",
    "Slaw 38, set point 37.",
    "Slaw 38, and it's at hour three.",
    "Eleven out of twenty pans were pitted. Slaw 38.",
    "A couple hundred tortillas an hour. Slaw 38.",
    "It's a 150 machine. Slaw 38.",
    "He leaned over two hundred croissants with no net. Slaw 38.",
    "She has about sixty jars of beets below. Slaw 38.",
    "At one thirty I sat down with the manager. Slaw 38.",
    "I've got a school at one and then a hall at two thirty. Slaw 38.",
    "Sunday, between nine and two, they go through it. Slaw 38.",
    "County Road 12, the diner. Slaw 38.",
    "The box says bake at 375. Slaw 38.",
    "You have two hours to get from one thirty five to seventy. Slaw 38.",
    "Send in the renewal by the thirty first. Slaw 38.",
    "Slaw 38, scooped twelve at a time.",
    "They clean the saw once a day. Slaw 38.",
    "The previous report had the slaw at 47 and now it is good. Slaw 38.",
    "Slaw 38, sign says keep 36 to 40.",
    "Slaw 38. The log has got 4 entries.",
    "Tank is 40 gallons fresh, 50 waste. Slaw 38.",
    "Slaw 38. 38 is what I can stand behind.",
]

NEEDED = [
    ("Final rinse 168 where it should be 180.", ["168 machine_rinse -"]),
    ("Mash 152, no, don't send that, it's got to be 165.", ["152 reheating mash"]),
    (
        "Slicer light 44 foot candles, it's knives so it's 50, so low. Hand sink light 24, needs 20.",
        ["44 foot_candle lighting -", "24 foot_candle lighting -"],
    ),
    (
        "Slicer light 44 foot candles. Bleach bucket on the counter's 50 on the strip.",
        ["44 foot_candle lighting -", "50 ppm sanitizer bleach bucket"],
    ),
    (
        "Sanitizer bucket, bleach, strip says 50. Water 80. So 50 is enough.",
        ["50 ppm sanitizer sanitizer bucket", "80 sanitizer water"],
    ),
    ("Eggs, thirty dozen. Air beside them 68.", ["68 ambient -"]),
]

TAKEN_ANEW = [
    ("Wings 113 on my screen, no, hang on, I'm on the rim, 139.", ["139 hot_holding wings"]),
    (
        "Third sink, the strip's saying chlorine 100, no, that's the wrong roll, it's quat, and it's 300, "
        "jug says 200 to 400, okay so quat 300.",
        ["300 ppm sanitizer -"],
    ),
    ("Final rinse 185, strike the five, 180.", ["180 machine_rinse -"]),
    ("Wings 44, sorry, that's forty, wings 40.", ["40 cold_holding wings"]),
    (
        "Sliced cheese 43, hang on, wrong pan, that's the tomato. Sliced tomato 43 and the cheese is 38.",
        ["43 cold_holding sliced tomato", "38 cold_holding cheese"],
    ),
    ("Wings 120, let me go in again, 141.", ["141 hot_holding wings"]),
    ("Wings 120, let me get another spot, 141.", ["141 hot_holding wings"]),
    (
        "Wings 140, let me go in again, that's a one one three, 113, thirteen like the unlucky one.",
        ["113 hot_holding wings"],
    ),
    ("Custard 53. No. I need glasses, 35.", ["35 cold_holding custard"]),
    ("Final rinse 171, let me fix that, 183.", ["183 machine_rinse -"]),
    ("Custard 53, wait, wrong dial, 35.", ["35 cold_holding custard"]),
]


@pytest.mark.parametrize("line", MENTIONED)
def test_a_figure_only_mentioned_is_no_reading(line: str) -> None:
    assert shorts(line) == ["38 cold_holding slaw"]


def test_the_day_by_which_a_renewal_is_due_is_no_reading() -> None:
    assert values("Send in the renewal by the thirty first. Slaw 38.") == [(38, "degF")]


@pytest.mark.parametrize(("line", "readings"), NEEDED)
def test_what_a_thing_needs_is_no_reading(line: str, readings: list[str]) -> None:
    assert shorts(line) == readings


@pytest.mark.parametrize(("line", "readings"), TAKEN_ANEW)
def test_a_figure_taken_anew_falls(line: str, readings: list[str]) -> None:
    assert shorts(line) == readings
    assert meant(line).withdrawn


TOLD = [
    ("Dumplings in the cart 119, their dot says 1.50.", ["119 time_control dumplings"]),
    ("Tag on the wraps says 915. My watch says 2.15. Minestrone 155.", ["155 hot_holding minestrone"]),
    ("The timer says 1.40 left, soup 141.", ["141 hot_holding soup"]),
    ("Shelf is 7 inches up, taped it.", ["7 inch storage shelf"]),
    ("Racks in there are 8 inches up.", ["8 inch storage racks"]),
    (
        "Cut melon in the tubs 50, five oh, raw chicken 36.",
        ["50 cold_holding cut melon", "36 cold_holding raw chicken"],
    ),
    ("Reach-in one 39, reach-in two 41.", ["39 ambient -", "41 ambient -"]),
    ("Lux reading 540 on the line.", ["540 lux lighting -"]),
    ("Front bucket 200.", ["200 ppm sanitizer front bucket"]),
    (
        "Bar hand sink 103, glasswasher chlorine strip 75.",
        ["103 handwashing bar hand sink", "75 ppm sanitizer -"],
    ),
    ("Jam, water activity 0.81 pH 3.5.", ["0.81 aw other jam", "3.5 ph other jam"]),
    ("Label on the jug, 200 to 400. Quat strip says 300.", ["300 ppm sanitizer -"]),
    ("Air gap at the prep sink, gap about 1.", ["1 inch other gap"]),
    ("Left bucket 150, right bucket 200.", ["150 ppm sanitizer bucket", "200 ppm sanitizer bucket"]),
    ("Thirty six cups of yogurt at 40.", ["40 cold_holding yogurt"]),
    ("That's four one, forty one on the slaw.", ["41 cold_holding slaw"]),
    (
        "Trailer fridge 39, hand sink 98, quat 200.",
        ["39 ambient -", "98 handwashing hand sink", "200 ppm sanitizer -"],
    ),
    ("Dish machine, pressure at 20 on the final rinse.", ["20 psi machine_rinse -"]),
    (
        "The hot water sanitizing compartment is one seventy four.",
        ["174 manual_sanitize hot water sanitizing compartment"],
    ),
    ("Melon cut since six this morning, now eleven, fifty four.", ["54 cold_holding melon cut"]),
    ("Cooked rice made at nine, it's one thirty now and it's 68.", ["68 cooling cooked rice"]),
    ("Third sink tests 200, that's right.", ["200 ppm sanitizer -"]),
    ("Rinse pressure gauge stuck at 50, machine off.", ["50 psi machine_rinse -"]),
    ("First pan 81, second pan 67.", ["81 cooling -", "67 cooling -"]),
    (
        "Slaw, tuna salad and hummus: 38, 39, 40.",
        ["38 cold_holding slaw", "39 cold_holding tuna salad", "40 cold_holding hummus"],
    ),
    (
        "The milk and the egg salad in the fridge are 37 and 38, in that order.",
        ["37 cold_holding milk", "38 cold_holding egg salad"],
    ),
    (
        "Ham, turkey, salami 40, 41, 38.",
        ["40 cold_holding ham", "41 cold_holding turkey", "38 cold_holding salami"],
    ),
    ("Nobody knows when the wings came out, 119.", ["119 hot_holding wings"]),
    ("Who knows how long these sat, wings 119.", ["119 hot_holding wings"]),
    ("The rice is 4.1 on the meter, has to be 4.2 or less.", ["4.1 ph other rice"]),
    ("The rice is in the tub. The pH paper says 4.4.", ["4.4 ph other rice"]),
    ("Dish machine 172 washing, 187 final.", ["172 machine_wash -", "187 machine_rinse -"]),
    ("Dish machine washing 158, rinsing 184.", ["158 machine_wash -", "184 machine_rinse -"]),
    (
        "Bleach, 50 on the strip, and the pH paper goes to about 7.",
        ["50 ppm sanitizer -", "7 ph sanitizer -"],
    ),
    ("Bread slicer 31 foot handles, wants 50.", ["31 foot_candle lighting -"]),
    (
        "They work on time. Tag on the wraps says 915. My watch says 2.15. That's 5 hours.",
        ["5 hour time_control wraps"],
    ),
    ("They work on time. Tag on the wraps says 11.00 to 3.00, that's 4 hours.", []),
    (
        "Glass washer, chlorine's 100 on the strip and the wash thermometer's 131.",
        ["100 ppm sanitizer -", "131 machine_wash -"],
    ),
]


@pytest.mark.parametrize(("line", "readings"), TOLD)
def test_a_figure_is_of_what_tells_it(line: str, readings: list[str]) -> None:
    assert shorts(line) == readings


def test_a_log_told_with_its_times_is_no_label() -> None:
    said = (
        "Chicken thighs, their sheet says 135 at 9.05 and 68 at 9.55, and I'm getting 54 as we speak, 10.32."
    )
    assert shorts(said) == [
        "135 cooling chicken thighs",
        "68 cooling chicken thighs",
        "54 cooling chicken thighs",
    ]
    assert [reading.clock for reading in meant(said).readings] == ["09:05", "09:55", "10:32"]


@pytest.mark.parametrize(
    ("said", "clocks"),
    [
        ("Turkey soup cooling, at 10 135, at 11 90.", ["10:00", "11:00"]),
        ("Turkey soup cooling, at 1 135, at 3 68.", ["13:00", "15:00"]),
        ("Turkey soup cooling, 135 at noon, by 6 it was 68.", ["12:00", "18:00"]),
    ],
)
def test_times_of_one_breath_follow_on(said: str, clocks: list[str]) -> None:
    assert [reading.clock for reading in meant(said, at=None).readings] == clocks


@pytest.mark.parametrize(
    ("time", "clock"),
    [("now 710 on the dot and", "19:10"), ("2.15 sharp and", "14:15"), ("now 1.55,", "13:55")],
)
def test_words_behind_a_time_make_it_one(time: str, clock: str) -> None:
    assert meant(f"Custard, 135 at 1.15. It is {time} it's at 96.").readings[-1].clock == clock
