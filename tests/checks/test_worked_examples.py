"""The trade's sums, worked by hand. Each row of worked_examples.toml names the section it follows from."""

from __future__ import annotations

import tomllib
from datetime import datetime
from typing import Any

import pytest

from extract.checks import Measured, check, given
from extract.checks.comparing import compare
from extract.checks.cooling import judge
from extract.checks.correcting import correct_by
from extract.checks.date_marks import last_day, last_day_of_mix
from extract.checks.tcs import by_table
from extract.checks.time_control import judge as judge_time
from shared.rules import load
from shared.rules.model import Rules
from tests.checks.making import HERE, at, point

EXAMPLES: list[dict[str, Any]] = tomllib.loads((HERE / "worked_examples.toml").read_text(encoding="utf-8"))[
    "example"
]


def _of(do: str) -> list[Any]:
    return [pytest.param(row, id=row["id"]) for row in EXAMPLES if row["do"] == do]


def _rules(row: dict[str, Any]) -> Rules:
    return load(HERE / row["rules"]) if "rules" in row else load("food_code_2022")


def test_every_example_is_run_by_some_test() -> None:
    assert {row["do"] for row in EXAMPLES} == {"check", "cooling", "time", "date", "tcs", "deadline", "pair"}
    assert len(EXAMPLES) == len({row["id"] for row in EXAMPLES}) >= 82


@pytest.mark.parametrize("row", _of("check"))
def test_a_reading(row: dict[str, Any]) -> None:
    found = check(_measured(row), _rules(row))
    assert found.section == row["section"]
    if "limit" in row:
        assert found.limit == row["limit"]
    if "verdict" in row:
        assert found.verdict == row["verdict"]
    if "passes" in row:
        assert _passes(found.verdict, found.operator, found.margin) is row["passes"]


def _passes(verdict: str, operator: str | None, margin: float | None) -> bool:
    if verdict in ("meets", "violates"):
        return verdict == "meets"
    assert verdict == "borderline" and margin is not None
    return margin <= 0 if operator == "<=" else margin >= 0


def _measured(row: dict[str, Any]) -> Measured:
    unit = row["unit"]
    return Measured(
        kind=given.kind_of(unit),
        value=row["value"],
        unit=unit,
        stage=row["stage"],
        item=row.get("item"),
        place=row.get("place"),
        agent=row.get("agent"),
        held_s=given.span(row["held"]) if "held" in row else None,
        ph=row.get("ph"),
        water=given.temperature(row["water"]) if "water" in row else None,
        hardness_ppm=row.get("hardness"),
        label_min=row.get("label_min"),
        label_max=row.get("label_max"),
        diameter=given.length(row["diameter"]) if "diameter" in row else None,
        says=frozenset(row.get("says", ())),
    )


@pytest.mark.parametrize("row", _of("cooling"))
def test_cooling(row: dict[str, Any]) -> None:
    started = at(row["started"]) if "started" in row else None
    points = [point(text) for text in row["points"]]
    found = judge(points, _rules(row), rule=row.get("rule", "cooked"), started=started)
    assert [stage.verdict for stage in found.stages] == row["stages"]
    if "left_min" in row:
        deadline = found.stages[0].deadline
        assert deadline is not None
        assert (deadline - points[-1].at).total_seconds() == row["left_min"] * 60


@pytest.mark.parametrize("row", _of("time"))
def test_time_control(row: dict[str, Any]) -> None:
    readings = [point(f"{row['value']} {row['unit']}@{row['now']}")] if "value" in row else []
    option = row.get("option", "four_hour")
    found = judge_time(at(row["out"]), at(row["now"]), _rules(row), option=option, readings=readings)
    assert found.verdict == ("meets" if row["passes"] else "violates")
    assert row["section"].startswith(found.section) or found.section.startswith(row["section"])
    if "discard_by" in row:
        assert found.discard_by == at(row["discard_by"])


@pytest.mark.parametrize("row", _of("date"))
def test_date_marks(row: dict[str, Any]) -> None:
    rules = _rules(row)
    if "parts" in row:
        assert last_day_of_mix(row["parts"], rules) == row["last"]
        return
    frozen = [(into, out) for into, out in row.get("frozen", ())]
    assert last_day(row["made"], rules, use_by=row.get("use_by"), frozen=frozen) == row["last"]


@pytest.mark.parametrize("row", _of("tcs"))
def test_tcs_tables(row: dict[str, Any]) -> None:
    found = by_table(_rules(row), packaged=row["packaged"], aw=row["aw"], ph=row["ph"])
    assert (found.answer, found.section) == (row["answer"], row["section"])
    assert found.treat_as_tcs is (row["answer"] != "not_tcs")


@pytest.mark.parametrize("row", _of("deadline"))
def test_deadlines(row: dict[str, Any]) -> None:
    found = correct_by(row["class"], datetime.fromisoformat(row["found"]), _rules(row))
    assert found.latest == datetime.fromisoformat(row["latest"])
    assert found.section == row["section"]


@pytest.mark.parametrize("row", _of("pair"))
def test_printed_pairs_stand_in_the_rules_and_are_compared_unconverted(row: dict[str, Any]) -> None:
    limit = _rules(row).limits[row["limit_row"]]
    assert dict(limit.values) == {"degF": row["degF"], "degC": row["degC"]}
    for unit in ("degF", "degC"):
        assert compare(row[unit], limit.operator, limit.values[unit]).passing
