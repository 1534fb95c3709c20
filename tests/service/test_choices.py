"""Undo, conflict, and the event log behind every change."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import sqlalchemy as sa

from review_api.log import verify
from review_api.store import events, inspections
from tests.service.samples import SHELF, SINK, Sample

CHANGES: list[tuple[str, Callable[[Sample], Any]]] = [
    ("a confirmation with its readings", lambda s: s.decide("f1", "confirm")),
    ("an edit", lambda s: s.decide("r3", "edit", changes={"item": "whole milk"})),
    ("a rejection", lambda s: s.decide("f2", "reject", reason="not seen")),
    ("a finding by hand", lambda s: s.post("findings", provision="6-301.12", what="none", photos=[SINK])),
    ("an answer", lambda s: s.put("questions/q1", answer="yes")),
    ("a mark", lambda s: s.put("marks/10", mark="IN")),
    ("accepted marks", lambda s: s.post("marks/accept")),
    ("a caption", lambda s: s.put(f"photos/{SHELF}", caption="Top shelf")),
    ("a fact", lambda s: s.put("facts", permit="T-9")),
    ("a note", lambda s: s.put("notes", remarks=["said sorry"])),
    ("an attached photo", lambda s: s.attach("f2", SINK)),
    ("a detached photo", lambda s: s.detach("f1", SHELF)),
]  # fmt: skip


def without_history(desk: dict[str, Any]) -> dict[str, Any]:
    return {
        name: value for name, value in desk.items() if name not in ("revision", "progress", "undo", "redo")
    }


@pytest.mark.parametrize(("_what", "change"), CHANGES, ids=[what for what, _ in CHANGES])
def test_every_change_can_be_taken_back(sample: Sample, _what: str, change: Callable[[Sample], Any]) -> None:
    before = sample.desk()
    assert not before["undo"]["available"]
    assert change(sample).status_code in (200, 201)
    changed = sample.desk()
    assert without_history(changed) != without_history(before)
    assert changed["undo"]["available"]
    taken_back = sample.post("undo")
    assert taken_back.json()["did"] == f"taken back: {changed['undo']['what']}"
    assert without_history(sample.desk()) == without_history(before)


def test_undo_goes_back_change_by_change(sample: Sample) -> None:
    sample.decide("r3", "confirm")
    sample.decide("f1", "confirm")
    sample.post("undo")
    assert sample.one("readings", "r3")["decision"]["state"] == "confirmed"
    sample.post("undo")
    assert sample.one("readings", "r3")["decision"]["state"] == "proposed"
    nothing = sample.post("undo")
    assert (nothing.status_code, nothing.json()["detail"]) == (404, "there is nothing to take back")


def test_two_windows_do_not_overwrite_each_other(sample: Sample) -> None:
    seen = sample.revision()
    sample.decide("f1", "edit", changes={"where": "reach-in"}, revision=seen)
    late = sample.decide("f1", "reject", reason="wrong", revision=seen)
    assert (late.status_code, late.json()["code"]) == (409, "conflict")
    assert late.json()["current"]["changes"] == {"where": "reach-in"}
    assert late.json()["revision"] == sample.revision()
    assert sample.one("findings", "f1")["where"] == "reach-in"


def test_a_conflict_is_seen_after_the_other_window_took_its_change_back(sample: Sample) -> None:
    seen = sample.revision()
    sample.decide("r3", "confirm", revision=seen)
    sample.post("undo")
    assert sample.decide("r3", "confirm", revision=seen).status_code == 409


def test_changes_to_different_things_do_not_conflict(sample: Sample) -> None:
    seen = sample.revision()
    assert sample.decide("r3", "confirm", revision=seen).status_code == 200
    assert sample.decide("f1", "confirm", revision=seen).status_code == 200
    mark = sample.client.put(f"{sample.at}/marks/10", json={"mark": "IN", "revision": seen})
    assert mark.status_code == 200


def test_undo_of_a_change_that_was_not_seen_is_refused(sample: Sample) -> None:
    seen = sample.revision()
    sample.decide("r3", "confirm", revision=seen)
    answer = sample.client.post(f"{sample.at}/undo", json={"revision": seen})
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")


def test_the_same_change_again_is_no_event(sample: Sample) -> None:
    sample.put("marks/10", mark="IN")
    seen = sample.revision()
    assert sample.put("marks/10", mark="IN").json()["revision"] == seen


def test_the_log_is_whole_and_tells_who_did_what(sample: Sample) -> None:
    for _, change in CHANGES:
        change(sample)
    sample.post("undo")
    with sample.state.database.reading() as session:
        log = events.entries(session, inspections.get(session, sample.inspection))
    assert verify(log) == ()
    assert [entry.event["did"] for entry in log][:2] == ["handed in", "proposals made"]
    assert log[2].event["who"] == "Ines Calloway"
    assert log[-1].event["about"]["undoes"] == log[-2].sequence
    lines = sample.client.get(f"{sample.at}/log").text.splitlines()
    assert len(lines) == len(log)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE event SET event = '{}' WHERE sequence = 1",
        "DELETE FROM event WHERE sequence = 2",
        "INSERT INTO event (inspection_id, sequence, event, previous, hash) VALUES (1, 7, '{}', '', '')",
        "REPLACE INTO event (inspection_id, sequence, event, previous, hash) VALUES (1, 1, '{}', '', '')",
    ],
)
def test_the_database_refuses_to_change_the_log(sample: Sample, statement: str) -> None:
    with pytest.raises(sa.exc.IntegrityError, match="event"), sample.state.database.writing() as session:
        session.connection().execute(sa.text(statement))


def test_all_or_nothing(sample: Sample, monkeypatch: pytest.MonkeyPatch) -> None:
    """A failure between the choice and its event leaves neither."""
    before = sample.desk()

    def broken(*_given: object, **_named: object) -> int:
        raise RuntimeError("power failed")

    monkeypatch.setattr(events, "append", broken)
    with pytest.raises(RuntimeError, match="power failed"):
        sample.decide("r3", "confirm")
    monkeypatch.undo()
    assert sample.desk() == before


def test_undo_is_refused_where_another_window_took_something_back_since(sample: Sample) -> None:
    sample.decide("r1", "confirm")
    sample.decide("r3", "confirm")
    seen = sample.revision()
    sample.post("undo")
    answer = sample.client.post(f"{sample.at}/undo", json={"revision": seen})
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")
    assert states(sample) == ("confirmed", "proposed")


def states(sample: Sample) -> tuple[str, ...]:
    return tuple(sample.one("readings", name)["decision"]["state"] for name in ("r1", "r3"))


def test_redo_does_again_what_was_taken_back_in_the_order_it_was_done(sample: Sample) -> None:
    sample.decide("r1", "confirm")
    sample.decide("r3", "reject", reason="side talk")
    for _ in range(2):
        sample.post("undo")
    assert states(sample) == ("proposed", "proposed")
    assert sample.desk()["redo"] == {"available": True, "what": "reading r1 confirmed"}
    assert sample.post("redo").json()["did"] == "done again: reading r1 confirmed"
    assert sample.post("redo").json()["did"] == "done again: reading r3 rejected"
    assert states(sample) == ("confirmed", "rejected")
    assert sample.desk()["redo"] == {"available": False, "what": None}
    assert sample.post("redo").status_code == 404


def test_what_was_done_again_can_be_taken_back_again(sample: Sample) -> None:
    sample.decide("r1", "confirm")
    for step in ("undo", "redo", "undo", "redo", "undo"):
        assert sample.post(step).status_code == 200, step
    assert states(sample) == ("proposed", "proposed")
    assert sample.desk()["undo"]["available"] is False
    assert sample.desk()["redo"]["available"] is True


def test_another_change_ends_what_can_be_done_again(sample: Sample) -> None:
    sample.decide("r1", "confirm")
    sample.post("undo")
    sample.decide("r3", "confirm")
    assert sample.desk()["redo"]["available"] is False
    assert sample.post("redo").status_code == 404
    sample.post("undo")
    assert sample.desk()["redo"]["what"] == "reading r3 confirmed"  # and not what was taken back before it


def test_redo_is_refused_where_somebody_changed_something_since(sample: Sample) -> None:
    sample.decide("r1", "confirm")
    sample.decide("r3", "confirm")
    seen = sample.revision()
    sample.post("undo")
    answer = sample.client.post(f"{sample.at}/redo", json={"revision": seen})
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")
    assert states(sample) == ("confirmed", "proposed")
