"""What is made of the log-odds that a figure was measured: it stays a reading, is doubted, or is none."""

from __future__ import annotations

from collections.abc import Sequence

from extract.figure import Figure
from extract.line import Line
from extract.purpose.judge import purpose

_DOUBTED, _MENTIONED = 0.0, -2.5
"""Log-odds under which a figure is doubted, and under which it is taken as mentioned only. Chosen on the
dictations `f` and `h` of tests/extract/people before the rules had been held to them: of 167 figures that
were measured 10 lie under the first and 4 under the second, of 40 that were not, 24 and 7."""


def weigh_purposes(line: Line, found: Sequence[Figure]) -> None:
    """Weighs each figure that the rules take for a reading, in place, all roles settled. Spans of time are
    left to `extract.durations`, which knows which of them a rule judges, and figures that the rules say why
    they are readings to the rules."""
    weighed = [figure.role == "figure" and figure.kind != "duration" and not figure.why for figure in found]
    if not any(weighed):
        return
    for figure, odds, one in zip(found, purpose().measured(line, found), weighed, strict=True):
        if one and odds < _MENTIONED:
            figure.role, figure.why = "mentioned", "all that stands around it"
        elif one and odds < _DOUBTED:
            figure.perhaps_mentioned = True
