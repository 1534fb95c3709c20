"""Sentences about a violation, made from what is known of it and the phrase tables."""

from __future__ import annotations

from review_api.record import Violation
from review_api.report.text import sentence


def described(item: Violation) -> str:
    """What was found, as a full sentence."""
    return sentence(item.what) or sentence(item.title)
