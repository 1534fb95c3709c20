"""What became of violations, told long after them, in lists and by other names.

When a violation counts as corrected on site, and all wordings: common practice, no source. Limits that the
figures break: FDA Food Code 2022, 3-501.16(A) and 3-202.11(A) (41 and 135 °F), 3-401.11(A)(3) (165 °F).
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant

WALK = (
    "Milk in the box 36, butter 38.",
    "Chairs in the dining room are fine.",
    "Ice machine is clean, scoop in its holder.",
    "Talked to the owner about the menu.",
    "Restroom is stocked.",
    "Wash hands sign is up.",
)


def corrected(*lines: str) -> dict[str, bool]:
    """The proposed sections, without their paragraphs, with whether each was corrected on site."""
    return {one.provision.partition("(")[0]: one.corrected_on_site for one in meant(*lines).findings}


def quoted(*lines: str) -> list[str | None]:
    return [one.correction for one in meant(*lines).findings]


@pytest.mark.parametrize(
    ("violation", "after"),
    [
        ("Coleslaw on the pass 49.", "Slaw's dumped, new tub out of the walk in."),
        ("Tilapia in the case 50.", "The fish went in the trash."),
        ("Pork in the warmer 120.", "She wanted to keep the pork. I said no, and it's in the slop bucket."),
    ],
)
def test_food_that_is_named_again_is_put_right_however_much_was_said_between(
    violation: str, after: str
) -> None:
    assert corrected(violation, *WALK, after) == {"3-501.16": True}


def test_what_names_nothing_is_of_what_was_told_just_before() -> None:
    assert corrected("Coleslaw on the pass 49.", *WALK, "Tossed it.") == {"3-501.16": False}


def test_a_list_of_foods_puts_each_right() -> None:
    said = (
        "Unloading the truck, ground turkey 47.",
        "Boxes of frozen tilapia are limp and dripping, not frozen anymore.",
        "Two cans of tomato paste dented right on the seam.",
        "Receiver refused the turkey, the fish and those two cans.",
    )
    assert set(corrected(*said).values()) == {True}
    assert len(corrected(*said)) == 2
    assert set(quoted(*said)) == {"Receiver refused the turkey, the fish and those two cans"}


def test_of_two_foods_of_one_violation_the_other_is_left() -> None:
    assert corrected("Ham 50, tilapia 49 in the drawer.", "They tossed the fish, kept the rest.") == {
        "3-501.16": False
    }


@pytest.mark.parametrize("after", ["All three taken care of.", "They took care of all three."])
def test_so_many_that_were_taken_care_of_are_the_last_ones(after: str) -> None:
    said = ("No soap at the hand sink.", "No towels by the bar.", "Light out over the line.", after)
    assert set(corrected(*said).values()) == {True}
    assert len(corrected(*said)) == 3


@pytest.mark.parametrize(
    "lines",
    [
        ("Slaw 49 on the line.", "They tossed the ham. The slaw is still out on the line."),
        ("Dumpster lid's propped open.", "Still propped when the driver pulled out, and when I did."),
        ("Girl making sandwiches has a big stone ring on.", "Ring's stuck on, her mother can soap it off."),
        ("Moths in the rice, webbing all down the bin, two ladies are going to haul it out later.",),
        ("Blue stuff in a spray bottle, no name on it.", "She sniffed it and says window cleaner."),
    ],
)
def test_what_is_still_so_or_promised_or_only_looked_at_is_not_put_right(lines: tuple[str, ...]) -> None:
    assert True not in corrected(*lines).values()


def test_a_label_puts_nothing_right_that_stands_in_a_wrong_place() -> None:
    found = corrected(
        "Spray bottle of degreaser with no name on it.",
        "Jug of bleach on the shelf right over the to go lids.",
        "She wrote on the bottle with a marker.",
    )
    assert found == {"7-102.11": True, "7-201.11": False}


def test_food_cooked_on_at_another_place_is_the_same_food() -> None:
    assert corrected(
        "Collards from yesterday on the back burner 139, for the line. Told him 165 first.",
        "Steam table is alright. Yams 144.",
        "Collards at 11.42, 172.",
    ) == {"3-403.11": True}


@pytest.mark.parametrize(
    "lines",
    [
        ("Soup 120 in the warmer, writing that up.", "No violation on the soup, it's reheating."),
        ("Ham 50 on the counter.", "They just took it out, so no violation there."),
        ("Ham 50 on the counter, just sliced, not writing it up.",),
        (
            "Carnitas 118 in the deep pan on the flat top, writing that up for hot holding.",
            "Hang on, they're heating it. Okay strike that, no hot holding violation.",
        ),
    ],
)
def test_a_broken_limit_that_is_taken_off_the_report_is_asked_about_and_not_proposed(
    lines: tuple[str, ...],
) -> None:
    found = meant(*lines)
    assert found.findings == ()
    asked = ("was said of it", "the words sound as if")
    assert any(words in question.text for question in found.questions for words in asked)


@pytest.mark.parametrize(
    "after",
    [
        "No other violations.",
        "No violations at the grill.",
        "Floor is dirty, not citing it, it's the lunch rush.",
    ],
)
def test_what_is_said_of_something_else_takes_nothing_off(after: str) -> None:
    assert "3-501.16" in corrected(f"Ham 50 on the counter. {after}")


@pytest.mark.parametrize(
    "lines",
    [
        (
            "White gravy in the double boiler is 120.",
            "They turned up the fire under that gravy and it was still 121.",
        ),
        (
            "Quat in the last bay is 100, the card says 200 to 400.",
            "He drained that bay, but the quat is no better and I read 100 again just now.",
        ),
        (
            "Raw chicken over the lettuce in the walk-in.",
            "The chicken is there yet, he is up on the hill.",
        ),
        ("Two bulged cans in the sorting bin.", "The bulged cans are in the bin yet."),
        (
            "Green beans in jars put up at home for sale.",
            "The beans were boxed up and I found them for sale again.",
        ),
    ],
)
def test_what_breaks_its_limit_again_or_is_there_yet_is_not_put_right(lines: tuple[str, ...]) -> None:
    found = corrected(*lines)
    assert found and True not in found.values()


def test_a_food_told_of_again_is_one_violation_where_it_was_read() -> None:
    found = meant(
        "White gravy in the double boiler is 120.",
        "In the sink the wash water is 114.",
        "They turned up the fire under that white gravy and it was still 121.",
    )
    assert [(one.provision, one.where) for one in found.findings] == [("3-501.16(A)(1)", "double boiler")]


def test_known_words_are_quoted_before_those_that_only_sound_like_a_deed() -> None:
    said = "Dock, beef trim in the bin 45, dug down and tried again, 46. He refused the trim, no joy."
    assert quoted(said) == ["He refused the trim"]


def test_the_same_pot_by_its_number_is_the_same_pot() -> None:
    assert corrected(
        "Kettle three, which is beans, they've had on low and it's 127.",
        "The beans in the third kettle were boiled hard and I get 188.",
    ) == {"3-501.16": True}


def test_what_is_withdrawn_by_its_name_is_asked_about() -> None:
    found = meant(
        "The chili in the crock pot is 119 and I am writing that.",
        "Back to the chili. There is a card that says 4.30 to 8.30, so I withdraw what I said about it.",
    )
    assert found.findings == ()
    assert any("withdraw" in question.text for question in found.questions)


def test_the_same_said_of_a_food_in_a_short_sentence_can_show_that_it_was_put_right() -> None:
    found = corrected(
        "After a good while of walking about in there I found that the soup in the last well is 120.",
        "Later on, and after they had cranked everything up as far as it goes, the chili is 150 now.",
        "Same for the soup.",
    )
    assert found == {"3-501.16": True}


@pytest.mark.parametrize(
    "lines",
    [
        ("The side door is propped with a rock. They kicked it out and soon it's propped again.",),
        ("Toilet door propped open with a boot.", "The boot was back in the door before I had my coat on."),
        ("Pizzas made without hair nets. He put one on and took it off again when I turned round.",),
        ("No towels at the hand sink. She brought a roll and it's gone again already.",),
    ],
)
def test_what_is_as_it_was_again_is_not_put_right(lines: tuple[str, ...]) -> None:
    assert True not in corrected(*lines).values()


@pytest.mark.parametrize(
    "after",
    [
        "She says the kids won't touch the stuff anyhow and down the disposal it went.",
        "She dumped it. Nothing more there, my probe's still in the cottage cheese.",
    ],
)
def test_what_was_done_counts_beside_what_was_said_of_it(after: str) -> None:
    said = ("Cottage cheese 49 in the milk cooler.", after)
    assert set(corrected(*said).values()) == {True}


def test_food_that_was_put_back_is_as_it_was() -> None:
    said = (
        "Liver sausage dated the 2nd, today's the 12th, that's 11 days.",
        "The liver sausage she put back.",
    )
    assert True not in corrected(*said).values()
