"""What kind of food a said name is. Grouping after FDA Food Code 2022, 1-201.10 and 3-401.11, from memory."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.foods import VOCABULARY, classify
from shared.rules import load

RAW = tomllib.loads(VOCABULARY.read_text(encoding="utf-8"))
KITCHENS = tomllib.loads((Path(__file__).parent / "foods_by_kitchen.toml").read_text(encoding="utf-8"))
"""Its header names the source of each answer."""
ANSWERS = {"needs": True, "needs_not": False, "depends": None}


@pytest.mark.parametrize(
    ("said", "tags"),
    [
        ("chicken thighs", {"poultry"}),
        ("Chicken-thigh", {"poultry"}),
        ("duck legs", {"poultry"}),
        ("smoked wings", {"poultry"}),
        ("turkey burgers from the flat top", {"poultry", "comminuted"}),
        ("ground turkey", {"poultry", "comminuted"}),
        ("beef patties", {"comminuted"}),
        ("lamb koftas", {"comminuted", "lamb"}),
        ("stuffed chicken breast", {"stuffed"}),
        ("pork chops", {"pork", "intact_meat"}),
        ("injected pork loin", {"pork", "injected"}),
        ("cubed steak", {"tenderized"}),
        ("whole brisket", {"roast"}),
        ("Prime rib", {"roast"}),
        ("cod", {"fish"}),
        ("crab legs", {"fish", "crustacean"}),
        ("fish cakes", {"fish", "comminuted"}),
        ("oysters on the half shell", {"molluscan_shellfish"}),
        ("Eggs in the shell", {"shell_egg"}),
        ("scrambled eggs", {"egg"}),
        ("scramble bin", {"pooled"}),
        ("an omelette", {"to_order"}),
        ("wild boar", {"game", "wild"}),
        ("ostrich steak", {"ratite"}),
        ("swordfish steaks", {"fish"}),
        ("chicken kebabs", {"poultry"}),
        ("chicken cone", {"poultry"}),
        ("ribeye steak", {"beef", "intact_meat"}),
        ("steak", {"beef", "intact_meat"}),
        ("canned baked beans", {"plant", "commercially_processed"}),
        ("frozen fish sticks", {"fish", "frozen"}),
        ("tuna salad", {"ready_to_eat"}),
        ("hot dogs", {"ready_to_eat", "usually_commercial"}),
    ],
)
def test_kinds(said: str, tags: set[str]) -> None:
    food = classify(said)
    assert food is not None
    assert tags <= food.tags


@pytest.mark.parametrize(
    ("said", "tag"),
    [
        ("tuna salad", "fish_raw"),
        ("rice noodles", "poultry"),
        ("roast chicken", "roast"),
        ("chicken fried steak", "poultry"),
        ("ground beef roast", "roast"),
        ("deviled eggs", "shell_egg"),
        ("diced eggs", "egg_unsaid"),
        ("cooked eggs", "egg_unsaid"),
        ("chicken cone", "bakery"),
        ("steak fries", "beef"),
        ("egg noodles", "egg"),
        ("turkey gravy", "shell_egg"),
        ("oyster sauce", "molluscan_shellfish"),
    ],
)
def test_what_it_is_not(said: str, tag: str) -> None:
    food = classify(said)
    assert food is None or tag not in food.tags


@pytest.mark.parametrize(
    ("said", "tcs"),
    [
        ("tuna salad", True), ("cooked rice", True),
        ("beans", True), ("cut melon", True), ("sliced tomatoes", True),
        ("shredded lettuce", True), ("bean sprouts", True), ("garlic in oil", True), ("custard", True),
        ("whole milk", True), ("tofu", True),
        ("baked potatoes", True), ("cooked onions", True), ("pumpkin pie", True),
        ("chicken pie", True), ("ham croissant", True), ("burger buns", False), ("butter croissant", False),
        ("nacho cheese", True), ("hummus", True), ("cream cheese frosting", True), ("waffle batter", True),
        ("bread", False), ("whole apples", False),
        ("cut onions", False), ("crackers", False), ("dry rice", False),
        ("ketchup", False), ("a pickle jar", False),
        ("apple pie", False), ("honey", False), ("beef jerky", False),
        ("croutons with cheese", False), ("bananas", False),
        ("whole heads of lettuce", False), ("coffee", False),
        ("uncut watermelon", False), ("dried mushrooms", False), ("canned peaches", False),
        ("tomatoes", None), ("romaine", None), ("butter", None), ("parmesan", None),
    ],
)  # fmt: skip
def test_whether_it_needs_temperature_control(said: str, tcs: bool | None) -> None:
    food = classify(said)
    assert food is not None
    assert food.tcs is tcs
    assert (food.asks is not None) == (tcs is None)


@pytest.mark.parametrize(
    ("names", "tcs"),
    [
        pytest.param(row[answer], tcs, id=f"{row['name']} {answer}")
        for row in KITCHENS["kitchen"]
        for answer, tcs in ANSWERS.items()
        if answer in row
    ],
)
def test_names_from_many_kitchens(names: list[str], tcs: bool | None) -> None:
    foods = {name: classify(name) for name in names}
    assert [name for name, food in foods.items() if food is None or food.tcs is not tcs] == []


@pytest.mark.parametrize("row", KITCHENS["raw"], ids=lambda row: "+".join(row["tags"]))
def test_raw_kinds_from_many_kitchens(row: dict[str, list[str]]) -> None:
    foods = {name: classify(name) for name in row["names"]}
    assert [
        name for name, food in foods.items() if food is None or not food.tags.issuperset(row["tags"])
    ] == []


# Each shows one rule of reading a name; which food needs control: FDA Food Code 2022, 1-201.10, from memory.
@pytest.mark.parametrize(
    ("said", "tcs"),
    [
        # a filling makes bread, cake and the like a dish
        ("salmon cakes", True), ("carrot cake", False),
        ("custard donut", True), ("sour cream donut", False),
        ("stuffed pretzels", True), ("pretzels", False),
        ("bagel with cream cheese", True), ("bagel with butter", False),
        ("cake with whipped cream", True), ("cake with buttercream", False),
        ("chips with queso", True), ("lobster chips", False),
        ("coffee with milk", True), ("coffee with sugar", False),
        # "and" joins one food
        ("salt and pepper shrimp", True), ("salt and pepper", False),
        ("toast and eggs", True), ("toast and jam", False),
        ("tomato and mozzarella", True), ("bread and butter", False),
        ("honey over chicken", True), ("syrup over pancakes", False),
        # a plant made with an animal food
        ("beef broccoli", True), ("bacon wrapped jalapenos", True), ("jalapenos", False),
        ("beef steak tomato", None), ("crab apples", False),
        # "dried" is said of the food itself
        ("dry rub ribs", True), ("dry aged ribeye", True), ("dry rubbed wings", True),
        ("chicken with dried cherries", True), ("dried cherry chicken salad", True),
        ("dry pan of chicken", True),
        ("turkey in the dry sink", True), ("pasta with sun dried tomatoes", True),
        ("dried cherries", False), ("freeze dried strawberries", False), ("mushrooms, dried", False),
        ("dry white rice", False),
        # of two names that overlap the later one counts
        ("frozen custard pie", True), ("whole melon balls", True), ("sweet potato pancakes", True),
        ("chocolate milk tea", True), ("chocolate milk powder", False), ("sliced cheese puffs", False),
        ("crab cake mix", True), ("white cake mix", False),
        # whole and cut: somebody has to say which
        ("whole pan of cut romaine", True), ("whole cut honeydew", None), ("whole honeydew", False),
        # stuffed plants
        ("stuffed zucchini", True), ("stuffed tomatoes", True), ("stuffed olives", False),
        ("stuffed figs", None),
        # cans and cartons that nobody opened
        ("unopened can of beans", None), ("unopened can of crab meat", None), ("can of beans", True),
        ("unopened can of soda", False),
        ("shelf stable milk", False), ("UHT milk", False), ("not shelf stable milk", True),
        ("unopened milk carton", True),
    ],
)  # fmt: skip
def test_what_stands_beside_the_name_counts(said: str, tcs: bool | None) -> None:
    food = classify(said)
    assert food is not None
    assert food.tcs is tcs
    assert (food.asks is not None) == (tcs is None)


@pytest.mark.parametrize(
    ("said", "tag"),
    [
        ("artichoke hearts", "animal"), ("celery ribs", "animal"), ("apple crumble", "comminuted"),
        ("peppermint patties", "comminuted"), ("impossible burger", "comminuted"),
        ("hen of the woods", "poultry"),
        ("poultry seasoning", "poultry"), ("fruit skewers", "animal"), ("turtle cake", "fish"),
        ("vegan chicken nuggets", "poultry"), ("vegetarian sausage", "comminuted"),
        ("lemon quarters", "animal"),
    ],
)  # fmt: skip
def test_a_word_of_an_animal_in_another_name_makes_no_animal_food(said: str, tag: str) -> None:
    """Common practice, no source."""
    food = classify(said)
    assert food is not None and tag not in food.tags


@pytest.mark.parametrize(
    ("said", "tags"),
    [
        ("pork buns", {"pork"}), ("lobster rolls", {"crustacean"}), ("egg sandwiches", {"egg"}),
        ("chicken pie", {"poultry"}), ("keema naan", {"comminuted"}), ("crab dressing", {"fish"}),
        ("stuffed clams", {"stuffed", "fish"}),
    ],
)  # fmt: skip
def test_a_filled_food_keeps_the_kind_of_its_filling(said: str, tags: set[str]) -> None:
    """3-401.11 (A) and (B), from memory: the animal and its state decide how hot it is cooked."""
    food = classify(said)
    assert food is not None and tags <= food.tags


def test_an_unopened_can_asks_whether_it_is_for_storage_without_refrigeration() -> None:
    """FDA Food Code 2022, 1-201.10, the exception for unopened sealed containers, from memory."""
    food = classify("unopened can of crab meat")
    assert food is not None and food.asks is not None and "refrigeration" in food.asks


@pytest.mark.parametrize(
    ("said", "stage", "needs"),
    [
        ("onions", "hot_holding", True),
        ("onions", "cold_holding", False),
        ("corn", "hot_holding", True),
        ("broccoli", "cooling", True),
        ("bread", "hot_holding", False),
        ("chicken", "cold_holding", True),
    ],
)
def test_plants_need_control_once_they_are_heated(said: str, stage: str, needs: bool) -> None:
    food = classify(said)
    assert food is not None and food.needs_control(stage) is needs


@pytest.mark.parametrize(
    "said", ["", "walk-in cooler", "hand sink", "my probe", "plate", "the floor", "12345", "🍕" * 3]
)
def test_what_is_no_food_is_none(said: str) -> None:
    assert classify(said) is None


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("bowl of rice", "rice"),
        ("soup with chicken", "soup"),
        ("chicken noodle soup", "chicken noodle soup"),
        ("rice in the warmer", "rice"),
        ("croutons with cheese", "crouton"),
        ("macaroni and cheese", "macaroni and cheese"),
    ],
)
def test_the_head_of_the_name_counts(said: str, name: str) -> None:
    food = classify(said)
    assert food is not None and food.name == name


def test_every_name_of_the_vocabulary_is_found_as_itself_in_any_case() -> None:
    for kind in RAW["kind"]:
        for name in kind["names"]:
            food = classify(name.upper())
            assert food is not None, name


def test_no_name_stands_in_two_kinds() -> None:
    seen: dict[str, str] = {}
    for kind in RAW["kind"]:
        for name in kind["names"]:
            assert name not in seen, f"{name}: {seen[name]} and {kind['id']}"
            seen[name] = kind["id"]


def test_every_kind_that_a_rules_row_names_exists_in_the_vocabulary() -> None:
    known = {tag for kind in RAW["kind"] for tag in (*kind["tags"], *kind.get("cut_tags", ()))}
    known |= {row["adds"] for row in (*RAW["state"], *RAW["tagged"])} | {
        "tcs",
        "unknown",
        "to_order",
        "pooled",
    }
    for name in ("food_code_2022", "quillmere_county"):
        rules = load(name)
        used = {tag for limit in rules.limits.values() for tag in limit.foods | limit.not_foods}
        used |= {tag for table in rules.tables.values() for tag in table.foods | table.not_foods}
        assert used <= known


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=300))
def test_any_text_gets_an_answer(text: str) -> None:
    food = classify(text)
    assert food is None or food.said == text


@settings(max_examples=100, deadline=None)
@given(
    name=st.sampled_from(["chicken thighs", "sliced tomatoes", "beef patties", "tuna salad", "prime rib"]),
    upper=st.booleans(),
    spaces=st.integers(1, 3),
    hyphen=st.booleans(),
)
def test_case_spaces_and_hyphens_change_nothing(name: str, upper: bool, spaces: int, hyphen: bool) -> None:
    other = name.replace(" ", "-" if hyphen else " " * spaces)
    other = other.upper() if upper else other
    mine, theirs = classify(name), classify(other)
    assert mine is not None and theirs is not None
    assert (mine.name, mine.tags, mine.tcs) == (theirs.name, theirs.tags, theirs.tcs)
