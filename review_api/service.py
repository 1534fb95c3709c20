"""The review service: routes, page and guard put together."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI

from review_api.api import problems
from review_api.api.guard import LOOPBACK, Guard, content_policy
from review_api.api.page_files import PageFiles
from review_api.api.routes import changes, closing, copies, inspections, lookup, media, report
from review_api.state import State

PAGE = Path(__file__).parent / "page" / "built"
"""The page as `make page` puts it together."""


def create_app(state: State) -> FastAPI:
    """The service over a data folder. It only queues work: `jobs.worker.working` is what does it."""
    app = FastAPI(
        title="Probeside",
        summary="The desk: an inspection's proposals, and what the inspector decides.",
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
    )
    app.state.probeside = state
    problems.install(app)
    describe = app.openapi
    app.openapi = lambda: problems.describe(describe())  # type: ignore[method-assign]
    for part in (inspections, changes, report, copies, closing, media, lookup):
        app.include_router(part.router)
    index = PAGE / "index.html"
    if index.exists():
        app.mount("/", PageFiles(directory=PAGE, html=True), name="page")
    policy = content_policy(index.read_text(encoding="utf-8") if index.exists() else "")
    app.add_middleware(Guard, hosts={*LOOPBACK, *state.settings.hosts}, policy=policy)
    return app
