"""Food that was put cold into what only keeps food hot: it is being reheated there, and not held."""

from __future__ import annotations

import re

from extract.of_what.staging import fahrenheit
from extract.scene import Draft, Read, Scene
from extract.words.text import words_of

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
    line = read.line
    before = max(found.start() - _BEFORE, *(m.end() for m in _PAST.finditer(line.text, 0, found.start())), 0)
    told = {token.stem for token in line.tokens if before <= token.start < found.end()}
    foods = any(c.known_food and line.tokens[c.first].start < found.end() for c in line.chunks)
    for draft in scene.recent(read.line.index, back=1):
        if (
            draft.kind == "temperature"
            and draft.stage == "hot_holding"
            and _is_it(draft, read, told, foods=foods)
        ):
            if fahrenheit(draft.value, draft.unit) >= _REHEATED_F:
                continue
            draft.stage, draft.stage_fixed = "reheating", True
            draft.rules.append(("stage: reheating, as it was put in cold", read.line.index, *found.span()))


_PAST = re.compile(r"\band then\b|\bbut\b|[.;!?]")
"""Behind which another food is spoken of: `ribs 151, and then somebody loaded the beans in cold`."""
_BEFORE = 40
"""Characters before such words in which the food is named."""


def _is_it(draft: Draft, read: Read, told: set[str], *, foods: bool) -> bool:
    """Whether a reading is of the food that such words name, or of the utterance that names none."""
    if words_of(draft.item or "") & told:
        return True
    return not foods and draft.line is read.line
