"""What a figure is of, said in other kitchens by another person.

`voices_r2.jsonl`: 40 invented visits written before the vocabulary was read; at first hearing 75 of 100
readings were wholly right. The rows below are single lines of the same hand; half of them were right then.
Meanings: common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from extract.bench.corpus import load_corpus
from extract.bench.extract import evaluate
from extract.bench.scoring import Score
from tests.extract.said import meant

CORPUS = load_corpus(Path(__file__).with_name("voices_r2.jsonl"))

LINES = [
    (
        "Chicken in the smoker 158, pitmaster says another half hour.",
        ["158 cooking | chicken | smoker"],
    ),
    (
        "Tossed the probe in the chicken, right off the rotisserie, 181.",
        ["181 cooking | chicken | rotisserie"],
    ),
    (
        "They're warming yesterday's gumbo in the kettle, it's 121 and climbing.",
        ["121 reheating | gumbo | kettle"],
    ),
    (
        "Rice they cooked at 10, cooling on sheet pans, 88 now.",
        ["88 cooling | rice | -"],
    ),
    (
        "Potatoes cooked for salad, on the counter to cool, 91.",
        ["91 cooling | potatoes | counter"],
    ),
    (
        "Frozen turkey breasts thawing in the walk-in, outside 33, inside 28.",
        ["33 thawing | frozen turkey breasts | walk-in", "28 thawing | frozen turkey breasts | walk-in"],
    ),
    (
        "Cut tomatoes out on the line, no ice, they use time, marked 11:15. They're 66.",
        ["66 time_control | cut tomatoes | line"],
    ),
    (
        "Walk-in's holding 37 by its own thermometer, I get 38 in the air.",
        ["37 ambient | - | walk-in", "38 ambient | - | walk-in"],
    ),
    (
        "Freezer is at minus 8, everything's solid.",
        ["-8 freezing | - | freezer"],
    ),
    (
        "Eggs came off the delivery at 44 ambient in the truck.",
        ["44 receiving | eggs | truck"],
    ),
    (
        "Driver brought in the ground beef at 43 and the milk at 40, I stuck both.",
        ["43 receiving | ground beef | -", "40 receiving | milk | -"],
    ),
    (
        "Pork chops on the grill, first one 146, second one 151.",
        ["146 cooking | pork chops | grill", "151 cooking | pork chops | grill"],
    ),
    (
        "Hot water at the hand sink in the wash room, 96.",
        ["96 handwashing | hand sink | wash room"],
    ),
    (
        "Rinse on the dish machine 182, wash 158.",
        ["182 machine_rinse | - | dish machine", "158 machine_wash | - | dish machine"],
    ),
    (
        "Ran my plate through the dishwasher twice, 161 and 164.",
        ["161 utensil_surface | plate | dishwasher", "164 utensil_surface | plate | dishwasher"],
    ),
    (
        "Wash bay 114, sanitizer bay quat at 300.",
        ["114 manual_wash | wash bay | -", "300 sanitizer | - | sanitizer bay"],
    ),
    (
        "Bucket under the prep table, quat, dipped it, 200.",
        ["200 sanitizer | bucket | prep table"],
    ),
    (
        "Soup came out of the walk-in at 9, going on the stove now, 97.",
        ["97 reheating | soup | stove"],
    ),
    (
        "Tuna for the poke, in the drawer, 38. Avocado crema there too 39.",
        ["38 cold_holding | tuna | drawer", "39 cold_holding | avocado crema | drawer"],
    ),
    (
        "Burger temped 162 on the ticket, good.",
        ["162 cooking | burger | -"],
    ),
    (
        "Meatballs in marinara, reheated from frozen, 171 before it goes to the line.",
        ["171 reheating | meatballs | -"],
    ),
    (
        "Custard pies on the rack at room temperature 71.",
        ["71 cold_holding | custard pies | rack"],
    ),
    (
        "Whole roast resting under the lamp, 141.",
        ["141 hot_holding | whole roast | lamp"],
    ),
    (
        "Ice cream mix in the machine hopper 39, the other barrel 43.",
        [
            "39 cold_holding | ice cream mix | machine hopper",
            "43 cold_holding | ice cream mix | machine hopper",
        ],
    ),
    (
        "Gravy made at noon, in an ice wand bath, 120 now.",
        ["120 cooling | gravy | ice wand bath"],
    ),
    (
        "Lobster tails, poached, 147 at the center.",
        ["147 cooking | lobster tails | -"],
    ),
    (
        "Wings go in the hot box after the fryer, they're 152 there.",
        ["152 hot_holding | wings | hot box"],
    ),
    (
        "Checked the salad cooler, greens at 38 plus the dressing at 40.",
        ["38 cold_holding | greens | salad cooler", "40 cold_holding | dressing | salad cooler"],
    ),
    (
        "Egg rolls out the fryer 191, and then on the warmer 133.",
        ["191 cooking | egg rolls | fryer", "133 hot_holding | egg rolls | warmer"],
    ),
    (
        "Prime rib going in the oven for the reheat, center's 118.",
        ["118 reheating | prime rib | oven"],
    ),
    (
        "Vacuum packed smoked trout, retail case, 37.",
        ["37 cold_holding | vacuum packed smoked trout | retail case"],
    ),
    (
        "In the cooler drawers at the grill, raw burgers 38.",
        ["38 cold_holding | raw burgers | cooler drawers at the grill"],
    ),
]


@pytest.mark.parametrize(("line", "expected"), LINES, ids=lambda value: str(value)[:50])
def test_what_a_figure_is_of(line: str, expected: list[str]) -> None:
    """Value, stage, item and place."""
    assert [
        f"{one.value:g} {one.stage} | {(one.item or '-').lower()} | {(one.place or '-').lower()}"
        for one in meant(line).readings
    ] == expected


@pytest.fixture(scope="module")
def scored() -> Score:
    return evaluate(CORPUS)


@pytest.mark.parametrize(
    ("part", "floor"),
    [("values", 95.0), ("stages", 92.0), ("items", 90.0), ("places", 84.0), ("whole readings", 82.0)],
)
def test_share(scored: Score, part: str, floor: float) -> None:
    assert scored.rates(part)[2] >= floor


def test_corrections_are_told_from_promises(scored: Score) -> None:
    assert scored.corrected_right >= 0.85 * scored.violations_found


@pytest.mark.parametrize(
    ("lines", "corrected"),
    [
        (["Deli case, roast beef 46.", "She moved the roast beef to the walk-in."], True),
        (["Deli case, roast beef 46.", "He put it in the freezer."], True),
        (["Deli case, roast beef 46.", "She'll put it in the freezer."], False),
        (["Steam table, beans 121.", "Back in the oven they go."], True),
        (["Steam table, beans 121.", "They got em up to 168 on the burner."], True),
        (["Delivery truck, fish sticks frozen, 24, soft.", "They put them in the freezer anyway."], False),
    ],
)
def test_where_food_was_sent_tells_what_was_done(lines: list[str], corrected: bool) -> None:
    assert any(finding.corrected_on_site for finding in meant(*lines).findings) is corrected


def test_a_place_that_food_was_put_in_is_not_where_the_inspector_stands() -> None:
    found = meant("Prep rail, tofu 38.", "They put the tofu in the freezer.", "Ham 39.")
    assert [reading.place for reading in found.readings] == ["Prep rail", "Prep rail"]


def test_a_known_food_is_not_asked_for() -> None:
    (finding,) = meant("Cooked ham in the walk-in is sitting on the floor, uncovered box of it.").findings[:1]
    assert finding.item is not None
    assert "Which food is it?" not in finding.open_questions
    assert "Where is it?" not in finding.open_questions
