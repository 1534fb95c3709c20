"""Where a figure was taken, of what and at which stage, as people say it who were not heard before.

Each row: the utterances of one visit, then each reading as value, stage, item and place. All invented.
Meanings: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from tests.extract.said import OUTVOTED, meant

Rows = Sequence[object]
"""Pairs of what is said and what is meant."""


def told(lines: list[str]) -> list[str]:
    """The readings of the lines, each as `38 cold_holding | ham | walk-in`."""
    return [
        f"{one.value:g}{'' if one.unit == 'degF' else ' ' + one.unit} {one.stage} "
        f"| {(one.item or '-').lower()} | {(one.place or '-').lower()}"
        for one in meant(*lines).readings
    ]


NICKNAMES: Rows = [
    (
        ["The tall fridge, Big Bertha. Ricotta 40.", "Steam table. Beans 150.", "Back at Bertha, tofu 45."],
        [
            "40 cold_holding | ricotta | tall fridge",
            "150 hot_holding | beans | steam table",
            "45 cold_holding | tofu | bertha",
        ],
    ),
    (
        ["Bertha, that is the walk-in. Ricotta 38."],
        ["38 cold_holding | ricotta | bertha"],
    ),
    (
        ["The lowboy by the fryers, everybody calls it the Dungeon. Slaw 39."],
        ["39 cold_holding | slaw | lowboy by the fryers"],
    ),
    (
        [
            "They call their steam table the Titanic. Beans 141.",
            "Next the grill.",
            "The Titanic again, rice 128.",
        ],
        ["141 hot_holding | beans | steam table", "128 hot_holding | rice | titanic"],
    ),
    (
        ["Kitchen two. The Cave. Butter 39."],
        ["39 cold_holding | butter | cave"],
    ),
    (
        ["Pass-through fridge, the Submarine. Shrimp 38.", "The Submarine's own thermometer 36."],
        ["38 cold_holding | shrimp | pass-through fridge", "36 ambient | - | submarine"],
    ),
    (
        ["Ice cream freezer, nicknamed Siberia. Vanilla at minus 4."],
        ["-4 freezing | vanilla | ice cream freezer"],
    ),
    (
        ["Ware washing. The Whale, conveyor type. Wash 162."],
        ["162 machine_wash | - | whale"],
    ),
    (["The Chicken. 41."], ["41 cold_holding | chicken | -"]),
    (["The manager, that's the lady at the counter. Ham 38."], ["38 cold_holding | ham | counter"]),
    (["They call it good. Sliced ham 38."], ["38 cold_holding | sliced ham | -"]),
]


@pytest.mark.parametrize(("lines", "expected"), NICKNAMES, ids=lambda value: str(value)[:60])
def test_a_place_is_known_by_the_name_that_people_give_it(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


def test_a_name_stands_for_the_kind_of_machine_it_is() -> None:
    (reading,) = meant("Dish pit. The Beast, that's the single tank conveyor. Wash 150.").readings
    assert reading.check is not None
    assert (reading.place, reading.check.verdict, reading.check.limit) == ("Beast", "violates", 160.0)


UNITS_OWN: Rows = [
    (
        ["Steam table. Rice 140.", "Walk-in door gauge 36. Custard in there 37."],
        [
            "140 hot_holding | rice | steam table",
            "36 ambient | - | walk-in",
            "37 cold_holding | custard | walk-in",
        ],
    ),
    (
        ["Reach-in door dial says 39. Salsa in it, 38."],
        ["39 ambient | - | reach-in", "38 cold_holding | salsa | reach-in"],
    ),
]


@pytest.mark.parametrize(("lines", "expected"), UNITS_OWN, ids=lambda value: str(value)[:60])
def test_a_units_own_gauge_says_where_the_inspector_is(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Gravy 38, no, one thirty eight.", "138 hot_holding | gravy | -"),
        ("Stew 41, sorry, 141.", "141 hot_holding | stew | -"),
        ("Walk-in. Slaw 139, no, 39.", "39 cold_holding | slaw | walk-in"),
        ("Soup 14, I mean 140.", "140 hot_holding | soup | -"),
    ],
)
def test_a_figure_put_right_has_the_stage_it_can_have(line: str, expected: str) -> None:
    assert told([line]) == [expected]


THINGS_BESIDE: Rows = [
    (["Noodles, steel tub, 39."], ["39 cold_holding | noodles | -"]),
    (
        ["Wings, hotel pan, 140. Slaw, deli cup, 39."],
        ["140 hot_holding | wings | -", "39 cold_holding | slaw | -"],
    ),
    (["Empanadas, shop made, 141."], ["141 hot_holding | empanadas | -"]),
    (["Minestrone, sorry, my glasses, 151."], ["151 hot_holding | minestrone | -"]),
    (["Trout in batter straight from the oil, thin end, 149."], ["149 cooking | trout | -"]),
    (["Custard, my probe is on Celsius, 4 Celsius."], ["4 degC cold_holding | custard | -"]),
    (["Chili on an ice wand, 52."], ["52 cooling | chili | -"]),
    (
        ["Beef stew, shallow pans, ice under, walk-in. Log says 136 at 10, 68 at 11.50."],
        ["136 cooling | beef stew | walk-in", "68 cooling | beef stew | walk-in"],
    ),
]


@pytest.mark.parametrize(("lines", "expected"), THINGS_BESIDE, ids=lambda value: str(value)[:60])
def test_a_vessel_or_an_aside_is_not_what_was_measured(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


STAGES: Rows = [
    (
        ["Fish camp. Trout 152. Perch 148."],
        ["152 cooking | trout | fish camp", "148 cooking | perch | fish camp"],
    ),
    (["Hot line. Salmon 148."], ["148 hot_holding | salmon | hot line"]),
    (["Brisket he pulls out, 201."], ["201 cooking | brisket | -"]),
    (["Wings out of the oven an hour ago, 128."], ["128 hot_holding | wings | oven"]),
    (
        ["Loading door, 615 the van came. Raw beef 38. Cut melon 47."],
        ["38 receiving | raw beef | van", "47 receiving | cut melon | van"],
    ),
    (["Taco truck at the fair. Carnitas 141."], ["141 hot_holding | carnitas | taco truck"]),
    (
        ["Ground beef rolls in the veg sink with water running over them. Water 74."],
        ["74 thawing | water | veg sink"],
    ),
    (
        ["Hand sink at the bar. Water 88.", "They found the valve.", "103 now."],
        ["88 handwashing | hand sink | bar", "103 handwashing | hand sink | bar"],
    ),
    (
        ["Hand sink at the bar. Water 88.", "Next the walk-in, 38."],
        ["88 handwashing | hand sink | bar", "38 ambient | - | walk-in"],
    ),
    (["Four hour plan on the wall. Pizza slices 96."], ["96 time_control | pizza slices | -"]),
    (["Pierogi, factory made, 141."], ["141 reheating | pierogi | -"]),
]


@pytest.mark.parametrize(("lines", "expected"), STAGES, ids=lambda value: str(value)[:60])
def test_the_stage_is_told_by_the_words_around(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


WHERE: Rows = [
    pytest.param(
        ["Deli counter. Pastrami 138.", "Ham 38. Egg salad 39. The reach-in's good."],
        [
            "138 hot_holding | pastrami | deli counter",
            "38 cold_holding | ham | reach-in",
            "39 cold_holding | egg salad | reach-in",
        ],
        marks=OUTVOTED,
    ),
    (
        ["Deli counter. Pastrami 138.", "Ham 38. The fridge is full of boxes."],
        ["138 hot_holding | pastrami | deli counter", "38 cold_holding | ham | deli counter"],
    ),
    (["Steam table. Ham 138. Fridge is fine."], ["138 hot_holding | ham | steam table"]),
    (["Delivery door, the lorry came. Milk 44."], ["44 receiving | milk | delivery door"]),
    (["Back door has a gap. Ham 38."], ["38 cold_holding | ham | -"]),
    (["Ball field stand. Ham 38."], ["38 cold_holding | ham | ball field stand"]),
    (["The pass. Soup 150."], ["150 hot_holding | soup | pass"]),
    (["Hot boxes from the main kitchen. Corn 127."], ["127 receiving | corn | hot boxes"]),
    (["Hot boxes off the van. Corn 141."], ["141 hot_holding | corn | hot boxes"]),
    (
        ["Over the slicer 62 foot candles. In the hallway 22."],
        ["62 foot_candle lighting | - | over the slicer", "22 foot_candle lighting | - | in the hallway"],
    ),
]


@pytest.mark.parametrize(("lines", "expected"), WHERE, ids=lambda value: str(value)[:60])
def test_the_place_is_where_the_food_was_when_it_was_measured(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


def test_plants_that_arrive_hot_are_held_to_the_hot_limit() -> None:
    (reading,) = meant("Hot boxes from the main kitchen. Corn 127.").readings
    assert reading.check is not None and reading.check.verdict == "violates"


WHAT: Rows = [
    (["Chicken tikka coming off the skewers 171."], ["171 cooking | chicken tikka | -"]),
    pytest.param(
        ["Paneer in the steel dish over the coals 143."], ["143 cooking | paneer | coals"], marks=OUTVOTED
    ),
    (
        ["Chutneys in the cooler, mint 38, tamarind 51 but that one is shelf stable."],
        ["38 cold_holding | mint | cooler", "51 cold_holding | tamarind | cooler"],
    ),
    (["Speed rail. Bloody mary mix with clam juice 44."], ["44 cold_holding | bloody mary mix | speed rail"]),
    (
        ["Pizza place. Walk-in cooler good, 36 by the dial, cheese 38."],
        ["36 ambient | - | walk-in cooler", "38 cold_holding | cheese | walk-in cooler"],
    ),
    pytest.param(
        ["Kitchenette on two. Milk 38."], ["38 cold_holding | milk | kitchenette on two"], marks=OUTVOTED
    ),
    (["Roller dogs 141."], ["141 hot_holding | roller dogs | -"]),
]


@pytest.mark.parametrize(("lines", "expected"), WHAT, ids=lambda value: str(value)[:60])
def test_what_was_measured_is_the_food_and_not_what_it_lies_in(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


LATER_WORDS: Rows = [
    (
        ["Tray line, meatballs 140, gravy 126. She's heating it now. 158 five minutes later."],
        [
            "140 hot_holding | meatballs | tray line",
            "126 hot_holding | gravy | tray line",
            "158 reheating | gravy | tray line",
        ],
    ),
    (
        ["Hot pass. Mash 138. Veg 131. Veg reheated, 168."],
        [
            "138 hot_holding | mash | hot pass",
            "131 hot_holding | veg | hot pass",
            "168 reheating | veg | hot pass",
        ],
    ),
    (
        ["Cook pulls a burger, medium, 148. Chicken breast 159, back on it goes. 167 after."],
        ["148 cooking | burger | -", "159 cooking | chicken breast | -", "167 cooking | chicken breast | -"],
    ),
    (["Roasting it to 195, pork shoulder 168 now."], ["168 cooking | pork shoulder | -"]),
]


@pytest.mark.parametrize(("lines", "expected"), LATER_WORDS, ids=lambda value: str(value)[:60])
def test_what_is_done_after_a_figure_is_not_its_stage(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


NUMBERED: Rows = [
    (
        ["Fridge number 3. Yogurt 38. Fridge number 4. Raw fish 37."],
        ["38 cold_holding | yogurt | fridge number 3", "37 cold_holding | raw fish | fridge number 4"],
    ),
    (["Station two. Turkey 38."], ["38 cold_holding | turkey | station two"]),
    (["Kitchen two. Soup 150."], ["150 hot_holding | soup | kitchen two"]),
    (
        ["Walk-in: cream 38, raw chicken bottom shelf 37."],
        ["38 cold_holding | cream | walk-in", "37 cold_holding | raw chicken | walk-in"],
    ),
    (
        ["Rotisserie chickens. One just out 181, the ones in the warmer 139."],
        ["181 cooking | rotisserie chickens | -", "139 hot_holding | rotisserie chickens | warmer"],
    ),
    (["Steak, they do it rare, 118 in the middle."], ["118 cooking | steak | -"]),
]


@pytest.mark.parametrize(("lines", "expected"), NUMBERED, ids=lambda value: str(value)[:60])
def test_places_and_pieces_of_one_kind_are_told_apart(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


LISTS: Rows = [
    (
        ["There's a cooler under the register with sandwiches, 45."],
        ["45 cold_holding | sandwiches | cooler under the register"],
    ),
    pytest.param(
        ["Temp check with Luis's thermometer, pork 147, mine 145. Off the plancha."],
        ["147 cooking | pork | -", "145 cooking | pork | -"],
        marks=OUTVOTED,
    ),
    (
        ["School lunch came in hot carriers. Nuggets 131."],
        ["131 receiving | nuggets | hot carriers"],
    ),
    (
        ["Breakfast burritos under the lamp 121, hash browns 130, they're on a four hour timer."],
        ["121 time_control | breakfast burritos | lamp", "130 time_control | hash browns | lamp"],
    ),
    (
        ["Soup 71. Cooling since noon. Rice 141."],
        ["71 cooling | soup | -", "141 hot_holding | rice | -"],
    ),
    (
        ["Beans 120. Leftover from yesterday. Corn 140."],
        ["120 reheating | beans | -", "140 hot_holding | corn | -"],
    ),
    (
        ["Gravy 126. Back on the stove. Ham 40."],
        ["126 hot_holding | gravy | -", "40 cold_holding | ham | stove"],
    ),
]


@pytest.mark.parametrize(("lines", "expected"), LISTS, ids=lambda value: str(value)[:60])
def test_words_hold_for_the_foods_that_they_are_said_of(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


SMALL: Rows = [
    (
        ["Fryer. Tenders from the basket 172. Fish, same oil, 151."],
        ["172 cooking | tenders | fryer", "151 cooking | fish | fryer"],
    ),
    (["Eggs by the flat top. Flat of thirty. I got 71 on one."], ["71 cold_holding | eggs | flat top"]),
    (["Crab legs thawing on the counter, 50 on the shell."], ["50 thawing | crab legs | counter"]),
    (["High temp machine. Strip turned at 160."], ["160 utensil_surface | strip | high temp machine"]),
    (["Jugs of soup from their commissary, 139."], ["139 receiving | soup | commissary"]),
]


@pytest.mark.parametrize(("lines", "expected"), SMALL, ids=lambda value: str(value)[:60])
def test_parts_packs_and_strips_do_not_become_the_food(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


CAME_FROM: Rows = [
    (
        ["Tray line. Leftover lasagna out of the microwave. Middle 121.", "Peas 140."],
        ["121 reheating | leftover lasagna | microwave", "140 hot_holding | peas | tray line"],
    ),
    (
        ["Hot line. Burgers off the grill. 158. Rice 141."],
        ["158 cooking | burgers | grill", "141 hot_holding | rice | hot line"],
    ),
]


@pytest.mark.parametrize(("lines", "expected"), CAME_FROM, ids=lambda value: str(value)[:60])
def test_where_one_food_came_from_is_not_where_the_next_one_is(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


WHAT_IT_IS = [
    (["The curry was cold last week and we had words, and today it's 156."], ["156 hot_holding | curry | -"]),
    (["Chest freezer, minus 8 between the salmon fillets."],
     ["-8 freezing | salmon fillets | chest freezer"]),
    (["Tofu block in the reach-in 38."], ["38 cold_holding | tofu block | reach-in"]),
    (["Chicken a la king, yesterday's, out of the oven 171."], ["171 reheating | chicken a la king | oven"]),
    (["Rotisserie chicken is 172 now. Potatoes beside the grill 151."],
     ["172 cooking | rotisserie chicken | -", "151 hot_holding | potatoes | grill"]),
    (["Bean soup on the burner 160."], ["160 hot_holding | bean soup | burner"]),
    (["Dish room. Wash is 164, final rinse 186."],
     ["164 machine_wash | - | dish room", "186 machine_rinse | - | dish room"]),
    (["Three sinks. Wash water's 115."], ["115 manual_wash | wash water | three sinks"]),
    (["Prep sink has shrimp lying in it, water's 75."], ["75 thawing | water | prep sink"]),
    pytest.param(
        ["Tap's running over the shrimp, water's 62."], ["62 thawing | water | tap"], marks=OUTVOTED
    ),
    (["Slices all carry a clock sticker, pizza 112."], ["112 time_control | pizza | -"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), WHAT_IT_IS, ids=lambda value: str(value)[:60])
def test_what_it_is_and_at_which_stage(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


WATER_AND_FIRE = [
    (["Hand sinks. Bar side 92, soap there. Deli side, ran it a minute, 74."],
     ["92 handwashing | hand sinks | bar side", "74 handwashing | hand sinks | deli side"]),
    (["Hand sinks, all stocked. Chili 150."], ["150 hot_holding | chili | -"]),
    (["Last time the hand sink was full of pans. Today the sink's clear, soap, 96 at the tap."],
     ["96 handwashing | sink | -"]),
    (["Hand sink 101.", "Veg sink has shrimp in it, water's 66."],
     ["101 handwashing | hand sink | -", "66 thawing | water | veg sink"]),
    (["Prep sink has squid sitting in it, water's 75.", "Walk-in, butter 38.",
      "Tap's running over the squid, water's 62."],
     ["75 thawing | water | prep sink", "38 cold_holding | butter | walk-in",
      "62 thawing | water | prep sink"]),
    (["Station three. Cutlet off the fryer 181, and the curry is 156."],
     ["181 cooking | cutlet | fryer", "156 hot_holding | curry | station three"]),
    (["Chicken off the grill 171, pork chop 148."],
     ["171 cooking | chicken | grill", "148 cooking | pork chop | grill"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "expected"), WATER_AND_FIRE, ids=lambda value: str(value)[:60])
def test_water_of_sinks_and_food_beside_the_fire(lines: list[str], expected: list[str]) -> None:
    assert told(lines) == expected


def test_a_roast_or_bake_at_a_figure_is_measured_and_no_oven_setting() -> None:
    assert told(["Pork roast at 128, lentils at 131, pasta bake at 140, french fries at 120."]) == [
        "128 hot_holding | pork roast | -",
        "131 hot_holding | lentils | -",
        "140 hot_holding | pasta bake | -",
        "120 hot_holding | french fries | -",
    ]
    assert told(["They bake at 350."]) == []


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Patty off the grill 159, might be beef, might be chicken, nobody can say.", "undetermined"),
        ("Patties off the grill are 160 and the kid has no idea if they're beef or turkey.", "undetermined"),
        ("Patties off the grill are 168 and the kid has no idea if they're beef or turkey.", "meets"),
        ("Patties off the grill are 149 and the kid has no idea if they're beef or turkey.", "violates"),
        ("Patties off the grill are 149 and no idea if they're turkey or the vegan ones.", "undetermined"),
        ("Beef patty off the grill 159, the fries might be next.", "meets"),
    ],
)
def test_a_patty_of_an_unknown_animal_is_judged_only_where_all_agree(said: str, verdict: str) -> None:
    (reading,) = meant(said).readings
    assert reading.check is not None and reading.check.verdict == verdict
