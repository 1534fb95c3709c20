"""How like a sentence is to what inspectors say when a section is violated, learned from written sayings.

    likeness().sense(words)     -> log-odds that a violation is told at all
    likeness().sections(words)  -> per section, how far the words speak for it
    considered(...)             -> sections worth weighing for one sentence, with what speaks for each

The sayings are data (`shared/vocabulary/sayings/`); `make weights` learns the weights from them again,
and the weighing from walks (`shared/vocabulary/walks/`). Nothing here decides: the weighing gives each
proposal its confidence.
"""

from extract.likeness.judge import Likeness, likeness
from extract.likeness.weighing import Considered, considered

__all__ = ["Considered", "Likeness", "considered", "likeness"]
