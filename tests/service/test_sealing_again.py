"""A seal that could not be made at once: nothing is lost or held up by it, and it can be sent again."""

from __future__ import annotations

import errno
import logging
from collections.abc import Callable
from typing import Any

import pytest
from sqlmodel import select

from review_api import at_work, closing
from review_api.store.tables import Due, Sealing
from tests.service.samples import Sample
from tests.service.test_closing import AMENDMENT, SIGNED, ready, sealed

REVISITS = [
    ("2026-05-08T12:00:00-05:00", "2026-05-08"),  # a Friday
    ("2026-05-09T12:00:00-05:00", "2026-05-11"),  # a Saturday
    ("2026-05-25T12:00:00-05:00", "2026-05-26"),  # Memorial Day
]


@pytest.mark.parametrize(("revisit", "due"), REVISITS)
def test_a_revisit_falls_due_on_that_day_or_the_next_business_day(
    sample: Sample, revisit: str, due: str
) -> None:
    sample.put("facts", revisit=revisit)
    sealed(sample)
    found = {item["what"]: item for item in sample.client.get("/api/due").json()}
    assert found["revisit"]["on"].startswith(f"{due}T17:00")


def test_nothing_is_signed_when_its_clocks_cannot_be_worked_out(
    sample: Sample, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: Any, **__: Any) -> Any:
        raise closing.NotValid("no business day within a year")

    ready(sample)
    monkeypatch.setattr(closing, "clocks", never)
    assert sample.post("closing", **SIGNED).status_code == 422
    assert sample.desk()["state"] == "ready"
    with sample.state.database.reading() as session:
        assert session.exec(select(Sealing)).all() == []


def full(*_: Any, **__: Any) -> Any:
    """Stands for writing on a disk without room."""
    raise OSError(errno.ENOSPC, "No space left on device")


def test_a_report_whose_seal_failed_is_sent_again(sample: Sample, monkeypatch: pytest.MonkeyPatch) -> None:
    ready(sample)
    revision = sample.revision()
    monkeypatch.setattr(closing, "close", full)
    failed = sample.post("closing", **SIGNED)
    assert (failed.status_code, failed.json()["code"]) == (503, "not_sealed")
    assert "No space left" in failed.json()["detail"]
    assert "kept as it was signed" in failed.json()["detail"]
    monkeypatch.undo()
    again = sample.client.post(f"{sample.at}/closing", json={**SIGNED, "revision": revision})
    assert again.status_code == 201
    assert sample.desk()["state"] == "closed"
    assert sample.client.get(f"{sample.at}/seal").json()["whole"]


def test_an_amendment_whose_seal_failed_is_sent_again(
    sample: Sample, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = sealed(sample)["number"]
    revision = sample.revision()
    monkeypatch.setattr(closing, "close_amendment", full)
    assert sample.post("amendments", **AMENDMENT).status_code == 503
    monkeypatch.undo()
    again = sample.client.post(f"{sample.at}/amendments", json={**AMENDMENT, "revision": revision})
    assert (again.status_code, again.json()["number"]) == (201, f"{number}-A1")
    assert [row["kind"] for row in sample.desk()["reports"]] == ["sealed", "amendment"]
    assert sample.client.get(f"{sample.at}/seal").json()["whole"]


OTHERS: list[tuple[str, str, Callable[[Sample], Any], dict[str, Any]]] = [
    ("close", "closing", ready, {**SIGNED, "kind": "refused", "reason": "they were called away"}),
    ("close_amendment", "amendments", sealed, {**AMENDMENT, "why": "another reason"}),
]


@pytest.mark.parametrize(("step", "path", "before", "other"), OTHERS, ids=["report", "amendment"])
def test_what_was_signed_first_is_what_is_sealed(
    sample: Sample,
    monkeypatch: pytest.MonkeyPatch,
    step: str,
    path: str,
    before: Callable[[Sample], Any],
    other: dict[str, Any],
) -> None:
    before(sample)
    first = SIGNED if path == "closing" else AMENDMENT
    monkeypatch.setattr(closing, step, full)
    sample.post(path, **first)
    monkeypatch.undo()
    answer = sample.post(path, **other)
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")
    assert "sealed now as it was signed" in answer.json()["detail"]
    record = sample.client.get(f"{sample.at}/report.json").json()
    assert record.get("why") == first.get("why")
    assert sample.client.get(f"{sample.at}/seal").json()["whole"]


def test_one_document_that_cannot_be_sealed_holds_up_no_other_and_no_start(
    sample: Sample, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    ready(sample)
    monkeypatch.setattr(closing, "close", full)
    sample.post("closing", **SIGNED)
    with caplog.at_level(logging.ERROR):
        assert list(at_work.finish_all(sample.state)) == []
    assert f"{sample.desk()['number']} was signed and still cannot be sealed" in caplog.text
    monkeypatch.undo()
    assert list(at_work.finish_all(sample.state)) == [sample.desk()["number"]]
    with sample.state.database.reading() as session:
        assert session.exec(select(Due).where(Due.what == "report to hand over")).first() is not None


def test_asking_for_the_certificate_makes_no_key(sample: Sample) -> None:
    key = sample.state.folder.root / "key"
    for path in key.iterdir():
        path.unlink()
    assert sample.client.get("/api/certificate.pem").status_code == 404
    assert sample.client.get(f"{sample.at}/seal").json()["whole"] is False
    assert list(key.iterdir()) == []
    assert "Copy it now to a safe place" in sealed(sample)["warnings"][0]
    assert sample.client.get("/api/certificate.pem").text.startswith("-----BEGIN CERTIFICATE-----")


def test_a_key_that_is_gone_is_named_and_not_made_anew_by_looking(sample: Sample) -> None:
    sealed(sample)
    for path in (sample.state.folder.root / "key").iterdir():
        path.unlink()
    answer = sample.client.get(f"{sample.at}/seal").json()
    assert not answer["whole"]
    assert "put their copy back" in answer["disagreements"][0]
    assert list((sample.state.folder.root / "key").iterdir()) == []
