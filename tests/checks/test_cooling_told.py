"""Food that cooled over a night, as it is told. FDA Food Code 2022, 3-501.14, seen in Delaware's text."""

from __future__ import annotations

import pytest

from extract.extraction import extract
from shared.rules import load
from shared.types import Utterance
from tests.checks.making import at

RULES = load("food_code_2022")


@pytest.mark.parametrize(
    "said",
    [
        "chili cooling. 45 at 09:00, it was 135 at 20:00",
        "chili cooling. it was 135 at 8 pm, and it's 45 at 9 am",
    ],
)
def test_a_night_that_was_told_is_thirteen_hours(said: str) -> None:
    """41 °F is due within 6 hours (3-501.14(A)(2))."""
    (cold,) = [r for r in extract([Utterance(said, at=at("09:00"))], rules=RULES).readings if r.value == 45]
    assert cold.check is not None and cold.check.verdict == "violates"
    assert cold.check.why.startswith("45 °F after 13 hours")
