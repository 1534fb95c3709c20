"""Observed conditions and the provisions they go against, from everyday wording.

    find_conditions(text, *, catalogue=None, rules=None, line=None) -> tuple[Condition, ...]

`catalogue` is `load_catalogue()`, read from `shared/vocabulary/conditions/` and compiled once (cached).
`rules` gives each condition its form item; `line` are the tokens of `text`, where the caller has them.
A `Condition` tells its section, the words it rests on, how it is meant (`polarity`: "violation",
"compliance", "hypothetical", "earlier"), how sure it is, its runners-up, the thing named, the row and pattern
that matched, and what must be asked. Below `ASK_BELOW` it is only offered as a question.

`content` finds the words that carry meaning; `pattern` is the language the catalogue is written in,
`compiling` and `nodes` that language compiled; `catalogue` reads the files; `matching` finds every place
where a pattern stands, `polarity` how it is meant, and `choosing` which of overlapping ones stand.
"""

from extract.conditions.catalogue import Catalogue, CatalogueError, load_catalogue
from extract.conditions.find import find_conditions
from extract.conditions.model import ASK_BELOW, Condition, Polarity

__all__ = [
    "ASK_BELOW",
    "Catalogue",
    "CatalogueError",
    "Condition",
    "Polarity",
    "find_conditions",
    "load_catalogue",
]
