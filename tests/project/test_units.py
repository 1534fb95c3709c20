"""Units against their exact definitions."""

import pytest

from shared.units import convert, written

# NIST SP 811 (2008), appendix B: exact definitions of the degree Fahrenheit, the inch and the foot;
# the foot-candle is one lumen per square foot, the psi one pound-force per square inch
# (0.45359237 kg × 9.80665 m/s²).
EXACT = [
    (32, "degF", "degC", 0),
    (212, "degF", "degC", 100),
    (-40, "degF", "degC", -40),
    (41, "degF", "degC", 5),
    (1, "inch", "mm", 25.4),
    (1, "foot", "cm", 30.48),
    (1, "foot_candle", "lux", 1 / 0.3048**2),
    (1, "psi", "kPa", 0.45359237 * 9.80665 / 0.0254**2 / 1000),
    (2, "hour", "minute", 120),
    (1, "ppm", "mg_per_L", 1),
]


@pytest.mark.parametrize(("value", "unit", "to", "expected"), EXACT)
def test_a_unit_converts_by_its_exact_definition(value: float, unit: str, to: str, expected: float) -> None:
    assert convert(value, unit, to) == pytest.approx(expected, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (41, "degF", "41 °F"),
        (48.5, "degF", "48.5 °F"),
        (7.5, "pH", "pH 7.5"),
        (200, "ppm", "200 ppm"),
        (-4, "degF", "-4 °F"),
    ],
)
def test_a_quantity_is_written_as_people_read_it(value: float, unit: str, text: str) -> None:
    assert written(value, unit) == text
