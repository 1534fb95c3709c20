"""What follows from the section that a person cites: its form item, and its class or that it is asked."""

from __future__ import annotations

from dataclasses import dataclass

from review_api.store.refusals import NotValid
from shared.rules.model import Rules

_FROM_MILDEST = ("C", "Pf", "P")


@dataclass(frozen=True, slots=True)
class Cited:
    """A section as the rules have it."""

    class_: str
    """Its own; of several the least strict, until a person says which."""
    form_item: int | None
    asked: tuple[str, ...]
    """The classes to choose from; empty where there is one."""


def cited(section: str, rules: Rules) -> Cited:
    """The section or paragraph that is cited. Raises NotValid where the rules have none of that name."""
    provision = rules.provision(section)
    if provision is None:
        raise NotValid(f"{rules.title} has no section {section}; choose one from its list", where="provision")
    several = tuple(sorted(provision.classes, key=_FROM_MILDEST.index))
    return Cited(several[0], provision.form_item, several if len(several) > 1 else ())


def which_class(section: str, class_: str, asked: tuple[str, ...]) -> str:
    """The sentence that asks which of several classes it is."""
    *others, last = asked
    return (
        f"section {section} is {', '.join(others)} or {last} by paragraph, and none was chosen: "
        f"taken as {class_}, the least strict; choose the class"
    )
