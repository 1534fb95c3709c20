"""Which numbers are doubted, and which are not.

What is easily taken for what: common practice, no source; measured in docs/speech.md.
"""

import pytest

from capture.speech.doubts import (
    CLEAR,
    POOR,
    doubts,
    left_out,
    rules_for,
    runs_on,
    talked_over,
    undecided,
    worth_hearing_again,
)
from capture.speech.line import Line
from capture.speech.numerals import tokens
from shared.types import Doubt, Stretch, Word


def line(text: str, probability: float = 0.95) -> Line:
    """Half a second a word."""
    return Line.of(
        Word(word, index / 2, index / 2 + 0.5, probability) for index, word in enumerate(text.split())
    )


def told(text: str, *others: str, probability: float = 0.95) -> list[Doubt]:
    return doubts(line(text, probability), [tokens(other) for other in others])


@pytest.mark.parametrize(
    ("text", "code", "alternatives"),
    [
        ("chicken 1.69 that's good", "lost_point", ("169", "1:69")),
        ("started at 135.915", "glued_time", ("135 at 9:15",)),
        ("chicken 1, 69, that's good", "split_number", ("169",)),
        ("boxes for inches off the floor", "number_vanished", ("4 inches",)),
        ("it is to degrees", "number_vanished", ("2 degrees",)),
        ("pasta was 17.1.5", "odd_number", ()),
        ("tomatoes are 4T4", "odd_number", ()),
        ("cheese sauce drops to 97th", "odd_number", ("97",)),
        ("tofu stir 556 and ham", "implausible", ("56", "5:56")),
        ("pork is 100 and 56", "split_number", ("156",)),
        ("it is out since 6th end", "number_vanished", ()),
        ("chicken came to 100 An 86.6", "split_number", ("186.6",)),
        ("cheddar under the grill fourth", "number_vanished", ("4", "40")),
        ("shrimp in the prep rail for you", "number_vanished", ("4", "40")),
        ("hummus is 40 seconds", "number_vanished", ("47", "49")),
        ("the slaw came to 40 line", "number_vanished", ("49",)),
        ("the rice reads 130 ate", "number_vanished", ("138",)),
        ("beans one hundred eighteen that is 2 low", "number_vanished", ()),
        ("rice is 148 1.8", "split_number", ()),
        ("pork in there since 5 or 5", "split_number", ("505",)),
        ("pork in there since 5 or 7", "split_number", ("507",)),
        ("rice is 148 1:45", "split_number", ()),
        ("rice is 148 152", "split_number", ()),
        ("rice is 150 and 45", "split_number", ("145",)),
        ("rice came to 100 and 14.10", "split_number", ("114.1",)),
        ("sausage came to 100 on 57", "split_number", ("157",)),
        ("the hand sink runs 100 and set", "number_vanished", ()),
        ("yogurt is on day then", "number_vanished", ("4", "40")),
        ("sprouts have been out for hours", "number_vanished", ("4 hours",)),
        ("the freezer reads minus half", "number_vanished", ()),
        ("the egg salad is $15.00", "odd_number", ()),
        ("queso cooked to 152.95", "odd_number", ("152.9",)),
        ("ranch dressing is 40 point tube", "number_vanished", ()),
    ],
)
def test_doubts_from_the_print_alone(text: str, code: str, alternatives: tuple[str, ...]) -> None:
    (doubt,) = told(text)
    assert (doubt.code, doubt.alternatives) == (code, alternatives)


@pytest.mark.parametrize(
    "text",
    [
        "turkey 48.5 degrees",
        "pork 145 at 9:15",
        "chlorine 100 ppm",
        "pH 4.1",
        "minus 4",
        "a few inches off the floor",
        "salmon at 38.7 and 41",
        "no numbers here at all",
        "label says 200 to 400",
        "been out since 556 today",
        "been out for 40 minutes",
        "rice at 140. Line two is clean",
        "chowder 150, mine reads the same",
        "chlorine is at 200 and the bucket is clean",
        "the beans were 162 at 110 and 67 at 3:35",
        "the beans came in at 3pm",
        "the freezer reads minus 4 point 5",
        "at that point it was 46",
        "shake 30 seconds",
        "ham is 40 and rice is 145",
        "that is too low",
        "quat 300 and bleach 100",
        "the oven is at 450",
        "rice went from 164.9 520 to 70",
        "rice was 132 10:30 and is 86",
        "the fourth shelf is clean",
        "for you to sign",
        "there are 4 or 5 flies",
    ],
)
def test_no_doubt_where_all_is_plain(text: str) -> None:
    assert told(text, text, text) == []


def test_two_other_hearings_against_a_number_are_a_doubt() -> None:
    (doubt,) = told("the ham is 40 degrees", "the ham is 14 degrees", "the ham is 14 degrees")
    assert (doubt.code, doubt.alternatives) == ("passes_disagree", ("14",))
    assert (doubt.start, doubt.end) == (1.5, 2.0)
    assert "“14”" in doubt.why


def test_one_hearing_against_a_sure_number_in_clear_speech_is_none() -> None:
    said = "the ham in the walk-in is 40 degrees today"
    assert told(said, said, said.replace("40", "72")) == []


@pytest.mark.parametrize("other", ["14", "fourteen", "41", "39"])
def test_one_hearing_of_a_number_easily_taken_for_it_is_a_doubt(other: str) -> None:
    said = "the ham in the walk-in is 40 degrees today"
    (doubt,) = told(said, said, said.replace("40", other))
    assert (doubt.code, doubt.alternatives) == ("passes_disagree", (other,))


def test_one_hearing_against_an_unsure_number_is_a_doubt() -> None:
    said = "the ham in the walk-in is 40 degrees today"
    (doubt,) = told(said, said, said.replace("40", "72"), probability=0.6)
    assert doubt.code == "passes_disagree"


def test_a_hearing_that_shares_little_does_not_outweigh_one_that_has_the_number() -> None:
    said = "cooling locks are 74 degrees now today"
    deaf = "a cooling box has wood creams today"
    assert told(said, deaf, "cooling logs are 74 degrees now today") == []
    for others, probability in (
        ((deaf, "cooling logs are 74 degrees now today"), 0.85),
        ((deaf, deaf), 0.95),
        (("the cooling box is at 95 degrees today", "the cooling logs had 74 the grease today"), 0.95),
    ):
        (doubt,) = told(said, *others, probability=probability)
        assert doubt.code == "passes_disagree"


def test_a_bare_hour_may_be_noon() -> None:
    said = "the pot of black beans on the stove was 86 at 9"
    (doubt,) = told(said, said, said.replace("at 9", "at night"), probability=0.6)
    assert (doubt.code, doubt.start) == ("passes_disagree", 5.5)
    assert len(told(said, said, said.replace("at 9", "at night"))) == 1
    (doubt,) = told(said, said, said, probability=0.6)
    assert (doubt.code, doubt.start) == ("unsure", 5.5)
    assert told(said, said, said) == []


def test_a_number_the_model_is_unsure_of_is_a_doubt_unless_other_hearings_settle_it() -> None:
    (doubt,) = told("ham is 40", probability=0.3)
    assert doubt.code == "unsure"
    assert told("ham is 40", "ham is 40", "ham is 40", probability=0.3) == []


def test_the_sign_of_a_number_does_not_count_for_its_probability() -> None:
    words = [Word("minus", 0, 0.5, 0.1), Word("4", 0.5, 1, 0.95)]
    assert doubts(Line.of(words)) == []


def test_numbers_in_speech_that_comes_out_differently_each_time_are_doubted() -> None:
    heard = ("some gram ease 40", "summer grand piece 40", "the gram is please 40")
    (doubt,) = told(*heard, probability=0.7)
    assert doubt.code == "hard_to_hear"
    assert told(*heard, probability=0.9) == []  # all three have 40, and the model is sure of it


@pytest.mark.parametrize(
    ("first", "second", "doubted"),
    [
        ("mash the t tos 160", "mashed the tito's 160", False),
        ("mash the t tos 160", "mashed the 2 tito's 160", True),  # another number besides
        ("mash the t tos 160", "mashed the tito's 150", True),
        ("mash the t tos 160", "nobody sees it is 160", True),  # other letters
    ],
)
def test_a_number_that_all_hearings_share_is_right_where_words_are_only_cut_otherwise(
    first: str, second: str, doubted: bool
) -> None:
    assert bool(told("mash potatoes 160", first, second, probability=0.7)) is doubted
    assert told("mash potatoes 160", second)  # one other hearing is not enough


def test_a_number_that_both_others_hear_and_this_one_does_not() -> None:
    said = "tuna salad and ham in the case"
    (doubt,) = told(said, "tuna salad 48 and ham in the case", "tuna salad 48 and ham in the case")
    assert (doubt.code, doubt.alternatives) == ("number_missing", ("48",))


@pytest.mark.parametrize(
    ("text", "probability", "again"),
    [
        ("the ham is 40", 0.95, True),
        ("boxes for inches off the floor", 0.95, True),
        ("no paper towels", 0.95, False),
        ("no paper towels", 0.4, True),
        ("correction the salmon", 0.95, True),
    ],
)
def test_what_is_heard_again(text: str, probability: float, again: bool) -> None:
    assert worth_hearing_again(line(text, probability)) is again


@pytest.mark.parametrize(
    ("text", "following", "again"),
    [
        ("Reheated the", "pulled chicken hit 168.", True),  # what was said here was passed over
        ("Chicken hit", "168 after 2 minutes.", True),
        ("No paper towels.", "pulled chicken hit 168.", False),
        ("No paper towels", "Pulled chicken hit 168.", False),
    ],
)
def test_a_sentence_that_goes_on_in_the_next_stretch_may_hide_another(
    text: str, following: str, again: bool
) -> None:
    assert runs_on(line(text), line(following)) is again


def test_words_of_another_stretch_in_place_of_a_number_are_doubted() -> None:
    (doubt,) = told("reheated the", "freezer is at 10", "freezer is at 10")
    assert doubt.code == "number_missing"
    (doubt,) = told("reheated the", "nobody washes hands", "nobody washed hands")
    assert doubt.code == "hard_to_hear"


@pytest.mark.parametrize(
    ("others", "probability", "more"),
    [
        ([], 0.95, True),
        (["the ham in the walk-in is 46"], 0.95, False),
        (["the ham in the walk-in is 45"], 0.95, True),
        (["the ham in the walk-in is 46"], 0.6, True),
        (["them in a work in it is 46"], 0.95, True),
    ],
    ids=["no other yet", "settled", "another number", "unsure", "unlike"],
)
def test_a_third_hearing_only_where_it_could_change_something(
    others: list[str], probability: float, more: bool
) -> None:
    said = line("the ham in the walk-in is 46", probability)
    assert undecided(said, [tokens(other) for other in others]) is more


def test_a_number_that_sounds_like_another_is_heard_a_third_time() -> None:
    said = "the ham in the walk-in is 40"
    assert undecided(line(said, 0.9), [tokens(said)])
    assert not undecided(line(said, 0.9), [tokens(said), tokens(said)])
    assert not undecided(line(said, 0.97), [tokens(said)])


def test_a_number_that_its_print_makes_doubtful_needs_no_third_hearing() -> None:
    assert not undecided(line("the beef is 1.69", 0.6), [tokens("the beef is 169")])
    assert undecided(line("the beef is 1.69 and the ham 46", 0.6), [tokens("the beef is 169 and the ham 46")])


def ending(*ends: tuple[str, float]) -> Line:
    """A sure beginning, then words of the given probabilities."""
    start = [
        Word(text, index / 2, index / 2 + 0.5, 0.95) for index, text in enumerate(["the", "cheese", "is"])
    ]
    return Line.of([*start, *(Word(text, 2 + at, 2.9 + at, sure) for at, (text, sure) in enumerate(ends))])


def test_a_faint_end_that_no_other_hearing_shares_may_have_been_a_number() -> None:
    said = ending(("grid", 0.9), ("board", 0.2))
    (doubt,) = doubts(said, [tokens("the cheese is grated pork"), tokens("the cheese is body")])
    assert (doubt.code, doubt.start, doubt.end) == ("unlike_end", 2, 3.9)
    assert undecided(said, [tokens("the cheese is grated pork")])
    assert doubts(said, [tokens("the cheese is grated pork"), said.tokens]) == []
    sure = ending(("grid", 0.9), ("board", 0.9))
    assert doubts(sure, [tokens("the cheese is grated pork"), tokens("the cheese is body")]) == []


def test_a_faint_unit_after_a_number_is_no_missing_number_unless_it_is_long() -> None:
    others = [tokens("the cheese is 46"), tokens("the cheese is 46 dollars")]
    brief = ending(("46", 0.9), ("degrees", 0.2))
    brief = Line.of([*brief.words[:-1], Word("degrees", 3, 3.5, 0.2)])
    assert doubts(brief, others) == []
    assert [doubt.code for doubt in doubts(ending(("46", 0.9), ("degrees", 0.2)), others)] == ["unlike_end"]


def test_the_3_of_a_compartment_sink_is_a_name_unless_another_number_is_heard_there() -> None:
    said = line("the 3 compartment sink", 0.3)
    assert doubts(said, [tokens("the free compartment sink"), tokens("the sweet compartment sink")]) == []
    (doubt,) = doubts(said, [tokens("the 2 compartment sink"), tokens("the sweet compartment sink")])
    assert doubt.code == "passes_disagree"
    assert doubts(line("the 4 compartment sink", 0.3), [tokens("the sweet compartment sink")] * 2)


def test_a_last_word_that_no_other_hearing_has_may_be_the_ones_of_the_tens_before_it() -> None:
    """`130 bit` was printed for 138, under kitchen noise at 5 dB."""
    others = [tokens("the cheese is 130"), tokens("the cheese is 130")]
    said = ending(("130", 0.9), ("bit", 0.7))
    (doubt,) = doubts(said, others)
    assert (doubt.code, doubt.start, doubt.end) == ("number_vanished", 2, 3.9)
    assert doubts(said, [tokens("the cheese is 130 bit"), *others]) == []
    assert doubts(said) == []
    assert doubts(ending(("130", 0.9), ("degrees", 0.9)), others) == []
    assert doubts(ending(("131", 0.9), ("bit", 0.7)), [tokens("the cheese is 131")]) == []


def test_one_of_two_digits_with_an_unsure_word_between_may_be_one_number() -> None:
    said = ending(("1", 0.9), ("in", 0.1), ("3", 0.9))
    assert [doubt.code for doubt in doubts(said)] == ["split_number"]
    assert doubts(ending(("1", 0.9), ("in", 0.9), ("3", 0.9))) == []


@pytest.mark.parametrize("unit", ["compartment", "apartment", "degrees"])
def test_a_word_that_may_have_been_the_number_of_a_unit(unit: str) -> None:
    def row(sure: float) -> Line:
        return Line.of(
            [
                Word("the", 0, 1, 0.9),
                Word("green", 1, 2, sure),
                Word(unit, 2, 3, 0.9),
                Word("sink", 3, 4, 0.9),
            ]
        )

    (doubt,) = doubts(row(0.1))
    assert (doubt.code, doubt.start, doubt.end) == ("number_vanished", 1, 3)
    assert doubts(row(0.9)) == []


def test_a_hearing_that_stopped_short_is_no_evidence() -> None:
    said = "cheese sauce dropped to 97"
    assert told(said, "cheese sauce drop to 97", "r") == []
    assert undecided(line(said), [tokens("r")])
    (doubt,) = told(said, "she's soft and lost it all", "r")
    assert doubt.code == "passes_disagree"


def test_a_decimal_that_another_hearing_lost_or_split_is_no_difference() -> None:
    said = "ranch dressing is 40.2"
    assert told(said, "ranch dressing is 40 point tube", "ranch dressing is 40.2") == []
    assert told("clam chowder is 148.8", "clam chowder is 148. 8") == []
    (doubt,) = told("clam chowder is 148.8", "clam chowder is 148.5 6", probability=0.6)
    assert doubt.code == "passes_disagree"


def test_poor_sound_makes_more_doubts() -> None:
    clear, poor = line("ham is 41 and rice 145", 0.9), line("ham is 41 and rice 145", 0.5)
    assert (rules_for([clear]), rules_for([poor])) == (CLEAR, POOR)
    assert rules_for([]) == CLEAR
    same = [poor.tokens, poor.tokens]
    assert doubts(poor, same, CLEAR) == []
    assert [doubt.code for doubt in doubts(poor, same, POOR)] == ["unsure", "unsure"]


def test_a_faint_word_in_a_line_without_numbers_is_heard_again() -> None:
    words = [Word("gauge", 0, 1, 0.9), Word("reads", 1, 2, 0.9), Word("fifth", 2, 3, 0.3)]
    assert worth_hearing_again(Line.of(words))
    assert not worth_hearing_again(line("gauge reads well"))
    (doubt,) = doubts(Line.of(words), [tokens("gauge reads 15"), tokens("gauge reads 15")])
    assert (doubt.code, doubt.alternatives) == ("number_missing", ("15",))


def test_words_that_were_left_out_at_first_are_doubted_as_a_whole() -> None:
    doubt = left_out(line("salad on the cold table 46"))
    assert (doubt.code, doubt.start, doubt.end) == ("left_out", 0.0, 3.0)
    assert doubt.why.endswith("say the numbers again.")


def test_two_people_at_once_doubt_the_words_of_that_moment_or_the_nearest() -> None:
    words = line("gauge reads 15 salad on the table reads 46").words
    (doubt,) = talked_over(words, [Stretch(1.5, 2.0)])
    assert (doubt.code, doubt.start, doubt.end) == ("talked_over", 1.0, 2.5)
    (doubt,) = talked_over(words, [Stretch(9.0, 9.5)])
    assert (doubt.start, doubt.end) == (4.0, 4.5)
    assert talked_over([], [Stretch(0, 1)]) == []
