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
