"""Who may talk to the service, and how much at once: host and origin checks, body limits, security headers.

The service has no accounts: whoever can reach it is the inspector. So it answers only to its own names (a
page elsewhere cannot reach it through a name of its own), and takes changes only from its own pages.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Collection
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from review_api.api.problems import problem

LOOPBACK = frozenset(("localhost", "127.0.0.1", "[::1]"))
JSON_LIMIT = 1_000_000
"""Bytes of a body that is not an import."""
IMPORT_LIMIT = 8_000_000_000
"""Bytes of one import: a long day on several devices."""


def content_policy(page: str = "") -> str:
    """The Content-Security-Policy: all from this service; the page's own inline scripts by their hash."""
    hashes = " ".join(
        f"'sha256-{base64.b64encode(hashlib.sha256(body.encode()).digest()).decode()}'"
        for body in re.findall(r"<script(?![^>]*\bsrc=)[^>]*>(.*?)</script>", page, re.DOTALL)
    )
    return (
        f"default-src 'self'; script-src 'self' {hashes}".rstrip()
        + "; img-src 'self' blob: data:; media-src 'self' blob:; style-src 'self' 'unsafe-inline';"
        " object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'self'"
    )


class Guard:
    """ASGI middleware around the whole service."""

    def __init__(self, app: ASGIApp, *, hosts: Collection[str], policy: str) -> None:
        self._app = app
        self._hosts = frozenset(host.lower() for host in hosts)
        self._policy = policy

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if not self._own(headers.get("host", "")):
            answer = problem(
                421,
                "foreign_host",
                "this service answers only to its own name; use the address it printed at start",
            )
            await answer(scope, receive, send)
            return
        origin = headers.get("origin")
        site = headers.get("sec-fetch-site", "same-origin")
        foreign = (origin is not None and not self._same(origin, headers["host"])) or site == "cross-site"
        if foreign and not (scope["method"] in ("GET", "HEAD") and origin is None and _is_page(scope)):
            answer = problem(
                403, "foreign_origin", "this request comes from another page, not from Probeside's own"
            )
            await answer(scope, receive, send)
            return
        limit = IMPORT_LIMIT if scope["path"] == "/api/inspections" else JSON_LIMIT
        counted = _Counted(receive, limit)
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > limit:
            await _too_large(limit)(scope, receive, send)
            return
        await self._app(scope, counted, self._with_headers(send))

    def _own(self, host: str) -> bool:
        name = host.lower().rsplit(":", 1)[0] if re.search(r":\d+$", host) else host.lower()
        return name in self._hosts

    def _same(self, origin: str, host: str) -> bool:
        parts = urlsplit(origin)
        return parts.scheme in ("http", "https") and parts.netloc.lower() == host.lower()

    def _with_headers(self, send: Send) -> Send:
        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.setdefault("Content-Security-Policy", self._policy)
                headers["X-Content-Type-Options"] = "nosniff"
                headers["Referrer-Policy"] = "no-referrer"
                headers["Cross-Origin-Resource-Policy"] = "same-origin"
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        return sending


def _is_page(scope: Scope) -> bool:
    """A link from elsewhere may open the page: it shows nothing without requests of its own."""
    return not scope["path"].startswith("/api/")


class _Counted:
    """Receives a body and breaks off where it is longer than allowed, whatever its headers said."""

    def __init__(self, receive: Receive, limit: int) -> None:
        self._receive, self._left = receive, limit

    async def __call__(self) -> Message:
        message = await self._receive()
        if message["type"] == "http.request":
            self._left -= len(message.get("body", b""))
            if self._left < 0:
                return {"type": "http.disconnect"}
        return message


def _too_large(limit: int) -> ASGIApp:
    size = f"{limit / 1e9:g} GB" if limit >= 1e9 else f"{limit / 1e6:g} MB"
    return problem(413, "too_large", f"this is more than {size} at once; send it in parts")
