"""A part that was measured is of the food named before it; and what kinds of figures the words leave open.

All sayings are invented. Meanings: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts, values


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["Chickens off the spit, first bird's thigh is 168."], ["168 cooking chickens"]),
        (
            ["Veal loaf in the well 141, the thick end 138."],
            ["141 hot_holding veal loaf", "138 hot_holding veal loaf"],
        ),
        (
            ["Ziti on the steam table 139.", "Far corner, 136."],
            ["139 hot_holding ziti", "136 hot_holding ziti"],
        ),
        (["Bulgogi thawing in bags under the tap. The meat's 36."], ["36 thawing bulgogi"]),
        # nothing of which it could be a part: it is what was said
        (["Chicken thighs off the grill 171."], ["171 cooking chicken thighs"]),
        (["Fish in the cold drawer 33."], ["33 cold_holding fish"]),
        # another kind of food
        (["Rice in the well 150. Thigh in the pan 147."], ["150 hot_holding rice", "147 hot_holding thigh"]),
        # a food that has its own figure is not meant by its kind
        (["Salmon in the drawer 38. Fish 36."], ["38 cold_holding salmon", "36 cold_holding fish"]),
    ],
)
def test_a_part_is_of_the_food_that_was_named(lines: list[str], expected: list[str]) -> None:
    assert shorts(*lines) == expected


def test_what_was_86d_is_no_reading() -> None:
    """A cook's word for taken off the menu or thrown out."""
    assert values("Ricotta 46. Chef 86'd the tub while I stood there.") == [(46.0, "degF")]
    assert values("Ricotta 86, still in the sun.") == [(86.0, "degF")]


@pytest.mark.parametrize(("printed", "ph"), [("3 9", 3.9), ("39", 3.9), ("4.1", 4.1)])
def test_a_ph_beyond_the_scale_has_lost_its_point(printed: str, ph: float) -> None:
    """The scale of strips and meters ends at 14 (from memory)."""
    (reading,) = meant(f"Kimchi, pH on it is {printed}.").readings
    assert (reading.value, reading.unit) == (ph, "pH")
    assert ("lost_point" in {doubt.code for doubt in reading.doubts}) is (printed != "4.1")


def test_a_bare_strength_is_no_temperature() -> None:
    """The second reader tells that it is of the solution; of its water it stays a temperature."""
    said = "Chlorine bucket at the sauce bar's 100. The one on the meat side 150, water in it's 78."
    assert values(said) == [(100.0, "ppm"), (150.0, "ppm"), (78.0, "degF")]


def test_the_agent_may_have_been_misheard() -> None:
    (reading,) = meant("Quart in the third bay, 300 ppm.").readings
    assert (reading.agent, {doubt.code for doubt in reading.doubts}) == ("quat", {"misheard"})


def test_the_same_place_is_the_one_before() -> None:
    """At least 10 foot candles in storage: 6-303.11(A) (FDA Food Code 2022)."""
    first, again = meant(
        "In the storeroom the meter shows 6 foot candles.", "New bulb. At the same place, 22."
    ).readings
    assert first.place == again.place == "storeroom"
    assert again.check is not None and again.check.verdict == "meets"


def test_the_day_of_the_month_is_no_reading() -> None:
    """Kept no longer than 7 days: 3-501.18(A)(1) (FDA Food Code 2022)."""
    assert shorts("Hummus has its date, the 2nd. Today is 11, so 9 days already.") == ["9 day storage hummus"]


def test_after_figures_in_celsius_what_is_hotter_than_boiling_is_in_fahrenheit() -> None:
    """Water boils at 100 °C; a freezer of somebody who speaks in Celsius is told in it."""
    said = ["The wings in the warmer 62 Celsius.", "Chicken on the spit 178 now.", "Freezer minus 19."]
    assert values(*said[:2]) == [(62.0, "degC"), (178.0, "degF")]
    assert values(said[0], said[2]) == [(62.0, "degC"), (-19.0, "degC")]


def test_what_the_rules_and_the_second_reader_do_not_agree_on_is_asked() -> None:
    """Its word is that of the weights that ship."""
    asks = "Was it put right during the visit? The words can be taken both ways."
    clear = meant("No soap at the hand sink.", "He filled the soap while I waited.").findings
    assert [(one.corrected_on_site, asks in one.open_questions) for one in clear] == [(True, False)]
    open_ = meant("No soap at the hand sink.", "He says he'll buy some on Friday.").findings
    assert [(one.corrected_on_site, asks in one.open_questions) for one in open_] == [(False, False)]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["Soup, 119. No, needle's still walking. 122."], ["122 hot_holding soup"]),
        (["Batter by the fryer, 62. I'll say that again, 61."], ["61 cold_holding batter"]),
        (
            ["Crab on ice. 43 and 44.5.", "The 43 I leave."],
            ["43 cold_holding crab", "44.5 cold_holding crab"],
        ),
    ],
)
def test_what_was_said_again_counts_once(lines: list[str], expected: list[str]) -> None:
    assert shorts(*lines) == expected


def test_a_food_that_reads_the_same_may_be_put_right_too() -> None:
    """It has no figure in its own utterance. At most 41 °F: 3-501.16(A)(2) (FDA Food Code 2022)."""
    said = ["Cold rail, cooked rice 38, milk 39, sliced ham 47.", "Same for the turkey.", "Both tossed."]
    (finding,) = meant(*said).findings
    assert (finding.item, finding.corrected_on_site) == ("sliced ham, turkey", True)
