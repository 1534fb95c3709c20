"""Which readings were told near another one."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from extract.scene import Draft


def around(draft: Draft, drafts: Sequence[Draft], lines: int) -> Sequence[Draft]:
    """The readings of the utterances around, up to `lines` before and after."""
    at = draft.line.index
    first = bisect_left(drafts, at - lines, key=lambda d: d.line.index)
    return drafts[first : bisect_right(drafts, at + lines, key=lambda d: d.line.index)]
