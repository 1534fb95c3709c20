"""Why a change was not stored, as values that the interface turns into answers."""

from __future__ import annotations

from typing import Any

from shared.errors import ProbesideError


class Refusal(ProbesideError):  # noqa: N818 - a refusal is an answer, not a fault
    """A change that the store refused. Nothing was changed."""

    code = "refused"
    status = 422

    def __init__(self, sentence: str, **details: Any) -> None:
        super().__init__(sentence)
        self.details = details


class NotFound(Refusal):
    code = "not_found"
    status = 404


class Conflict(Refusal):
    """Somebody changed the same thing after the revision that the person was looking at."""

    code = "conflict"
    status = 409


class Closed(Refusal):
    """The inspection is sealed: it changes only through an amendment."""

    code = "closed"
    status = 409


class NotValid(Refusal):
    code = "not_valid"


class Lacks(Refusal):
    """Something that a report needs is missing, and no reason is given."""

    code = "lacks"


class MeetsLimit(Refusal):
    """A finding is confirmed on a value that is within the limit."""

    code = "meets_limit"


class ChoiceNeeded(Refusal):
    """A doubted number cannot be confirmed without choosing among what was heard."""

    code = "choice_needed"


class NotSealed(Refusal):
    """What was signed is kept, but its seal could not be made; it can be sent again."""

    code = "not_sealed"
    status = 503
