"""How a roast was told to have been cooked decides at what it may be held hot.

FDA Food Code 2022, 3-501.16(A)(1): 130 °F for a roast cooked by 3-401.11(B) or reheated by 3-403.11(E).
Any other is held at 135 °F.
The table of 3-401.11(B)(1): 130 °F 112 minutes, 131 °F 89, 133 °F 56, 135 °F 36, 145 °F 4, 158 °F an instant.
Wording, and that a roast stays for 4 minutes at what it was cooked to: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant

ON = "Prime rib on the hot line 132"
HOW = "whether it was cooked by the roast table or reheated that way"


def held(line: str) -> list[tuple[float, str, str, float | None]]:
    """What was read, as value, stage, verdict and limit."""
    found = meant(line).readings
    return [(r.value, r.stage, r.check.verdict, r.check.limit) for r in found if r.check is not None]


@pytest.mark.parametrize(
    "line",
    [
        "Prime rib on the hot line 131, cooked to 145 internal.",
        "Brisket on the slicing station holding at 131, cooked overnight at 225 to 200 internal.",
        "Prime rib 131 on the carving line, slow roasted overnight at 250 to 131.",
        "Roast beef 131 in the hot box, cooked 5 hours to 131.",
        "Roast beef on the hot line 131, low and slow, straight off the table.",
        "Prime rib on the hot line 131, cooked to 130 for 2 hours per the log.",
        "Prime rib on the hot line 131, chef says it came out of the oven at 148.",
        "Brisket in the warmer 131, smoked 14 hours, pulled at 203.",
        "Corned beef in the steam table 131, they took it up to 165 this morning.",
        "Prime rib on the hot line 131. It hit 158 in the middle.",
        "Prime rib on the hot line 131, cooked by the roast table.",
    ],
)
def test_cooked_by_the_table_it_is_held_at_130(line: str) -> None:
    assert held(line) == [(131, "hot_holding", "borderline", 130)]


def test_what_was_told_a_sentence_or_an_utterance_later_counts() -> None:
    found = meant(f"{ON}.", "They cooked it to 145 last night.").readings
    assert [(r.value, r.check.limit) for r in found if r.check is not None] == [(132, 130)]


@pytest.mark.parametrize(
    "told",
    [
        "they only cooked it to 125",
        "the cook's log says it got to 128",
        "cooked to 135 for 20 minutes",
        "not cooked by the roast table",
    ],
)
def test_cooked_otherwise_it_is_held_at_135(told: str) -> None:
    assert held(f"{ON}, {told}.") == [(132, "hot_holding", "violates", 135)]


@pytest.mark.parametrize(
    "told",
    [
        "",
        ", cooked overnight",
        ", cooked to 144",  # 5 minutes by the table
        ", never got to 130 last night they said",
        ", they are supposed to cook it to 145",
        " and the turkey was cooked to 165",
        ", low and slow",
    ],
)
def test_where_nothing_settles_it_it_is_asked(told: str) -> None:
    found = meant(f"{ON}{told}.")
    roast = found.readings[0]
    assert roast.check is not None and roast.check.verdict == "undetermined"
    assert HOW in roast.check.missing[0]
    assert any(HOW in question.text for question in found.questions)
    assert not found.findings


@pytest.mark.parametrize(
    ("value", "verdict"),
    [(127.9, "violates"), (129.9, "borderline"), (130, "undetermined"), (134.9, "undetermined"),
     (135, "borderline"), (137.1, "meets")],
)  # fmt: skip
def test_it_is_asked_between_the_two_limits_only(value: float, verdict: str) -> None:
    assert held(f"Prime rib on the hot line {value:g}.")[0][2] == verdict


def test_a_reheating_is_a_reading_too() -> None:
    assert held("Roast beef in the hot box 131, reheated to 165.") == [
        (131, "hot_holding", "borderline", 130),
        (165, "reheating", "borderline", 165),
    ]


def test_a_roast_measured_as_it_was_cooked_stays_a_reading() -> None:
    found = held("Roast came out of the oven at 146. On the hot line it's 132.")
    assert found == [(146, "cooking", "undetermined", 145), (132, "hot_holding", "borderline", 130)]


def test_celsius_goes_by_the_printed_celsius_of_the_table() -> None:
    """62.8 °C 4 minutes; 54 °C is the figure of 3-501.16(A)(1)."""
    assert held("Prime rib on the hot line 54 Celsius, cooked to 63.") == [
        (54, "hot_holding", "borderline", 54)
    ]


def test_other_food_is_held_at_135_whatever_it_was_cooked_to() -> None:
    found = meant("Chicken in the warmer 132, cooked to 170.").readings
    assert found[0].check is not None
    assert (found[0].check.verdict, found[0].check.limit) == ("violates", 135)


def test_the_trace_tells_the_words() -> None:
    found = meant(f"{ON}, cooked to 145 internal.").readings[0]
    assert any("cooked as told: “to 145”" in trace.rule for trace in found.trace)
