"""A limit said aloud beside a figure tells what was being done with the food.

Limits: FDA Food Code 2022, 3-401.11, 3-403.11(A) and 3-501.14(A). Wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant


@pytest.mark.parametrize(
    ("said", "stage"),
    [
        ("Turkey burgers, 152, should be 165.", "cooking"),
        ("141 on the bratwurst, which needs 155.", "cooking"),
        ("The trout gave me 137, should have been 145.", "cooking"),
        ("Chicken thighs 71 Celsius, must be 74.", "cooking"),
        ("Onion soup 141. It needs 165.", "reheating"),
        ("Marinara must reach 165. I get 158.", "reheating"),
        ("Split pea soup 82, has to be 70 within two hours.", "cooling"),
        ("Split pea soup 62, has to be 70 within two hours.", "cooling"),
    ],
)
def test_the_limit_that_is_asked_of_a_food_tells_its_stage(said: str, stage: str) -> None:
    (reading,) = meant(said).readings
    assert reading.stage == stage


@pytest.mark.parametrize(
    ("said", "stages"),
    [
        ("Meatballs 138, need 135.", ["hot_holding"]),
        ("Chicken 151 in the warmer.", ["hot_holding"]),
        ("Club sandwiches 66, must not go over 70.", ["cold_holding"]),
        ("Mashed potatoes 141, wings 152, wings need 165.", ["hot_holding", "cooking"]),
    ],
)
def test_no_other_limit_and_no_other_food_does(said: str, stages: list[str]) -> None:
    assert [reading.stage for reading in meant(said).readings] == stages
