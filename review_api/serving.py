"""Listening at an address, and serving the desk there."""

from __future__ import annotations

import gc
import socket

import uvicorn

from review_api.service import create_app
from review_api.state import State
from shared.errors import InputError

_GRACE_S = 3
_WAITING = 128


def listen(host: str, port: int) -> socket.socket:
    """A socket bound there. Raises InputError where that is not possible."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    # With the protocol named, asyncio switches off the waiting for full packets (Nagle): 40 ms an answer.
    listening = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((host, port))
        listening.listen(_WAITING)
    except (OSError, OverflowError) as error:
        listening.close()
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError(
            f"cannot listen at {host}:{port} ({reason}); name another --host or --port"
        ) from error
    return listening


def serve(here: State, listening: socket.socket) -> None:
    """Serves until it is stopped; says where. All that was shown as saved is on disk at any moment."""
    leave_alone_what_stays()
    host, port = listening.getsockname()[:2]
    shown = f"[{host}]" if ":" in host else host
    print(f"Probeside serves the desk at http://{shown}:{port}/ (Ctrl-C stops it)", flush=True)
    config = uvicorn.Config(
        create_app(here),
        log_level="warning",
        access_log=False,
        timeout_graceful_shutdown=_GRACE_S,
        server_header=False,
    )
    uvicorn.Server(config).run(sockets=[listening])


def leave_alone_what_stays() -> None:
    """Takes all that is loaded by now out of the garbage collector's rounds, which can cost 100 ms."""
    gc.collect()
    gc.freeze()
