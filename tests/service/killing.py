"""Runs `probeside`, killed with SIGKILL at a point of the pipeline: to be called in a process of its own.

Speech model and extraction are left out: fixed values stand for what they give, to test the pipeline alone.
"""

from __future__ import annotations

import os
import signal
from typing import Any

import capture.speech
import extract
from review_api.command import main
from review_api.jobs import steps
from review_api.jobs.workshop import Workshop
from shared.types import Evidence, Extraction, Finding, Stretch, Transcript, Utterance
from tests.service.samples import a_reading

HEARD = Transcript(
    (
        Utterance("walk-in cooler, sliced turkey is at 48", 0.5, 6.0),
        Utterance("the hand sink has no paper towels", 7.0, 12.0),
    ),
    (Stretch(13.0, 14.0),),
)

UNDERSTOOD = Extraction(
    "food_code_2022",
    readings=(a_reading("r1", 48.0, span=(34, 36), start=5.0, end=6.0),),
    findings=(
        Finding(
            "f1", "3-501.16(A)(2)", "P", 22, "turkey at 48 °F", "walk-in", None, "over 41 °F",
            evidence=(Evidence(utterance=0, span=(0, 36)), Evidence(reading="r1")),
        ),
        Finding(
            "f2", "6-301.12", "Pf", 10, "no paper towels", "hand sink", None, "no way to dry hands",
            evidence=(Evidence(utterance=1, span=(0, 33)),),
        ),
    ),
)  # fmt: skip


def deadly(step: str, moment: str) -> Any:
    """The step, and death before or after it."""
    real = getattr(steps, step)

    def killed(*given: Any, **named: Any) -> Any:
        if moment == "after":
            real(*given, **named)
        os.kill(os.getpid(), signal.SIGKILL)

    return killed


def main_killed(point: str, *arguments: str) -> int:
    """The exit status of `probeside ARGUMENT…`, unless it is killed: `point` is `step:before`, `step:after`
    (its work is done, nothing of that is stored yet) or `nowhere`."""
    capture.speech.transcribe = lambda *_given, **_named: HEARD
    extract.extract = lambda *_given, **_named: UNDERSTOOD
    Workshop.model = None  # type: ignore[assignment]
    if point != "nowhere":
        name, when = point.split(":")
        setattr(steps, name, deadly(name, when))
    return main(arguments)
