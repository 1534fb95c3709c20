"""The project's own arithmetic against outside references: CoolProp, SciPy, Pint and NIST, dateutil."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import curve_fit, least_squares

from extract.checks import newton
from extract.checks.boiling import boiling_point, pressure_pa, saturation_k
from extract.checks.correcting import correct_by, months_later, next_visit
from extract.checks.exactly import factor, printed_value
from shared.rules import load
from shared.units import convert, registry

RULES = load("food_code_2022")

# ---------------------------------------------------------------- boiling point by elevation


@pytest.mark.parametrize("pressure", [30_000.0, 54_019.9, 70_108.5, 89_874.6, 101_325.0, 1e6, 1e7])
def test_water_boils_where_coolprop_says(pressure: float) -> None:
    """To rounding by the same equation of IAPWS R7-97, and near it by IAPWS-95, which is another one."""
    found = saturation_k(pressure)
    assert found == pytest.approx(PropsSI("T", "P", pressure, "Q", 0, "IF97::Water"), abs=1e-9)
    near = 5e-4 if pressure < 200_000 else 0.01
    assert found == pytest.approx(PropsSI("T", "P", pressure, "Q", 0, "Water"), abs=near)


@pytest.mark.parametrize(("pressure", "kelvin"), [(1e5, 372.755919), (1e6, 453.035632), (1e7, 584.149488)])
def test_water_boils_where_the_release_says(pressure: float, kelvin: float) -> None:
    """IAPWS R7-97(2012), table 36, for checking programs (figures from memory)."""
    assert saturation_k(pressure) == pytest.approx(kelvin, abs=5e-7)


@pytest.mark.parametrize(
    "elevation_m", [-430, -400, 0, 152.4, 500, 1000, 1609.344, 2240, 3000, 4000, 5300, 5500]
)
def test_the_boiling_point_at_a_height_is_that_of_coolprop_to_a_hundredth(elevation_m: float) -> None:
    """100 °C at 101.325 kPa is the figure codes print; the true one is 0.026 °C lower."""
    kelvin = PropsSI("T", "P", pressure_pa(elevation_m), "Q", 0, "IF97::Water")
    celsius = 100.0 + kelvin - PropsSI("T", "P", 101_325.0, "Q", 0, "IF97::Water")
    assert boiling_point(elevation_m, "degC") == round(celsius, 2)
    assert boiling_point(elevation_m, "degF") == round(celsius * 9 / 5 + 32, 2)


@pytest.mark.parametrize(
    ("elevation_m", "pressure"),
    [(0, 101_325), (1_000, 89_874.6), (2_000, 79_495.2), (3_000, 70_108.5), (5_000, 54_019.9)],
)
def test_pressure_is_that_of_the_standard_atmosphere(elevation_m: float, pressure: float) -> None:
    """U.S. Standard Atmosphere 1976, table of geopotential heights (figures from memory)."""
    assert pressure_pa(elevation_m) == pytest.approx(pressure, rel=3e-4)
    assert pressure_pa(0) == 101_325


def test_the_boiling_point_falls_about_one_degree_in_five_hundred_feet() -> None:
    """Common practice of the trade, from memory."""
    fall = boiling_point(0) - boiling_point(500 * 0.3048)
    assert fall == pytest.approx(1.0, abs=0.15)
    assert boiling_point(0) == 212.0
    assert boiling_point(0, "degC") == 100.0


@pytest.mark.parametrize("elevation_m", [-500, -430.1, 5500.1, 6000, math.nan])
def test_a_height_where_nobody_lives_is_refused(elevation_m: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        boiling_point(elevation_m)


# ---------------------------------------------------------------- the fit


CURVES = [
    pytest.param([0, 30, 60, 120, 240], [135.0, 108.2, 88.9, 63.6, 44.9], None, id="five readings"),
    pytest.param([0, 110, 355], [135.0, 68.0, 40.0], None, id="three readings"),
    pytest.param([0, 90], [135.0, 95.0], None, id="two readings"),
    pytest.param([0, 20, 45, 70], [150.0, 121.5, 98.0, 83.1], 33.0, id="in an ice bath that is known"),
    pytest.param([0, 60, 120, 180], [135.0, 121.0, 109.5, 101.0], None, id="on the counter"),
]


@pytest.mark.parametrize(("minutes", "degf", "surroundings"), CURVES)
def test_the_fit_and_its_spread_are_those_of_scipy(
    minutes: list[float], degf: list[float], surroundings: float | None
) -> None:
    ours = newton.fit(minutes, degf, surroundings_degf=surroundings)
    assert ours is not None
    prior = newton.COOLER_DEGF if surroundings is None else surroundings
    spread = newton.COOLER_SPREAD_DEGF if surroundings is None else 1.0

    def residuals(p: np.ndarray) -> np.ndarray:
        model = p[0] + (p[1] - p[0]) * np.exp(-np.exp(p[2]) * np.array(minutes))
        return np.append(model - np.array(degf), (p[0] - prior) / spread)

    theirs = least_squares(residuals, [prior, degf[0], math.log(0.01)], xtol=1e-14, ftol=1e-14, gtol=1e-14)
    covariance = np.linalg.inv(theirs.jac.T @ theirs.jac)
    assert [ours.surroundings, ours.first, math.log(ours.rate)] == pytest.approx(list(theirs.x), rel=1e-5)
    assert np.array(ours.covariance) == pytest.approx(covariance, rel=1e-2, abs=1e-5)


def test_many_readings_give_the_free_fit_of_scipy() -> None:
    """With many readings the assumed surroundings no longer count: an unconstrained `curve_fit` agrees."""
    minutes = [5.0 * n for n in range(80)]
    noise = np.random.default_rng(7).normal(0, 0.5, len(minutes))
    degf = [41 + 94 * math.exp(-0.012 * t) + e for t, e in zip(minutes, noise, strict=True)]

    def model(t: np.ndarray, a: float, b: float, k: float) -> np.ndarray:
        return a + (b - a) * np.exp(-k * t)

    theirs, _ = curve_fit(model, minutes, degf, p0=[40, 135, 0.01])
    ours = newton.fit(minutes, degf)
    assert ours is not None
    assert [ours.surroundings, ours.first, ours.rate] == pytest.approx(list(theirs), rel=5e-3)


@settings(max_examples=40, deadline=None)
@given(
    ambient=st.floats(30, 45),
    rate=st.floats(0.004, 0.03),
    first=st.floats(110, 180),
    seed=st.integers(0, 10_000),
)
def test_the_interval_holds_the_truth_nearly_always(
    ambient: float, rate: float, first: float, seed: int
) -> None:
    """95 % by construction; here a wider one of 4 spreads must hold for every drawn curve."""
    minutes = [0.0, 30.0, 60.0, 90.0, 120.0, 180.0]
    noise = np.random.default_rng(seed).normal(0, 1.0, len(minutes))
    degf = [
        ambient + (first - ambient) * math.exp(-rate * t) + e for t, e in zip(minutes, noise, strict=True)
    ]
    fit = newton.fit(minutes, degf)
    assert fit is not None
    truth = math.log((first - ambient) / (70 - ambient)) / rate
    best, (low, _) = fit.minutes_to(70), fit.interval_to(70)
    assert best is not None and low is not None
    spread = math.log(best / low) / 1.96
    assert abs(math.log(truth / best)) <= 4 * spread + 1e-6


# ---------------------------------------------------------------- units


@pytest.mark.parametrize("degf", [-40, -4, 0, 32, 41, 57.2, 135, 165, 212])
def test_fahrenheit_and_celsius_are_those_of_nist(degf: float) -> None:
    """NIST SP 811, B.8: t/°C = (t/°F - 32)/1.8, exactly."""
    assert convert(degf, "degF", "degC") == pytest.approx((degf - 32) / 1.8, abs=1e-9)
    assert convert((degf - 32) / 1.8, "degC", "degF") == pytest.approx(degf, abs=1e-9)


@pytest.mark.parametrize(
    ("unit", "to"),
    [
        ("hour", "minute"),
        ("day", "hour"),
        ("minute", "second"),
        ("foot", "inch"),
        ("cm", "mm"),
        ("second", "day"),
    ],
)
def test_exact_factors_are_those_of_pint(unit: str, to: str) -> None:
    assert factor(unit, to) == pytest.approx(float(registry().Quantity(1, unit).to(to).magnitude), rel=1e-15)


def test_lengths_cross_to_metric_only_where_no_figure_of_their_kind_is_printed() -> None:
    """1 in = 25.4 mm exactly (NIST SP 811). A floor clearance is printed in inches and in centimetres."""
    floor = RULES.limits["food_off_floor"]
    assert printed_value(15, "cm", floor) == (15, "cm", 15)
    assert printed_value(150, "mm", floor) == (15, "cm", 15)
    assert printed_value(0.5, "foot", floor) == (6, "inch", 6)
    wall = RULES.limits["wall_gap"]
    assert printed_value(0.1, "cm", wall) == (1, "mm", 1)
    light = registry().Quantity(1, "foot_candle").to("lux").magnitude
    assert light == pytest.approx(10.7639104, rel=1e-8)  # NIST SP 811, B.8


# ---------------------------------------------------------------- the calendar

EARLY, LATE = datetime(2020, 1, 1), datetime(2040, 1, 1)  # noqa: DTZ001 - the zone is drawn beside them


@settings(max_examples=200, deadline=None)
@given(day=st.dates(date(2000, 1, 1), date(2090, 12, 31)), months=st.integers(0, 40))
def test_months_are_counted_as_dateutil_counts_them(day: date, months: int) -> None:
    assert months_later(day, months) == day + relativedelta(months=months)


@pytest.mark.parametrize(("category", "months"), [(1, 12), (2, 6), (3, 4), (4, 3), (None, 6)])
def test_the_next_visit_is_due_by_risk_category(category: int | None, months: int) -> None:
    """FDA Food Code 2022, Annex 5 Table 1 (categories 3 and 4 from memory), and 8-401.10(A): 6 months."""
    last = date(2026, 8, 31)
    assert next_visit(last, RULES, category=category) == last + relativedelta(months=months)


@settings(max_examples=200, deadline=None)
@given(
    found=st.datetimes(EARLY, LATE),
    class_=st.sampled_from(["P", "Pf", "C"]),
    zone=st.sampled_from(["America/Chicago", "America/Phoenix", "Europe/Berlin", "UTC"]),
)
def test_deadlines_are_those_of_dateutil_over_daylight_time(found: datetime, class_: str, zone: str) -> None:
    """8-405.11(B), 8-406.11(A): 72 hours, 10 and 90 calendar days."""
    where = ZoneInfo(zone)
    local = found.replace(tzinfo=where)
    ours = correct_by(class_, local, RULES, zone=where).latest
    if class_ == "P":
        assert ours.astimezone(UTC) == local.astimezone(UTC) + timedelta(hours=72)
    else:
        days = 10 if class_ == "Pf" else 90
        expected = (local.astimezone(UTC).astimezone(where).date()) + relativedelta(days=days)
        assert ours.date() == expected
        assert (ours.hour, ours.minute) == (23, 59)
    assert ours.tzinfo is not None


def test_seventy_two_hours_over_the_change_to_daylight_time_end_an_hour_later_by_the_clock() -> None:
    """The change of 8 March 2026 in the United States."""
    where = ZoneInfo("America/Chicago")
    found = datetime(2026, 3, 6, 10, 0, tzinfo=where)
    assert correct_by("P", found, RULES, zone=where).latest.isoformat() == "2026-03-09T11:00:00-05:00"
