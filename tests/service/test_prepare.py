"""What the pipeline makes ready for the desk, so that the first play and the first look do not wait."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from capture.intake import take_in
from review_api.jobs import steps
from review_api.jobs.workshop import Workshop
from review_api.store import inspections
from review_api.store.values import to_json
from tests.service.samples import Sample

SPOKEN = Path(__file__).parents[2] / "audio_fixtures" / "harbor_wren" / "back-rooms.m4a"
"""In a container that not every browser plays and seeks exactly."""


@pytest.fixture
def taken_in(sample: Sample, tmp_path: Path) -> tuple[Sample, str]:
    """The inspection with a real recording, taken in and not looked at yet."""
    handed = tmp_path / "handed"
    handed.mkdir()
    shutil.copy(SPOKEN, handed)
    found = take_in(handed, originals=sample.state.originals)
    with sample.state.database.writing() as session:
        steps.store_intake(
            session,
            sample.inspection,
            {
                "facts": to_json(found.facts),
                "rules": "food_code_2022",
                "recordings": [to_json(item) for item in found.recordings],
                "photos": [],
                "problems": [],
            },
        )
    return sample, found.recordings[0].sha256


def prepare(sample: Sample) -> None:
    state = sample.state
    steps.prepare(Workshop(state.folder, state.database, state.settings), sample.inspection)


def prepared(sample: Sample, sha256: str) -> dict[str, int]:
    """What is made of a recording, and when it was made."""
    derived = sample.state.folder.derived
    files = derived.rglob(f"{sha256}*")
    return {path.relative_to(derived).parts[0]: path.stat().st_mtime_ns for path in files}


def test_the_sound_and_its_wave_are_there_before_anybody_asks(taken_in: tuple[Sample, str]) -> None:
    sample, sha256 = taken_in
    prepare(sample)
    made = prepared(sample, sha256)
    assert set(made) == {"sound", "peaks"}
    answer = sample.client.get(f"/api/recordings/{sha256}/audio", headers={"Range": "bytes=0-3"})
    assert (answer.status_code, answer.content) == (206, b"fLaC")
    assert sample.client.get(f"/api/recordings/{sha256}/peaks").json()["peaks"]
    assert prepared(sample, sha256) == made


def test_a_recording_that_cannot_be_prepared_does_not_stop_the_work(sample: Sample) -> None:
    """The sample's recording has no file at all."""
    prepare(sample)
    with sample.state.database.reading() as session:
        assert inspections.get(session, sample.inspection).step == "preparing sound and photos for the desk"
