"""Open questions, those of findings and those that belong to none, with the answers given."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from typing import Any

from review_api.api.shown import Question
from review_api.desk.answers import Answered, is_unknown, row_for
from review_api.store.tables import Proposal

_YES_NO = re.compile(r"(?:^|: )(?:is|are|was|were|do|does|did|has|have|can|could) ", re.IGNORECASE)
"""A question that is answered by yes or no, alone or after what it is about."""

_A_FINDING = "is this a violation"


def name(finding: str, text: str) -> str:
    """The lasting name of a finding's question: asked again in a later run, it keeps its answer."""
    return f"{finding}.{hashlib.sha256(text.encode()).hexdigest()[:6]}"


def of_finding(
    finding: str, texts: Sequence[str], answers: Mapping[str, Mapping[str, Any]]
) -> tuple[Question, ...]:
    """The questions that a finding leaves open, or left."""
    return tuple(_question(name(finding, text), text, answers, finding=finding) for text in texts)


def answered(questions: Sequence[Question]) -> list[Answered]:
    """The answers that were given, in the order asked."""
    return [
        Answered(question.id, question.text, question.answer)
        for question in questions
        if question.answer is not None
    ]


def general(proposals: Sequence[Proposal], answers: Mapping[str, Mapping[str, Any]]) -> tuple[Question, ...]:
    """The questions that belong to no finding yet."""
    return tuple(
        _question(
            proposal.subject,
            proposal.content["text"],
            answers,
            evidence=proposal.content["evidence"],
            provisions=proposal.content["provisions"],
        )
        for proposal in proposals
    )


def _question(subject: str, text: str, answers: Mapping[str, Mapping[str, Any]], **more: Any) -> Question:
    given = answers.get(subject)
    row = row_for(text) if "finding" in more else None
    usual: tuple[str, ...] = ("yes", "no") if _YES_NO.search(text) else ()
    if _A_FINDING in text:
        usual = ("no",)  # a yes is no answer but a finding, written under one of the sections
    choices = (*(row.choices if row is not None and row.choices else usual), "not known")
    fills = row is not None and not (given and is_unknown(given["answer"]))
    return Question.model_validate(
        {
            "id": subject,
            "text": text,
            "choices": choices,
            "answer": given["answer"] if given else None,
            "fills": row.part if row is not None and fills else None,
            **more,
        }
    )
