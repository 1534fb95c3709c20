"""Every step of every time-temperature table, sanitizer row, cooling stage and TCS cell, at its edges.

Generated from the data; the sources stand on the rows.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType

import pytest

from extract.checks import Measured, Quantity, check
from extract.checks.cooling import judge
from extract.checks.cooling_stages import Point, each_reading
from extract.checks.holding import step_for_temperature, step_for_time
from extract.checks.tcs import by_table
from shared.rules import load
from shared.rules.model import CoolingRule, Rules, Sanitizer, Step, TcsCell, TimeTemperature
from tests.checks.making import at, food

RULES = load("food_code_2022")
STEPS = [
    pytest.param(table, step, unit, id=f"{table.id}-{step.values[unit]:g}{unit}")
    for table in RULES.tables.values()
    for step in table.steps
    for unit in step.values
]


@pytest.mark.parametrize(("table", "step", "unit"), STEPS)
def test_a_step_holds_from_its_own_temperature_on(table: TimeTemperature, step: Step, unit: str) -> None:
    reached = step_for_temperature(table, step.values[unit], unit)
    assert reached is not None and reached.time_s == step.time_s
    cooler = step_for_temperature(table, step.values[unit] - 0.01, unit)
    assert cooler is None or cooler.values[unit] < step.values[unit]


@pytest.mark.parametrize(("table", "step", "unit"), STEPS)
def test_a_time_suffices_from_its_own_step_on(table: TimeTemperature, step: Step, unit: str) -> None:
    coolest = step_for_time(table, step.time_s)
    assert coolest is not None and coolest.values[unit] <= step.values[unit]
    longer = step_for_time(table, step.time_s + 0.1)
    assert longer is not None and longer.values[unit] <= coolest.values[unit]
    if step.time_s:
        hotter = step_for_time(table, step.time_s - 0.1)
        assert hotter is None or hotter.values[unit] > coolest.values[unit]


@pytest.mark.parametrize(
    ("step", "unit"),
    [pytest.param(step, unit) for step in RULES.tables["roast"].steps for unit in step.values],
)
def test_a_roast_meets_each_pair_of_its_table_and_misses_it_by_a_second(step: Step, unit: str) -> None:
    """FDA Food Code 2022, 3-401.11(B)(1), seen in Washington's adopted text."""
    exact = _without_band(RULES)
    roast = Measured("temperature", step.values[unit], unit, "cooking", "roast beef", held_s=step.time_s)
    assert check(roast, exact).verdict == "meets"
    if step.time_s:
        assert check(replace(roast, held_s=step.time_s - 1), exact).verdict == "violates"
    assert check(replace(roast, value=step.values[unit] - 0.1), exact).verdict == "violates"


@pytest.mark.parametrize("unit", ["degF", "degC"])
@pytest.mark.parametrize(
    "item", ["ground beef", "injected pork loin", "tenderized steak", "ostrich", "pooled scrambled eggs"]
)
@pytest.mark.parametrize("place", range(4))
def test_the_155_group_meets_each_of_its_pairs(item: str, place: int, unit: str) -> None:
    """FDA Food Code 2022, 3-401.11(A)(2), seen in South Carolina's adopted text."""
    exact = _without_band(RULES)
    step = RULES.tables["group_155"].steps[place]
    reading = Measured("temperature", step.values[unit], unit, "cooking", item, held_s=step.time_s)
    assert check(reading, exact).verdict == "meets"
    assert check(replace(reading, value=step.values[unit] - 0.1), exact).verdict == "violates"
    if step.time_s:
        assert check(replace(reading, held_s=step.time_s - 1), exact).verdict == "violates"


def _without_band(rules: Rules) -> Rules:
    """The rules for a thermometer without error, so that pass and fail stand at the figure itself."""
    return replace(
        rules, decision=replace(rules.decision, accuracy=MappingProxyType({"degF": 0.0, "degC": 0.0}))
    )


# ---------------------------------------------------------------- sanitizers


@pytest.mark.parametrize(
    ("row", "unit"),
    [
        pytest.param(row, unit, id=f"{row.id}-{unit}")
        for row in RULES.sanitizers.values()
        if row.kind == "minimum" and row.in_force and not row.by_label
        for unit in row.water
    ],
)
def test_a_solution_at_a_row_of_its_table_meets(row: Sanitizer, unit: str) -> None:
    assert row.least_ppm is not None and row.ph_most is not None
    solution = Measured(
        "concentration", row.least_ppm, "ppm", "sanitizer",
        agent=row.agent, ph=row.ph_most, water=Quantity(row.water[unit], unit),
    )  # fmt: skip
    assert check(solution, RULES).verdict == "meets"
    weaker = check(replace(solution, value=row.least_ppm - 0.5), RULES)
    colder = check(replace(solution, water=Quantity(row.water[unit] - 0.5, unit)), RULES)
    alkaline = check(replace(solution, ph=row.ph_most + 0.1), RULES)
    others = _others(row, unit)
    assert weaker.verdict == ("meets" if others["weaker"] else "violates")
    assert colder.verdict == ("meets" if others["colder"] else "violates")
    too_alkaline = "undetermined" if row.ph_by_label else "violates"
    assert alkaline.verdict == ("meets" if others["alkaline"] else too_alkaline)


def _others(row: Sanitizer, unit: str) -> dict[str, bool]:
    """Whether another row of the agent is met when this one is just missed in one respect."""
    assert row.least_ppm is not None and row.ph_most is not None
    cases = {
        "weaker": (row.least_ppm - 0.5, row.ph_most, row.water[unit]),
        "colder": (row.least_ppm, row.ph_most, row.water[unit] - 0.5),
        "alkaline": (row.least_ppm, row.ph_most + 0.1, row.water[unit]),
    }
    rows = [
        other
        for other in RULES.sanitizers.values()
        if other.kind == "minimum" and other.in_force and other.agent == row.agent
    ]
    return {
        name: any(
            strength >= (other.least_ppm or 0) and ph <= (other.ph_most or 0) and water >= other.water[unit]
            for other in rows
        )
        for name, (strength, ph, water) in cases.items()
    }


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(row, id=row.id)
        for row in RULES.sanitizers.values()
        if row.kind == "maximum" and row.in_force
    ],
)
def test_a_solution_over_its_maximum_violates(row: Sanitizer) -> None:
    assert row.most_ppm is not None
    solution = Measured(
        "concentration",
        row.most_ppm,
        "ppm",
        "sanitizer",
        agent=row.agent,
        ph=5.0,
        water=Quantity(120, "degF"),
    )
    assert check(solution, RULES).verdict == "meets"
    over = check(replace(solution, value=row.most_ppm + 0.5), RULES)
    assert (over.verdict, over.section, over.limit, over.margin) == (
        "violates",
        row.section,
        row.most_ppm,
        0.5,
    )


@pytest.mark.parametrize(
    ("agent", "water", "needed", "section"),
    [
        ("chlorine", None, 10, "4-703.11(C)(1)"),
        ("chlorine", Quantity(100, "degF"), 7, "4-703.11(C)(2)"),
        ("chlorine", Quantity(38, "degC"), 7, "4-703.11(C)(2)"),
        ("iodine", None, 30, "4-703.11(C)(3)"),
        ("quat", None, 30, "4-703.11(C)(3)"),
    ],
)
def test_contact_times(agent: str, water: Quantity | None, needed: float, section: str) -> None:
    """FDA Food Code 2022, 4-703.11, seen in South Carolina's adopted text."""
    dip = Measured(
        "duration",
        needed,
        "second",
        "sanitizer",
        agent=agent,
        water=water,
        concentration_ppm=50 if water else None,
    )
    found = check(dip, RULES)
    assert (found.verdict, found.section, found.limit) == ("meets", section, needed)
    assert check(replace(dip, value=needed - 1), RULES).verdict == "violates"


# ---------------------------------------------------------------- cooling


@pytest.mark.parametrize(
    ("rule", "place", "unit"),
    [
        pytest.param(rule, place, unit, id=f"{rule.id}-{place + 1}-{unit}")
        for rule in RULES.cooling.values()
        if rule.in_force and rule.id != "shell_eggs"
        for place in range(len(rule.stages))
        for unit in rule.stages[place].target
    ],
)
def test_a_stage_of_cooling_is_met_at_its_limits_and_missed_past_either(
    rule: CoolingRule, place: int, unit: str
) -> None:
    stage = rule.stages[place]
    start, target = at("09:00"), stage.target[unit]
    due = start + timedelta(minutes=stage.within_min)

    def verdict(value: float, late: timedelta = timedelta()) -> str:
        reading = Point(due + late, value, unit)
        return judge([reading], RULES, rule=rule.id, started=start).stages[place].verdict

    assert verdict(target) == "meets"
    assert verdict(target, -timedelta(minutes=1)) == "meets"
    band = RULES.decision.accuracy[unit]
    assert verdict(target + 0.1) == verdict(target + band) == "borderline"
    assert verdict(target + band + 0.1) == "violates"
    assert verdict(target + band + 0.1, -timedelta(minutes=1)) == "undetermined"
    assert verdict(target, timedelta(minutes=1)) == "undetermined"
    (each,) = each_reading([Point(due, target + band + 0.1, unit)], RULES, rule=rule.id, started=start)
    assert (each.verdict, each.section) == ("violates", stage.section)


# ---------------------------------------------------------------- TCS tables


@pytest.mark.parametrize("cell", [pytest.param(cell, id=cell.id) for cell in RULES.tcs_cells.values()])
def test_each_cell_of_the_tcs_tables_answers_at_its_corners(cell: TcsCell) -> None:
    for aw in _corners(
        cell.aw_over, cell.aw_at_least, cell.aw_at_most, cell.aw_under, lowest=0.0, highest=1.0
    ):
        for ph in _corners(
            cell.ph_over, cell.ph_at_least, cell.ph_at_most, cell.ph_under, lowest=0.0, highest=14.0
        ):
            found = by_table(RULES, packaged=cell.table == "packaged", aw=aw, ph=ph)
            assert (found.answer, found.section) == (cell.answer, cell.section)


def _corners(
    over: float | None,
    at_least: float | None,
    at_most: float | None,
    under: float | None,
    *,
    lowest: float,
    highest: float,
) -> tuple[float, float]:
    tiny = 1e-6
    low = over + tiny if over is not None else at_least if at_least is not None else lowest
    high = under - tiny if under is not None else at_most if at_most is not None else highest
    return low, high


@pytest.mark.parametrize("packaged", [True, False])
def test_the_tcs_tables_cover_every_pair_of_figures_once(packaged: bool) -> None:
    table = "packaged" if packaged else "unpackaged"
    cells = [cell for cell in RULES.tcs_cells.values() if cell.table == table]
    for aw in [n / 200 for n in range(201)]:
        for ph in [n / 10 for n in range(141)]:
            hits = [cell for cell in cells if _inside(cell, aw, ph)]
            assert len(hits) == 1, (aw, ph, hits)


def _inside(cell: TcsCell, aw: float, ph: float) -> bool:
    return by_one(aw, cell.aw_over, cell.aw_at_least, cell.aw_at_most, cell.aw_under) and by_one(
        ph, cell.ph_over, cell.ph_at_least, cell.ph_at_most, cell.ph_under
    )


def by_one(
    value: float, over: float | None, least: float | None, most: float | None, under: float | None
) -> bool:
    """The bounds read once more, independently of the code under test."""
    return not (
        (over is not None and value <= over)
        or (least is not None and value < least)
        or (most is not None and value > most)
        or (under is not None and value >= under)
    )


def test_a_missing_figure_leaves_the_tcs_answer_open_only_where_it_matters() -> None:
    assert by_table(RULES, packaged=True, aw=0.90).answer == "not_tcs"
    assert by_table(RULES, packaged=True, ph=4.6).answer == "not_tcs"
    assert by_table(RULES, packaged=True, ph=5.0).missing == ("its water activity",)
    assert by_table(RULES, packaged=False, aw=0.95).missing == ("its pH",)
    assert by_table(RULES, packaged=False).missing == ("its water activity", "its pH")


def test_a_food_of_the_vocabulary_reaches_the_row_made_for_it() -> None:
    assert check(Measured("temperature", 44, "degF", "cold_holding", food=food("dairy")), RULES).limit == 41
