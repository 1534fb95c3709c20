"""`make tables`: compiles the vocabulary that takes long to compile, and keeps it for the next start."""

from __future__ import annotations

import sys

from extract.conditions import catalogue
from extract.measured import mishearings
from extract.words import lexicon
from shared import foods
from shared.kept import keep


def main() -> int:
    """Writes the kept tables and says where."""
    print(keep("foods", foods.sources(), foods.compile_foods()))
    print(keep("lexicon", lexicon.sources(), lexicon.compile_lexicon()))
    print(keep("mishearings", mishearings.sources(), mishearings.compile_mishearings()))
    print(keep("misprints", mishearings.sources(), mishearings.compile_misprints()))
    print(keep("catalogue", catalogue.sources(), catalogue.compile_catalogue()))
    return 0


if __name__ == "__main__":
    sys.exit(main())
