"""A hash chain over events: each entry's hash covers its event and the hash before it.

`hash = SHA-256(canonical JSON of {"event": …, "previous": …})`, the canonical form being RFC 8785, so that
anyone can check an exported log with a JSON library and SHA-256 alone. A chain shows every change, removal
and insertion in its middle. A tail that was cut off shows only against a hash kept elsewhere: a sealed
report states the log's head at the time it was sealed; pass such hashes to `verify` as `anchors`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import rfc8785

GENESIS = "0" * 64
"""What stands as the previous hash of the first event."""

Plain = Mapping[str, Any]
"""An event as JSON: text, whole and finite numbers, true, false, null, lists and mappings of these."""


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that was done."""

    at: datetime
    """When, with an offset."""
    who: str
    """The person or the part of the program that did it."""
    did: str
    """What, as a short stable name such as `finding confirmed` or `report sealed`."""
    inspection: str
    """The inspection's number."""
    about: Plain = field(default_factory=dict)
    """Details as JSON: ids, hashes, values before and after."""

    def plain(self) -> dict[str, Any]:
        """The event as JSON takes it. Raises ValueError for a time without an offset."""
        if self.at.tzinfo is None:
            raise ValueError(f"the time of the event {self.did!r} has no offset")
        return {
            "at": self.at.isoformat(),
            "who": self.who,
            "did": self.did,
            "inspection": self.inspection,
            "about": dict(self.about),
        }


@dataclass(frozen=True, slots=True)
class Entry:
    """One event in its place in the chain."""

    sequence: int
    """From 1, without gaps."""
    event: Plain
    previous: str
    """Hash of the entry before; `GENESIS` for the first."""
    hash: str


@dataclass(frozen=True, slots=True)
class Fault:
    """One place where a log contradicts itself, in words."""

    sequence: int
    """The entry; 0 when it is the log as a whole."""
    what: str


def canonical(event: Event | Plain) -> bytes:
    """The event in the one byte form that RFC 8785 allows. Raises ValueError for what JSON cannot hold."""
    plain = event.plain() if isinstance(event, Event) else dict(event)
    try:
        written = rfc8785.dumps(plain)
        rfc8785.dumps(json.loads(written))  # 2.0**53 is written as a whole number that cannot be read again
    except rfc8785.CanonicalizationError as error:
        raise ValueError(f"the event cannot be written as canonical JSON: {error}") from error
    return written


def chain(previous: str, event: Event | Plain) -> str:
    """The hash of `event` after `previous`: 64 lower-case hex digits."""
    return hashlib.sha256(
        b'{"event":' + canonical(event) + b',"previous":' + rfc8785.dumps(previous) + b"}"
    ).hexdigest()


def follow(last: Entry | None, event: Event | Plain) -> Entry:
    """The entry that puts `event` after `last`; the first of a chain when `last` is None."""
    plain = event.plain() if isinstance(event, Event) else dict(event)
    previous = last.hash if last else GENESIS
    sequence = last.sequence + 1 if last else 1
    return Entry(sequence=sequence, event=plain, previous=previous, hash=chain(previous, plain))


def verify(entries: Iterable[Entry], *, anchors: Collection[str] = ()) -> tuple[Fault, ...]:
    """All places where the chain is broken, first to last; empty when it is whole.

    `anchors` are hashes kept outside the log, such as the head stated in a sealed report: each must occur,
    or entries were cut off or the log was written anew.
    """
    seen: set[str] = {GENESIS}
    faults = list(_walk(entries, seen))
    for anchor in anchors:
        if anchor not in seen:
            faults.append(
                Fault(
                    0,
                    f"the hash {anchor[:12]}… kept outside the log is not in it: cut short, or written anew",
                )
            )
    return tuple(faults)


def _walk(entries: Iterable[Entry], seen: set[str]) -> Iterator[Fault]:
    previous, expected = GENESIS, 1
    for entry in entries:
        if entry.sequence != expected:
            yield Fault(
                entry.sequence, f"entry {expected} should stand here: entries are missing or out of order"
            )
        if entry.previous != previous:
            yield Fault(entry.sequence, "it does not follow the entry before it")
        try:
            right = chain(entry.previous, entry.event)
        except ValueError as error:
            yield Fault(entry.sequence, str(error))
        else:
            if right != entry.hash:
                yield Fault(entry.sequence, "its event was changed after it was written, or its hash was")
            else:
                seen.add(right)
        previous, expected = entry.hash, entry.sequence + 1
