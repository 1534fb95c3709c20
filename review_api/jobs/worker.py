"""Running the pipeline in this process."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from dbos import DBOS, SQLAlchemyDatasource
from sqlalchemy.orm import sessionmaker
from sqlmodel import Session

from review_api.jobs import pipeline
from review_api.jobs.logs import log_like_the_rest
from review_api.jobs.queue import QUEUE, VERSION
from review_api.jobs.workshop import Workshop
from review_api.store.database import Database

EXECUTOR = "desk"
"""The one worker of a data folder: its running jobs are taken up again under this name. The
folder's lock keeps a second one out."""


@contextmanager
def working(workshop: Workshop) -> Iterator[None]:
    """Takes up and runs queued inspections, those that a kill interrupted first, until the block ends.

    Raises InputError while another process works in the data folder.
    """
    with workshop.folder.held():
        engine_database = Database(workshop.database.address)
        DBOS(
            config={
                "name": "probeside",
                "system_database_engine": engine_database.engine,
                "executor_id": EXECUTOR,
                "application_version": VERSION,
                "console_log_level": "WARNING",
                "notification_listener_polling_interval_sec": 0.5,
            }
        )
        store = SQLAlchemyDatasource.create(
            workshop.database.address,
            engine=workshop.database.engine,
            sessionmaker=sessionmaker(class_=Session, expire_on_commit=False),
        )
        pipeline.PLACE.open(workshop, store)
        log_like_the_rest()
        try:
            DBOS.launch()
            DBOS.register_queue(QUEUE, worker_concurrency=1, polling_interval_sec=0.2)
            yield
        finally:
            DBOS.destroy(workflow_completion_timeout_sec=0)
            engine_database.close()
