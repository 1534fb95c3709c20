"""`probeside demo`: the whole job on the inspection that comes with the project."""

from __future__ import annotations

import argparse
from pathlib import Path

from review_api.commands.serve import HOST, PORT
from shared.errors import InputError

SHIPPED = Path(__file__).parents[2] / "audio_fixtures" / "harbor_wren"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--no-serve", action="store_true", help="stop after the draft report")
    parser.add_argument(
        "--out",
        type=Path,
        default=Path("demo-output"),
        metavar="DIR",
        help="where it all goes; default demo-output",
    )
    parser.add_argument(
        "--port", type=int, default=PORT, help=f"of the review page; default {PORT}, else any free one"
    )


def run(options: argparse.Namespace) -> int:
    if not SHIPPED.is_dir():
        raise InputError(
            f"{SHIPPED}: the shipped inspection is not here; run the demo in a clone of the project"
        )
    from review_api.at_work import Teller, at_work, process
    from review_api.serving import listen, serve
    from review_api.written_out import print_summary, write_out

    with at_work(options.out / "data") as here:
        inspection_id = process(here, SHIPPED, rules=None, tell=Teller())
        write_out(here, inspection_id, options.out)
        print_summary(here, inspection_id)
        print(
            f"\nDraft report: {options.out}/draft-report.pdf, .html, .json. Nothing is decided yet,"
            "\nso it cites no violation and lists what is open. Decide on the page, then draft it there."
        )
        if not options.no_serve:
            try:
                listening = listen(HOST, options.port)
            except InputError:
                listening = listen(HOST, 0)
            serve(here, listening)
    return 0
