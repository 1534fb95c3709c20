"""The thermometer of the day to the last figure: its offset, its band, and which of its checks count.

°F = °C × 9/5 + 32 (NIST SP 811); ice at 32 °F and 0 °C, water boils at 212 °F and 100 °C at sea level.
"""

from __future__ import annotations

import pytest

from extract.checks import Instrument, Quantity, instrument, of_the_day
from extract.checks.measured import Measured


@pytest.mark.parametrize(
    ("accuracy", "unit", "band"),
    [
        ({"degF": 1.5}, "degF", 1.5),
        ({"degC": 1.0}, "degF", 1.8),
        ({"degF": 1.8}, "degC", 1.0),
        ({"degF": 0.1}, "degC", 0.055556),
        ({"degC": 0.5, "degF": 2.0}, "degF", 2.0),
        ({}, "degF", 2.0),
        ({"degC": 1.0}, "ppm", 0.0),
        ({"degF": 1.0}, "ppm", 0.0),
    ],
)
def test_an_accuracy_counts_in_either_unit(accuracy: dict[str, float], unit: str, band: float) -> None:
    assert Instrument(accuracy=accuracy).band(unit, {"degF": 2.0}) == band


@pytest.mark.parametrize(
    ("ice", "boiling", "read", "true"),
    [
        # 2 °F high in ice, 1.1 °F high in boiling water: a tenth of the way, 1.91 °F high
        ({"degF": 2.0}, {"degF": 1.1}, 50.0, 48.09),
        ({"degF": 2.0}, {"degF": 1.1}, 32.0, 30.0),
        ({"degF": 2.0}, {"degF": 1.1}, 212.0, 210.9),
        # 1 °C high in ice, 2.5 °C high in boiling water: a fifth of the way, 1.3 °C high
        ({"degC": 1.0}, {"degC": 2.5}, 20.0, 18.7),
        ({"degC": 1.0}, {"degC": 2.5}, 0.0, -1.0),
        ({"degC": 1.0}, {"degC": 2.5}, 100.0, 97.5),
        ({"degF": 0.2}, {}, 41.2, 41.0),
        ({}, {}, 41.0000001, 41.0000001),
    ],
)
def test_an_offset_is_straight_between_its_two_checks(
    ice: dict[str, float], boiling: dict[str, float], read: float, true: float
) -> None:
    unit = next(iter(ice), "degF")
    assert Instrument(offset=ice, offset_boiling=boiling).true(read, unit) == true


def test_water_boils_at_sea_level_unless_a_height_is_said() -> None:
    assert instrument(boiling=Quantity(212, "degF")).true(41, "degF") == 41
    assert instrument(boiling=Quantity(100, "degC")).true(5, "degC") == 5


def checked(value: float, unit: str = "degF", item: str | None = "my probe") -> Measured:
    return Measured("temperature", value, unit, "thermometer_check", item)


@pytest.mark.parametrize(
    ("value", "unit", "true"),
    [
        # common practice, no source: no check is off by more than 10 °F or 5 °C
        (42, "degF", 31), (42.1, "degF", 41), (22, "degF", 51), (21.9, "degF", 41), (33, "degF", 40),
        (222, "degF", 31), (222.1, "degF", 41), (202, "degF", 51), (201.9, "degF", 41), (213, "degF", 40),
        (5, "degC", 36), (5.1, "degC", 41), (-5, "degC", 46), (-5.1, "degC", 41), (1, "degC", 40),
        (105, "degC", 36), (105.1, "degC", 41), (95, "degC", 46), (94.9, "degC", 41),
    ],
)  # fmt: skip
def test_a_reading_far_from_both_points_is_no_check(value: float, unit: str, true: float) -> None:
    assert of_the_day([checked(value, unit)]).true(41, unit) == true


def test_the_height_of_the_site_counts() -> None:
    """At 1609 m water boils at 202.4 °F (CoolProp, IAPWS-95)."""
    assert of_the_day([checked(202.39)], elevation_m=1609).true(41, "degF") == pytest.approx(41, abs=0.02)


def test_the_first_check_of_each_kind_counts() -> None:
    found = of_the_day([checked(33), checked(36), checked(212), checked(215)])
    assert (found.true(32, "degF"), found.true(212, "degF")) == (31, 212)


@pytest.mark.parametrize("item", ["their thermometer", "the dial on the cooler"])
def test_somebody_elses_thermometer_corrects_nothing(item: str) -> None:
    assert of_the_day([checked(36, item=item)]).true(41, "degF") == 41


def test_a_stated_accuracy_is_a_difference_in_either_unit() -> None:
    found = of_the_day([], accuracy_degf=1.8)
    assert found.band("degF", {}) == 1.8
    assert found.band("degC", {}) == pytest.approx(1.0, abs=1e-12)
    assert of_the_day([]).band("degF", {"degF": 2.0}) == 2.0
