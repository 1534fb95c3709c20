"""The desk: one inspection as it stands now, what the program proposes with what the person decided over it.

Pure functions from stored rows and rules to what the page shows. The report's record is made from the same
value, so that what is printed is what was seen.
"""

from review_api.desk.whole import desk

__all__ = ["desk"]
