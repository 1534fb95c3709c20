"""The shipped inspection's results against `expected.json`, the truth written by hand before the program ran.

An utterance of the truth is found again by when it was said, since the program may cut speech differently: it
overlaps the utterances of the results that were heard in the seconds in which it sounds (`timing.json`).
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

SLACK_S = 1.0
"""By how much the program may place the same words elsewhere."""

Json = dict[str, Any]


@dataclass(frozen=True)
class Comparison:
    """Truth and results side by side."""

    truth: Json
    results: Json
    seconds: dict[int, tuple[str, float, float]]
    """When each true utterance sounds: recording, first and last second."""

    @cached_property
    def names(self) -> dict[str, str]:
        return {recording["sha256"]: recording["name"] for recording in self.results["recordings"]}

    def said_in(self, number: int) -> set[int]:
        """The utterances of the results in which true utterance `number` was heard."""
        name, start, end = self.seconds[number]
        return {
            at
            for at, utterance in enumerate(self.results["utterances"])
            if self.names[utterance["recording"]] == name
            and utterance["start"] < end + SLACK_S
            and utterance["end"] > start - SLACK_S
        }

    def readings_at(self, number: int) -> list[Json]:
        """The readings of the results that were heard in that utterance."""
        heard = self.said_in(number)
        return [reading for reading in self.results["readings"] if reading["utterance"] in heard]

    def is_found(self, wanted: Json) -> bool:
        """Whether a true reading is among the results, with its value and unit."""
        return any(
            reading["value"] == wanted["value"] and reading["unit"] == wanted["unit"]
            for reading in self.readings_at(wanted["utterance"])
        )

    def is_doubted(self, wanted: Json) -> bool:
        """Whether the inspector is told that something is wrong where a true reading was said."""
        heard = self.said_in(wanted["utterance"])
        doubted = any(self.results["utterances"][at]["doubts"] for at in heard)
        readings = any(reading["doubts"] for reading in self.readings_at(wanted["utterance"]))
        name, start, end = self.seconds[wanted["utterance"]]
        missed = any(
            stretch["start"] < end and stretch["end"] > start
            for recording in self.results["recordings"]
            if recording["name"] == name
            for stretch in recording["not_understood"]
        )
        return doubted or readings or missed

    def is_said(self, reading: Json) -> bool:
        """Whether a reading of the results is true: somebody said it there, and it stood."""
        return any(
            reading["value"] == wanted["value"] and reading["utterance"] in self.said_in(wanted["utterance"])
            for wanted in self.truth["readings"]
        )

    def proposes(self, wanted: Json) -> Json | None:
        """The proposed finding that is the true one: its section, from its words."""
        return next((finding for finding in self.results["findings"] if self._is(finding, wanted)), None)

    def is_true(self, finding: Json) -> bool:
        """Whether a proposed finding is among the true ones."""
        return any(self._is(finding, wanted) for wanted in self.truth["findings"])

    def _is(self, finding: Json, wanted: Json) -> bool:
        heard = {at for number in wanted["utterances"] for at in self.said_in(number)}
        return _is_section(finding["provision"], wanted) and bool(heard & set(self.rests_on(finding)))

    def rests_on(self, finding: Json) -> Iterator[int]:
        """The utterances that a finding's evidence is from."""
        readings = {reading["id"]: reading["utterance"] for reading in self.results["readings"]}
        for part in finding["evidence"]:
            if "utterance" in part:
                yield part["utterance"]
            elif part.get("reading") in readings:
                yield readings[part["reading"]]


def compare(folder: Path, results: Json) -> Comparison:
    """`results` of the inspection in `folder` beside its truth."""
    truth = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    timing = json.loads((folder / "timing.json").read_text(encoding="utf-8"))
    seconds = {row["n"]: (name, row["start"], row["end"]) for name, rows in timing.items() for row in rows}
    return Comparison(truth, results, seconds)


def _is_section(section: str, wanted: Json) -> bool:
    accepted = (wanted["provision"], *wanted["accept"])
    return any(section == other or section.startswith(f"{other}(") for other in accepted)
