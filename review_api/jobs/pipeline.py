"""Which steps an inspection goes through, and in what order. DBOS checkpoints each.

    intake → keep it → clear the inbox → prepare sound and photos →
    for each recording: transcribe → keep it → extract → keep it

What is done is in the functions of `steps`; here is only the order. It is replayed after a restart, so it
depends on nothing but its arguments and the results of its steps.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from typing import Any, TypeVar

from dbos import DBOS, SQLAlchemyDatasource
from sqlmodel import Session

from review_api.jobs import steps
from review_api.jobs.queue import WORKFLOW
from review_api.jobs.workshop import Workshop
from shared.errors import ProbesideError

_log = logging.getLogger(__name__)

T = TypeVar("T")


class Place:
    """Where this process works: one for the process, as DBOS knows its workflows for the whole process."""

    def __init__(self) -> None:
        self._tools: tuple[Workshop, SQLAlchemyDatasource] | None = None

    def open(self, workshop: Workshop, store: SQLAlchemyDatasource) -> None:
        self._tools = (workshop, store)

    @property
    def workshop(self) -> Workshop:
        assert self._tools is not None, "no worker was started in this process"
        return self._tools[0]

    @property
    def store(self) -> SQLAlchemyDatasource:
        assert self._tools is not None, "no worker was started in this process"
        return self._tools[1]


PLACE = Place()


@DBOS.workflow(name=WORKFLOW)
def inspection(inspection_id: int, hear: bool) -> None:
    """Takes one inspection from the files that were handed in to the proposals on the desk."""
    try:
        found = _compute("intake", steps.intake, inspection_id)
        if found is not None and "failed" in found:
            _keep("keep failure", steps.store_failure, inspection_id, found["failed"])
            return
        if found is not None:
            _keep("keep intake", steps.store_intake, inspection_id, found)
            _compute("clear inbox", steps.clear_inbox, inspection_id)
            _compute("thumbnails", steps.prepare, inspection_id)  # its name is in the rows of work under way
        recordings = _compute("list recordings", steps.to_hear, inspection_id, again=hear)
        for at, sha256 in enumerate(recordings):
            heard = _compute("transcribe", steps.transcribe, inspection_id, sha256, at=at, of=len(recordings))
            _keep("keep transcript", steps.store_transcript, inspection_id, sha256, heard)
        _keep(
            "keep proposals",
            steps.store_extraction,
            inspection_id,
            _compute("extract", steps.extract, inspection_id),
        )
    except ProbesideError as error:
        _keep("keep failure", steps.store_failure, inspection_id, str(error))
    except Exception:
        _log.exception("the work on inspection %s stopped", inspection_id)
        why = "the work stopped at an error of the program; its log says more. What was done is kept"
        _keep("keep failure", steps.store_failure, inspection_id, why)


def _compute(name: str, step: Callable[..., T], *given: Any, **named: Any) -> T:
    """The result of a step that computes; after a restart, the result it gave before."""
    return DBOS.run_step({"name": name}, step, PLACE.workshop, *given, **named)


def _keep(name: str, step: Callable[..., None], *given: Any) -> None:
    """Runs a step that stores, in one transaction with its checkpoint."""

    def run() -> None:
        session = PLACE.store.sql_session()
        assert isinstance(session, Session)
        if session.get_bind().dialect.name == "sqlite":
            session.connection().exec_driver_sql("BEGIN IMMEDIATE")
        step(session, *given)

    PLACE.store.run_tx_step({"name": name}, run)
