"""What people tell in another order or shorter than usual: times, prices, rules and holds around readings.

Wording: common practice, no source; limits, stages and sections: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import OUTVOTED, meant, shorts, values


@pytest.mark.parametrize(
    "said",
    [
        "The baker was sick in the night, at 12 and at 4, and he kneads all the same.",
        "She threw up around 10 and again at 2.",
        "A waiter, he had diarrhea at five and at seven.",
    ],
)
def test_the_hours_of_an_illness_are_no_temperatures(said: str) -> None:
    assert values(said) == []


@OUTVOTED
def test_a_freezer_beside_an_illness_is_still_read() -> None:
    assert values("The cook is ill he says, ice cream freezer at 10.") == [(10, "degF")]


@pytest.mark.parametrize(
    "said",
    [
        "The menu says wild halibut, 31.95.",
        "They sell the crab plate for 26.75.",
        "On the chalkboard the cod costs 18.80.",
    ],
)
def test_a_price_is_no_temperature(said: str) -> None:
    assert values(said) == []


@pytest.mark.parametrize(
    ("said", "value", "clock"),
    [
        ("Short ribs 128. 1.20 it gave me 141.", 141, "13:20"),
        ("Chili 120, he warms it, 2.05 he has 168.", 168, "14:05"),
        ("Rice 131. 1.45 I have 138.", 138, "13:45"),
    ],
)
def test_a_time_may_open_what_was_read(said: str, value: float, clock: str) -> None:
    last = meant(said).readings[-1]
    assert (last.value, last.clock) == (value, clock)


@pytest.mark.parametrize(
    "said",
    [
        "Rice 88. 70 it isn't.",
        "Rice 88, and 135 it never was.",
        "Rice 88. 41 it is not.",
    ],
)
def test_what_it_is_not_is_no_reading(said: str) -> None:
    assert values(said) == [(88, "degF")]


def test_a_rule_in_short_after_the_figure_is_no_reading() -> None:
    assert shorts("Turkey from the grill, 158. 165 for turkey.") == ["158 cooking turkey"]
    assert values("Turkey 158. 171 for the turkey in the back.") == [(158, "degF"), (171, "degF")]


@pytest.mark.parametrize(
    "said",
    [
        "Leg of lamb, 131 when it comes from the big oven. At that temperature 50 minutes, by their log.",
        "Pork loin out of the oven 138. It stayed so 50 minutes by the clock.",
        "Beef roast, 130 as it comes off the spit. In the same heat 50 minutes, says the chart.",
    ],
)
def test_the_minutes_that_a_roast_stayed_as_hot_are_a_reading_of_cooking(said: str) -> None:
    found = meant(said).readings
    assert [(r.stage, r.unit) for r in found] == [("cooking", "degF"), ("cooking", "minute")]
    assert found[0].item == found[1].item


def test_a_roast_after_its_minutes_is_still_the_roast() -> None:
    lines = "Leg of lamb, 131 from the oven. At that temperature 50 minutes.", "1.15 I have 150 now."
    assert shorts(*lines)[-1] == "150 cooking leg of lamb"


@pytest.mark.parametrize(
    "said",
    [
        "Soup 180 on the stove. It stayed there 20 minutes by my watch.",
        "Roast 131 from the oven. At that temperature it needs 89 minutes.",
        "Steak 145 off the grill, 20 minutes ago.",
    ],
)
def test_other_minutes_are_none(said: str) -> None:
    assert [unit for _, unit in values(said)] == ["degF"]


@pytest.mark.parametrize(
    "said",
    [
        "We wait for the cart from the other building, it rolls in late. Rice 151.",
        pytest.param("Upon arrival the rice 151.", marks=OUTVOTED),
        "Trays sent over from the main house. Rice 151.",
    ],
)
def test_what_rolls_in_is_received(said: str) -> None:
    assert shorts(said) == ["151 receiving rice"]


def test_left_over_food_is_heated_again() -> None:
    assert shorts("The stew, left over too, goes in the warmer. I get 171.") == ["171 reheating stew"]


def test_when_food_left_the_oven_does_not_tell_its_stage() -> None:
    assert shorts("Nobody knows when it came from the oven, ham 118.") == ["118 hot_holding ham"]


def test_what_comes_out_of_an_oven_is_not_its_setting() -> None:
    assert shorts("The chicken comes out of the oven at 171.") == ["171 cooking chicken"]
    assert shorts("Turkey from the smoker at 168.") == ["168 cooking turkey"]
    assert values("Oven at 175.") == values("The ribs come out of the oven at 350.") == []


@pytest.mark.parametrize(
    "said",
    ["Chili 135 at noon, 2 o'clock 90, correction 79.", "Beef 135 at 12.05. At 2.10 97, no, 79."],
)
def test_a_figure_put_right_keeps_its_time(said: str) -> None:
    start, later = meant(said).readings
    assert (start.clock, later.value, later.stage) == ("12:00" if "noon" in said else "12:05", 79, "cooling")
    assert later.clock in ("14:00", "14:10")


@pytest.mark.parametrize(
    "said",
    [
        "Potato salad, mixed at 9.15, it was 64 then. 11.30 it shows 50.",
        "Pasta salad, everything from the shelf, dressed at 9, 64. At 11.30 I have 50.",
    ],
)
def test_a_salad_made_room_warm_cools(said: str) -> None:
    assert [reading.stage for reading in meant(said).readings] == ["cooling", "cooling"]


def test_a_truck_that_sells_is_no_delivery() -> None:
    assert shorts("Crepe truck by the pool. Custard 40.") == ["40 cold_holding custard"]
    assert shorts("Dairy truck at the back. Milk 40.") == ["40 receiving milk"]


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        ("Her aioli she makes herself and puts it on the burgers. It is at 38 in the cooler.", "aioli"),
        (
            "His tartar sauce he beats up from raw eggs, and it goes over every fish. It is at 38.",
            "tartar sauce",
        ),
        ("The gravy, they pour it over the mash. It is at 38.", "gravy"),
    ],
)
def test_it_is_the_food_spoken_of_and_not_what_it_goes_on(said: str, wanted: str) -> None:
    assert (meant(said).readings[0].item or "").lower() == wanted


def test_water_activity_is_of_the_food_that_hangs_there() -> None:
    found = meant("Eight duck legs hang in the back room. Water activity on her little meter 0.91.").readings
    assert [(reading.item, reading.value) for reading in found] == [("duck legs", 0.91)]


def test_what_came_too_cool_and_is_hot_now_was_heated_again() -> None:
    lines = "The trays from the other house roll in. Stew 121.", "12.40, the stew has 171."
    assert shorts(*lines) == ["121 receiving stew", "171 reheating stew"]


def test_what_somebody_finishes_is_cooked() -> None:
    assert shorts("He finishes the wings on the flat top, 168.") == ["168 cooking wings"]


def test_a_quarter_sanitizer_is_quat_and_doubted() -> None:
    said = meant("Bucket on the bar, quarter sanitizer, the strip shows 200. Jug says from 150 to 400.")
    assert [(reading.agent, reading.value) for reading in said.readings] == [("quat", 200)]
    assert [heard.doubt.code for heard in said.doubts] == ["misheard"]


def test_what_is_cooked_lies_in_no_fridge_named_before() -> None:
    found = meant(
        "Small fridge. Sauce 38.", "He finishes the shavings on the grate, 1.50 it is 171."
    ).readings
    assert [reading.place for reading in found] == ["Small fridge", "grate"]
