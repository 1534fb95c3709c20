"""Lethality over a curve, against the published tables (FSIS Appendix A from a copy; poultry from memory)."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from extract.checks.lethality import hold_time, lethality
from shared.errors import InputError
from shared.rules import load
from shared.rules.model import TimeTemperature

RULES = load("food_code_2022")
BEEF = RULES.tables["fsis_beef_7_log"]
ROAST = RULES.tables["roast"]


@pytest.mark.parametrize(
    ("table", "step"),
    [
        pytest.param(table, place, id=f"{table.id}-{table.steps[place].values['degF']:g}")
        for table in RULES.tables.values()
        for place in range(len(table.steps))
        if table.steps[place].time_s > 0
    ],
)
def test_holding_a_published_pair_is_worth_exactly_one_treatment(table: TimeTemperature, step: int) -> None:
    degf, time_s = table.steps[step].values["degF"], table.steps[step].time_s
    found = lethality([(0, degf), (time_s, degf)], "degF", table)
    assert found.fraction == pytest.approx(1.0, rel=1e-9)
    assert found.enough
    assert not lethality([(0, degf), (time_s * 0.99, degf)], "degF", table).enough


@pytest.mark.parametrize(
    ("degf", "seconds"),
    [(130, 7260), (131, 5820), (140, 720), (145, 240), (150, 72), (157, 15)],
)
def test_hold_times_of_the_7_log_beef_table(degf: float, seconds: float) -> None:
    """USDA FSIS Appendix A, as seen in a copy (secondary)."""
    assert hold_time(BEEF, degf, "degF") == seconds


def test_between_two_steps_the_logarithm_of_the_time_is_straight_where_the_source_allows_it() -> None:
    middle = hold_time(BEEF, 130.5, "degF")
    assert middle == pytest.approx(math.sqrt(7260 * 5820))
    assert 5820 < middle < 7260


def test_the_food_codes_own_table_is_never_interpolated() -> None:
    """3-401.11(B)(1): 136 °F 28 minutes, 138 °F 18 minutes; 137 °F goes by the cooler step."""
    assert hold_time(ROAST, 137, "degF") == 28 * 60


def test_below_the_coolest_step_nothing_counts() -> None:
    assert hold_time(BEEF, 129.9, "degF") == math.inf
    assert lethality([(0, 70), (36_000, 129)], "degF", BEEF).fraction == 0


def test_a_rise_through_the_range_adds_up() -> None:
    """By hand: minutes at 140 and 145 °F, half a treatment each (720 s and 240 s are whole ones)."""
    curve = [(0.0, 140.0), (360.0, 140.0), (360.0, 145.0), (480.0, 145.0)]
    found = lethality(curve, "degF", BEEF)
    assert found.fraction == pytest.approx(1.0, abs=1e-6)
    assert found.log_reduction == pytest.approx(7.0, abs=1e-5)
    assert found.reached_after_s == pytest.approx(480, abs=1)


def test_a_ramp_agrees_with_an_integral_by_hand() -> None:
    """Between 130 and 131 °F ln t runs straight from ln 7260 to ln 5820: the mean rate has a closed form."""
    slope = math.log(7260 / 5820)
    mean_rate = (1 / 5820 - 1 / 7260) / slope
    for curve in ([(0, 130.0), (3600, 131.0)], [(0, 131.0), (3600, 130.0)]):
        found = lethality(curve, "degF", BEEF)
        assert found.fraction == pytest.approx(3600 * mean_rate, rel=1e-12)


def test_a_ramp_through_several_steps_agrees_with_a_quadrature() -> None:
    """From 126 to 161 °F and back: SciPy's integral of the inverse of the hold time, step by step."""
    steps = [step.values["degF"] for step in BEEF.steps]

    def worth(low: float, high: float) -> float:
        return float(quad(lambda value: 1 / max(hold_time(BEEF, value, "degF"), 1.0), low, high)[0])

    # 700 seconds for 35 °F: 20 seconds a degree; 1 °F above the hottest step it counts as at that step
    whole = 20 * (sum(worth(low, high) for low, high in pairwise(steps)) + 1.0)
    up, down = [(0.0, 126.0), (700.0, 161.0)], [(700.0, 161.0), (1400.0, 126.0)]
    assert lethality(up, "degF", BEEF).fraction == pytest.approx(whole, rel=1e-9)
    assert lethality(down, "degF", BEEF).fraction == pytest.approx(whole, rel=1e-9)
    assert lethality([*up, down[1]], "degF", BEEF).fraction == pytest.approx(2 * whole, rel=1e-9)


def test_a_table_without_interpolation_counts_each_step_as_its_cooler_one() -> None:
    """3-401.11(B)(1): 135 °F 36 minutes, 136 °F 28, 138 °F 18. From 135 to 139 °F in 8 minutes: 2 minutes at
    135, 4 at 136, 2 at 138."""
    found = lethality([(60.0, 135.0), (540.0, 139.0)], "degF", ROAST)
    assert found.fraction == pytest.approx(2 / 36 + 4 / 28 + 2 / 18, rel=1e-12)


@pytest.mark.parametrize(
    ("curve", "reached"),
    [
        # at 140 °F 720 seconds, at 145 °F 240; the time is that since the first reading
        ([(0.0, 140.0), (720.0, 140.0)], 720.0),
        ([(100.0, 140.0), (460.0, 140.0), (460.0, 145.0), (700.0, 145.0)], 480.0),
        ([(100.0, 60.0), (200.0, 60.0), (200.0, 145.0), (500.0, 145.0)], 340.0),
    ],
)
def test_when_it_was_enough(curve: list[tuple[float, float]], reached: float) -> None:
    assert lethality(curve, "degF", BEEF).reached_after_s == pytest.approx(reached, rel=1e-12)


@pytest.mark.parametrize("ends", [(130.0, 131.0), (131.0, 130.0)])
def test_when_it_was_enough_on_a_ramp(ends: tuple[float, float]) -> None:
    """ln t runs straight from 130 °F, 7260 s, to 131 °F, 5820 s: with slope s a second, a whole treatment is
    reached after ln(1 + s·t)/s where t is the time asked for at the start; by hand."""
    length_s = 30_000.0
    slope, first = math.log(7260 / 5820) / length_s, 7260
    if ends[0] > ends[1]:
        slope, first = -slope, 5820
    found = lethality([(0.0, ends[0]), (length_s, ends[1])], "degF", BEEF)
    assert found.reached_after_s == pytest.approx(math.log(1 + slope * first) / slope, rel=1e-12)


@pytest.mark.parametrize(("seconds", "enough"), [(1 - 1e-12, True), (1 - 2e-12, False), (1 - 5e-13, True)])
def test_a_treatment_may_miss_its_whole_by_rounding_only(seconds: float, enough: bool) -> None:
    """160 °F: an instant, which counts as 1 second. A sum of parts is off by less than 1e-12."""
    assert lethality([(0.0, 160.0), (seconds, 160.0)], "degF", BEEF).enough is enough


def test_an_instant_counts_as_a_second() -> None:
    """The tables print 0 seconds, "an instant", for what they call less than 1 second: 160 °F here."""
    assert lethality([(0, 160), (1, 160)], "degF", BEEF).fraction == pytest.approx(1.0)
    assert not lethality([(0, 160), (0.99, 160)], "degF", BEEF).enough


def test_celsius_readings_use_the_printed_celsius_steps() -> None:
    assert hold_time(BEEF, 54.4, "degC") == 7260


@pytest.mark.parametrize(
    ("curve", "says"),
    [
        ([(0.0, 140.0)], "at least two readings"),
        ([(0.0, math.nan), (1.0, 140.0)], "not a number"),
        ([(0.0, 140.0), (math.inf, 140.0)], "not a number"),
    ],
)
def test_a_curve_that_is_none_is_refused(curve: list[tuple[float, float]], says: str) -> None:
    with pytest.raises(InputError, match=says):
        lethality(curve, "degF", BEEF)


@settings(max_examples=100, deadline=None)
@given(
    values=st.lists(st.floats(100, 165), min_size=2, max_size=6),
    hotter=st.floats(0, 10),
)
def test_hotter_is_never_worth_less(values: list[float], hotter: float) -> None:
    curve = [(600.0 * place, value) for place, value in enumerate(values)]
    cool = lethality(curve, "degF", BEEF)
    hot = lethality([(time, value + hotter) for time, value in curve], "degF", BEEF)
    assert hot.fraction >= cool.fraction * (1 - 1e-3) - 1e-9
