"""What kind of food a said name is. Grouping after FDA Food Code 2022, 1-201.10 and 3-401.11, from memory."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.foods import VOCABULARY, classify
from shared.rules import load

RAW = tomllib.loads(VOCABULARY.read_text(encoding="utf-8"))


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
        ("scrambled eggs", {"pooled"}),
        ("an omelette", {"to_order"}),
        ("wild boar", {"game", "wild"}),
        ("ostrich steak", {"ratite"}),
        ("swordfish steaks", {"fish"}),
        ("chicken kebabs", {"poultry"}),
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
    known |= {state["adds"] for state in RAW["state"]} | {"tcs", "unknown", "to_order", "pooled"}
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
