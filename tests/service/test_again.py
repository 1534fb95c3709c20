"""The pipeline run again: what a person decided stands, whatever the program says now."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from review_api.at_work import at_work, process
from review_api.store import inspections
from review_api.store.identity import Anchor, names
from shared.types import Extraction, Utterance
from tests.service.samples import SAID, Sample, a_reading, an_extraction


def shifted(seconds: float) -> tuple[Utterance, ...]:
    """The same lines, heard a little earlier or later."""
    return tuple(
        replace(line, start=(line.start or 0) + seconds, end=(line.end or 0) + seconds) for line in SAID
    )


def renamed(extraction: Extraction) -> Extraction:
    """The same readings under other names, as a run gives them that finds one more before them."""
    names = {"r1": "r11", "r2": "r12", "r3": "r13"}
    return replace(
        extraction,
        readings=tuple(replace(item, id=names[item.id]) for item in extraction.readings),
        findings=tuple(
            replace(
                item,
                evidence=tuple(
                    replace(part, reading=names[part.reading]) if part.reading else part
                    for part in item.evidence
                ),
            )
            for item in extraction.findings
        ),
    )


def test_the_same_proposals_keep_their_names_and_decisions(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    sample.decide("r3", "edit", changes={"item": "whole milk"})
    before = sample.desk()
    sample.propose(renamed(an_extraction()))
    after = sample.desk()
    assert after["readings"] == before["readings"]
    assert after["findings"] == before["findings"]


def test_a_decision_stands_where_the_program_now_reads_another_value(sample: Sample) -> None:
    sample.decide("r1", "confirm")
    now = an_extraction()
    sample.propose(replace(now, readings=(a_reading("r1", 40.5), *now.readings[1:])))
    reading = sample.one("readings", "r1")
    assert (reading["value"], reading["decision"]["state"]) == (48.5, "confirmed")
    assert reading["decision"]["proposal_changed"]


def test_an_open_proposal_follows_the_program(sample: Sample) -> None:
    now = an_extraction()
    sample.propose(replace(now, readings=(a_reading("r1", 40.5), *now.readings[1:])))
    assert sample.one("readings", "r1")["value"] == 40.5


def test_what_is_gone_is_gone_unless_it_was_decided(sample: Sample) -> None:
    sample.decide("f1", "confirm")
    now = an_extraction()
    sample.propose(replace(now, readings=now.readings[2:], findings=()))
    desk = sample.desk()
    assert [(item["id"], item["decision"]["proposal_changed"]) for item in desk["findings"]] == [("f1", True)]
    assert {item["id"] for item in desk["readings"]} == {"r1", "r3"}
    assert sample.one("findings", "f1")["what"] == "sliced turkey was at 48.5 °F"


def test_an_answer_stays_with_its_question(sample: Sample) -> None:
    question = sample.one("findings", "f1")["questions"][0]["id"]
    sample.put(f"questions/{question}", answer="two hours")
    sample.propose(an_extraction(), shifted(0.4))
    assert sample.one("findings", "f1")["questions"][0]["answer"] == "two hours"


def anchor(start: float, end: float, **changes: Any) -> Anchor:
    return {"recording": "a", "start": start, "end": end, "same": "temperature", "value": None, **changes}


SAME = [
    ("the same seconds", anchor(4, 6), anchor(4, 6), True),
    ("heard a little later", anchor(4.5, 6.4), anchor(4, 6), True),
    ("another place in the recording", anchor(9, 11), anchor(4, 6), False),
    ("another recording", anchor(4, 6, recording="b"), anchor(4, 6), False),
    ("another kind", anchor(4, 6, same="ph"), anchor(4, 6), False),
    ("another value there", anchor(4, 6, value=41), anchor(4, 6, value=47), True),
]  # fmt: skip


@pytest.mark.parametrize(("_what", "now", "before", "same"), SAME, ids=[row[0] for row in SAME])
def test_what_counts_as_the_same(_what: str, now: Anchor, before: Anchor, same: bool) -> None:
    assert (names([now], {"r4": before}, letter="r") == ["r4"]) is same


def test_of_two_in_one_breath_each_keeps_its_own_name() -> None:
    before = {"r1": anchor(4, 6, value=40), "r2": anchor(4, 6, value=47)}
    assert names([anchor(4, 6, value=47), anchor(4, 6, value=40)], before, letter="r") == ["r2", "r1"]


def test_a_new_one_never_takes_a_name_that_was_given_before() -> None:
    assert names([anchor(50, 51)], {"r1": anchor(1, 2), "r7": anchor(3, 4)}, letter="r") == ["r8"]


def test_a_folder_that_was_changed_since_is_a_new_inspection_and_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "visit"
    folder.mkdir()
    Image.new("RGB", (64, 48), "grey").save(folder / "shelf.png")
    facts = folder / "inspection.toml"
    facts.write_text('[establishment]\nname = "Harbor Wren Kitchen"\n', encoding="utf-8")
    with at_work(tmp_path / "data") as here:
        first = process(here, folder, rules=None, tell=lambda _: None)
        assert process(here, folder, rules=None, tell=lambda _: None) == first
        assert "new inspection" not in capsys.readouterr().err
        facts.write_text('[establishment]\nname = "Harbor Wren"\n', encoding="utf-8")
        second = process(here, folder, rules=None, tell=lambda _: None)
        with here.database.reading() as session:
            one, two = (inspections.get(session, key).number for key in (first, second))
    assert one != two
    told = capsys.readouterr().err
    assert f"this is a new inspection, {two}, as the folder is not as it was: {one} has" in told
    assert "what was decided there stays there" in told
