"""`probeside serve`: the review service and its page."""

from __future__ import annotations

import argparse
import ipaddress
import socket
import sys
from pathlib import Path

HOST, PORT = "127.0.0.1", 8470
DATA = Path("probeside-data")


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
    from review_api.at_work import at_work
    from review_api.serving import listen, serve

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
