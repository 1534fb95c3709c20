"""Food that was put cold into what only keeps food hot: it is being reheated there, and not held."""

from __future__ import annotations

import re

from extract.line import Chunk
from extract.scene import Draft, Read, Scene
from extract.staging import fahrenheit, heads_agree

_COLD = re.compile(
    r"\b(?:went|put|set|placed|dropped|poured|loaded|dumped)\b(?:[^.;!?]{0,40}?\b(?:in|into|on|straight)\b)?"
    r"[^.;!?]{0,30}?\bcold\b(?! (?:water|well|rail|table|side|line|pan|holding|one))",
    re.IGNORECASE,
)
"""`it was set in that same well cold this morning`, `she put it in cold`: common practice, no source."""
_REHEATED_F = 165.0
"""FDA Food Code 2022, 3-403.11(A)."""


def reheat_what_went_in_cold(read: Read, scene: Scene) -> None:
    """Takes readings of such food, told in the utterance or the one before, for reheating, in place."""
    found = _COLD.search(read.line.text)
    if found is None:
        return
    named = [c for c in read.line.chunks if c.known_food and read.line.tokens[c.first].start < found.end()]
    name = read.line.words(named[-1].first, named[-1].last) if named else None
    for draft in scene.recent(read.line.index, back=1):
        if draft.kind == "temperature" and draft.stage == "hot_holding" and _is_it(draft, read, named, name):
            if fahrenheit(draft.value, draft.unit) >= _REHEATED_F:
                continue
            draft.stage, draft.stage_fixed = "reheating", True
            draft.rules.append(("stage: reheating, as it was put in cold", read.line.index, *found.span()))


def _is_it(draft: Draft, read: Read, named: list[Chunk], name: str | None) -> bool:
    if name is not None and draft.item is not None:
        return heads_agree(draft.item, name)
    return not named and draft.line is read.line
