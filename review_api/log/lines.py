"""The log as JSON Lines: one entry a line, readable and checkable without the program or its database."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

import rfc8785

from review_api.log.chain import Entry
from shared.errors import InputError


def write_lines(entries: Iterable[Entry]) -> Iterator[str]:
    """Each entry as one line of canonical JSON, newline included."""
    for entry in entries:
        whole: dict[str, Any] = {
            "sequence": entry.sequence,
            "previous": entry.previous,
            "event": dict(entry.event),
            "hash": entry.hash,
        }
        yield rfc8785.dumps(whole).decode() + "\n"


def read_lines(lines: Iterable[str], *, name: str) -> tuple[Entry, ...]:
    """The entries of an exported log, unverified. Raises InputError naming the faulty line of `name`."""
    return tuple(_entry(line, f"{name}, line {at}") for at, line in enumerate(lines, start=1) if line.strip())


def _entry(line: str, where: str) -> Entry:
    try:
        whole = json.loads(line)
        entry = Entry(
            sequence=whole["sequence"], event=whole["event"], previous=whole["previous"], hash=whole["hash"]
        )
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise InputError(f"{where}: not an entry of an event log; export the log again") from error
    sound = (
        isinstance(entry.sequence, int)
        and isinstance(entry.event, dict)
        and isinstance(entry.previous, str)
        and isinstance(entry.hash, str)
    )
    if not sound:
        raise InputError(f"{where}: not an entry of an event log; export the log again")
    return entry
