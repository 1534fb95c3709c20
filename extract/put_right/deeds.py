"""What is known of deeds that put a violation right: `shared/vocabulary/corrections.toml`."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from extract.words.lexicon import Phrases, read
from extract.words.text import plain, word_set


@dataclass(frozen=True, slots=True)
class Action:
    """A kind of putting right and what it can reach."""

    name: str
    reaches: frozenset[int]
    food: bool
    state: bool = False
    """Its participle also tells how a thing is: `lids are covered`."""
    spares: tuple[str, ...] = ()
    """Sections that it never puts right, though it reaches their form item."""


@dataclass(frozen=True, slots=True)
class Tables:
    actions: Phrases[tuple[tuple[Action, bool], ...]]
    """Each action with whether it counts only when confirmed."""
    promise: Phrases[bool]
    later: Phrases[bool]
    """When a thing is to be done, told behind it."""
    temporary: Phrases[bool]
    named: dict[str, Action]
    confirm: Phrases[bool]
    earlier: Phrases[bool]
    left: Phrases[bool]
    """What tells that a thing was left as it was."""
    irregular: frozenset[str]
    looks: frozenset[str]
    """Verbs of looking and saying, which put nothing right."""
    went: Phrases[tuple[Action, bool, bool]]
    """A place with what is done by sending something there, whether the place alone says so, and whether only
    `back` there."""


@cache
def tables() -> Tables:
    data = read("corrections.toml")
    rows: dict[str, list[tuple[Action, bool]]] = {}
    named: dict[str, Action] = {}
    for row in data["action"]:
        action = Action(
            row["name"],
            frozenset(row["reaches"]),
            row.get("food", False),
            row.get("state", False),
            tuple(row.get("spares", ())),
        )
        named[action.name] = action
        for text in row["done"]:
            rows.setdefault(text, []).append((action, False))
        for text in row.get("bare", ()):
            rows.setdefault(text, []).append((action, True))
    return Tables(
        Phrases(((text, tuple(actions)) for text, actions in rows.items()), form=plain),
        Phrases(((text, True) for text in data["promise"]), form=plain),
        Phrases(((text, True) for text in data["later"]), form=plain),
        Phrases(((text, True) for text in data["temporary"]), form=plain),
        named,
        Phrases(((text, True) for text in data["confirm"]), form=plain),
        Phrases(((text, True) for text in data["earlier"]), form=plain),
        Phrases(((text, True) for text in data["left"]), form=plain),
        word_set(data["irregular"]),
        word_set(data["looks"]),
        Phrases(
            (
                (text, (named[row["action"]], sure, row.get("back", False)))
                for row in data["went"]
                for sure, texts in ((True, row["sure"]), (False, row["sent"]))
                for text in texts
            ),
            form=plain,
        ),
    )
