"""What an utterance names: places, objects and foods of the vocabulary, and names of this kitchen only."""

from __future__ import annotations

from extract.words.lexicon import Lexicon, Object, Place
from extract.words.text import Token

Named = tuple[int, str, Place | None, Object | None]
"""End token of a name, its sort, and what it names."""


def names_in(line: list[Token], words: Lexicon) -> dict[int, Named]:
    """First token → what is named there by the longest name that begins with it."""
    names: dict[int, Named] = {}
    for i in words.names.begins(line):
        if line[i].kind == "word":
            if (hit := words.names.at(line, i)) is not None:
                end, name = hit
                if name.place is not None:
                    names[i] = (end, "place", name.place, name.object)
                else:
                    names[i] = (end, "food", None, None) if name.food else (end, "object", None, name.object)
        elif line[i].kind == "number" and (place := words.places.at(line, i)) is not None:
            names[i] = (place[0], "place", place[1], None)
    for i in words.own.begins(line):
        own = words.own.at(line, i) if line[i].kind == "word" else None
        if own is None or words.foods.at(line, i) is not None:
            continue
        named = names.get(i)
        if named is None or own[0] > named[0] or (own[0] == named[0] and named[1] == "object"):
            names[i] = (own[0], "food", None, None)
    for i in words.nicknames.begins(line):
        if line[i].kind == "word" and (called := words.nicknames.at(line, i)) is not None:
            names[i] = (called[0], "place", called[1], None)
    return names
