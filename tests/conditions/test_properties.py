"""What must hold for any words at all."""

from __future__ import annotations

import string

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from extract.conditions import find_conditions
from tests.conditions.test_said import VIOLATIONS

SENTENCES = [text for _, text in VIOLATIONS]
WORDS = sorted({word.strip(string.punctuation) for text in SENTENCES for word in text.split()})


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.one_of(st.text(max_size=300), st.lists(st.sampled_from(WORDS), max_size=40).map(" ".join)))
def test_any_text_is_read_and_every_span_lies_in_it(text: str) -> None:
    for one in find_conditions(text):
        assert 0 <= one.span[0] < one.span[1] <= len(text)
        assert 0 < one.confidence < 1
        assert all(one.span[0] <= a < b <= one.span[1] for a, b in one.pieces)
        assert one.item is None or one.item in text


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.sampled_from(SENTENCES), st.sampled_from([str.upper, str.lower, lambda text: "Uh, okay, so " + text])
)
def test_case_and_fillers_change_nothing(text: str, change) -> None:
    assert _said(change(text)) == _said(text)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.sampled_from(SENTENCES), st.sampled_from(SENTENCES))
def test_sentences_do_not_disturb_each_other(one: str, two: str) -> None:
    goes_on = two.lower().startswith(("no", "without", "never")) or {"it", "them", "last"} & set(two.split())
    assume(not goes_on and "last time" not in one)
    assert sorted(_said(f"{one} {two}")) == sorted(_said(one) + _said(two))


@pytest.mark.parametrize(
    "text", ["", "\n", "😀" * 50, "хлеб на полу", "\x00\x07", "no " * 2000, "dirty " * 2000, "a" * 10**6]
)
def test_garbage_is_read_in_peace(text: str) -> None:
    find_conditions(text)


def _said(text: str) -> list[tuple[str, str]]:
    return [(one.section, one.polarity) for one in find_conditions(text)]
