"""The zone of the place that was visited: times of a visit are stored and shown with its offset."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime, tzinfo
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sqlmodel import Session, col, select

from capture.clock import MachineZone
from review_api.api.shown import Desk
from review_api.store.inspections import Rows
from review_api.store.summary import first_heard
from review_api.store.tables import Choice, Inspection


def zone_of(facts: Mapping[str, Any], started: Iterable[datetime | str] = ()) -> tzinfo:
    """The zone that the facts of the visit name; else the offset of its first time; else this machine's.

    `started`: when its recordings began.
    """
    named = facts.get("time_zone")
    if named:
        try:
            return ZoneInfo(named)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            pass
    for at in (facts.get("time_in"), *started):
        moment = datetime.fromisoformat(at) if isinstance(at, str) else at
        if moment is not None and moment.tzinfo is not None:
            return moment.tzinfo
    return MachineZone()


def zone_of_desk(desk: Desk) -> tzinfo:
    """The same for an inspection as it stands at the desk."""
    facts = {"time_zone": desk.facts.time_zone, "time_in": desk.facts.time_in}
    return zone_of(facts, (recording.started for recording in desk.recordings))


def zones(session: Session, rows: Sequence[Inspection]) -> dict[int, tzinfo]:
    """The same for many inspections, by their ids."""
    ids = [row.key for row in rows]
    facts = {
        row.inspection_id: row.value
        for row in session.exec(
            select(Choice).where(
                col(Choice.inspection_id).in_(ids), Choice.kind == "facts", Choice.subject == "visit"
            )
        )
    }
    started = first_heard(session, ids)
    return {
        row.key: zone_of(
            {**row.facts, **facts.get(row.key, {})}, (started[row.key],) if row.key in started else ()
        )
        for row in rows
    }


def zone_of_rows(rows: Rows) -> tzinfo:
    """The same for an inspection as it is stored."""
    return zone_of(rows.facts, (row.content["started"] for row in rows.recordings))


def local(at: datetime, zone: tzinfo) -> datetime:
    """The moment on the clock of the place; a time without an offset is taken as on that clock."""
    try:
        there = at.replace(tzinfo=zone) if at.tzinfo is None else at.astimezone(zone)
        there.utcoffset()
    except (OverflowError, ValueError, OSError):  # at the ends of the calendar
        return at.replace(tzinfo=at.tzinfo or UTC)
    return there
