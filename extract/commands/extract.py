"""`probeside extract`: readings and findings from text, one utterance a line."""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

from extract.explain import explained, summary
from shared import wire
from shared.errors import InputError
from shared.rules import load
from shared.types import Utterance

_LED = re.compile(r"\s*\[\s*\d[\d\s.,]*:[\d\s.,:]*\]")
"""What was meant for a time, whether it can be one or not."""
_TIME = re.compile(r"\s*\[(\d{1,2}):(\d{2})(?::(\d{2}))?\]\s*")
_DEFAULT_RULES = "food_code_2022"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "files",
        nargs="+",
        metavar="FILE",
        help="text, one utterance a line, optionally led by [HH:MM:SS]; - reads standard input",
    )
    parser.add_argument(
        "--rules",
        default=_DEFAULT_RULES,
        metavar="NAME",
        help=f"rules to hold readings against (default {_DEFAULT_RULES})",
    )
    parser.add_argument(
        "--explain", action="store_true", help="show which words and which rule made each reading and finding"
    )
    parser.add_argument("--json", action="store_true", help="print JSON Lines, one object a file")


def run(options: argparse.Namespace) -> int:
    """Prints what each file means; exit status 0, or an InputError naming the file that cannot be read."""
    from extract.extraction import extract

    rules = load(options.rules)
    sources = [(name, list(utterances(text_of(name), name=name))) for name in options.files]
    for place, (name, said) in enumerate(sources):
        found = extract(said, rules=rules)
        if options.json:
            whole = wire.extraction(found)
            print(json.dumps({"schema": whole["schema"], "file": name, **whole}, ensure_ascii=False))
            continue
        if len(sources) > 1:
            print(f"{'' if place == 0 else chr(10)}== {name}")
        print(explained(found, said) if options.explain else summary(found, said))
    return 0


def text_of(name: str) -> str:
    """The text of a file, or of standard input for `-`. Raises InputError when it cannot be read."""
    try:
        data = sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()
    except OSError as error:
        raise InputError(
            f"{name}: {(error.strerror or 'cannot be read').lower()}; "
            "give a text file or - for standard input"
        ) from error
    if b"\x00" in data[:4096]:
        raise InputError(
            f"{name}: this is no text; give a text file, or run `probeside transcribe` on a recording first"
        )
    return data.decode("utf-8-sig", errors="replace")


def utterances(text: str, *, today: datetime | None = None, name: str = "the text") -> Iterator[Utterance]:
    """The utterances of a text: its lines, empty ones left out, each at the time that leads it, if any.

    Times are of today and go on over midnight. `today`: the moment whose date and offset they take; None:
    now; `name`: of the file. Raises InputError for a leading time that no clock shows.
    """
    day = (today or datetime.now().astimezone()).replace(hour=0, minute=0, second=0, microsecond=0)
    last: datetime | None = None
    for number, line in enumerate(_lines(text), start=1):
        match = _TIME.match(line)
        at = None
        if match is None or not (int(match[1]) < 24 and int(match[2]) < 60 and int(match[3] or 0) < 60):
            if (led := _LED.match(line)) is not None:
                raise InputError(
                    f"{name}, line {number}: {led[0].strip()} is not a time of day; write it as [09:30:00], "
                    "up to [23:59:59], or leave it out"
                )
        else:
            at = day + timedelta(hours=int(match[1]), minutes=int(match[2]), seconds=int(match[3] or 0))
            if last is not None and at < last - timedelta(hours=12):
                day, at = day + timedelta(days=1), at + timedelta(days=1)
            last = at
            line = line[match.end() :]
        line = line.strip()
        if line:
            yield Utterance(line, at=at)


def _lines(text: str) -> Iterable[str]:
    return re.split(r"\r\n|\r|\n", text)
