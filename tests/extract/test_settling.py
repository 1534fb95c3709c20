"""What is made of the second reader's word: figures set aside, stages or items taken, or a doubt.

In the first part its word is written out as shares; in the second it is that of the weights that ship.
Wording: common practice, no source; limits: FDA Food Code 2022.
"""

from __future__ import annotations

import re

import pytest

from extract.amended.amend import Amendments
from extract.figures.figure import Figure
from extract.figures.quantities import figures
from extract.scene import Draft, Read, Scene
from extract.second_reader.labels import KINDS, MEANT, STAGES
from extract.second_reader.reader import FigureTold, Named, UtteranceTold
from extract.settled.in_order import doubt_verdict
from extract.settled.settling import settle_readings
from extract.settled.weighing import weigh_figures
from extract.words.lexicon import lexicon
from extract.words.line import Line, prepare
from shared.types import Check, Verdict
from tests.extract.said import meant


def told(
    *,
    meant: dict[str, float] | None = None,
    stages: dict[str, float] | None = None,
    item: Named | None = None,
    item_sure: float = 0.0,
    violates: float = 0.0,
    kinds: dict[str, float] | None = None,
) -> FigureTold:
    """A word of the second reader; what is not given is 0."""
    return FigureTold(
        dict.fromkeys(MEANT, 0.0) | (meant or {"r": 1.0}),
        dict.fromkeys(STAGES, 0.0) | (stages or {"cold_holding": 1.0}),
        item,
        item_sure,
        violates,
        None,
        0.0,
        dict.fromkeys(KINDS, 0.0) | (kinds or {"temperature": 1.0}),
    )


def figure_of(line: Line) -> Figure:
    (figure,) = figures(line, lexicon(), hour=None, acid=False)
    return figure


# what figures are for


@pytest.mark.parametrize(
    ("shares", "role", "doubted"),
    [
        ({"r": 1.0}, "figure", False),
        ({"r": 0.85, "l": 0.15}, "figure", False),
        ({"r": 0.75, "l": 0.25}, "figure", True),
        ({"r": 0.4, "l": 0.6}, "figure", True),
        ({"r": 0.4, "l": 0.2, "p": 0.2, "n": 0.2}, "figure", True),  # all that is no measurement of today
        ({"r": 0.11, "l": 0.89}, "figure", True),
        ({"r": 0.09, "l": 0.91}, "mentioned", True),  # hardly a measurement
        ({"r": 0.1, "n": 0.91}, "mentioned", True),  # a count, a name, a time
        ({"r": 0.01, "l": 0.99}, "mentioned", True),
        ({"r": 0.01, "p": 0.99}, "mentioned", True),
        ({"r": 0.01, "n": 0.99}, "mentioned", True),
        ({"w": 1.0}, "figure", False),  # it was measured, if taken back
    ],
)
def test_a_figure_that_is_plainly_no_measurement_is_set_aside_and_a_likely_one_doubted(
    shares: dict[str, float], role: str, doubted: bool
) -> None:
    line = prepare("Ham 39.", 0, lexicon())
    figure = figure_of(line)
    weigh_figures(line, [figure], [told(meant=shares)])
    assert (figure.role, figure.perhaps_mentioned) == (role, doubted)


@pytest.mark.parametrize(
    ("role", "share", "becomes"),
    [
        ("limit", 0.96, ("figure", True)),
        ("previous", 0.96, ("figure", True)),
        ("hypothetical", 0.96, ("figure", True)),
        ("limit", 0.92, ("limit", False)),
        ("clock", 0.99, ("figure", True)),  # `133` is no time that food was out
        ("count", 0.99, ("count", False)),
    ],
)
def test_what_the_rules_took_for_a_limit_is_kept_with_a_doubt_where_it_was_surely_measured(
    role: str, share: float, becomes: tuple[str, bool]
) -> None:
    line = prepare("Ham 39.", 0, lexicon())
    figure = figure_of(line)
    figure.role = role
    weigh_figures(line, [figure], [told(meant={"r": share, "l": 1 - share})])
    assert (figure.role, figure.perhaps_mentioned) == becomes


def test_spans_of_time_and_what_it_did_not_look_at_are_left_to_the_rules() -> None:
    for kind, word in (("duration", told(meant={"l": 1.0})), (None, None)):
        line = prepare("Ham 39.", 0, lexicon())
        figure = figure_of(line)
        figure.kind = kind
        weigh_figures(line, [figure], [word])
        assert (figure.role, figure.perhaps_mentioned) == ("figure", False)


# stage and item

SAID = "Ham by the gravy 39."
FURTHER = "Ham by the gravy is 39."
HAM, GRAVY = (0, 3), (11, 16)


def settled(word: FigureTold, said: str = SAID, before: str | None = None, **of_the_rules: object) -> Draft:
    """The reading of one figure after this word about it: by the rules ham held cold, or as given."""
    line = prepare(said, int(before is not None), lexicon())
    figure = figure_of(line)
    chunk = line.chunks[0] if line.chunks else None
    given = {
        "unit": "degF",
        "stage": "cold_holding",
        "item": "ham",
        "chunk": chunk,
        "food": True,
    } | of_the_rules
    figure.told = word
    draft = Draft(figure, line, figure.value, kind="temperature", **given)
    read = Read(line, [figure], Amendments(), UtteranceTold((word,), ()), [draft])
    lines = [line] if before is None else [prepare(before, 0, lexicon()), line]
    settle_readings(read, Scene(lines=lines))
    return draft


def doubts(draft: Draft) -> list[tuple[str, tuple[str, ...]]]:
    """Code of each doubt, and what the reading may be of instead: it is told in the sentence, and is none of
    the alternatives, for these are other figures that were heard."""
    assert not any(alternatives for _, _, alternatives in draft.codes)
    return [
        (code, tuple(re.findall(r"may be of (?:the )?(.+), and not", why))) for code, why, _ in draft.codes
    ]


def test_where_both_agree_there_is_no_doubt() -> None:
    draft = settled(told(item=Named(0, HAM), item_sure=1.0))
    assert (draft.stage, draft.item, draft.codes, draft.rules) == ("cold_holding", "ham", [], [])


def test_a_guessed_stage_is_overruled_and_the_trace_says_so() -> None:
    draft = settled(told(stages={"hot_holding": 0.8, "cold_holding": 0.2}))
    assert (draft.stage, draft.codes) == ("hot_holding", [])
    assert draft.rules == [("stage: hot_holding, as the second reader takes it", 0, 17, 19)]


def test_a_stage_told_by_words_is_kept_with_a_doubt() -> None:
    draft = settled(told(stages={"hot_holding": 0.7, "cold_holding": 0.3}), stage_told=True)
    assert (draft.stage, doubts(draft)) == ("cold_holding", [("stage_unsure", ("hot holding",))])


def test_only_what_is_plain_overrules_a_stage_told_by_words() -> None:
    draft = settled(told(stages={"hot_holding": 0.95, "cold_holding": 0.05}), stage_told=True)
    assert (draft.stage, doubts(draft)) == ("hot_holding", [("stage_unsure", ("cold holding",))])


@pytest.mark.parametrize(("share", "stage"), [(0.94, "cold_holding"), (0.96, "hot_holding")])
def test_a_stage_that_a_rule_for_just_this_case_settled_falls_only_to_near_certainty(
    share: float, stage: str
) -> None:
    draft = settled(told(stages={"hot_holding": share, "cold_holding": 1 - share}), stage_fixed=True)
    assert draft.stage == stage
    assert [code for code, _ in doubts(draft)] == ["stage_unsure"]


def test_of_no_stage_that_has_a_limit_it_is_only_with_a_doubt() -> None:
    draft = settled(told(stages={"other": 0.95, "cold_holding": 0.05}))
    assert (draft.stage, doubts(draft)) == ("other", [("stage_unsure", ("cold holding",))])


@pytest.mark.parametrize(
    ("shares", "stage", "alternatives"),
    [
        ({"hot_holding": 0.5, "cold_holding": 0.4}, "cold_holding", ("hot holding",)),  # too little more
        ({"ambient": 0.45, "thawing": 0.48, "cold_holding": 0.07}, "thawing", ("cold holding",)),
        ({"cold_holding": 0.4, "receiving": 0.35}, "cold_holding", ("receiving",)),  # agreed, and unsure
        ({"cold_holding": 0.55, "receiving": 0.45}, "cold_holding", None),
    ],
)
def test_where_neither_is_sure_of_the_stage_the_reading_is_doubted(
    shares: dict[str, float], stage: str, alternatives: tuple[str, ...] | None
) -> None:
    draft = settled(told(stages=shares))
    assert draft.stage == stage
    assert doubts(draft) == ([] if alternatives is None else [("stage_unsure", alternatives)])


@pytest.mark.parametrize(
    ("stage", "share", "taken"),
    [
        ("thermometer_check", 0.62, True),
        ("handwashing", 0.79, False),
        ("handwashing", 0.81, True),
        ("hot_holding", 0.74, False),
        ("hot_holding", 0.76, True),
        ("cooking", 0.74, False),
        ("cooking", 0.76, True),
        ("cooling", 0.99, False),  # no word tells of it: what is warm in a cooler is held there
        ("receiving", 0.84, False),
        ("receiving", 0.86, True),
        ("other", 0.74, False),  # it has no limit
        ("other", 0.76, True),
        ("time_control", 0.69, False),  # it lifts the limit of food held cold
        ("time_control", 0.81, True),
        ("ambient", 0.84, False),  # a food was named
        ("ambient", 0.86, True),
    ],
)
def test_stages_that_it_is_too_quick_to_see_must_be_surer(stage: str, share: float, taken: bool) -> None:
    draft = settled(told(stages={stage: share, "cold_holding": 1 - share}))
    assert (draft.stage == stage) is taken


@pytest.mark.parametrize(
    ("said", "likelier", "stage"),
    [
        ("Ham by the gravy 61.", "cold_holding", "time_control"),
        ("Ham by the gravy 39.", "cold_holding", "cold_holding"),
        ("Ham by the gravy 120.", "hot_holding", "time_control"),
        ("Ham by the gravy 141.", "hot_holding", "hot_holding"),
    ],
)
def test_a_time_plan_that_was_told_stays_on_food_that_needs_it(said: str, likelier: str, stage: str) -> None:
    """41 °F or less, 135 °F or more: Food Code 2022, 3-501.16(A)."""
    draft = settled(told(stages={likelier: 1.0}), said, stage="time_control", stage_told=True)
    assert draft.stage == stage


def test_the_air_of_a_freezer_is_told_as_either() -> None:
    draft = settled(told(stages={"ambient": 1.0}), stage="freezing")
    assert (draft.stage, draft.codes) == ("freezing", [])


def test_of_a_bare_figure_in_degrees_celsius_it_does_not_know_the_stage() -> None:
    """39 °C is warm, and 39 °F is cold."""
    word = told(stages={"hot_holding": 1.0})
    assert settled(word, unit="degC", unit_said=False).stage == "cold_holding"
    assert settled(word, unit="degC", unit_said=True).stage == "hot_holding"


@pytest.mark.parametrize(
    ("sure", "item", "expected"),
    [
        (0.4, "gravy", []),
        (0.6, "ham", [("item_unsure", ("gravy",))]),
        (0.95, "ham", []),
    ],
)
def test_another_item_is_taken_where_it_is_sure_and_doubted_where_it_is_less_so(
    sure: float, item: str, expected: list[tuple[str, tuple[str, ...]]]
) -> None:
    word = told(item=Named(0, HAM), item_sure=sure)
    line = prepare(FURTHER, 0, lexicon())
    draft = settled(word, FURTHER, item="gravy", chunk=line.chunks[1])
    assert ((draft.item or "").lower(), doubts(draft)) == (item, expected)


def test_a_food_right_before_its_figure_stays_with_a_doubt() -> None:
    line = prepare(SAID, 0, lexicon())
    draft = settled(told(item=Named(0, HAM), item_sure=0.99), item="gravy", chunk=line.chunks[1])
    assert (draft.item, doubts(draft)) == ("gravy", [("item_unsure", ("Ham",))])


@pytest.mark.parametrize(("sure", "item"), [(0.75, None), (0.85, "gravy")])
def test_where_the_rules_name_none_only_a_sure_item_is_taken(sure: float, item: str | None) -> None:
    draft = settled(told(item=Named(0, GRAVY), item_sure=sure), item=None, chunk=None, food=False)
    assert (draft.item, draft.codes) == (item, [])


def test_an_item_may_be_named_in_the_utterance_before() -> None:
    word = told(item=Named(1, (0, 9)), item_sure=0.95)
    draft = settled(word, "It is 39.", "Egg salad in the walk-in.", item=None, chunk=None, food=False)
    assert (draft.item, draft.carried) == ("Egg salad", True)


def test_the_same_food_by_a_longer_name_is_no_other_item() -> None:
    word = told(item=Named(0, (0, 9)), item_sure=0.95)
    draft = settled(word, "Baked ham 39.")
    assert (draft.item, draft.codes) == ("ham", [])


def test_an_item_that_a_rule_for_just_this_case_settled_is_not_touched() -> None:
    draft = settled(told(item=Named(0, GRAVY), item_sure=1.0), item_fixed=True)
    assert (draft.item, draft.codes) == ("ham", [])


@pytest.mark.parametrize(
    ("shares", "expected"),
    [
        ({"r": 0.65, "w": 0.35}, [("perhaps_taken_back", ())]),
        ({"r": 0.85, "w": 0.15}, [("perhaps_taken_back", ())]),
        ({"r": 0.95, "w": 0.05}, []),
        ({"r": 0.4, "u": 0.6}, []),
    ],
)
def test_a_reading_that_was_perhaps_taken_back_is_doubted(
    shares: dict[str, float], expected: list[tuple[str, tuple[str, ...]]]
) -> None:
    assert doubts(settled(told(meant=shares))) == expected


# by the weights that ship

ONLY_MENTIONED = [
    ("Walk-in, ham 39. My first boss swore by 45.", 45),
    ("Gravy 141. The old form said 140.", 140),
    ("Tuna 38. Last inspector wrote 47 in March.", 47),
    ("Slaw 38. The book gives them 41.", 41),
    ("Soup 128. Back then everybody wrote 150 on the forms.", 150),
    ("Soup reached 152 and 165 is where it goes.", 165),
]


@pytest.mark.parametrize(("said", "value"), ONLY_MENTIONED)
def test_a_figure_that_is_only_mentioned_is_never_read_without_a_doubt(said: str, value: float) -> None:
    found = [reading for reading in meant(said).readings if reading.value == value]
    assert all(reading.doubts for reading in found)


MEASURED = [
    "Ham 39 in the walk-in.",
    "I get 128 on the soup.",
    "The rice by the window came out at 131.",
    "Salmon fillet off the grill, 147.",
    "Sliced tomatoes are 44 and the salsa is 40.",
]


@pytest.mark.parametrize("said", MEASURED)
def test_a_plain_reading_stands_without_a_doubt_of_this_kind(said: str) -> None:
    found = meant(said).readings
    assert found
    of_this_kind = {
        "perhaps_mentioned",
        "perhaps_taken_back",
        "stage_unsure",
        "item_unsure",
    }
    assert not any(doubt.code in of_this_kind for reading in found for doubt in reading.doubts)


@pytest.mark.parametrize(("said", "value"), [("Ham 47, no.", 47), ("Gravy 29, nah 129.", 29)])
def test_a_figure_that_was_perhaps_taken_back_is_never_read_without_a_doubt(said: str, value: float) -> None:
    found = [reading for reading in meant(said).readings if reading.value == value]
    assert all("perhaps_taken_back" in {doubt.code for doubt in reading.doubts} for reading in found)


def test_what_was_taken_back_says_only_that() -> None:
    """It is not said too that it may have been."""
    (fallen,) = meant("Soup 150. Scratch that.").withdrawn
    assert [doubt.code for doubt in fallen.reading.doubts] == ["taken_back"]


def test_each_range_of_a_breath_has_a_stage_of_its_own() -> None:
    readings = meant("Soup in the well 141 to 145, slaw in the rail 38 to 40.").readings
    assert [(one.value, one.stage) for one in readings] == [
        (141, "hot_holding"), (145, "hot_holding"), (38, "cold_holding"), (40, "cold_holding"),
    ]  # fmt: skip
    assert not any(doubt.code == "stage_unsure" for one in readings for doubt in one.doubts)


def test_what_only_the_second_reader_sets_aside_is_asked_about() -> None:
    """Nothing that may have been measured vanishes without a word."""
    said = meant("Hot stuff, mozz sticks 151, chili 134. Close. 135. Queso 147.")
    assert [reading.value for reading in said.readings] == [151.0, 134.0, 147.0]
    (asked,) = [one for one in said.questions if "not taken for a measurement" in one.text]
    assert (asked.text.split(" ")[0], asked.evidence[0].span) == ("“135”", (46, 49))


# verdicts


@pytest.mark.parametrize(
    ("stage", "share", "verdict", "doubted"),
    [
        ("cold_holding", 0.019, "none", True),
        ("cold_holding", 0.021, "violates", False),
        ("hot_holding", 0.019, "none", True),
        ("cooking", 0.039, "violates", True),  # arithmetic stands, and is asked about
        ("cooking", 0.041, "violates", False),
        ("cooling", 0.01, "violates", False),  # rests on times, which it does not work out
        ("machine_rinse", 0.01, "violates", False),
    ],
)
def test_a_broken_limit_that_sounds_as_if_all_were_in_order_is_doubted(
    stage: str, share: float, verdict: str, doubted: bool
) -> None:
    draft = settled(told(violates=share))
    draft.stage = stage
    found = doubt_verdict(draft, Check("violates", "3-501.16(A)(2)", why="it is over"))
    assert (found.verdict, draft.carries("perhaps_in_order")) == (verdict, doubted)
    assert ("sound as if it were in order" in found.why) is doubted


@pytest.mark.parametrize("verdict", ["meets", "borderline", "undetermined", "none"])
def test_only_a_broken_limit_is_doubted(verdict: Verdict) -> None:
    draft = settled(told(violates=0.0))
    assert doubt_verdict(draft, Check(verdict)) == Check(verdict)
    assert not draft.carries("perhaps_in_order")


def test_what_sounds_as_if_it_were_in_order_is_asked_about_and_not_proposed() -> None:
    said = meant("Salsa verde 60, that's acid enough, no call.")
    assert [finding.provision for finding in said.findings] == []
    assert "perhaps_in_order" in [doubt.code for doubt in said.readings[0].doubts]
    (asked,) = said.questions
    assert asked.text == (
        "Salsa verde: 60 °F is 19 °F over the limit of 41 °F for food held cold, "
        "but the words sound as if it were in order. Is it a violation?"
    )


def test_a_plain_violation_is_proposed_without_that_doubt() -> None:
    said = meant("Potato salad 52.")
    assert [finding.provision for finding in said.findings] == ["3-501.16(A)(2)"]
    assert [doubt.code for doubt in said.readings[0].doubts] == []
