"""A misheard sentence corrected at the desk: kept as heard, understood anew, undone, over no decision.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from review_api import understanding, wording
from review_api.store import inspections
from review_api.store.tables import Recording
from review_api.store.values import to_json
from shared import rules as law
from shared.types import Doubt, Utterance, Word
from tests.service.samples import SAID, SOUND, Sample

COOLER = "walk in cooler, sliced turkey thirty eight point five"


@pytest.fixture
def heard(sample: Sample) -> Sample:
    """The small inspection with what the speech stage heard, understood by the real extraction."""
    hear(sample, SAID)
    return sample


def hear(sample: Sample, said: tuple[Utterance, ...]) -> None:
    """What a run of the pipeline over these sentences leaves."""
    with sample.state.database.writing() as session:
        row = session.get_one(Recording, (sample.inspection, SOUND))
        row.heard = [to_json(replace(one, at=None, recording=None)) for one in said]
        session.add(row)
        session.flush()
        inspection = inspections.get(session, sample.inspection)
        found = understanding.understand(session, inspection, law.load("food_code_2022"))
        understanding.keep(session, inspection, found)
        session.add(inspection)


def turkey(sample: Sample) -> dict[str, Any]:
    found: dict[str, Any] = next(
        one for one in sample.desk()["readings"] if one["utterance"] == 0 or one["item"] == "sliced turkey"
    )
    return found


def test_the_words_are_corrected_and_the_visit_is_understood_anew(heard: Sample) -> None:
    before = heard.desk()
    assert turkey(heard)["value"] == 48.5
    answer = heard.put("utterances/0", text=COOLER)
    assert (answer.status_code, answer.json()["did"]) == (200, "sentence 1 corrected")
    assert answer.json()["revision"] == heard.revision()
    said = heard.desk()["utterances"][0]
    assert (said["text"], said["heard"], said["corrected"]["who"]) == (COOLER, SAID[0].text, "Ines Calloway")
    assert (said["start"], said["recording"]) == (2.0, SOUND)  # the sound stays beside it
    assert turkey(heard)["value"] == 38.5
    assert turkey(heard)["check"]["verdict"] == "meets"
    assert not [one for one in heard.desk()["findings"] if one["item"] == "sliced turkey"]
    heard.post("undo")
    after = heard.desk()
    for part in ("utterances", "readings", "findings", "questions"):
        assert after[part] == before[part]


def test_what_was_heard_is_kept_as_it_was(heard: Sample) -> None:
    heard.put("utterances/0", text=COOLER)
    with heard.state.database.reading() as session:
        row = session.get_one(Recording, (heard.inspection, SOUND))
        assert row.heard is not None
        assert row.heard[0]["text"] == SAID[0].text


def test_a_decision_stands_and_says_that_the_program_reads_it_differently_now(heard: Sample) -> None:
    finding = next(one for one in heard.desk()["findings"] if one["item"] == "sliced turkey")
    heard.decide(finding["id"], "confirm")
    heard.put("utterances/0", text=COOLER)
    stands = heard.one("findings", finding["id"])
    assert (stands["decision"]["state"], stands["what"]) == ("confirmed", finding["what"])
    assert stands["decision"]["proposal_changed"]
    reading = turkey(heard)
    assert (reading["value"], reading["decision"]["proposal_changed"]) == (48.5, True)


@pytest.mark.parametrize("text", ["", SAID[0].text])
def test_the_words_as_heard_take_the_correction_back(heard: Sample, text: str) -> None:
    heard.put("utterances/0", text=COOLER)
    answer = heard.put("utterances/0", text=text)
    assert answer.json()["did"] == "sentence 1 as it was heard"
    assert heard.desk()["utterances"][0]["corrected"] is None
    assert turkey(heard)["value"] == 48.5


def test_a_second_correction_still_knows_what_was_heard(heard: Sample) -> None:
    heard.put("utterances/0", text=COOLER)
    heard.put("utterances/0", text=COOLER.replace("turkey", "ham"))
    assert heard.desk()["utterances"][0]["heard"] == SAID[0].text
    heard.post("undo")
    assert heard.desk()["utterances"][0]["text"] == COOLER


def test_saying_the_same_changes_nothing(heard: Sample) -> None:
    before = heard.revision()
    assert heard.put("utterances/0", text=SAID[0].text).json()["revision"] == before
    heard.put("utterances/0", text=COOLER)
    before = heard.revision()
    assert heard.put("utterances/0", text=COOLER).json()["revision"] == before


def test_a_later_run_of_the_pipeline_keeps_the_correction(heard: Sample) -> None:
    heard.put("utterances/0", text=COOLER)
    later = replace(SAID[0], start=2.3, end=6.2, text="walk in cooler, slice turkey forty eight point five")
    hear(heard, (later, *SAID[1:]))
    assert heard.desk()["utterances"][0]["text"] == COOLER
    assert heard.desk()["utterances"][0]["corrected"]["who"] == "Ines Calloway"
    assert heard.desk()["problems"] == []


def test_a_correction_without_its_sentence_is_told_and_not_dropped(heard: Sample) -> None:
    heard.put("utterances/0", text=COOLER)
    hear(heard, SAID[1:])
    assert [COOLER in problem for problem in heard.desk()["problems"]] == [True]
    hear(heard, SAID)
    assert heard.desk()["problems"] == []
    assert heard.desk()["utterances"][0]["text"] == COOLER


def test_two_windows_do_not_overwrite_each_other(heard: Sample) -> None:
    seen = heard.revision()
    heard.put("utterances/0", text=COOLER)
    answer = heard.client.put(f"{heard.at}/utterances/0", json={"revision": seen, "text": "other words"})
    assert (answer.status_code, answer.json()["code"]) == (409, "conflict")
    assert answer.json()["current"]["text"] == COOLER


def test_no_such_sentence(heard: Sample) -> None:
    assert heard.put("utterances/99", text="x").status_code == 404


def test_nothing_is_understood_anew_before_all_was_heard(sample: Sample) -> None:
    answer = sample.put("utterances/0", text=COOLER)
    assert answer.status_code == 409
    assert sample.desk()["utterances"][0]["text"] == SAID[0].text


def test_a_figure_that_a_person_wrote_is_not_doubted_as_heard(heard: Sample) -> None:
    doubt = Doubt("passes_disagree", "two hearings disagree", (30, 52), ("40.5",))
    hear(heard, (replace(SAID[0], doubts=(doubt,)), *SAID[1:]))
    assert turkey(heard)["choices"] == [48.5, 40.5]
    heard.put("utterances/0", text="walk in cooler, sliced turkey 48.5")
    assert (turkey(heard)["value"], turkey(heard)["doubts"], turkey(heard)["choices"]) == (48.5, [], [])


def an_utterance(text: str, *doubts: Doubt) -> Utterance:
    parts = text.split()
    words = tuple(Word(part, float(at), at + 0.9, 0.8) for at, part in enumerate(parts))
    return Utterance(text, 0.0, float(len(parts)), words=words, doubts=doubts)


WORDS = [
    ("one word", "ham is at foe one", "ham is at four one", [("four", 3.0, 3.9)]),
    ("two for one", "ham is at 48", "ham is at forty eight", [("forty", 3.0, 3.45), ("eight", 3.45, 3.9)]),
    ("one left out", "ham is is at 48", "ham is at 48", []),
    ("one put in", "ham at 48", "ham is at 48", [("is", 0.9, 1.0)]),
    ("all", "foe tea ate", "48", [("48", 0.0, 2.9)]),
]  # fmt: skip


@pytest.mark.parametrize(("_what", "old", "new", "written"), WORDS, ids=[row[0] for row in WORDS])
def test_words_keep_their_seconds_and_new_ones_take_those_of_the_old(
    _what: str, old: str, new: str, written: list[tuple[str, float, float]]
) -> None:
    said = wording.corrected(an_utterance(old), new)
    assert " ".join(word.text for word in said.words) == new
    assert [(one.text, one.start, one.end) for one in said.words if one.probability == 1.0] == written
    assert said.heard == old


DOUBTS = [
    ((0, 3), (0, 3)),  # before what was written anew
    ((10, 15), None),  # the words written anew
    ((16, 19), (17, 20)),  # after it: moved
    (None, None),
]


@pytest.mark.parametrize(("was", "now"), DOUBTS)
def test_a_doubt_stays_with_its_words(was: Any, now: Any) -> None:
    old = an_utterance("ham is at forty one", Doubt("passes_disagree", "two hearings", was))
    said = wording.corrected(old, "ham is at thirty one")
    kept = [doubt.span for doubt in said.doubts]
    assert kept == ([] if was is not None and now is None else [now])


def test_what_a_proposal_was_given_comes_back_with_it(heard: Sample) -> None:
    finding = next(one for one in heard.desk()["findings"] if one["item"] == "sliced turkey")
    question = finding["questions"][0]["id"]
    heard.put(f"questions/{question}", answer="two hours")
    before = heard.one("findings", finding["id"])
    heard.put("utterances/0", text=COOLER)
    assert finding["id"] not in [one["id"] for one in heard.desk()["findings"]]
    heard.put("utterances/0", text="")
    assert heard.one("findings", finding["id"]) == before


def test_a_word_kept_for_the_next_inspection_changes_no_other_sentence_of_this_one(heard: Sample) -> None:
    heard.client.post("/api/vocabulary", json={"heard": "milk", "meant": "oat milk"})
    heard.put("utterances/0", text=COOLER)
    assert [one["text"] for one in heard.desk()["utterances"][1:]] == [one.text for one in SAID[1:]]


FIGURES = [
    ("forty", "thirty", 422),
    ("foe tea", "40", 422),
    ("at 48", "at 38", 422),
    ("tree compartment", "three compartment", 201),
    ("two door coolah", "two door cooler", 201),
    ("quot", "quat", 201),
]


@pytest.mark.parametrize(("was", "meant", "status"), FIGURES)
def test_a_figure_is_never_kept_as_misheard(sample: Sample, was: str, meant: str, status: int) -> None:
    assert sample.client.post("/api/vocabulary", json={"heard": was, "meant": meant}).status_code == status
