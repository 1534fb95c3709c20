"""Rules that there are not: named and left out at intake, and no desk is closed by them."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

import capture.speech
from review_api.at_work import at_work
from review_api.jobs.workshop import Workshop
from review_api.service import create_app
from review_api.store import inspections
from tests.service.killing import HEARD
from tests.service.samples import Sample
from tests.service.test_api import SHORT

TYPOS = ["food_code_2020", "no/such/folder"]


@pytest.mark.parametrize("name", TYPOS)
def test_a_typo_in_the_rules_is_named_and_the_departments_own_are_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.setattr(capture.speech, "transcribe", lambda *_given, **_named: HEARD)
    monkeypatch.setattr(Workshop, "model", None)
    facts = (SHORT / "inspection.toml").read_text(encoding="utf-8")
    files = [
        ("files", ("note.flac", (SHORT / "note.flac").read_bytes())),
        ("files", ("inspection.toml", f'{facts}\nrules = "{name}"\n'.encode())),
    ]
    with at_work(tmp_path / "data") as here:
        client = TestClient(create_app(here), base_url="http://127.0.0.1:8470")
        at = f"/api/inspections/{client.post('/api/inspections', files=files).json()['id']}"
        until = time.monotonic() + 60
        while client.get(at).json()["state"] not in ("ready", "failed") and time.monotonic() < until:
            time.sleep(0.1)
        desk = client.get(at).json()
        client.close()
    assert (desk["state"], desk["rules"]) == ("ready", "food_code_2022")
    told = [problem for problem in desk["problems"] if "rules" in problem]
    assert len(told) == 1
    assert told[0].startswith("inspection.toml: visit.rules: ")
    assert "left out" in told[0]


def test_a_desk_whose_work_failed_is_shown_without_its_rules(sample: Sample) -> None:
    with sample.state.database.writing() as session:
        inspection = inspections.get(session, sample.inspection)
        inspection.rules, inspection.state = "food_code_2020", "failed"
        inspection.problems = ["the work stopped: no rules are called 'food_code_2020'"]
        session.add(inspection)
    desk = sample.desk()
    assert (desk["state"], desk["rules_title"]) == ("failed", "food_code_2020: cannot be used")
    assert desk["problems"] == ["the work stopped: no rules are called 'food_code_2020'"]
    assert desk["marks"] == []
    answer = sample.decide("r1", "confirm", revision=desk["revision"])
    assert (answer.status_code, "food_code_2020" in answer.json()["detail"]) == (422, True)
    assert sample.client.post(f"{sample.at}/again").status_code == 202
    with sample.state.database.reading() as session:
        assert inspections.get(session, sample.inspection).rules == "food_code_2022"
