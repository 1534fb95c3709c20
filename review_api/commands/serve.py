"""`probeside serve`: the review service and its page."""

from __future__ import annotations

import argparse
import gc
import ipaddress
import socket
import sys
from pathlib import Path

import uvicorn

from review_api.api.state import State
from review_api.at_work import at_work
from review_api.service import create_app
from shared.errors import InputError

HOST, PORT = "127.0.0.1", 8470
DATA = Path("probeside-data")
_GRACE_S = 3
_WAITING = 128


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--host", default=HOST, help=f"the address to listen at; default {HOST}: this machine only"
    )
    parser.add_argument("--port", type=int, default=PORT, help=f"default {PORT}; 0: any free one")
    parser.add_argument(
        "--data", type=Path, default=DATA, metavar="DIR", help=f"the data folder; default {DATA}"
    )
    parser.add_argument("--speech-model", metavar="NAME", help="another Whisper model, by folder or name")


def run(options: argparse.Namespace) -> int:
    listening = listen(options.host, options.port)
    names = names_of(options.host)
    if names:
        print(
            "probeside: there are no accounts: whoever reaches this machine can change its inspections",
            file=sys.stderr,
        )
    with listening, at_work(options.data, speech_model=options.speech_model, hosts=names) as here:
        serve(here, listening)
    return 0


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


def names_of(host: str) -> tuple[str, ...]:
    """The names besides the loopback's under which a service that listens at `host` is reached."""
    try:
        address = ipaddress.ip_address(host)
    except ValueError:
        return () if host == "localhost" else (host,)
    if address.is_loopback:
        return ()
    name = socket.gethostname()
    if not address.is_unspecified:
        return (f"[{host}]" if address.version == 6 else host, name)
    try:
        found = socket.gethostbyname_ex(name)[2]
    except OSError:
        found = []
    return (name, f"{name}.local", *found)
