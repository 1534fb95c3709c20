"""`probeside bench page`: what the page waits for, as the number of inspections grows.

Beside each answer, in the same run, a plain alternative: the same rows read with plain SQL and written as
JSON, the same words searched with LIKE, the same photos scaled anew. Real requests to a real server.
"""

from __future__ import annotations

import argparse
import http.client
import json
import random
import sqlite3
import statistics
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import uvicorn

from capture.photos import copy_of
from review_api.bench import crowd, first_view
from review_api.bench.curve import draw
from review_api.data_folder import DataFolder
from review_api.service import create_app
from review_api.serving import leave_alone_what_stays, listen
from review_api.settings import Settings
from review_api.state import State, open_state

GOAL_MS = 150.0
VIEWS = 9
"""How often the desk is opened in the browser."""


@dataclass(frozen=True, slots=True)
class Measured:
    """What one kind of request took, over many."""

    what: str
    inspections: int
    median_ms: float
    p95_ms: float
    plain_ms: float
    """Median of the plain alternative."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--inspections", type=int, default=500, help="how many at last; default 500")
    parser.add_argument("--requests", type=int, default=60, help="of each kind at each size; default 60")
    parser.add_argument("--svg", type=Path, metavar="FILE", help="draw cost against number of inspections")
    parser.add_argument("--browser", action="store_true", help="open the desk in Chromium as well")
    parser.add_argument("--json", action="store_true", help="print the figures as JSON")


def run(options: argparse.Namespace) -> int:
    """0 whatever was measured: a goal is read off, not asserted."""
    rows: list[Measured] = []
    with TemporaryDirectory(prefix="probeside-bench-") as room:
        state = open_state(DataFolder(Path(room) / "data"), Settings())
        pictures = crowd.photos(state, Path(room))
        with _served(state) as port:
            made = 0
            for size in _sizes(options.inspections):
                for number in range(made, size):
                    crowd.add(state, number, pictures)
                    if number % 50 == 0:
                        print(f"{number} of {options.inspections} inspections made", file=sys.stderr)
                made = size
                rows += _measure(state, port, size, options.requests)
            seen = list(first_view.measure(port, 1, VIEWS)) if options.browser else []
        state.jobs.close()
        state.database.close()
    if options.svg:
        options.svg.write_text(draw(rows), encoding="utf-8")
    if options.json:
        print(json.dumps([{name: getattr(row, name) for name in Measured.__slots__} for row in rows]))
    else:
        print("\n".join((*_table(rows), *seen)))
    return 0


def _sizes(last: int) -> list[int]:
    return sorted({max(1, last * part // 20) for part in (1, 4, 10, 20)})


def _measure(state: State, port: int, size: int, requests: int) -> Iterator[Measured]:
    chance = random.Random(7)
    raw = sqlite3.connect(state.folder.database)
    photos = [row[0] for row in raw.execute("SELECT sha256 FROM photo WHERE inspection_id = 1")]
    connection = http.client.HTTPConnection("127.0.0.1", port)

    def get(path: str) -> bytes:
        connection.request("GET", path)
        answer = connection.getresponse()
        body = answer.read()
        assert answer.status == 200, f"{path}: {answer.status} {body[:200]!r}"
        return body

    def anyone() -> int:
        return chance.randrange(1, size + 1)

    def grid() -> None:
        for sha256 in photos:
            get(f"/api/photos/{sha256}?size=thumb")

    def word() -> str:
        return f"{chance.choice(('turkey', 'stew', 'custard'))} {chance.randrange(100)}"

    kinds: list[tuple[str, Callable[[], object], Callable[[], object], int]] = [
        ("list", lambda: get("/api/inspections?limit=100"), lambda: _plain_list(raw), requests),
        ("desk", lambda: get(f"/api/inspections/{anyone()}"), lambda: _plain_desk(raw, anyone()), requests),
        ("photo grid (40)", grid, lambda: _plain_photo(state, photos[0]), max(5, requests // 6)),
        ("search", lambda: get(f"/api/search?q={word().replace(' ', '+')}"),
         lambda: _plain_search(raw, word()), requests),
    ]  # fmt: skip
    for what, ask, plain, times in kinds:
        ask()
        took = _times(ask, times)
        yield Measured(
            what,
            size,
            statistics.median(took),
            _p95(took),
            statistics.median(_times(plain, max(3, times // 6))),
        )
    connection.close()
    raw.close()


def _times(do: Callable[[], object], times: int) -> list[float]:
    """Milliseconds of each."""
    took = []
    for _ in range(times):
        began = time.perf_counter()
        do()
        took.append((time.perf_counter() - began) * 1000)
    return took


def _p95(took: list[float]) -> float:
    return sorted(took)[min(len(took) - 1, round(0.95 * len(took)))]


def _plain_list(raw: sqlite3.Connection) -> str:
    return json.dumps(raw.execute("SELECT * FROM inspection ORDER BY id DESC LIMIT 100").fetchall())


def _plain_desk(raw: sqlite3.Connection, inspection: int) -> str:
    tables = ("recording", "photo", "utterance", "proposal", "choice")
    rows = [
        raw.execute(f"SELECT * FROM {table} WHERE inspection_id = ?", (inspection,)).fetchall()
        for table in tables
    ]
    return json.dumps(rows)


def _plain_search(raw: sqlite3.Connection, words: str) -> list[object]:
    first, second = words.split()
    return raw.execute(
        "SELECT inspection_id, content FROM utterance WHERE content LIKE ? AND content LIKE ? LIMIT 50",
        (f"%{first}%", f"%{second}%"),
    ).fetchall()


def _plain_photo(state: State, sha256: str) -> None:
    for _ in range(crowd.PHOTOS):
        copy_of(state.folder.originals / sha256[:2] / sha256, longest_px=320)


def _table(rows: list[Measured]) -> Iterator[str]:
    yield f"{'':18}{'inspections':>12}{'median ms':>12}{'p95 ms':>10}{'plain ms':>12}{'ratio':>8}"
    for row in sorted(rows, key=lambda row: (row.what, row.inspections)):
        ratio = row.median_ms / row.plain_ms if row.plain_ms else float("nan")
        over = "" if row.p95_ms < GOAL_MS else f"  over the goal of {GOAL_MS:g} ms"
        yield (
            f"{row.what:18}{row.inspections:12}{row.median_ms:12.1f}{row.p95_ms:10.1f}{row.plain_ms:12.1f}{ratio:8.2f}{over}"
        )


@contextmanager
def _served(state: State) -> Iterator[int]:
    """The port of a server in a thread of its own."""
    leave_alone_what_stays()
    listening = listen("127.0.0.1", 0)
    server = uvicorn.Server(
        uvicorn.Config(create_app(state), log_level="error", access_log=False, timeout_keep_alive=600)
    )
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    try:
        yield listening.getsockname()[1]
    finally:
        server.should_exit = True
        thread.join(timeout=10)
