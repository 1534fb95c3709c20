"""Errors as `application/problem+json` (RFC 9457): what was wrong, where, what to do. Never a traceback."""

from __future__ import annotations

import logging
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, ConfigDict
from starlette.exceptions import HTTPException

from review_api.store.refusals import Refusal
from shared.errors import ProbesideError

_log = logging.getLogger(__name__)

MEDIA_TYPE = "application/problem+json"

_SENTENCES = {
    404: "there is nothing at this address",
    405: "this address does not take that method",
    400: "the request could not be read; send it again",
}


class Problem(BaseModel):
    """An error as it is answered; more members come with some codes (docs/api.md)."""

    model_config = ConfigDict(extra="allow")

    title: str
    status: int
    detail: str
    code: str


def answers(*statuses: int) -> dict[int | str, dict[str, Any]]:
    """For OpenAPI: that a route may answer a problem with one of these statuses."""
    return {
        status: {
            "description": HTTPStatus(status).phrase,
            "content": {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
        }
        for status in statuses
    }


ANSWERS = answers(400, 403, 404, 409, 413, 415, 421, 422)
"""For OpenAPI: what each route may answer besides success."""


def describe(openapi: dict[str, Any]) -> dict[str, Any]:
    """The description of the interface with `Problem` in it, and without the framework's own error models."""
    schemas = openapi["components"]["schemas"]
    schemas["Problem"] = Problem.model_json_schema()
    for name in ("HTTPValidationError", "ValidationError"):
        schemas.pop(name, None)
    return openapi


def problem(status: int, code: str, detail: str, **more: Any) -> JSONResponse:
    """The answer for one error."""
    phrase = HTTPStatus(status).phrase
    return JSONResponse(
        {"title": phrase, "status": status, "detail": detail, "code": code, **more},
        status_code=status,
        media_type=MEDIA_TYPE,
    )


def install(app: FastAPI) -> None:
    """Makes every error of the app a problem."""

    @app.exception_handler(Refusal)
    def refused(_request: Request, error: Refusal) -> Response:
        return problem(error.status, error.code, str(error), **error.details)

    @app.exception_handler(ProbesideError)
    def unusable(_request: Request, error: ProbesideError) -> Response:
        return problem(422, "not_valid", str(error))

    @app.exception_handler(RequestValidationError)
    def not_valid(_request: Request, error: RequestValidationError) -> Response:
        parts = [
            {"where": ".".join(str(step) for step in part["loc"]), "what": part["msg"]}
            for part in error.errors()
        ]
        first = parts[0] if parts else {"where": "request", "what": "not valid"}
        return problem(
            422, "not_valid", f"{first['where']}: {first['what']}", where=first["where"], faults=parts
        )

    @app.exception_handler(HTTPException)
    def http(_request: Request, error: HTTPException) -> Response:
        detail = _SENTENCES.get(error.status_code, str(error.detail))
        answer = problem(error.status_code, HTTPStatus(error.status_code).name.lower(), detail)
        answer.headers.update(error.headers or {})
        return answer

    @app.exception_handler(Exception)
    def broken(request: Request, error: Exception) -> Response:
        _log.error("%s %s failed", request.method, request.url.path, exc_info=error)
        return problem(500, "broken", "Probeside failed to do this; nothing was changed. Its log says more")
