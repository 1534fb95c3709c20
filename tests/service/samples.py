"""A small inspection in the store, built by hand: three lines, three readings, two findings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

from fastapi.testclient import TestClient

from review_api.data_folder import DataFolder
from review_api.service import create_app
from review_api.settings import Settings
from review_api.state import State, open_state
from review_api.store import events, inspections, proposals
from review_api.store.tables import Photo, Recording
from review_api.store.values import to_json
from shared import types
from shared.types import (
    Check,
    Compliance,
    Context,
    Doubt,
    Evidence,
    Extraction,
    Finding,
    Question,
    Reading,
    Utterance,
)

ZONE = timezone(timedelta(hours=-5))
BEGAN = datetime(2026, 5, 4, 10, 40, tzinfo=ZONE)
SOUND, SHELF, SINK = "a" * 64, "b" * 64, "c" * 64

SAID = (
    Utterance("walk in cooler, sliced turkey forty eight point five", 2.0, 6.0, at=BEGAN, recording=SOUND),
    Utterance(
        "chicken off the grill, one fifty four", 20.0, 23.0, at=BEGAN + timedelta(seconds=20), recording=SOUND
    ),
    Utterance(
        "milk is at thirty eight, and hands are being washed", 40.0, 44.0,
        at=BEGAN + timedelta(seconds=40), recording=SOUND,
    ),
)  # fmt: skip


def a_reading(name: str, value: float, **changes: Any) -> Reading:
    """A cold-holding reading of the first line unless said otherwise."""
    given: dict[str, Any] = {
        "id": name, "kind": "temperature", "value": value, "unit": "degF", "said": f"{value:g}",
        "stage": "cold_holding", "item": "sliced turkey", "place": "walk-in cooler", "agent": None,
        "clock": None, "utterance": 0, "span": (30, 52), "start": 4.0, "end": 6.0,
        "check": Check("violates", "3-501.16(A)(2)", "<=", 41.0, "degF", value - 41, (), "over the limit"),
    }  # fmt: skip
    made = Reading(**{**given, **changes})
    context = Context(item=made.item, place=made.place, agent=made.agent)
    return made if "context" in changes else replace(made, context=context)


def an_extraction(**changes: Any) -> Extraction:
    """What the program proposes for `SAID`."""
    doubt = Doubt("passes_disagree", "it may be 154 or 164", (24, 37), ("164",), 21.0, 23.0)
    given: dict[str, Any] = {
        "rules": "food_code_2022",
        "readings": (
            a_reading("r1", 48.5),
            a_reading(
                "r2", 154.0, stage="cooking", item="chicken", place=None, utterance=1, span=(24, 37),
                start=21.0, end=23.0, doubts=(doubt,), alternatives=(164.0,),
                check=Check("violates", "3-401.11(A)(3)", ">=", 165.0, "degF", -11.0, (), "under the limit"),
            ),
            a_reading(
                "r3", 38.0, item="milk", utterance=2, span=(11, 23), start=41.0, end=42.0,
                check=Check("meets", "3-501.16(A)(2)", "<=", 41.0, "degF", -3.0, (), "within the limit"),
            ),
        ),
        "findings": (
            Finding(
                "f1", "3-501.16(A)(2)", "P", 22, "sliced turkey was at 48.5 °F", "walk-in cooler", BEGAN,
                "over 41 °F", item="sliced turkey", open_questions=("how long has it been there?",),
                evidence=(
                    Evidence(utterance=0, span=(0, 52)), Evidence(reading="r1"),
                    Evidence(photo=f"sha256:{SHELF}"),
                ),
            ),
            Finding(
                "f2", "3-401.11(A)(3)", "P", 18, "chicken was at 154 °F", "grill",
                BEGAN + timedelta(seconds=20), "under 165 °F", item="chicken",
                evidence=(Evidence(utterance=1, span=(0, 37)), Evidence(reading="r2")),
            ),
        ),
        "questions": (
            Question("is there a written plan?", (Evidence(utterance=2, span=(0, 4)),), ("3-501.19",)),
        ),
        "compliances": (Compliance(8, "IN", (Evidence(utterance=2, span=(25, 54)),)),),
    }  # fmt: skip
    return Extraction(**{**given, **changes})


def a_photo(sha256: str, name: str, at: datetime) -> types.Photo:
    return types.Photo(sha256, name, "image/jpeg", 800, 600, at, "exif", 300.0, "good", False)


@dataclass
class Sample:
    """A service with the small inspection in it."""

    state: State
    client: TestClient
    inspection: int

    @property
    def at(self) -> str:
        return f"/api/inspections/{self.inspection}"

    def close(self) -> None:
        self.client.close()
        self.state.jobs.close()
        self.state.database.close()

    def desk(self) -> dict[str, Any]:
        answer = self.client.get(self.at)
        assert answer.status_code == 200, answer.text
        whole: dict[str, Any] = answer.json()
        return whole

    def one(self, kind: str, name: str) -> dict[str, Any]:
        """One reading, finding, question, mark… of the desk."""
        key = "number" if kind == "marks" else "sha256" if kind == "photos" else "id"
        found: dict[str, Any] = next(item for item in self.desk()[kind] if item[key] == name)
        return found

    def revision(self) -> int:
        return int(self.desk()["revision"])

    def decide(self, subject: str, action: str, *, revision: int | None = None, **more: Any) -> Any:
        body = {"subject": subject, "action": action, **more}
        body["revision"] = self.revision() if revision is None else revision
        return self.client.post(f"{self.at}/decisions", json=body)

    def put(self, path: str, **body: Any) -> Any:
        return self.client.put(f"{self.at}/{path}", json={"revision": self.revision(), **body})

    def post(self, path: str, **body: Any) -> Any:
        return self.client.post(f"{self.at}/{path}", json={"revision": self.revision(), **body})

    def attach(self, finding: str, photo: str) -> Any:
        return self.client.put(f"{self.at}/findings/{finding}/photos/{photo}?revision={self.revision()}")

    def detach(self, finding: str, photo: str) -> Any:
        return self.client.delete(f"{self.at}/findings/{finding}/photos/{photo}?revision={self.revision()}")

    def propose(self, extraction: Extraction, said: tuple[Utterance, ...] = SAID) -> None:
        """Stores what a later run of the pipeline proposes."""
        with self.state.database.writing() as session:
            inspection = inspections.get(session, self.inspection)
            proposals.save_utterances(session, inspection, said)
            proposals.save_extraction(session, inspection, extraction, said)
            events.append(session, inspection, "proposals made", who=events.PROGRAM)


def opened(root: Path, inspection: int = 1) -> Sample:
    """The service over a data folder."""
    state = open_state(DataFolder(root), Settings())
    client = TestClient(create_app(state), base_url="http://127.0.0.1:8470")
    return Sample(state, client, inspection)


def a_sample(root: Path) -> Sample:
    """The service over a new data folder with the small inspection, ready to be reviewed."""
    state = open_state(DataFolder(root), Settings())
    recording = types.Recording(SOUND, "walk.flac", "audio/flac", 60.0, BEGAN, "container")
    with state.database.writing() as session:
        inspection, _ = inspections.create(session, content="d" * 64, rules="food_code_2022")
        inspection.facts = to_json(
            types.Facts(establishment="The Copper Ladle", inspector="Ines Calloway", time_in=BEGAN)
        )
        inspection.state = "ready"
        session.add(
            Recording(
                inspection_id=inspection.key, sha256=SOUND, position=0, content=to_json(recording),
                not_understood=[{"start": 50.0, "end": 52.0}],
            )
        )  # fmt: skip
        for position, photo in enumerate(
            (a_photo(SHELF, "shelf.jpg", BEGAN), a_photo(SINK, "sink.jpg", BEGAN + timedelta(seconds=90)))
        ):
            session.add(
                Photo(
                    inspection_id=inspection.key,
                    sha256=photo.sha256,
                    position=position,
                    content=to_json(photo),
                )
            )
        events.append(session, inspection, "handed in", who=events.PROGRAM)
        key = inspection.key
    state.jobs.close()
    state.database.close()
    sample = opened(root, key)
    sample.propose(an_extraction())
    return sample
