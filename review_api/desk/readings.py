"""Readings as they stand: proposed values with the inspector's over them."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from review_api.api.shown import Decision, Reading, Utterance, Withdrawn
from review_api.store.tables import Proposal

Choices = Mapping[str, Mapping[str, Any]]


def readings(
    proposals: Sequence[Proposal], decisions: Choices, utterances: Sequence[Utterance]
) -> tuple[Reading, ...]:
    """All readings of an inspection, in the order of the visit."""
    return tuple(
        standing(
            proposal.content, decisions.get(proposal.subject), utterances, gone="gone" in proposal.anchor
        )
        for proposal in proposals
    )


def withdrawn(proposals: Sequence[Proposal], utterances: Sequence[Utterance]) -> tuple[Withdrawn, ...]:
    """What the inspector took back while speaking."""
    return tuple(
        Withdrawn(
            reading=standing(
                {**proposal.content["reading"], "id": proposal.subject}, None, utterances, gone=False
            ),
            why=proposal.content["why"],
            superseded_by=proposal.content.get("superseded_by"),
        )
        for proposal in proposals
    )


def standing(
    content: Mapping[str, Any],
    decided: Mapping[str, Any] | None,
    utterances: Sequence[Utterance],
    *,
    gone: bool,
) -> Reading:
    """One reading with its decision applied.

    What was decided stands on what the inspector saw then: where the program reads it differently now, the
    decision's own copy of the proposal is shown and `proposal_changed` is set.
    """
    seen = decided.get("seen") if decided else None
    base = seen if seen is not None else content
    changes = decided["changes"] if decided else {}
    shown = {**base, **changes}
    if decided and decided.get("check") is not None:
        shown["check"] = decided["check"]
    at = base.get("utterance")
    utterance = utterances[at] if at is not None and not gone and at < len(utterances) else None
    reading = Reading.model_validate(
        {
            **shown,
            "recording": utterance.recording if utterance else None,
            "at": _when(shown, utterance),
            "decision": decision(decided, changed=gone or (seen is not None and _differs(seen, content))),
            "proposed": {name: base[name] for name, value in changes.items() if base.get(name) != value},
        }
    )
    if decided is None and reading.doubts:
        reading.choices = choices_of(reading)
    return reading


def decision(decided: Mapping[str, Any] | None, *, changed: bool) -> Decision:
    """The decision as it is shown."""
    if decided is None:
        return Decision()
    return Decision.model_validate(
        {**{name: decided.get(name) for name in ("state", "reason", "choice", "at", "who")},
         "changes": decided["changes"], "proposal_changed": changed}
    )  # fmt: skip


def choices_of(reading: Reading) -> tuple[float, ...]:
    """The values a doubted reading may have: as proposed first, then each other that was heard."""
    values = [reading.value, *reading.alternatives]
    for doubt in reading.doubts:
        values += [value for text in doubt.alternatives if (value := _number(text)) is not None]
    return tuple(dict.fromkeys(values))


_NUMBER = re.compile(r"[-−]?\d+(?:\.\d+)?")


def _number(text: str) -> float | None:
    found = _NUMBER.search(text)
    if found is None:
        return None
    value = float(found[0].replace("−", "-"))
    return value if math.isfinite(value) else None


_CLOCKS_DIFFER = timedelta(minutes=15)
"""By how much the clock on a wall may be before the recorder's: common practice, no source."""


def _when(shown: Mapping[str, Any], utterance: Utterance | None) -> datetime | None:
    """When it was measured: the clock time said for it, else when it was said.

    A clock time is of the day on which it was said; one that had not come yet then is of the day before.
    """
    if utterance is None or utterance.at is None:
        return None
    at = utterance.at
    if shown.get("clock"):
        hour, minute = map(int, shown["clock"].split(":"))
        told = at.replace(hour=hour, minute=minute, second=0, microsecond=0)
        return told if told - at <= _CLOCKS_DIFFER else told - timedelta(days=1)
    if shown.get("start") is not None and utterance.start is not None:
        return at + timedelta(seconds=max(0.0, shown["start"] - utterance.start))
    return at


def _differs(seen: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    return any(
        seen.get(name) != now.get(name)
        for name in ("kind", "value", "unit", "stage", "item", "place", "agent")
    )
