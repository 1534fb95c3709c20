"""Sanitizers heard wrongly, thermometers in boiling water, and write-ups that are taken back.

Wording: common practice, no source; stages and limits: FDA Food Code 2022.
"""

from __future__ import annotations

import pytest

from tests.extract.said import meant, shorts


@pytest.mark.parametrize(
    ("said", "agent"),
    [
        ("Lettuce flume, perry acetic, strip comes up 60, label says 45 to 80.", "peracetic"),
        ("Bar tank, eye a dine, 19 parts per million.", "iodine"),
    ],
)
def test_an_agent_heard_wrongly_is_still_known(said: str, agent: str) -> None:
    assert meant(said).readings[0].agent == agent


def test_wash_and_rinse_at_one_figure_are_two_readings() -> None:
    assert shorts("Single temperature door machine, wash 166, final rinse 166.") == [
        "166 machine_wash -",
        "166 machine_rinse -",
    ]


def test_boiling_water_high_up_checks_each_thermometer() -> None:
    found = meant("Boiling water for the check, mine says 198 and the cook's dial says 193.").readings
    assert [(one.item, one.stage) for one in found] == [
        ("mine", "thermometer_check"),
        ("cook's dial", "thermometer_check"),
    ]


@pytest.mark.parametrize(
    "lines",
    [
        [
            "Creamers in the dish are 71, I'm writing those up.",
            "no scratch that, they're the sealed shelf kind.",
        ],
        ["Creamers in the dish are 71, I'm marking it. Strike that, they're shelf stable."],
    ],
)
def test_what_was_written_up_falls_and_the_figure_stands(lines: list[str]) -> None:
    assert [one.value for one in meant(*lines).readings] == [71]


@pytest.mark.parametrize("who", ["Nobody at the pass can say", "I asked the guy at the register"])
def test_where_somebody_is_is_not_where_food_was_measured(who: str) -> None:
    assert meant(f"Steam table. {who}. Grits 150.").readings[0].place == "Steam table"


def test_water_made_warmer_is_still_the_sanitizers() -> None:
    found = meant(
        "Rinse tub, bleach, strip reads 60, the water's 58.", "She cut it with hot from the urn, 83 now."
    )
    assert [(one.value, one.stage, one.item) for one in found.readings][-1] == (83, "sanitizer", "water")


@pytest.mark.parametrize(
    "said",
    [
        "Tuna they serve raw, the sheet says minus 31 for fifteen hours, one five.",
        "The blast box in the hall, log shows minus 31 for fifteen hours, that's the tuna for crudo.",
        "Their freezer log has minus 31 for fifteen hours on the tuna, they serve it raw.",
    ],
)
def test_how_fish_was_frozen_is_read_from_its_log(said: str) -> None:
    """3-402.11: frozen at -31 °F until solid and stored for 15 hours."""
    found = meant(said).readings
    assert [(one.value, one.stage, (one.item or "").lower()) for one in found] == [
        (-31, "freezing", "tuna"),
        (15, "freezing", "tuna"),
    ]


def test_what_a_rule_asks_of_the_freezer_is_no_reading() -> None:
    assert meant("The rule is minus 4 for seven days.").readings == ()


@pytest.mark.parametrize(
    ("said", "item"),
    [
        ("Dish machine, the flow pressure of the final rinse measured 21 psi.", "final rinse"),
        ("Dish machine, rinse line pressure 9 psi.", "rinse line"),
    ],
)
def test_a_pressure_is_of_the_part_named_with_it(said: str, item: str) -> None:
    assert meant(said).readings[0].item == item


def test_a_batch_names_itself_where_no_food_is_spoken_of() -> None:
    said = "The variance says water activity 0.85 or lower. Batch one reads 0.83."
    assert [one.item for one in meant(said).readings] == ["Batch one"]


def test_the_strengths_of_a_label_are_no_times() -> None:
    (reading,) = meant("Spray, lactic acid, 1100 parts per million, label's 700 to 1850, all good.").readings
    assert (reading.value, reading.check and reading.check.verdict) == (1100, "meets")
