"""The desk lists what the report would contradict itself in, as soon as the decisions say so."""

from __future__ import annotations

from tests.service.samples import Sample


def gaps(sample: Sample) -> dict[str, str]:
    return {item["subject"]: item["text"] for item in sample.desk()["missing"] if item["code"] == "gap"}


def test_a_confirmed_reading_out_of_its_limit_without_a_violation_is_listed(sample: Sample) -> None:
    assert "r1" not in gaps(sample)
    sample.decide("r1", "confirm")
    assert "no violation rests on it" in gaps(sample)["r1"]
    sample.decide("f1", "confirm")
    assert "r1" not in gaps(sample)


def test_temperatures_without_a_thermometer_check_are_listed(sample: Sample) -> None:
    sample.decide("r3", "confirm")
    assert "no thermometer check of the day" in gaps(sample)["visit"]
