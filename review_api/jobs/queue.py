"""Handing an inspection to the workers: its row and its job are stored in one transaction, or neither."""

from __future__ import annotations

import shutil
from pathlib import Path

from dbos import DBOS, DBOSClient
from sqlmodel import Session

from review_api.jobs.logs import log_like_the_rest
from review_api.store import events, inspections
from review_api.store.database import Database
from review_api.store.refusals import Closed, Conflict
from review_api.store.tables import Inspection

QUEUE = "inspections"
WORKFLOW = "inspection"
VERSION = "1"
"""Of the steps and their order. Work queued under another version is not taken up: raise it only with a
migration of what is queued."""


class Jobs:
    """The queue of inspections, its tables brought to the newest form. Needs no worker in this process."""

    def __init__(self, database: Database) -> None:
        self._database = database
        log_like_the_rest()
        DBOS.migrate(database.address)
        self._client = DBOSClient(system_database_engine=database.engine, application_name="probeside")

    def hand_in(self, folder: Path, *, rules: str | None = None) -> tuple[Inspection, bool]:
        """The inspection of the files in `folder`, and whether it was known. A failed one is run again."""
        with self._database.writing() as session:
            inspection, known = inspections.create(session, content=folder.name, rules=rules or "")
            if not known:
                events.append(session, inspection, "handed in", who=events.PROGRAM, about={"rules": rules})
                self._enqueue(session, inspection)
            elif inspection.state == "failed":
                self._again(session, inspection, hear=True)
            taken = known and inspections.is_taken_in(session, inspection)
        if taken:  # each file is kept as an original already
            shutil.rmtree(folder, ignore_errors=True)
        return inspection, known

    def again(self, inspection_id: int, *, rules: str | None = None, hear: bool = True) -> Inspection:
        """The inspection, its pipeline queued again; without `hear`, from the words heard before.

        Raises NotFound; Conflict while it runs; Closed when it is sealed.
        """
        with self._database.writing() as session:
            inspection = inspections.get(session, inspection_id)
            if inspection.state in ("closing", "closed"):
                raise Closed("this inspection is sealed; nothing in it is computed again")
            if inspection.state in ("received", "working"):
                raise Conflict("the work on this inspection is going on; wait until it is done")
            inspection.rules = rules or inspection.rules
            self._again(session, inspection, hear=hear)
        return inspection

    def _again(self, session: Session, inspection: Inspection, *, hear: bool) -> None:
        inspection.generation += 1
        inspection.state, inspection.step, inspection.part = "received", "waiting", 0.0
        events.append(session, inspection, "run again", who=events.PROGRAM, about={"rules": inspection.rules})
        self._enqueue(session, inspection, hear=hear)

    def _enqueue(self, session: Session, inspection: Inspection, *, hear: bool = True) -> None:
        session.flush()
        self._client.enqueue_in_transaction(
            session,
            {
                "workflow_name": WORKFLOW,
                "queue_name": QUEUE,
                "workflow_id": f"inspection-{inspection.key}-{inspection.generation}",
                "app_version": VERSION,
            },
            inspection.key,
            hear,
        )

    def close(self) -> None:
        self._client.destroy()
