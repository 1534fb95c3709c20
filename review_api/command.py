"""`probeside`: the one entry point. Imports only the stage that a call needs, so that each starts fast."""

from __future__ import annotations

import argparse
import errno
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from io import TextIOWrapper

from review_api import printable
from shared.errors import ProbesideError

COMMANDS = {
    "demo": ("review_api.commands.demo", "run the whole job on the shipped inspection"),
    "process": (
        "review_api.commands.process",
        "turn one inspection's folder into results and a draft report",
    ),
    "transcribe": ("capture.commands.transcribe", "words with times and doubts from recordings"),
    "extract": ("extract.commands.extract", "readings and findings from text"),
    "check": ("extract.commands.check", "hold one reading against its limit"),
    "cooling": ("extract.commands.cooling", "judge and forecast food that is cooling"),
    "rules": ("extract.commands.rules", "list, show, validate and compare rules files"),
    "serve": ("review_api.commands.serve", "run the review service and its page"),
    "verify": ("review_api.commands.verify", "say whether a sealed report is whole, and who sealed it when"),
    "bench": ("review_api.commands.bench", "run the project's own benchmarks"),
}
"""Call, module and what it does. A module has `add_arguments(parser)` and `run(options) -> exit status`."""


def main(arguments: Sequence[str] | None = None) -> int:
    """The exit status of one call: 0 done, 1 a check said no, 2 the call or its input is wrong."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=printable.HANDLER)
    try:
        try:
            return _call(list(sys.argv[1:] if arguments is None else arguments))
        finally:
            if sys.stdout is not None:
                sys.stdout.flush()
    except ProbesideError as error:
        print(f"probeside: {error}", file=sys.stderr)
        return error.exit_status
    except BrokenPipeError:
        _drop_output()
        return 0
    except KeyboardInterrupt:
        print("probeside: stopped", file=sys.stderr)
        return 130
    except OSError as error:
        if error.errno not in _UNWRITTEN or error.filename is not None:
            raise
        _drop_output()
        why = (error.strerror or "it failed").lower()
        print(
            f"probeside: the output cannot be written ({why}): make room or write elsewhere", file=sys.stderr
        )
        return 2


_UNWRITTEN = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
"""A full disk, a quota, a limit on the size of files, a broken device."""


def _call(given: Sequence[str]) -> int:
    called = next((word for word in given if not word.startswith("-")), None)
    parser = argparse.ArgumentParser(
        prog="probeside", description="From an inspector's dictation and photos to a report that stands up."
    )
    calls = parser.add_subparsers(dest="call", required=True, metavar="CALL")
    for name, (module, does) in COMMANDS.items():
        call = calls.add_parser(name, help=does, description=does)
        if name == called:
            loaded = import_module(module)
            loaded.add_arguments(call)
            call.set_defaults(run=loaded.run)
    options = parser.parse_args(given)
    return int(options.run(options))


def _drop_output() -> None:
    """Nothing more is written: what is left in the buffer would fail once more at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


if __name__ == "__main__":
    sys.exit(main())
