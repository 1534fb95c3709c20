"""The event log's hash chain: whole logs pass, every change to a log is named."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from review_api.log import GENESIS, Entry, Event, chain, follow, read_lines, verify, write_lines
from shared.errors import InputError

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=timezone(timedelta(hours=-5)))


def a_log(length: int = 5) -> tuple[Entry, ...]:
    entries: list[Entry] = []
    for number in range(length):
        event = Event(
            at=NOON + timedelta(minutes=number),
            who="R. Okonjo-Vale",
            did="finding confirmed",
            inspection="TM-0007",
            about={"finding": f"f{number}", "margin": 7.5, "note": "Ñandú ≤ 41 °F"},
        )
        entries.append(follow(entries[-1] if entries else None, event))
    return tuple(entries)


def test_a_whole_log_has_no_fault() -> None:
    assert verify(a_log()) == ()
    assert verify(()) == ()


def test_the_hash_can_be_made_again_with_json_and_sha256_alone() -> None:
    # For keys in ASCII and numbers without exponents, sorted compact JSON is the RFC 8785 form.
    first = a_log(1)[0]
    text = json.dumps(
        {"event": first.event, "previous": GENESIS}, sort_keys=True, separators=(",", ":"), ensure_ascii=False
    )
    assert first.hash == hashlib.sha256(text.encode()).hexdigest()


CHANGES = [
    (
        "an event changed",
        lambda log: (*log[:2], replace(log[2], event={**log[2].event, "who": "x"}), *log[3:]),
        3,
    ),
    ("an entry taken out", lambda log: (*log[:2], *log[3:]), 4),
    ("an entry put in twice", lambda log: (*log[:3], *log[2:]), 3),
    ("two entries swapped", lambda log: (log[0], log[2], log[1], *log[3:]), 3),
    ("a hash changed", lambda log: (*log[:2], replace(log[2], hash="f" * 64), *log[3:]), 3),
    ("a first entry taken off", lambda log: log[1:], 2),
    ("an entry recounted", lambda log: (*log[:2], replace(log[2], sequence=9), *log[3:]), 9),
]


@pytest.mark.parametrize(("change", "at"), [pytest.param(c, at, id=name) for name, c, at in CHANGES])
def test_every_change_in_the_middle_is_found_where_it_is(change, at) -> None:
    faults = verify(change(a_log()))
    assert faults
    assert faults[0].sequence == at


def test_an_event_changed_with_its_own_hash_made_again_breaks_the_next_entry() -> None:
    log = a_log()
    event = {**log[2].event, "did": "finding rejected"}
    forged = replace(log[2], event=event, hash=chain(log[2].previous, event))
    assert [fault.sequence for fault in verify((*log[:2], forged, *log[3:]))] == [4]


def test_a_cut_tail_shows_only_against_a_hash_kept_elsewhere() -> None:
    log = a_log()
    head = log[-1].hash
    assert verify(log[:-1]) == ()
    assert "kept outside" in verify(log[:-1], anchors=[head])[0].what
    assert verify(log, anchors=[head, log[1].hash]) == ()


def test_an_exported_log_reads_back_the_same() -> None:
    assert read_lines(write_lines(a_log()), name="log.jsonl") == a_log()


@pytest.mark.parametrize(
    "line",
    ["", "{}", "[]", "nonsense", '{"sequence": "1", "event": {}, "previous": "", "hash": ""}', "[" * 100000],
)
def test_a_line_that_is_no_entry_is_named(line: str) -> None:
    good = list(write_lines(a_log(1)))
    if not line:
        assert read_lines([*good, line], name="log.jsonl") == a_log(1)
        return
    with pytest.raises(InputError, match=r"log\.jsonl, line 2"):
        read_lines([*good, line], name="log.jsonl")


def test_a_time_without_an_offset_is_refused() -> None:
    with pytest.raises(ValueError, match="no offset"):
        follow(None, Event(at=NOON.replace(tzinfo=None), who="a", did="b", inspection="c"))


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 2**60, 2.0**53, {1: "number as key"}])
def test_what_json_cannot_hold_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match="canonical JSON"):
        chain(GENESIS, {"value": value})


TEXT = st.text(st.characters(exclude_categories=["Cs"]))
NUMBER = st.integers(-(2**53) + 1, 2**53 - 1) | st.floats(-1e15, 1e15)
JSON = st.recursive(
    st.none() | st.booleans() | NUMBER | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=8,
)


@given(st.lists(st.dictionaries(TEXT, JSON, max_size=4), max_size=4))
def test_any_event_survives_export_and_keeps_its_hash(events: list[dict[str, object]]) -> None:
    log: list[Entry] = []
    for event in events:
        log.append(follow(log[-1] if log else None, event))
    again = read_lines(write_lines(log), name="log.jsonl")
    assert [entry.hash for entry in again] == [entry.hash for entry in log]
    assert verify(again) == ()
