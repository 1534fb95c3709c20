"""The personal vocabulary mends what was misheard before, and keeps what was heard."""

from __future__ import annotations

import pytest

from review_api.mending import mend
from shared.types import Doubt, Utterance

MENDED = [
    ("the quot bucket", [("quot", "quat")], "the quat bucket"),
    ("Quot and quot again", [("quot", "quat")], "quat and quat again"),
    ("a quotation", [("quot", "quat")], "a quotation"),
    ("hand sync by the reaching cooler", [("hand sync", "hand sink"), ("reaching", "reach-in")],
     "hand sink by the reach-in cooler"),
    ("nothing here", [("quot", "quat")], "nothing here"),
    ("a.b is not axb", [("a.b", "ab")], "ab is not axb"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "misheard", "mended"), MENDED)
def test_whole_words_are_mended(text: str, misheard: list[tuple[str, str]], mended: str) -> None:
    result = mend(Utterance(text), misheard)
    assert result.text == mended
    assert result.heard == (None if text == mended else text)


def test_what_the_speech_stage_mended_before_stays_as_first_heard() -> None:
    assert mend(Utterance("quot at 200", heard="coat at 200"), [("quot", "quat")]).heard == "coat at 200"


def test_doubts_stay_on_their_words() -> None:
    text = "the hand sync water is 96, no towels"
    doubted = Doubt("unsure", "it may be 69", (text.index("96"), text.index("96") + 2))
    before = Doubt("unsure", "the", (0, 3))
    over = Doubt("unsure", "sync", (text.index("hand"), text.index(" water")))
    result = mend(Utterance(text, doubts=(before, over, doubted)), [("hand sync", "prep hand sink")])
    said = [result.text[doubt.span[0] : doubt.span[1]] for doubt in result.doubts if doubt.span]
    assert said == ["the", "prep hand sink", "96"]
