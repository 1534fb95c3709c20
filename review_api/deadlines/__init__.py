"""The clocks of the office: business days, when a report must be handed over, what is due."""

from review_api.deadlines.due import Due, HandOver, hand_over, standing
from review_api.deadlines.office import Office, OpeningHours, read_office
from review_api.deadlines.spans import after_business_days, after_calendar_days, after_hours

__all__ = [
    "Due",
    "HandOver",
    "Office",
    "OpeningHours",
    "after_business_days",
    "after_calendar_days",
    "after_hours",
    "hand_over",
    "read_office",
    "standing",
]
