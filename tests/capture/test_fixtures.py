"""The shipped inspections are what their `expected.json` says they are, as far as taking them in can tell."""

from __future__ import annotations

import json
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from capture.intake import Intake, take_in
from capture.originals import Originals
from capture.photos import BLURRED_BELOW

FIXTURES = Path(__file__).resolve().parents[2] / "audio_fixtures"
INSPECTIONS = ("harbor_wren", "short")
MOST_BYTES = 20_000_000


def truth(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((FIXTURES / name / "expected.json").read_text("utf-8"))
    return found


Taken = tuple[Intake, dict[str, Any]]


@pytest.fixture(scope="module", params=INSPECTIONS)
def taken(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Taken:
    originals = Originals(tmp_path_factory.mktemp("originals"))
    return take_in(FIXTURES / request.param, originals=originals), truth(request.param)


def test_recordings_begin_when_they_truly_began(taken: Taken) -> None:
    intake, expected = taken
    found = {item.name: item for item in intake.recordings}
    assert list(found) == [item["file"] for item in expected["recordings"]]
    for item in expected["recordings"]:
        recording = found[item["file"]]
        assert recording.started == datetime.fromisoformat(item["started"])
        assert recording.started_from == item["started_from"]
        assert recording.device == item["device"]
        assert recording.duration_s == pytest.approx(item["length_s"], abs=0.1)


def test_photos_are_timed_turned_and_judged(taken: Taken) -> None:
    intake, expected = taken
    found = {item.name: item for item in intake.photos}
    assert list(found) == [item["file"] for item in expected["photos"]]
    for item in expected["photos"]:
        photo = found[item["file"]]
        assert photo.taken == datetime.fromisoformat(item["taken"])
        assert photo.taken_from == item["taken_from"]
        assert photo.device == item["device"]
        assert [photo.width, photo.height] == item["upright"]
        assert photo.exposure == item["exposure"]
        assert photo.has_place is item["has_place"]
        if item["sharp"] is not None:
            assert (photo.sharpness >= BLURRED_BELOW) is item["sharp"]


def test_only_the_blurred_and_the_dark_photo_are_remarked_on(taken: Taken) -> None:
    intake, expected = taken
    poor = [item["file"] for item in expected["photos"] if item["sharp"] is not True]
    assert [problem.split(":")[0] for problem in intake.problems] == poor


@pytest.mark.parametrize("name", INSPECTIONS)
def test_each_photo_is_taken_within_half_a_minute_of_what_it_shows(name: str) -> None:
    expected = truth(name)
    started = {item["file"]: datetime.fromisoformat(item["started"]) for item in expected["recordings"]}
    for photo in expected["photos"]:
        said = expected["utterances"][photo["near"]]
        since = (datetime.fromisoformat(photo["taken"]) - started[said["recording"]]).total_seconds()
        assert abs(since - said["at_s"]) < 30


@pytest.mark.parametrize("name", INSPECTIONS)
def test_every_utterance_is_spoken_at_its_second_and_none_over_another(name: str) -> None:
    expected = truth(name)
    timing = json.loads((FIXTURES / name / "timing.json").read_text("utf-8"))
    spoken = [row for rows in timing.values() for row in rows]
    assert [row["n"] for row in spoken] == [item["n"] for item in expected["utterances"]]
    assert [row["start"] for row in spoken] == [item["at_s"] for item in expected["utterances"]]
    for rows in timing.values():
        assert all(row["start"] < row["end"] for row in rows)
        assert all(earlier["end"] <= later["start"] for earlier, later in pairwise(rows))


@pytest.mark.parametrize("name", INSPECTIONS)
def test_the_truth_refers_only_to_what_is_there(name: str) -> None:
    expected = truth(name)
    numbers = set(range(len(expected["utterances"])))
    assert [item["n"] for item in expected["utterances"]] == sorted(numbers)
    for part in ("readings", "withdrawn", "not_readings", "not_proposed"):
        assert {item["utterance"] for item in expected[part]} <= numbers
    read = {(item["utterance"], item["value"]) for item in expected["readings"]}
    for finding in expected["findings"]:
        assert set(finding["utterances"]) <= numbers
        assert all(any((n, value) in read for n in finding["utterances"]) for value in finding["readings"])
    silent = {item["utterance"] for item in expected["not_proposed"]}
    assert not silent & {n for finding in expected["findings"] for n in finding["utterances"]}


def test_the_shipped_inspection_is_as_rich_as_it_must_be() -> None:
    expected = truth("harbor_wren")
    assert len(expected["utterances"]) >= 34
    assert {item["speaker"] for item in expected["utterances"]} == {"inspector", "operator"}
    assert max(item["length_s"] for item in expected["recordings"]) >= 300
    assert len(expected["recordings"]) == 2
    assert len(expected["photos"]) >= 8
    assert {Path(item["file"]).suffix for item in expected["photos"]} == {".jpg", ".png", ".heic"}
    assert any(item["has_place"] for item in expected["photos"])
    assert any(item.get("orientation", 1) != 1 for item in expected["photos"])
    assert any(item["sharp"] is False for item in expected["photos"])
    assert any(item["corrected_on_site"] for item in expected["findings"])
    assert any(item["repeat"] for item in expected["findings"])
    stages = {item["stage"] for item in expected["readings"]}
    assert {"thermometer_check", "sanitizer", "cooling", "cold_holding", "hot_holding", "cooking"} <= stages
    assert {item["unit"] for item in expected["readings"]} >= {"degF", "degC", "ppm", "inch", "foot_candle"}


def test_the_fixtures_stay_small() -> None:
    files = [
        path for name in (*INSPECTIONS, "make") for path in (FIXTURES / name).rglob("*") if path.is_file()
    ]
    assert sum(path.stat().st_size for path in files) < 8_000_000
    assert sum(path.stat().st_size for path in FIXTURES.rglob("*") if path.is_file()) < MOST_BYTES
