"""What is kept: inspections, what the program proposes, what a person chose, and the event log."""

from review_api.store.database import Database

__all__ = ["Database"]
