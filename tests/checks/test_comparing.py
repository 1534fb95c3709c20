"""The comparison itself: each operator at, under and over its limit, and each decision rule.

Decision rules after ILAC-G8:09/2019 and JCGM 106:2012, both from memory; the figures are invented.
"""

from __future__ import annotations

import pytest

from extract.checks.comparing import compare, exact, reached
from shared.rules.model import DecisionRule


@pytest.mark.parametrize(
    ("value", "operator", "margin", "beyond", "outcome"),
    [
        (41, "<=", 0, 0, "meets"),
        (41.1, "<=", 0.1, 0.1, "violates"),
        (40.9, "<=", -0.1, -0.1, "meets"),
        (41, ">=", 0, 0, "meets"),
        (41.1, ">=", 0.1, -0.1, "meets"),
        (40.9, ">=", -0.1, 0.1, "violates"),
        # within 2 of it, on either side
        (43, "+-", 2, 0, "meets"),
        (43.1, "+-", 2.1, 0.1, "violates"),
        (42.9, "+-", 1.9, -0.1, "meets"),
        (39, "+-", -2, 0, "meets"),
        (38.9, "+-", -2.1, 0.1, "violates"),
        (39.1, "+-", -1.9, -0.1, "meets"),
    ],
)
def test_a_figure_stands_to_a_limit(
    value: float, operator: str, margin: float, beyond: float, outcome: str
) -> None:
    found = compare(value, operator, 41, tolerance=2)  # type: ignore[arg-type]
    assert (found.margin, found.beyond, found.outcome) == (margin, beyond, outcome)
    assert found.passing is (outcome == "meets")


def test_without_a_tolerance_only_the_figure_itself_is_within_it() -> None:
    assert compare(32, "+-", 32).outcome == "meets"
    assert compare(32.000001, "+-", 32).outcome == "violates"


@pytest.mark.parametrize(
    ("rule", "outcomes"),
    [
        # 38.9, 39, 39.1, 40.9, 41, 41.1, 42.9, 43, 43.1 against at most 41, known to within 2
        ("simple_acceptance", "M B B B B B B B V"),
        ("guarded_acceptance", "M M B B B V V V V"),
        ("guarded_rejection", "M M M M M B B B V"),
    ],
)
def test_a_band_is_unsure_as_the_decision_rule_says(rule: str, outcomes: str) -> None:
    values = (38.9, 39, 39.1, 40.9, 41, 41.1, 42.9, 43, 43.1)
    found = [compare(value, "<=", 41, band=2, rule=rule).outcome for value in values]  # type: ignore[arg-type]
    assert " ".join(outcome[0].upper() for outcome in found) == outcomes


@pytest.mark.parametrize("rule", ["simple_acceptance", "guarded_acceptance", "guarded_rejection"])
def test_a_thermometer_without_error_leaves_nothing_unsure(rule: str) -> None:
    for value, outcome in ((40.9, "meets"), (41, "meets"), (41.000001, "violates"), (41.1, "violates")):
        assert compare(value, "<=", 41, band=0, rule=rule).outcome == outcome  # type: ignore[arg-type]
        assert compare(value, "<=", 41, rule=rule).outcome == outcome  # type: ignore[arg-type]


def test_a_narrow_band_is_as_narrow_as_it_is() -> None:
    assert compare(41, "<=", 41, band=0.5).outcome == "borderline"
    assert compare(41.5, "<=", 41, band=0.5).outcome == "borderline"
    assert compare(41.6, "<=", 41, band=0.5).outcome == "violates"


def test_figures_are_told_apart_to_a_millionth() -> None:
    """0.1 and 0.2 have no exact binary form: their sum is 0.30000000000000004."""
    assert exact(0.1 + 0.2) == 0.3
    assert exact(0.0000014) == 0.000001 and exact(0.0000016) == 0.000002
    assert exact(0.12345649) == 0.123456


@pytest.mark.parametrize(
    ("rule", "verdicts"),
    [
        ("simple_acceptance", "meets meets meets borderline borderline violates"),
        ("guarded_acceptance", "meets meets borderline violates violates violates"),
        ("guarded_rejection", "meets meets meets borderline borderline violates"),
    ],
)
def test_what_falls_has_reached_its_target_at_or_under_it(rule: DecisionRule, verdicts: str) -> None:
    """70 °F, a thermometer of ± 2 °F; that food which cools goes on falling: common practice, no source."""
    found = [
        reached(compare(value, "<=", 70, band=2, rule=rule), rule) for value in (67.9, 68, 70, 70.1, 72, 72.1)
    ]
    assert " ".join(found) == verdicts
