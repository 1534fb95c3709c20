"""The office whose business days count for an inspection."""

from __future__ import annotations

from typing import cast
from zoneinfo import ZoneInfo

from capture.clock import MachineZone
from review_api.deadlines import Office
from review_api.settings import Settings


def office_for(settings: Settings, time_zone: str | None) -> Office:
    """The department's; not set: Monday to Friday in the visit's time zone, else in this machine's."""
    if settings.office is not None:
        return settings.office
    return Office(zone=ZoneInfo(time_zone) if time_zone else cast(ZoneInfo, MachineZone()))
