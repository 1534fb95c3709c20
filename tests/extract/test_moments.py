"""Moments: what is said within a minute about one thing, gone through by topic and by section of the rules.

Written by ten hands without a view of the rules; a moment is one to three utterances, in the form of the
dictations (`people/`). `unread_*` were not read by who wrote the rules: do not read their errors, look at the
shares only. Source of the truth: common practice, no source; sections and limits by the FDA Food Code 2022.
Shares are floors a little under what was measured (docs/extraction.md).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from extract.bench.scoring import Score
from tests.extract.said import scored

FOLDER = Path(__file__).with_name("moments")


@pytest.fixture(scope="module")
def conditions() -> Score:
    return scored(FOLDER, "unread_people", "unread_cooking", "unread_equipment", "unread_rooms")


@pytest.fixture(scope="module")
def of_a_year() -> Score:
    return scored(FOLDER, "unread_measured", "unread_seen")


def test_what_occurs_in_a_year_is_understood(of_a_year: Score) -> None:
    assert of_a_year.rates("values")[2] >= 94
    assert of_a_year.rates("whole readings")[2] >= 84
    assert of_a_year.section_rates()[2] >= 85
    assert of_a_year.unsupported == 0


def test_conditions_of_every_section_are_found_in_everyday_words(conditions: Score) -> None:
    assert conditions.section_rates()[2] >= 78


def test_most_moments_without_a_violation_are_left_clean(conditions: Score) -> None:
    assert conditions.left_clean >= 0.85 * conditions.without
