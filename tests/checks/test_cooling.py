"""Cooling from any readings. FDA Food Code 2022, 3-501.14, seen in Delaware's adopted text."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from xml.etree import ElementTree
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from extract.checks import Instrument
from extract.checks.cooling import Cooling, judge
from extract.checks.cooling_picture import describe, draw
from extract.checks.cooling_stages import Point, each_reading
from shared.errors import InputError
from shared.rules import load
from shared.rules.model import DecisionRule
from tests.checks.making import at, curve, point

RULES = load("food_code_2022")


def cooled(*texts: str, **how: object) -> Cooling:
    return judge([point(text) for text in texts], RULES, **how)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("readings", "verdicts"),
    [
        # the start has no limit; before a deadline what is still warm is open; at or after it, decided
        (["135 degF@11:00", "98 degF@13:15"], "none violates"),
        (["135 degF@10:40", "66 degF@12:30", "58 degF@12:50"], "none meets undetermined"),
        (["135 degF@13:30", "88 degF@14:30", "66 degF@15:20"], "none undetermined meets"),
        (["135 degF@13:30", "66 degF@15:20", "64 degF@15:40"], "none meets undetermined"),
        (["135 degF@10:15", "52 degF@16:25"], "none violates"),
        (["57 degC@12:30", "31 degC@14:30", "24 degC@15:55"], "none violates violates"),
        (["135 degF@10:00", "70 degF@12:00", "41 degF@16:00"], "none meets meets"),
        # 4-203.11: a thermometer may be 2 °F off; over the target by no more is borderline
        (["135 degF@10:00", "70.1 degF@12:00"], "none borderline"),
        (["135 degF@10:00", "72 degF@12:00"], "none borderline"),
        (["135 degF@10:00", "72.1 degF@12:00"], "none violates"),
        (["135 degF@10:00", "70.1 degF@11:59"], "none undetermined"),
        (["120 degF@10:00", "90 degF@11:00"], "undetermined undetermined"),
        (["120 degF@10:00", "90 degF@12:30"], "undetermined violates"),
    ],
)  # fmt: skip
def test_each_reading_has_a_verdict_of_its_own(readings: list[str], verdicts: str) -> None:
    found = each_reading([point(text) for text in readings], RULES)
    assert " ".join(check.verdict for check in found) == verdicts


def test_a_salad_of_warm_ingredients_goes_by_its_own_clock() -> None:
    points = [point("68 degF@09:00"), point("55 degF@13:05")]
    found = each_reading(points, RULES, rule="room_temperature_ingredients")
    assert [check.verdict for check in found] == ["none", "violates"]


@pytest.mark.parametrize(
    ("readings", "verdicts", "why"),
    [
        (["120 degF@10:00", "90 degF@11:00"], "undetermined undetermined", "when it was at 135 °F"),
        (
            ["135 degF@10:00", "82 degF@11:50", "65 degF@12:20"],
            "undetermined undetermined",
            "a reading at 12:00",
        ),
        (["135 degF@10:00", "69 degF@11:00", "72 degF@12:30"], "meets undetermined", ""),
    ],
)
def test_what_no_reading_shows_stays_open(readings: list[str], verdicts: str, why: str) -> None:
    found = cooled(*readings)
    assert " ".join(stage.verdict for stage in found.stages) == verdicts
    assert why in " ".join(fact for stage in found.stages for fact in stage.missing)


def test_between_two_readings_the_clock_starts_within_bounds() -> None:
    """Food at 150 °F, later at 98 °F, passed 135 °F in between: a miss must hold for the latest start."""
    found = cooled("150 degF@10:00", "98 degF@13:15")
    assert found.clock.how == "between readings"
    assert found.clock.earliest is not None and found.clock.latest is not None
    assert at("10:00") < found.clock.earliest < found.clock.latest < at("13:15")
    assert found.stages[0].verdict == "violates"
    assert cooled("150 degF@10:00", "71 degF@12:20").stages[0].verdict == "undetermined"


def test_a_known_start_overrules_the_readings() -> None:
    found = cooled("120 degF@10:30", "80 degF@12:05", started=at("10:00"))
    assert found.clock.how == "given"
    assert found.stages[0].verdict == "violates"


def test_the_thermometers_offset_is_taken_off_every_reading() -> None:
    points = [point("137 degF@10:00"), point("72 degF@12:00")]
    assert judge(points, RULES).stages[0].verdict == "undetermined"
    high = judge(points, RULES, instrument=Instrument(offset={"degF": 2.0}))
    assert high.stages[0].verdict == "meets"
    assert high.points[0].value == 135.0


@pytest.mark.parametrize(
    ("rule", "at_target", "just_over", "far_over"),
    [
        ("simple_acceptance", "meets", "borderline", "violates"),
        ("guarded_acceptance", "borderline", "violates", "violates"),
        ("guarded_rejection", "meets", "borderline", "violates"),
    ],
)
def test_a_stage_goes_by_the_decision_rule(
    rule: DecisionRule, at_target: str, just_over: str, far_over: str
) -> None:
    """70 °F is due at 12:00 (3-501.14(A)(1)); the thermometer is taken as ± 2 °F (4-203.11)."""
    rules = replace(RULES, decision=replace(RULES.decision, rule=rule))
    for value, verdict in ((70, at_target), (70.1, just_over), (72, just_over), (72.1, far_over)):
        points = [point("135 degF@10:00"), Point(at("12:00"), value, "degF")]
        assert judge(points, rules).stages[0].verdict == verdict
        assert each_reading(points, rules)[1].verdict == verdict


def test_under_guarded_acceptance_a_colder_reading_in_time_settles_it() -> None:
    rules = replace(RULES, decision=replace(RULES.decision, rule="guarded_acceptance"))
    readings = [point("135 degF@10:00"), point("69 degF@11:30")]
    assert judge(readings, rules).stages[0].verdict == "borderline"
    assert judge([*readings, point("68 degF@11:45")], rules).stages[0].verdict == "meets"
    assert judge([*readings, point("75 degF@12:10")], rules).stages[0].verdict == "violates"


def test_of_several_late_readings_the_one_that_is_sure_decides() -> None:
    found = cooled("135 degF@10:00", "71 degF@12:00", "74 degF@12:01")
    assert found.stages[0].verdict == "violates"
    assert found.stages[0].why.startswith("74 °F")


def test_a_borderline_stage_is_said_so_and_probed_again() -> None:
    found = cooled("135 degF@10:00", "60 degF@11:30", "42 degF@16:00")
    assert (found.verdict, found.stages[1].verdict) == ("borderline", "borderline")
    assert found.stages[1].why.endswith(", within the thermometer's ±2 °F, on the failing side")
    assert [option.id for option in found.options] == ["cooling_probe_again"]
    assert "41 °F by 16:00: borderline." in describe(found)


def test_the_better_thermometer_has_the_narrower_band() -> None:
    points = [point("135 degF@10:00"), point("70.6 degF@12:00")]
    half = Instrument(accuracy={"degF": 0.5})
    assert judge(points, RULES, instrument=half).stages[0].verdict == "violates"
    assert judge(points, RULES).stages[0].verdict == "borderline"


@pytest.mark.parametrize(
    ("read", "offset", "verdict"),
    [(72, 2.0, "meets"), (72.1, 2.0, "borderline"), (74.1, 2.0, "violates"), (69, -1.0, "meets"),
     (69.1, -1.0, "borderline")],
)  # fmt: skip
def test_each_reading_is_corrected_by_the_offset(read: float, offset: float, verdict: str) -> None:
    """Read less what it reads high is 70 °F or a tenth over (3-501.14(A)(1)); by hand."""
    high = Instrument(offset={"degF": offset})
    points = [Point(at("10:00"), 135 + offset, "degF"), Point(at("12:00"), read, "degF")]
    first, second = each_reading(points, RULES, instrument=high)
    assert (first.verdict, second.verdict) == ("none", verdict)


def test_cold_food_that_no_reading_shows_in_time_is_left_to_what_can_be_shown() -> None:
    found = cooled("135 degF@10:00", "60 degF@11:30", "38 degF@16:30")
    assert [option.id for option in found.options] == ["ask_for_a_log"]


CHICAGO = ZoneInfo("America/Chicago")


@pytest.mark.parametrize(
    ("evening", "at_six_hours"),
    [
        # 8 March 2026: 2:00 becomes 3:00; 1 November 2026: 2:00 becomes 1:00 (tz database, America/Chicago)
        (datetime(2026, 3, 7, 23, 0, tzinfo=CHICAGO), "06:00"),
        (datetime(2026, 10, 31, 23, 0, tzinfo=CHICAGO), "04:00"),
        (datetime(2026, 5, 4, 23, 0, tzinfo=CHICAGO), "05:00"),
    ],
)
def test_six_hours_are_six_hours_over_a_change_of_daylight_time(evening: datetime, at_six_hours: str) -> None:
    def after(minutes: float, value: float) -> Point:
        real = evening.astimezone(UTC) + timedelta(minutes=minutes)
        return Point(real.astimezone(CHICAGO), value, "degF")

    hot, warm = after(0, 135), after(100, 66)
    assert judge([hot, warm, after(360, 41)], RULES).verdict == "meets"
    assert judge([hot, warm, after(361, 44)], RULES).verdict == "violates"
    opened = judge([hot, warm], RULES)
    deadline = opened.stages[1].deadline
    assert deadline is not None and f"{deadline:%H:%M}" == at_six_hours
    assert f"by {at_six_hours}" in opened.stages[1].why
    assert opened.stages[0].why.startswith("66 °F after 1 hour 40 minutes")
    late = each_reading([hot, warm, after(180, 55)], RULES)[2]
    assert late.missing == (f"whether it reaches 41 °F by {at_six_hours}",)
    dots = list(_dots(judge([hot, warm, after(360, 41)], RULES)))
    assert (dots[1] - dots[0]) / (dots[2] - dots[0]) == pytest.approx(100 / 360, abs=0.002)


def _dots(found: Cooling) -> Iterator[float]:
    """How far to the right each reading is drawn."""
    for dot in ElementTree.fromstring(draw(found)).iter("{http://www.w3.org/2000/svg}circle"):
        yield float(dot.attrib["cx"])


# ---------------------------------------------------------------- forecast and what next


def test_the_forecast_finds_the_truth_of_a_drawn_curve() -> None:
    """T(t) = 37 + 98 exp(-0.0146 t): 70 °F after 74.6 minutes, 41 °F after 219 minutes, by hand."""
    found = judge(curve([135.0, 100.2, 77.8, 63.3], every_min=30), RULES, surroundings_degf=37.0)
    seventy, forty_one = found.forecast
    assert seventy.at is not None and forty_one.at is not None
    assert abs((seventy.at - at("14:00")).total_seconds() / 60 - 74.6) < 1.5
    assert abs((forty_one.at - at("14:00")).total_seconds() / 60 - 219) < 8
    assert seventy.low is not None and seventy.high is not None
    assert seventy.low < seventy.at < seventy.high


def test_a_curve_that_halves_each_hour_is_forecast_to_the_second() -> None:
    """T(t) = 37 + 128 × 2^(-t/60 min): 165, 101, 69 °F each hour; 41 °F is 5 halvings on, at 19:00, by hand.
    70 °F: 60 min × log2(128/33) = 117.336 min, at 15:57:20."""
    found = judge(curve([165, 101, 69], every_min=60), RULES, surroundings_degf=37.0)
    seventy, forty_one = found.forecast
    assert seventy.at is not None and forty_one.at is not None
    assert abs(seventy.at - (at("15:57") + timedelta(seconds=20))) <= timedelta(seconds=1)
    assert abs(forty_one.at - at("19:00")) <= timedelta(seconds=1)


@pytest.mark.parametrize("rule", ["cooked", "room_temperature_ingredients"])
def test_a_series_in_celsius_is_forecast_for_the_same_times_as_in_fahrenheit(rule: str) -> None:
    """°F = °C × 9/5 + 32 exactly (NIST SP 811): 60, 40, 25, 15 °C are 140, 104, 77, 59 °F; 5 °C is 41 °F."""
    celsius = judge(
        curve([60, 40, 25, 15], every_min=40, unit="degC"), RULES, rule=rule, surroundings_degf=37.0
    )
    fahrenheit = judge(curve([140, 104, 77, 59], every_min=40), RULES, rule=rule, surroundings_degf=37.0)
    mine, theirs = celsius.forecast[-1], fahrenheit.forecast[-1]
    assert (mine.target, mine.unit, theirs.target, theirs.unit) == (5, "degC", 41, "degF")
    assert theirs.at is not None and theirs.low is not None and theirs.high is not None
    assert (mine.at, mine.low, mine.high) == (theirs.at, theirs.low, theirs.high)
    assert celsius.fit == fahrenheit.fit


def test_more_readings_narrow_the_forecast() -> None:
    few = judge(curve([135.0, 100.2], every_min=30), RULES).forecast[0]
    many = judge(curve([135.0, 116.2, 100.2, 87.9, 77.8], every_min=15), RULES).forecast[0]
    assert few.low and few.high and many.low and many.high
    assert many.high - many.low < few.high - few.low


def test_food_that_cools_in_a_warm_room_is_said_never_to_get_there() -> None:
    found = judge(curve([135.0, 110.0, 94.0, 83.0], every_min=60), RULES, surroundings_degf=68.0)
    assert found.forecast[1].at is None and found.forecast[1].high is None


def test_a_target_that_the_first_reading_has_reached_is_forecast_for_that_moment() -> None:
    found = cooled("41 degF@14:00", "39 degF@15:00", rule="room_temperature_ingredients")
    assert (found.forecast[0].at, found.forecast[0].low, found.forecast[0].high) == (at("14:00"),) * 3


def test_one_reading_or_rising_readings_give_no_forecast() -> None:
    assert cooled("135 degF@14:00").fit is None
    assert cooled("90 degF@14:00", "95 degF@15:00").fit is None


@pytest.mark.parametrize(
    ("readings", "options", "probes"),
    [
        (["135 degF@14:00", "84 degF@15:00"], {"keep_cooling"}, True),
        (["135 degF@14:00", "110 degF@15:00"], {"cool_faster", "reheat_and_restart", "serve_hot"}, True),
        (["135 degF@14:00", "82 degF@16:00"], {"discard_missed_cooling"}, False),
        (["120 degF@14:00"], {"ask_start"}, False),
        (["135 degF@14:00", "68 degF@15:50", "40 degF@19:55"], {"cooled_hold_cold"}, False),
    ],
)
def test_what_may_be_done_now_and_when_to_probe(readings: list[str], options: set[str], probes: bool) -> None:
    found = cooled(*readings)
    assert {option.id for option in found.options} == options
    assert all(option.section and option.source.verified for option in found.options)
    assert found.caution
    assert (found.next_probe is not None) is probes
    if found.next_probe is not None:
        assert point(readings[-1]).at < found.next_probe
        deadline = next(stage.deadline for stage in found.stages if stage.verdict == "undetermined")
        assert deadline is not None and found.next_probe <= deadline


# ---------------------------------------------------------------- properties

TEMPERATURES = st.floats(33, 160).map(lambda value: round(value, 1))
READINGS = st.lists(st.tuples(st.integers(0, 600), TEMPERATURES), min_size=1, max_size=7)


def _points(readings: list[tuple[int, float]]) -> list[Point]:
    return [Point(at("08:00") + timedelta(minutes=minute), value, "degF") for minute, value in readings]


@settings(max_examples=200, deadline=None)
@given(readings=READINGS, seed=st.integers(0, 1000))
def test_the_order_of_readings_changes_nothing(readings: list[tuple[int, float]], seed: int) -> None:
    points = _points(readings)
    shuffled = points.copy()
    random.Random(seed).shuffle(shuffled)
    mine, theirs = judge(points, RULES), judge(shuffled, RULES)
    assert (mine.stages, mine.forecast, mine.next_probe) == (
        theirs.stages,
        theirs.forecast,
        theirs.next_probe,
    )


@settings(max_examples=200, deadline=None)
@given(readings=READINGS, lower=st.floats(0.1, 20))
def test_colder_food_never_turns_a_met_stage_into_a_missed_one(
    readings: list[tuple[int, float]], lower: float
) -> None:
    start = at("07:30")
    warm = judge(_points(readings), RULES, started=start)
    cold = judge(_points([(minute, value - lower) for minute, value in readings]), RULES, started=start)
    for mine, theirs in zip(warm.stages, cold.stages, strict=True):
        assert not (mine.verdict == "meets" and theirs.verdict != "meets")
        assert not (theirs.verdict == "violates" and mine.verdict == "meets")


@settings(max_examples=100, deadline=None)
@given(readings=READINGS)
def test_any_readings_give_an_answer_and_a_picture(readings: list[tuple[int, float]]) -> None:
    found = judge(_points(readings), RULES)
    assert len(found.stages) == len(found.forecast) == 2
    for item in found.forecast:
        if item.at and item.low and item.high:
            assert item.low <= item.at <= item.high
    ElementTree.fromstring(draw(found))
    assert len(each_reading(_points(readings), RULES)) == len(readings)


# ---------------------------------------------------------------- bad calls


@pytest.mark.parametrize(
    ("points", "says"),
    [
        ([], "no readings"),
        ([point("135 degF@14:00"), point("24 degC@16:00")], "give all of one cooling in one of"),
        ([Point(at("14:00"), 5, "ppm")], "readings are in ppm"),
        ([Point(datetime(2026, 5, 4, 14, 0), 135, "degF")], "no offset from UTC"),  # noqa: DTZ001 - what is tested
    ],
)
def test_a_call_that_makes_no_sense_is_refused_in_a_sentence(points: list[Point], says: str) -> None:
    with pytest.raises(InputError, match=says):
        judge(points, RULES)


@pytest.mark.parametrize("rule", ["nonsense", "plant_option_1"])
def test_a_rule_that_is_not_in_force_is_refused(rule: str) -> None:
    with pytest.raises(InputError, match="there are: cooked, room_temperature_ingredients, received_warm"):
        cooled("135 degF@14:00", rule=rule)


# ---------------------------------------------------------------- the picture


def test_the_picture_is_described_in_words() -> None:
    found = cooled("135 degF@14:00", "95 degF@15:00", "75 degF@16:00")
    words = describe(found)
    assert "135 °F at 14:00, 95 °F at 15:00, 75 °F at 16:00" in words
    assert "70 °F by 16:00: missed." in words
    assert "41 °F by 20:00: open." in words
    assert "The fitted curve reaches 41 °F" in words


def test_the_picture_needs_no_colour() -> None:
    picture = draw(cooled("135 degF@14:00", "95 degF@15:00", "75 degF@16:00"), title="Chili <walk-in>")
    root = ElementTree.fromstring(picture)
    space = "{http://www.w3.org/2000/svg}"
    assert root.get("role") == "img"
    title, described = root.find(f"{space}title"), root.find(f"{space}desc")
    assert title is not None and title.text == "Chili <walk-in>"
    assert described is not None and described.text is not None and "missed" in described.text
    colours = {item.get(name) for item in root.iter() for name in ("fill", "stroke")} - {None, "none"}
    assert all(
        colour is not None and len(set(colour[1:3] + colour[3:5] + colour[5:7])) <= 2 for colour in colours
    )
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours if colour)
    texts = [item.text for item in root.iter(f"{space}text")]
    assert "70 °F: missed, by 16:00" in texts and "41 °F: open, by 20:00" in texts
    assert "75 at 16:00" in texts
    assert len(list(root.iter(f"{space}circle"))) == 3
