"""The pipeline killed with SIGKILL at each of its steps: started again, it gives the same as undisturbed."""

from __future__ import annotations

import json
import signal
import sqlite3
from pathlib import Path
from typing import Any

import pytest

from review_api.log import verify
from review_api.store import events, inspections
from review_api.store.database import Database
from tests.own_process import Ended, in_own_process
from tests.service.killing import main_killed

ROOT = Path(__file__).parents[2]
SHORT = ROOT / "audio_fixtures" / "short"

POINTS = (
    "intake:before",
    "intake:after",
    "store_intake:before",
    "store_intake:after",
    "clear_inbox:before",
    "prepare:before",
    "prepare:after",
    "transcribe:before",
    "transcribe:after",
    "store_transcript:after",
    "extract:after",
    "store_extraction:before",
    "store_extraction:after",
)
"""`after` a step that stores is within its transaction, before it is committed."""

pytestmark = pytest.mark.slow


def process(point: str, data: Path) -> Ended:
    return in_own_process(main_killed, point, "process", str(SHORT), "--data", str(data), "--json")


def result(run: Ended) -> dict[str, Any]:
    assert run.status == 0, run.err
    whole: dict[str, Any] = json.loads(run.out)
    return whole


def test_killed_at_every_step_one_after_the_other(tmp_path: Path) -> None:
    """One inspection is killed at each point in turn, and each time goes on where it was."""
    undisturbed = result(process("nowhere", tmp_path / "undisturbed"))
    data = tmp_path / "killed"
    for point in POINTS:
        run = process(point, data)
        assert run.status == -signal.SIGKILL, f"{point}: {run.err}"
    assert result(process("nowhere", data)) == undisturbed
    assert result(process("nowhere", data)) == undisturbed  # the same folder again is the same inspection
    assert len(undisturbed["findings"]) == 2
    _nothing_lost_or_doubled(data)


def _nothing_lost_or_doubled(data: Path) -> None:
    database = Database.at(data / "probeside.sqlite")
    with database.reading() as session:
        rows, total = inspections.listed(session, offset=0, limit=10)
        log = events.entries(session, rows[0])
    database.close()
    assert (total, rows[0].state) == (1, "ready")
    assert verify(log) == ()
    assert [entry.event["did"] for entry in log] == [
        "handed in", "taken in", "recording transcribed", "proposals made",
    ]  # fmt: skip
    kept = [path for path in (data / "originals").rglob("*") if path.is_file()]
    assert len(kept) == 2  # one recording, one photo
    assert list((data / "inbox").iterdir()) == []
    for prepared in ("peaks", "photos"):  # nothing is left to be made when the desk first asks
        assert list((data / "derived" / prepared).iterdir()), prepared
    with sqlite3.connect(data / "probeside.sqlite") as raw:
        assert raw.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        assert raw.execute("SELECT count(*) FROM workflow_status").fetchone() == (1,)
    raw.close()


def test_two_processes_do_not_work_in_one_data_folder(tmp_path: Path) -> None:
    from review_api.data_folder import DataFolder

    folder = DataFolder(tmp_path / "data").make()
    with folder.held():
        run = process("nowhere", folder.root)
    assert run.status == 2
    assert "another Probeside is working in this data folder" in run.err
    assert "Traceback" not in run.err
