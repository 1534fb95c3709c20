"""Signing, sealing, amending, handing over: nothing changes afterwards but in the open."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
import sqlalchemy as sa

from review_api import closing
from review_api.seal.ceremony import SEALED
from review_api.store import events, inspections
from tests.service.conftest import Open
from tests.service.samples import SHELF, SINK, Sample

INSPECTOR = {"name": "Ines Calloway", "role": "inspector"}
SIGNED = {
    "kind": "signed",
    "signature": {"name": "Tomas Birchwood", "strokes": [[[0.1, 0.5], [0.5, 0.4], [0.9, 0.6]]]},
    "inspector_signature": INSPECTOR,
    "left_open": "the rest is looked at on the revisit",
}
AMENDMENT = {
    "changes": [{"where": "violation 1, where", "was": "walk-in cooler", "now": "reach-in cooler"}],
    "why": "the wrong cooler was named",
    "approved_by": "M. Stroud, supervisor",
    "approved": "2026-05-05T09:00:00-05:00",
    "operator_told": "2026-05-05T10:00:00-05:00",
    "operator_told_who": "Tomas Birchwood",
    "operator_told_how": "by telephone",
    "inspector_signature": INSPECTOR,
}


def ready(sample: Sample) -> None:
    """Decides what a closed report needs no photo files for."""
    sample.detach("f1", SHELF)
    sample.decide("f1", "confirm")
    sample.decide("f2", "reject", reason="the probe was not in the thickest part")


def sealed(sample: Sample) -> dict[str, Any]:
    ready(sample)
    answer = sample.post("closing", **SIGNED)
    assert answer.status_code == 201, answer.text
    whole: dict[str, Any] = answer.json()
    return whole


def handed_over(sample: Sample) -> Any:
    return sample.client.post(
        f"{sample.at}/hand-overs", json={"how": "in person", "to_whom": "Tomas Birchwood"}
    )


def test_what_is_missing_is_listed_before_it_is_closed(sample: Sample) -> None:
    ready(sample)
    answer = sample.post("closing", **{**SIGNED, "left_open": ""})
    assert (answer.status_code, answer.json()["code"]) == (422, "lacks")
    asked = "finding 3-501.16(A)(2), sliced turkey was at 48.5 °F: how long has it been there?"
    assert asked in answer.json()["missing"]
    assert sample.desk()["state"] == "ready"


INCOMPLETE = [
    ({"signature": None}, "signature"),
    ({"kind": "refused"}, "reason"),
    ({"kind": "nobody_available"}, "reason"),
]


@pytest.mark.parametrize(("change", "where"), INCOMPLETE)
def test_a_receipt_is_complete(sample: Sample, change: dict[str, Any], where: str) -> None:
    ready(sample)
    answer = sample.post("closing", **{**SIGNED, **change})
    assert (answer.status_code, answer.json()["where"]) == (422, where)


def test_what_was_signed_is_what_was_seen(sample: Sample) -> None:
    seen = sample.revision()
    ready(sample)
    answer = sample.client.post(f"{sample.at}/closing", json={**SIGNED, "revision": seen})
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")


@pytest.mark.parametrize("kind", ["signed", "refused"])
def test_the_sealed_report_is_whole_and_says_so(sample: Sample, kind: str) -> None:
    ready(sample)
    reason = "" if kind == "signed" else "they were called away"
    answer = sample.post("closing", **{**SIGNED, "kind": kind, "reason": reason})
    assert answer.status_code == 201
    desk = sample.desk()
    assert (desk["state"], desk["reports"][-1]["kind"]) == ("closed", "sealed")
    assert sample.client.get(f"{sample.at}/seal").json() == {
        "whole": True, "disagreements": [], "documents": [desk["number"]],
    }  # fmt: skip
    record = sample.client.get(f"{sample.at}/report.json").json()
    assert record["acknowledgement"]["kind"] == kind
    assert record["left_open"][-1] == "Closed all the same: the rest is looked at on the revisit"
    assert [item["provision"] for item in record["violations"]] == ["3-501.16(A)(2)"]
    assert sample.client.get(f"{sample.at}/report.pdf").content.startswith(b"%PDF")


def test_a_new_sealing_key_comes_with_a_warning_once(sample: Sample) -> None:
    shutil.rmtree(sample.state.folder.root / "key")
    assert "Copy it now to a safe place" in sealed(sample)["warnings"][0]
    assert sample.post("amendments", **AMENDMENT).json()["warnings"] == []


CHANGES: list[Callable[[Sample], Any]] = [
    lambda s: s.decide("r3", "confirm"),
    lambda s: s.decide("f1", "reject", reason="late"),
    lambda s: s.post("findings", provision="6-301.12", what="none"),
    lambda s: s.put("facts", person_in_charge="somebody else"),
    lambda s: s.put("marks/10", mark="IN"),
    lambda s: s.put(f"photos/{SINK}", caption="later"),
    lambda s: s.put("notes", remarks=["later"]),
    lambda s: s.put("questions/q1", answer="later"),
    lambda s: s.attach("f1", SINK),
    lambda s: s.post("undo"),
    lambda s: s.post("closing", **SIGNED),
    lambda s: s.client.post(f"{s.at}/again"),
]


@pytest.fixture(scope="module")
def closed(tmp_path_factory: pytest.TempPathFactory, opened: Open) -> Iterator[Sample]:
    """A sealed inspection that was handed over, for tests that try to change it in vain."""
    with opened(tmp_path_factory.mktemp("closed") / "data") as made:
        sealed(made)
        handed_over(made)
        yield made


@pytest.mark.parametrize("change", CHANGES)
def test_nothing_changes_after_the_seal(closed: Sample, change: Callable[[Sample], Any]) -> None:
    before = closed.desk()
    answer = change(closed)
    assert (answer.status_code, answer.json()["code"]) == (409, "closed")
    assert closed.desk() == before


STATEMENTS = [
    "UPDATE choice SET value = '{}'",
    "DELETE FROM choice",
    "INSERT INTO choice (inspection_id, kind, subject, value) VALUES (1, 'mark', '3', '{}')",
    "UPDATE proposal SET content = '{}'",
    "DELETE FROM proposal",
    "UPDATE utterance SET content = '{}'",
    "UPDATE recording SET content = '{}'",
    "UPDATE photo SET content = '{}'",
    "UPDATE inspection SET facts = '{}'",
    "UPDATE report SET record = '{}' WHERE kind = 'sealed'",
    "DELETE FROM report WHERE kind = 'sealed'",
    "UPDATE sealing SET record = '{}'",
    "DELETE FROM sealing",
    "UPDATE hand_over SET to_whom = 'x'",
    "DELETE FROM hand_over",
]


@pytest.mark.parametrize("statement", STATEMENTS)
def test_the_database_refuses_what_the_seal_covers(closed: Sample, statement: str) -> None:
    with pytest.raises(sa.exc.IntegrityError), closed.state.database.writing() as session:
        session.connection().execute(sa.text(statement))


def test_a_change_past_the_guards_is_found(sample: Sample) -> None:
    """Whoever can write the database file can drop its triggers; file, log and database then disagree."""
    sealed(sample)
    with sqlite3.connect(sample.state.folder.database) as raw:
        raw.execute("DROP TRIGGER report_stays")
        raw.execute(
            "UPDATE report SET record = replace(record, 'walk-in cooler', 'reach-in') WHERE kind = 'sealed'"
        )
    raw.close()
    answer = sample.client.get(f"{sample.at}/seal").json()
    assert not answer["whole"]
    assert "the record in the database was changed after it was sealed" in answer["disagreements"][0]


def test_a_changed_file_is_found(sample: Sample) -> None:
    sealed(sample)
    path = sample.state.folder.reports / "sealed" / f"{sample.desk()['number']}.pdf"
    path.chmod(0o600)
    path.write_bytes(path.read_bytes() + b"\n")
    assert not sample.client.get(f"{sample.at}/seal").json()["whole"]


def test_an_amendment_is_a_document_of_its_own(sample: Sample) -> None:
    first = sealed(sample)
    answer = sample.post("amendments", **AMENDMENT)
    assert (answer.status_code, answer.json()["number"]) == (201, f"{first['number']}-A1")
    second = sample.post("amendments", **AMENDMENT)
    assert second.json()["number"] == f"{first['number']}-A2"
    reports = sample.desk()["reports"]
    assert [row["kind"] for row in reports] == ["sealed", "amendment", "amendment"]
    records = [sample.client.get(f"{sample.at}/report.json?report={row['id']}").json() for row in reports]
    assert records[1]["amends_sha256"] == reports[0]["sha256"]
    assert records[2]["amends_sha256"] == reports[1]["sha256"]
    check = sample.client.get(f"{sample.at}/seal").json()
    assert (check["whole"], check["documents"]) == (True, [row["number"] for row in records])


def test_nothing_is_amended_before_it_is_sealed(sample: Sample) -> None:
    assert sample.post("amendments", **AMENDMENT).status_code == 404


def test_the_clocks_run_from_the_seal_to_the_hand_over(sample: Sample) -> None:
    number = sealed(sample)["number"]
    due = sample.client.get("/api/due").json()
    handing = next(item for item in due if item["what"] == "report to hand over")
    assert handing["number"] == number
    answer = handed_over(sample)
    assert answer.status_code == 201
    assert not [
        item for item in sample.client.get("/api/due").json() if item["what"] == "report to hand over"
    ]
    assert sample.desk()["hand_overs"][0]["to_whom"] == "Tomas Birchwood"
    assert '"did":"handed over"' in sample.client.get(f"{sample.at}/log").text


def test_nothing_is_handed_over_before_it_is_sealed(sample: Sample) -> None:
    assert handed_over(sample).status_code == 404


class Killed(BaseException):
    """Stands for the process being killed at this point."""


@pytest.mark.parametrize("at", ["open_key", "close", "_tell", "sealed"])
def test_a_kill_between_signing_and_seal_leaves_one_sealed_report(
    sample: Sample, monkeypatch: pytest.MonkeyPatch, at: str
) -> None:
    ready(sample)
    real = getattr(closing, at, None)

    def killed(*given: Any, **named: Any) -> Any:
        if at == "close":
            assert real is not None
            real(*given, **named)  # the sealed file is there, nothing tells of it yet
        raise Killed

    if at == "sealed":
        monkeypatch.setattr(closing, "_clocks", killed)  # in the last transaction
    else:
        monkeypatch.setattr(closing, at, killed)
    body = closing.ClosingCreate.model_validate({**SIGNED, "revision": sample.revision()})
    number = closing.begin(sample.state, sample.inspection, body)
    with pytest.raises(Killed):
        closing.finish(sample.state, sample.inspection, number)
    assert sample.desk()["state"] == "closing"
    monkeypatch.undo()

    assert list(closing.finish_all(sample.state)) == [number]
    assert list(closing.finish_all(sample.state)) == []
    assert sample.desk()["state"] == "closed"
    assert sample.client.get(f"{sample.at}/seal").json()["whole"]
    files = sorted(path.name for path in (sample.state.folder.reports / "sealed").glob("*.pdf"))
    assert files == [f"{number}.pdf"]
    with sample.state.database.reading() as session:
        log = events.entries(session, inspections.get(session, sample.inspection))
    assert [entry.event["did"] for entry in log].count(SEALED) == 1


def test_the_certificate_is_all_that_a_verifier_needs(sample: Sample, tmp_path: Any) -> None:
    from review_api.command import main

    number = sealed(sample)["number"]
    pem = tmp_path / "certificate.pem"
    pem.write_bytes(sample.client.get("/api/certificate.pem").content)
    pdf = tmp_path / f"{number}.pdf"
    pdf.write_bytes(sample.client.get(f"{sample.at}/report.pdf").content)
    log = tmp_path / "log.jsonl"
    log.write_bytes(sample.client.get(f"{sample.at}/log").content)
    assert main(["verify", str(pdf), "--certificate", str(pem), "--log", str(log)]) == 0
    pdf.write_bytes(pdf.read_bytes()[:-1])
    assert main(["verify", str(pdf), "--certificate", str(pem)]) == 1


def test_corrections_and_revisits_fall_due(sample: Sample) -> None:
    sample.decide("f1", "edit", changes={"correct_by": "2026-05-07T10:40:00-05:00"})
    sample.put("facts", revisit="2026-05-11T12:00:00-05:00")
    sealed(sample)
    found = {item["what"]: item for item in sample.client.get("/api/due").json()}
    assert datetime.fromisoformat(found["correct by"]["on"]) == datetime(2026, 5, 7, 15, 40, tzinfo=UTC)
    assert found["revisit"]["on"].startswith("2026-05-11")
    assert found["correct by"]["late"]
