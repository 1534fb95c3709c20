"""The service as its page uses it: taking in, watching, listening, looking, searching."""

from __future__ import annotations

import io
import json
import time
import wave
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from PIL import Image

import capture.speech
from review_api.at_work import at_work
from review_api.handed_in import receive
from review_api.jobs.workshop import Workshop
from review_api.service import create_app
from tests.service.killing import HEARD
from tests.service.samples import SHELF, Sample

SHORT = Path(__file__).parents[2] / "audio_fixtures" / "short"
FILES = sorted(path for path in SHORT.iterdir() if path.suffix != ".json")


@dataclass
class Taken:
    """The short inspection, handed in through the interface and worked on; its words are fixed."""

    client: TestClient
    at: str
    first: dict[str, Any]

    def desk(self) -> dict[str, Any]:
        whole: dict[str, Any] = self.client.get(self.at).json()
        return whole


def parts(*more: tuple[str, bytes]) -> list[tuple[str, tuple[str, bytes]]]:
    return [("files", part) for part in (*((path.name, path.read_bytes()) for path in FILES), *more)]


@pytest.fixture(scope="module")
def taken(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Taken]:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(capture.speech, "transcribe", lambda *_given, **_named: HEARD)
        patched.setattr(Workshop, "model", None)
        with at_work(tmp_path_factory.mktemp("taken") / "data") as here:
            client = TestClient(create_app(here), base_url="http://127.0.0.1:8470")
            answer = client.post("/api/inspections", files=parts())
            assert answer.status_code == 202, answer.text
            at = f"/api/inspections/{answer.json()['id']}"
            until = time.monotonic() + 60
            while client.get(at).json()["state"] not in ("ready", "failed") and time.monotonic() < until:
                time.sleep(0.1)
            yield Taken(client, at, answer.json())


def test_what_is_handed_in_comes_to_the_desk(taken: Taken) -> None:
    desk = taken.desk()
    assert (desk["state"], desk["problems"]) == ("ready", [])
    assert [item["name"] for item in desk["recordings"]] == ["note.flac"]
    assert [item["text"] for item in desk["utterances"]] == [item.text for item in HEARD.utterances]
    assert desk["not_understood"][0]["start"] == 13.0
    assert 48 in [item["value"] for item in desk["readings"]]


def test_a_report_falls_due_with_the_visit(taken: Taken) -> None:
    due = taken.client.get("/api/due").json()
    assert [(item["what"], item["number"]) for item in due] == [
        ("report to hand over", taken.first["number"])
    ]
    assert (
        taken.client.get("/api/inspections")
        .json()["inspections"][0]["due"]
        .startswith("report to hand over 2026-10-")
    )


def test_the_same_files_again_are_the_same_inspection(taken: Taken) -> None:
    again = taken.client.post("/api/inspections", files=parts())
    assert again.json() == {**taken.first, "known": True}
    assert taken.client.get("/api/inspections").json()["total"] == 1


def test_progress_is_told_until_it_is_done(taken: Taken) -> None:
    with taken.client.stream("GET", f"{taken.at}/progress") as answer:
        assert answer.headers["content-type"].startswith("text/event-stream")
        events = [line for line in answer.iter_lines() if line.startswith("data: ")]
    last = json.loads(events[-1].removeprefix("data: "))
    assert (last["state"], last["part"]) == ("ready", 1.0)


def test_a_clip_has_exactly_the_seconds_asked_for(taken: Taken) -> None:
    sha256 = taken.desk()["recordings"][0]["sha256"]
    answer = taken.client.get(f"/api/recordings/{sha256}/clip?start=1.25&end=3")
    with wave.open(io.BytesIO(answer.content)) as sound:
        assert sound.getnframes() / sound.getframerate() == pytest.approx(1.75, abs=0.001)


def test_sound_is_played_by_ranges(taken: Taken) -> None:
    sha256 = taken.desk()["recordings"][0]["sha256"]
    answer = taken.client.get(f"/api/recordings/{sha256}/audio", headers={"Range": "bytes=0-3"})
    assert (answer.status_code, answer.content) == (206, b"fLaC")
    peaks = taken.client.get(f"/api/recordings/{sha256}/peaks").json()
    assert len(peaks["peaks"]) == pytest.approx(peaks["duration_s"] * peaks["per_second"], abs=2)
    assert 0 < max(peaks["peaks"]) <= 1


def test_photos_come_without_metadata_and_with_what_was_covered(taken: Taken) -> None:
    photo = taken.desk()["photos"][0]["sha256"]
    revision = taken.desk()["revision"]
    plain = Image.open(io.BytesIO(taken.client.get(f"/api/photos/{photo}?size=thumb").content))
    assert (max(plain.size) <= 320, dict(plain.getexif())) == (True, {})
    covered = {"x": 0, "y": 0, "width": 0.5, "height": 0.5}
    arrow = {"kind": "arrow", "x": 0.9, "y": 0.9, "to_x": 0.7, "to_y": 0.7}
    body = {"revision": revision, "covers": [covered], "drawn": [arrow]}
    assert taken.client.put(f"{taken.at}/photos/{photo}", json=body).status_code == 200
    answer = taken.client.get(f"/api/photos/{photo}?size=page&inspection={taken.first['id']}")
    leaving = Image.open(io.BytesIO(answer.content))
    colour = leaving.getpixel((leaving.width // 4, leaving.height // 4))
    assert isinstance(colour, tuple)
    assert max(colour) < 8  # black, but for what JPEG does
    untouched = Image.open(io.BytesIO(taken.client.get(f"/api/photos/{photo}?size=page").content))
    assert untouched.getpixel((untouched.width // 4, untouched.height // 4)) != colour


def test_words_are_found_in_transcripts_and_findings(taken: Taken) -> None:
    hits = taken.client.get("/api/search?q=paper tow").json()
    assert {hit["kind"] for hit in hits} >= {"utterance"}
    assert "\u2068paper\u2069" in next(hit["snippet"] for hit in hits if hit["kind"] == "utterance")
    assert taken.client.get('/api/search?q="*(').json() == []
    assert taken.client.get("/api/search?q=unicorn").json() == []


def test_the_pipeline_runs_again_with_what_was_learned(taken: Taken) -> None:
    kept = taken.client.post(
        "/api/vocabulary", json={"heard": "hand sink", "meant": "prep hand sink", "kind": "place"}
    )
    assert kept.status_code == 201
    assert taken.client.post(f"{taken.at}/again").status_code == 202
    until = time.monotonic() + 60
    while taken.desk()["state"] != "ready" and time.monotonic() < until:
        time.sleep(0.1)
    said = taken.desk()["utterances"][1]
    assert (said["text"], said["heard"]) == (
        "the prep hand sink has no paper towels", "the hand sink has no paper towels",
    )  # fmt: skip


def test_a_hand_in_of_nothing_usable_says_so(taken: Taken) -> None:
    answer = taken.client.post("/api/inspections", files=[("files", ("notes.txt", b"milk, eggs"))])
    assert answer.status_code == 202
    at = f"/api/inspections/{answer.json()['id']}"
    until = time.monotonic() + 60
    while taken.client.get(at).json()["state"] not in ("ready", "failed") and time.monotonic() < until:
        time.sleep(0.1)
    desk = taken.client.get(at).json()
    assert desk["state"] == "failed"
    assert "notes.txt" in desk["problems"][0]


class Upload:
    """A file that comes in, as a form gives it."""

    def __init__(self, name: str) -> None:
        self.filename = name
        self.file = io.BytesIO(name.encode())


@pytest.mark.parametrize(
    "name", ["../../etc/passwd", "..", "/abs/olute.flac", "a\\b.flac", "", "x" * 400 + ".flac"]
)
def test_names_of_files_stay_in_the_inbox(tmp_path: Path, name: str) -> None:
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    folder = receive([Upload(name)], {}, inbox=inbox)
    assert len([path for path in folder.rglob("*") if path.is_file()]) == 1
    assert folder.parent == inbox
    assert list(tmp_path.iterdir()) == [inbox]


def test_files_keep_their_folders_and_each_its_own_date(tmp_path: Path) -> None:
    names = ["phone/IMG_1.jpg", "camera/IMG_1.jpg", "camera/IMG_1.jpg", "notes", "notes/one.wav"]
    dates = {name: 1_700_000_000.0 + n for n, name in enumerate(names)}
    folder = receive([Upload(name) for name in names], dates, inbox=tmp_path)
    kept = {
        path.relative_to(folder).as_posix(): path.stat().st_mtime
        for path in folder.rglob("*")
        if path.is_file()
    }
    assert set(kept) == {
        "phone/IMG_1.jpg", "camera/IMG_1.jpg", "camera/IMG_1-2.jpg", "notes", "notes-2/one.wav",
    }  # fmt: skip
    assert kept["phone/IMG_1.jpg"] == dates["phone/IMG_1.jpg"]
    assert kept["camera/IMG_1.jpg"] == dates["camera/IMG_1.jpg"]


def test_the_list_shows_what_is_open(sample: Sample) -> None:
    listed = sample.client.get("/api/inspections").json()
    assert listed["total"] == 1
    line = listed["inspections"][0]
    assert (line["establishment"], line["findings"], line["undecided"]) == ("The Copper Ladle", 2, 4)
    sample.decide("f1", "confirm")
    sample.decide("f2", "reject", reason="no")
    line = sample.client.get("/api/inspections").json()["inspections"][0]
    assert (line["findings"], line["undecided"]) == (1, 2)


def test_edited_findings_are_found_by_their_new_words(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"what": "turkey in the pantry"})
    hits = sample.client.get("/api/search?q=pantry").json()
    assert [(hit["kind"], hit["subject"]) for hit in hits] == [("finding", "f1")]
    sample.post("undo")
    assert sample.client.get("/api/search?q=pantry").json() == []


def test_vocabulary_is_kept_once_and_forgotten(sample: Sample) -> None:
    word = {"heard": "quot", "meant": "quat", "kind": "word"}
    first = sample.client.post("/api/vocabulary", json=word).json()
    assert sample.client.post("/api/vocabulary", json=word).json()["id"] == first["id"]
    assert [item["meant"] for item in sample.client.get("/api/vocabulary").json()] == ["quat"]
    assert sample.client.delete(f"/api/vocabulary/{first['id']}").status_code == 204
    assert sample.client.delete(f"/api/vocabulary/{first['id']}").status_code == 404


def test_rules_are_listed_to_choose_from(sample: Sample) -> None:
    assert "food_code_2022" in sample.client.get("/api/rules").json()
    rules = sample.client.get("/api/rules/food_code_2022").json()
    assert len(rules["provisions"]) >= 200
    assert sample.client.get("/api/rules/nowhere").status_code == 404


def test_media_of_unknown_originals_is_not_found(sample: Sample) -> None:
    for path in (
        f"recordings/{'0' * 64}/audio",
        f"recordings/{'0' * 64}/clip?start=0&end=1",
        f"photos/{'0' * 64}",
    ):
        answer = sample.client.get(f"/api/{path}")
        assert (answer.status_code, answer.json()["code"]) == (404, "not_found")
    missing = sample.client.get(f"/api/photos/{SHELF}")  # known, but its file is not there
    assert (missing.status_code, missing.json()["code"]) == (422, "not_valid")
