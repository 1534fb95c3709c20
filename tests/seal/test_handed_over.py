"""The hand-over record: complete or refused, and told in the log."""

from __future__ import annotations

from datetime import datetime

import pytest
from pydantic import ValidationError

from review_api.log import follow, verify
from review_api.seal.handed_over import HandedOver
from tests.report.samples import at

GIVEN = {
    "number": "TM-2026-0107",
    "sha256": "0" * 64,
    "how": "printed",
    "to_whom": "Pilar Muñoz Åström",
    "at": at("12:40"),
    "by": "R. Okonjo-Vale",
}


def test_it_tells_the_log_what_was_given_to_whom_how_and_when() -> None:
    entry = follow(
        None, HandedOver.model_validate(GIVEN).event(inspection="TM-2026-0107", recorded=at("12:41"))
    )
    assert verify([entry]) == ()
    about = entry.event["about"]
    assert about["how"] == "printed"
    assert about["to_whom"] == "Pilar Muñoz Åström"
    assert about["at"] == "2026-05-04T12:40:00-05:00"


@pytest.mark.parametrize(
    ("name", "value"),
    [("to_whom", " "), ("how", "shouted"), ("sha256", "abc"), ("at", datetime(2026, 5, 4)), ("by", "")],  # noqa: DTZ001
)
def test_what_is_incomplete_is_refused(name: str, value: object) -> None:
    with pytest.raises(ValidationError, match=name):
        HandedOver.model_validate({**GIVEN, name: value})
