"""What an answer makes of its finding: it rewrites or completes a part, and can be taken back.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from extract.words.lexicon import read
from review_api.api.changing import look
from review_api.desk.answers import rows
from review_api.record import Department
from review_api.record_of import record
from review_api.store import inspections
from review_api.store.tables import now
from tests.service.samples import Sample, an_extraction

LONG = "How long has it been out of temperature?"
DONE = "What was done with it?"
FOOD = "Which food is it?"
WHERE = "Where is it?"
WHO = "Who did it (role, not name)?"
CORRECTED = "Was it corrected during the visit, and how?"
SERVED = "Was any of it served?"


def asking(sample: Sample, *texts: str, **changes: Any) -> None:
    """The first finding with these questions open."""
    now_ = an_extraction()
    first = replace(now_.findings[0], open_questions=texts, **changes)
    sample.propose(replace(now_, findings=(first, *now_.findings[1:])))


def answer(sample: Sample, asked: str, text: str, finding: str = "f1") -> Any:
    questions = sample.one("findings", finding)["questions"]
    name = next(one["id"] for one in questions if one["text"] == asked)
    return sample.put(f"questions/{name}", answer=text)


def finding(sample: Sample, name: str = "f1") -> dict[str, Any]:
    return sample.one("findings", name)


TURKEY = "sliced turkey was at 48.5 °F"
FILLS = [
    (LONG, "since nine, the cook says", "what", f"{TURKEY}. Out of temperature: since nine, the cook says."),
    (SERVED, "no", "what", f"{TURKEY}. Served: no."),
    (DONE, "thrown out.", "correction", "Thrown out."),
    (WHERE, "prep cooler by the window", "where", "prep cooler by the window"),
    (WHO, "the morning cook", "who", "the morning cook"),
    (FOOD, "smoked turkey", "item", "smoked turkey"),
    (FOOD, "smoked turkey", "what", f"Smoked turkey: {TURKEY}"),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "text", "part", "value"), FILLS)
def test_an_answer_fills_the_part_that_it_names(
    sample: Sample, asked: str, text: str, part: str, value: str
) -> None:
    asking(sample, asked)
    before = finding(sample)
    answer(sample, asked, text)
    now_ = finding(sample)
    assert now_[part] == value
    assert now_["proposed"][part] == before[part]
    question = now_["questions"][0]
    assert (question["answer"], question["stands"]) == (text, True)
    assert {"answer": question["id"]} in [
        {name: value for name, value in one.items() if value is not None} for one in now_["evidence"]
    ]
    assert now_["decision"]["state"] == "proposed"  # an answer decides nothing
    sample.post("undo")
    assert finding(sample) == before


def test_a_food_that_was_named_before_is_named_anew(sample: Sample) -> None:
    asking(sample, FOOD, item="container", what="Container: it stood open")
    answer(sample, FOOD, "diced tomatoes")
    assert finding(sample)["what"] == "Diced tomatoes: it stood open"


PUT_RIGHT = [
    (DONE, "thrown out", True),
    (DONE, "moved to the cooler", True),
    (DONE, "nothing yet", False),
    (DONE, "reheated", False),  # a cold food that is reheated is not cold again
    (DONE, "will be thrown out tonight", False),
    (CORRECTED, "yes", True),
    (CORRECTED, "no", False),
    (LONG, "since they threw out the old ice", False),
]


@pytest.mark.parametrize(("asked", "text", "corrected"), PUT_RIGHT)
def test_what_was_done_tells_whether_it_was_corrected_on_site(
    sample: Sample, asked: str, text: str, corrected: bool
) -> None:
    asking(sample, asked)
    answer(sample, asked, text)
    assert finding(sample)["corrected_on_site"] is corrected


@pytest.mark.parametrize("text", ["not known", "Nobody knows."])
def test_not_known_fills_nothing_and_is_printed_beside_its_question(sample: Sample, text: str) -> None:
    asking(sample, WHERE, where=None)
    answer(sample, WHERE, text)
    assert finding(sample)["where"] is None
    sample.decide("f1", "confirm")
    told = report(sample).violations[0]
    assert [(one.question, one.answer) for one in told.answers] == [(WHERE, text)]


def test_the_report_says_it_in_the_part_with_the_answer_as_evidence(sample: Sample) -> None:
    asking(sample, LONG, DONE)
    answer(sample, LONG, "two hours")
    answer(sample, DONE, "thrown out")
    sample.decide("f1", "confirm")
    told = report(sample).violations[0]
    assert told.what.endswith("Out of temperature: two hours.")
    assert (told.corrected_on_site, told.correction, told.correct_by) == (True, "Thrown out.", None)
    assert (told.answers, told.typed) == ((), False)
    assert f"answer to “{LONG}”" in told.evidence


def report(sample: Sample) -> Any:
    with sample.state.database.reading() as session:
        seen = look(inspections.whole(session, sample.inspection))
    return record(seen.desk, seen.rules, department=Department(name="x"), made=now())


def test_a_finding_without_a_place_is_asked_for_it(sample: Sample) -> None:
    asking(sample, where=None)
    assert finding(sample)["lacks"] == [WHERE]
    answer(sample, WHERE, "walk-in")
    assert (finding(sample)["where"], finding(sample)["lacks"]) == ("walk-in", [])


def test_writing_the_place_itself_settles_the_question(sample: Sample) -> None:
    asking(sample, where=None)
    sample.decide("f1", "edit", changes={"where": "walk-in"})
    assert (finding(sample)["questions"], finding(sample)["lacks"]) == ([], [])


WHEN = "At what time was it seen?"


def test_a_time_is_asked_for_and_brings_its_deadline(sample: Sample) -> None:
    """Food Code 2022, 8-405.11: 72 hours for a priority item."""
    asking(sample, when=None)
    refused = answer(sample, WHEN, "in the morning")
    assert (refused.status_code, refused.json()["code"]) == (422, "not_valid")
    answer(sample, WHEN, "2:15 pm")
    assert finding(sample)["when"] == "2026-05-04T14:15:00-05:00"
    assert finding(sample)["correct_by"].startswith("2026-05-07T14:15:00")


def test_an_edit_after_an_answer_takes_its_place(sample: Sample) -> None:
    asking(sample, WHERE)
    answer(sample, WHERE, "bar cooler")
    sample.decide("f1", "edit", changes={"where": "back bar"})
    assert finding(sample)["where"] == "back bar"
    assert finding(sample)["questions"][0]["stands"] is False
    assert report(sample).violations[0].answers == ()
    answer(sample, WHERE, "front bar")
    assert (finding(sample)["where"], finding(sample)["decision"]["changes"]) == ("front bar", {})
    sample.post("undo")
    assert finding(sample)["where"] == "back bar"


def test_an_answer_joins_words_that_were_typed(sample: Sample) -> None:
    asking(sample, LONG, SERVED)
    sample.decide("f1", "edit", changes={"what": "turkey was warm"})
    answer(sample, LONG, "two hours")
    assert finding(sample)["what"] == "turkey was warm. Out of temperature: two hours."
    sample.decide("f1", "edit", changes={"what": "Turkey was warm for two hours."})
    assert (
        finding(sample)["what"] == "Turkey was warm for two hours."
    )  # as typed; the answer is not added again
    answer(sample, SERVED, "no")
    assert finding(sample)["what"] == "Turkey was warm for two hours. Served: no."


def test_a_changed_answer_is_changed_in_the_typed_words_too(sample: Sample) -> None:
    asking(sample, LONG)
    answer(sample, LONG, "two hours")
    sample.decide(
        "f1", "edit", changes={"what": "Turkey was warm. Out of temperature: two hours. On the top shelf."}
    )
    answer(sample, LONG, "three hours")
    assert finding(sample)["what"] == "Turkey was warm. Out of temperature: three hours. On the top shelf."
    answer(sample, LONG, "")
    assert finding(sample)["what"] == "Turkey was warm. On the top shelf."


def test_confirming_keeps_what_was_answered(sample: Sample) -> None:
    asking(sample, WHERE)
    answer(sample, WHERE, "bar cooler")
    sample.decide("f1", "confirm")
    assert (finding(sample)["where"], finding(sample)["decision"]["state"]) == ("bar cooler", "confirmed")
    sample.propose(an_extraction())
    assert finding(sample)["where"] == "bar cooler"


def test_a_finding_is_found_by_what_was_answered(sample: Sample) -> None:
    asking(sample, WHO)
    answer(sample, WHO, "the apprentice")
    hits = sample.client.get("/api/search?q=apprentice").json()
    assert [(hit["kind"], hit["subject"]) for hit in hits] == [("finding", "f1")]


def test_every_question_that_is_asked_of_a_finding_fills_a_part_of_it() -> None:
    of_stages = {row["text"] for row in read("questions.toml")["question"]}
    of_conditions = set(read("conditions/questions.toml")["questions"].values())
    told = {text for row in rows() for text in row.to}
    assert (of_stages | of_conditions) - told == set()
