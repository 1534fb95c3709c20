"""The whole path with the real speech model: what was said is found or doubted, nothing is invented."""

from __future__ import annotations

import json
from typing import Any

import pikepdf
import pytest

from tests.conftest import SHIPPED, Processed
from tests.end_to_end.comparing import Comparison, compare

pytestmark = pytest.mark.slow

TRUTH: dict[str, Any] = json.loads((SHIPPED / "expected.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def side_by_side(processed: Processed) -> Comparison:
    return compare(SHIPPED, processed.results)


def _name(row: dict[str, Any]) -> str:
    return f"{row.get('item')} {row.get('value', row.get('provision'))}".replace(" ", "_")


@pytest.mark.parametrize("wanted", TRUTH["readings"], ids=_name)
def test_every_spoken_value_is_found_or_doubted(side_by_side: Comparison, wanted: dict[str, Any]) -> None:
    assert side_by_side.is_found(wanted) or side_by_side.is_doubted(wanted)


def test_no_value_is_invented(side_by_side: Comparison) -> None:
    """A reading that nobody said may only stand with a doubt on it."""
    invented = [
        (reading["value"], reading["unit"], reading["said"])
        for reading in side_by_side.results["readings"]
        if not side_by_side.is_said(reading) and not reading["doubts"]
    ]
    assert invented == []


@pytest.mark.parametrize("wanted", TRUTH["findings"], ids=_name)
def test_every_violation_is_proposed(side_by_side: Comparison, wanted: dict[str, Any]) -> None:
    found = side_by_side.proposes(wanted)
    assert found is not None, [item["provision"] for item in side_by_side.results["findings"]]
    assert found["form_item"] == wanted["form_item"]
    assert found["class"] in (wanted["class"], *wanted.get("accept_class", ()))


def test_nothing_is_proposed_where_all_was_in_order(side_by_side: Comparison) -> None:
    false = [
        (finding["provision"], finding["what"])
        for finding in side_by_side.results["findings"]
        if not side_by_side.is_true(finding)
    ]
    assert false == []


@pytest.mark.parametrize("wanted", TRUTH["findings"], ids=_name)
def test_corrected_on_site_and_repeat_are_told(side_by_side: Comparison, wanted: dict[str, Any]) -> None:
    found = side_by_side.proposes(wanted)
    assert found is not None
    assert (found["corrected_on_site"], found["repeat"]) == (wanted["corrected_on_site"], wanted["repeat"])


def test_the_results_have_the_stable_form(processed: Processed) -> None:
    results = processed.results
    assert results["schema"] == "probeside/1"
    assert {"readings", "findings", "withdrawn", "recordings", "photos", "utterances"} <= results.keys()
    assert len(results["photos"]) == len(TRUTH["photos"])
    assert len(results["recordings"]) == len(TRUTH["recordings"])


def test_the_draft_cites_nothing_that_nobody_decided(processed: Processed) -> None:
    record = json.loads((processed.out / "draft-report.json").read_text(encoding="utf-8"))
    assert (record["violations"], record["readings"], record["photos"]) == ([], [], [])
    assert len(record["left_open"]) > len(processed.results["findings"])
    with pikepdf.open(processed.out / "draft-report.pdf") as pdf:
        assert len(pdf.pages) > 0
    assert "<html" in (processed.out / "draft-report.html").read_text(encoding="utf-8")
