"""The office whose business days count for an inspection."""

from __future__ import annotations

from datetime import tzinfo
from typing import cast
from zoneinfo import ZoneInfo

from review_api.deadlines import Office
from review_api.settings import Settings


def office_for(settings: Settings, zone: tzinfo) -> Office:
    """The department's; not set: Monday to Friday in the zone of the place that was visited."""
    if settings.office is not None:
        return settings.office
    return Office(zone=cast(ZoneInfo, zone))
