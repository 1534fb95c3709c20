"""Whether a figure was measured now, learned from sayings in which each figure is marked with what it is for.

    purpose().measured(line, figures, at)  -> log-odds that the figure is a reading

The sayings are data (`shared/vocabulary/figures_said/`); `make weights` learns the weights from them again.
The rules of `extract.roles` speak first, and what they say is one of the things that are weighed here.
"""

from extract.purpose.judge import Purpose, purpose
from extract.purpose.settling import weigh_purposes

__all__ = ["Purpose", "purpose", "weigh_purposes"]
