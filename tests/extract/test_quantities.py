"""Figures with their units and times of day. Conversions are Pint's and tested with the checks."""

from __future__ import annotations

import pytest

from extract.figures.quantities import figures
from extract.words.lexicon import lexicon
from extract.words.line import prepare


def read(text: str, hour: float = 14.5) -> list[tuple[float, str | None]]:
    found = figures(prepare(text, 0, lexicon()), lexicon(), hour=hour)
    return [(figure.value, figure.unit) for figure in found if figure.role == "figure"]


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("soup 150 degrees Fahrenheit", 150, "degF"),
        ("soup 65 degrees Celsius", 65, "degC"),
        ("soup 65 centigrade", 65, "degC"),
        ("soup 65°C", 65, "degC"),
        ("soup 150F", 150, "degF"),
        ("soup 150 degrees", 150, "deg"),
        ("ten parts per million", 10, "ppm"),
        ("200 PPM", 200, "ppm"),
        ("200ppm", 200, "ppm"),
        ("50 milligrams per liter", 50, "ppm"),
        ("pH 7.5", 7.5, "pH"),
        ("pH of 7.5", 7.5, "pH"),
        ("the pH is seven and a half", 7.5, "pH"),
        ("pea age strip says 7 and a half", 7.5, "pH"),
        ("14 foot candles", 14, "foot_candle"),
        ("230 lux", 230, "lux"),
        ("four inches", 4, "inch"),
        ("for inches off the floor", 4, "inch"),
        ("half an inch", 0.5, "inch"),
        ("half inch pipe", 0.5, "inch"),
        ("three quarters of an inch", 0.75, "inch"),
        ("an inch and a half", 1.5, "inch"),
        ("two feet", 2, "foot"),
        ("22 psi", 22, "psi"),
        ("42 pounds per square inch", 42, "psi"),
        ("about three hours", 3, "hour"),
        ("an hour and a half", 1.5, "hour"),
        ("a couple of hours", 2, "hour"),
        ("water activity of .92", 0.92, "aw"),
        ("dated day 7", 7, "day"),
    ],
)
def test_unit(text: str, value: float, unit: str) -> None:
    assert read(text) == [(value, unit)]


@pytest.mark.parametrize(
    "text",
    [
        "2 inch pans",
        "a 5 gallon bucket",
        "3 compartment sink",
        "20 pounds of rice",
        "30 seats",
        "two of them",
        "12 o'clock",
    ],
)
def test_counts_and_sizes_are_no_figures(text: str) -> None:
    assert read(text) == []


@pytest.mark.parametrize(
    ("text", "clock"),
    [
        ("since 11:30", "11:30"),
        ("since 11.30", "11:30"),
        ("since 1145", "11:45"),
        ("at nine fifteen", "09:15"),
        ("quarter past two", "14:15"),
        ("ten to three", "14:50"),
        ("at noon", "12:00"),
        ("135 at 1.15", "13:15"),
        ("opened at 10 this morning", "10:00"),
        ("2:45 pm", "14:45"),
        ("cooked at 9 last night", "21:00"),
    ],
)
def test_time_of_day(text: str, clock: str) -> None:
    """Of the two halves of the day the one nearer to when it was said; common usage, no source."""
    found = figures(prepare(text, 0, lexicon()), lexicon(), hour=14.5)
    assert [figure.clock for figure in found if figure.role == "clock"] == [clock]


def test_a_range_is_two_figures() -> None:
    assert read("between 45 and 48") == [(45, None), (48, None)]
    assert read("45 to 48 degrees") == [(45, "deg"), (48, "deg")]


def test_offsets_point_at_the_text() -> None:
    line = prepare("uh, the walk-in’s ham isn't at 47.5 degrees…", 0, lexicon())
    for token in line.tokens:
        assert line.text[token.start : token.end]
