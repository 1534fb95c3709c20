"""Which figures of a line are readings, one row each: what carries over, what is denied, what is no reading.

The lines are invented; what they mean is common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, values


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Salmon 1-4-6 off the grill", [(146, "degF")]),
        ("hot water's 1 0 4 at the hand sink", [(104, "degF")]),
        ("links 139, chili 1 forty one", [(139, "degF"), (141, "degF")]),
        ("custard is at 9 Celsius, about 48 Fahrenheit", [(9, "degC")]),
        ("milk 4 degrees Celsius, so 39", [(4, "degC")]),
        ("milk 4 degrees Celsius, cream 5", [(4, "degC"), (5, "degC")]),
        ("onions 133, uh the onions were 143 not 133", [(143, "degF")]),
        ("patties between 45 and 48, cheese same", [(45, "degF"), (48, "degF")] * 2),
        ("Acid rice, the plan says the pH has to be 4.2 or under, mine reads 4.6", [(4.6, "pH")]),
        ("lab letter says water activity point eight five on the salami", [(0.85, "aw")]),
        ("tuna salad and egg salad are both 39", [(39, "degF"), (39, "degF")]),
        ("Pancake batter 47. Actually they just mixed it, leave that out.", []),
        ("Nothing over 41 in the case, turkey 40", [(40, "degF")]),
        ("not one thing above 41 in the cooler, tuna 36", [(36, "degF")]),
        ("Chlorine strip. Fifty, or fifteen. I held it to the window. Fifty.", [(50, "ppm")]),
        ("I hold the quat strip to the light, 200", [(200, "ppm")]),
        ("Egg rolls 127 out of compliance, mac 149", [(127, "degF"), (149, "degF")]),
        ("Ice cream, minus eighteen. Excellent.", [(-18, "degF")]),
        ("Dry goods up on racks, ten inches.", [(10, "inch")]),
        ("Chicken 158 no put it back. Okay 169.", [(158, "degF"), (169, "degF")]),
        ("Ricotta has to stay at 41 or colder and I've got 40", [(40, "degF")]),
        ("walk-in's holding 37, compressor kicks on at 39", [(37, "degF")]),
        ("oil's running 340, cod 151", [(151, "degF")]),
        ("Ground beef at 37, marked 8.99 a pound", [(37, "degF")]),
        ("permit number 20 33 is on the wall", []),
        ("ranch dressing forty something, 43", [(43, "degF")]),
        ("Their log from Tuesday says the beans went 135 to 70", []),
        ("Chef says he cooks the chicken to 175 every time. I checked one, 169.", [(169, "degF")]),
        ("their gauge is reading 4 low, the ham is 40", [(40, "degF")]),
    ],
)
def test_values(line: str, expected: list[tuple[float, str]]) -> None:
    assert sorted(values(line)) == sorted(expected)


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (("All readings in Celsius.", "Yogurt 7.", "Soup 64."), [(7, "degC"), (64, "degC")]),
        (
            ("All readings in Celsius.", "Yogurt 7.", "Back to Fahrenheit. Soup 149."),
            [(7, "degC"), (149, "degF")],
        ),
        (("Dal cooling, they logged it in C. 57 at 12.30, 24 at 3.30.",), [(57, "degC"), (24, "degC")]),
        (
            ("Dal cooling, they logged it in C. 57 at 12.30, 24 at 3.30.", "Good.", "Turkey 38."),
            [(57, "degC"), (24, "degC"), (38, "degF")],
        ),
    ],
)
def test_the_scale_carries_until_words_say_otherwise(
    lines: tuple[str, ...], expected: list[tuple[float, str]]
) -> None:
    assert values(*lines) == expected


@pytest.mark.parametrize(
    ("line", "stages"),
    [
        ("Soup 165 at 9:00, 110 at 11:00", {"cooling"}),
        ("Meatballs 141 at 10.45 when they opened, I get 129 at 12.20", {"hot_holding"}),
    ],
)
def test_only_falling_figures_are_cooling(line: str, stages: set[str]) -> None:
    assert {reading.stage for reading in meant(line).readings} == stages
