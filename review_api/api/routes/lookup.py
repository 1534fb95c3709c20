"""Looking things up: words in all inspections, what is due, the rules, the personal vocabulary."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Path, Query

from review_api.api.changes import VocabularyCreate
from review_api.api.looked_up import Due, Hit, ProvisionLine, RulesShown, VocabularyWord
from review_api.api.problems import ANSWERS
from review_api.api.state import Here
from review_api.mending import changes_a_figure
from review_api.place_time import local, zones
from review_api.store import dues, search, vocabulary
from review_api.store.refusals import NotFound, NotValid
from shared import rules as law

router = APIRouter(prefix="/api", tags=["lookup"], responses=ANSWERS)


@router.get("/search")
def find(
    here: Here,
    q: Annotated[str, Query(min_length=1, max_length=200)],
    limit: Annotated[int, Query(ge=1, le=200)] = 50,
) -> list[Hit]:
    """Where all of these words occur in transcripts and findings, best first."""
    with here.database.reading() as session:
        return [
            Hit.model_validate(
                {**{name: getattr(found, name) for name in _HIT}, "inspection": found.inspection_id}
            )
            for found in search.find(session, q, limit=limit)
        ]


_HIT = ("number", "establishment", "kind", "subject", "snippet")


@router.get("/due")
def due(here: Here) -> list[Due]:
    """What falls due, soonest first."""
    with here.database.reading() as session:
        rows = dues.open_ones(session)
        zone = zones(session, [inspection for _, inspection in rows])
        return [
            Due.model_validate(
                {
                    "inspection": inspection.key,
                    "number": inspection.number,
                    "establishment": inspection.establishment,
                    "what": row.what,
                    "subject": row.subject,
                    "text": row.text,
                    "on": local(row.at, zone[inspection.key]),
                    "late": dues.is_late(row),
                }
            )
            for row, inspection in rows
        ]


@router.get("/rules")
def rules_names() -> list[str]:
    """The rules there are."""
    return list(law.names())


@router.get("/rules/{name}")
def rules(name: Annotated[str, Path(max_length=100)]) -> RulesShown:
    """The provisions and form items of some rules, to choose from."""
    if name not in law.names():
        raise NotFound(f"there are no rules {name}; there are {', '.join(law.names())}")
    loaded = law.load(name)
    return RulesShown(
        name=loaded.name,
        title=loaded.title,
        provisions=tuple(ProvisionLine.model_validate(item) for item in loaded.provisions.values()),
    )


@router.get("/vocabulary")
def words(here: Here) -> list[VocabularyWord]:
    """The personal vocabulary, in the order of the alphabet."""
    with here.database.reading() as session:
        return [VocabularyWord.model_validate(row) for row in vocabulary.all_words(session)]


@router.post("/vocabulary", status_code=201)
def keep_word(here: Here, body: VocabularyCreate) -> VocabularyWord:
    """Keeps a word, or how a word was misheard, for the next inspection. A figure is not kept."""
    if body.heard and changes_a_figure(body.heard, body.meant):
        raise NotValid("a figure is not kept as a word: the next one may be another", where="meant")
    with here.database.writing() as session:
        row = vocabulary.keep(session, meant=body.meant, heard=body.heard or "", kind=body.kind)
    return VocabularyWord.model_validate(row)


@router.delete("/vocabulary/{word_id}", status_code=204)
def forget_word(here: Here, word_id: Annotated[int, Path(ge=1, le=2**31 - 1)]) -> None:
    """Forgets a word."""
    with here.database.writing() as session:
        vocabulary.forget(session, word_id)
