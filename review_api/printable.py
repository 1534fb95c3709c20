"""What is printed where the output has no letter for it, as in Latin-1 or ASCII: a minus stays a minus."""

from __future__ import annotations

import codecs

HANDLER = "probeside"
"""The name of the way, for `errors=` of a stream."""
_PLAIN = {
    "−": "-", "–": "-", "—": "-", "‑": "-", "±": "+/-", "°": "deg ", "→": "->", "×": "x", "·": "*",
    "…": "...", "“": "'", "”": "'", "‘": "'", "’": "'", "≤": "<=", "≥": ">=", "\u00a0": " ", "\u202f": " ",
}  # fmt: skip
"""Signs by what stands for them; no quote is doubled, so that JSON stays whole. Others become `?`."""


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    told = error.object[error.start : error.end]
    return "".join(_PLAIN.get(letter, "?") for letter in told), error.end


codecs.register_error(HANDLER, _plain)
