"""What an inspector who knows the code by heart would hold against the program.

Limits and paragraphs: FDA Food Code 2022, the section beside each; wording: common practice, no source.
"""

from __future__ import annotations

import pytest

from tests.extract.said import judged, meant


def verdicts(*lines: str) -> list[str]:
    return [verdict for _, _, _, verdict in judged(*lines)]


def sections(*lines: str) -> list[str]:
    return [finding.provision for finding in meant(*lines).findings]


# machines and sinks


@pytest.mark.parametrize(
    ("machine", "expected"),
    [
        ("Now the back dish room. Rack conveyor dish machine, final rinse 165.", ["violates"]),
        ("Kitchen door type dish machine: wash 140, final rinse 160.", ["violates", "violates"]),
        ("The high temp machine next to it: wash 145, final rinse 170.", ["violates", "violates"]),
    ],
)
def test_chemicals_of_one_machine_lower_no_limit_of_another(machine: str, expected: list[str]) -> None:
    """180 °F in the final rinse of hot water machines: 4-501.112(A)(2); 150 °F in their wash: 4-501.110."""
    assert verdicts("Bar glass washer, low temp, chlorine strip 50 ppm.", machine)[1:] == expected


def test_no_plate_comes_hot_from_a_chemical_machine() -> None:
    """160 °F on the surface is for hot water: 4-703.11(B)."""
    assert "4-703.11" not in sections("Low temp dish machine: plate surface 128 degrees, chlorine 100 ppm.")


def test_a_sanitizing_basin_is_not_taken_for_hot_water() -> None:
    """171 °F where hot water sanitizes (4-501.111); else it depends on the chemical (4-501.114)."""
    assert verdicts("Sanitize compartment 76 degrees.") == ["undetermined"]
    assert verdicts("Sanitize compartment 168 degrees.") == ["violates"]


def test_iodine_above_its_acidity_asks_for_the_label() -> None:
    """pH 5.0 or less, or what the maker allows: 4-501.114(B)(2)."""
    assert verdicts("Bar: iodine 20 ppm, pH 6.") == ["undetermined", "undetermined"]


def test_a_solution_that_is_too_cold_is_told_by_its_temperature() -> None:
    """55 °F at least for chlorine of 100 ppm: 4-501.114(A)."""
    (finding,) = meant("Bar: chlorine 100 ppm, 50 degrees.").findings
    assert "at least 55 °F is needed" in finding.what


# put right, or another


@pytest.mark.parametrize(
    "lines",
    [
        ["Prep cooler: tuna salad 50.", "Walk-in: tuna salad 38."],
        ["First line reach-in: sliced tomatoes 52.", "Second line reach-in: sliced tomatoes 40."],
        ["Grill one: burger 148.", "Grill two: burger 161."],
        ["Bar dish machine, hot water: plate 145.", "Kitchen dish machine, hot water: plate 165."],
    ],
)
def test_the_same_food_elsewhere_puts_nothing_right(lines: list[str]) -> None:
    """41 °F: 3-501.16(A)(2); 155 °F for ground meat: 3-401.11(A)(2); 160 °F on plates: 4-703.11(B)."""
    (finding,) = meant(*lines).findings
    assert not finding.corrected_on_site


def test_food_that_missed_a_stage_of_cooling_is_not_cured_by_getting_cold() -> None:
    """3-501.14(A)."""
    (finding,) = meant("Rice cooling: 135 at ten, 80 at noon, 41 at four.").findings
    assert not finding.corrected_on_site


# date marks


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ("Coleslaw made six days ago.", "meets"),
        ("Coleslaw made seven days ago.", "violates"),
        ("Coleslaw, it's day 7.", "meets"),
    ],
)
def test_the_day_it_was_made_is_the_first_of_seven(said: str, verdict: str) -> None:
    """3-501.17(A), 3-501.18(A)(1)."""
    assert verdicts(said) == [verdict]


@pytest.mark.parametrize(
    "said",
    [
        "Walk-in: raw ground beef received eight days ago.",
        "Raw chicken thighs in the walk-in dated nine days ago.",
        "Sour cream opened ten days ago.",
        "Wedge of gouda opened ten days ago.",
        "Prosciutto opened ten days ago.",
        "Open tub of sour cream, no date.",
    ],
)
def test_raw_food_and_cultured_or_cured_food_need_no_date(said: str) -> None:
    """Ready-to-eat food only (3-501.17(A)), and not these (3-501.17(G))."""
    assert sections(said) == []


# eggs, fish, time, cooling


def test_eggs_without_a_word_of_shells_ask_for_it_between_both_limits() -> None:
    """45 °F around shell eggs (3-501.16(B)), 41 °F for eggs out of them (3-501.16(A)(2))."""
    assert verdicts("Walk-in: eggs 44.") == ["undetermined"]
    assert verdicts("Walk-in: liquid eggs 44.") == ["violates"]
    assert verdicts("Walk-in: eggs 49.") == ["violates"]


@pytest.mark.parametrize(("hours", "verdict"), [(24, "meets"), (20, "violates")])
def test_fish_frozen_solid_may_go_on_at_minus_4(hours: int, verdict: str) -> None:
    """3-402.11(A)(3)."""
    said = f"Salmon for sushi: frozen solid at minus 31 degrees, then kept {hours} hours at minus 4."
    found = {value: verdict for value, _, _, verdict in judged(said)}
    assert found[hours] == verdict and found[-4] != "violates"


@pytest.mark.parametrize(("degrees", "verdict"), [(120, "violates"), (140, "meets")])
def test_food_goes_on_a_time_plan_hot_or_cold(degrees: int, verdict: str) -> None:
    """135 °F or more, 41 °F or less: 3-501.19(B)(1)."""
    said = f"Rice went on the four hour time plan at {degrees} degrees, written and stickered."
    assert verdicts(said) == [verdict]


def test_what_was_made_at_room_temperature_has_four_hours() -> None:
    """3-501.14(B)."""
    (reading,) = meant("Pasta salad made at ten from room temperature stuff, cooling, 47.").readings
    assert reading.check is not None
    assert (reading.check.verdict, reading.check.section) == ("violates", "3-501.14(B)")


# thermometers, classes, repeats


def test_an_air_thermometer_may_be_off_by_three() -> None:
    """4-203.12; 4-203.11 for food."""
    assert verdicts("Hanging thermometer from the walk-in in ice water reads 35.") == ["meets"]
    assert verdicts("Their probe reads 35 in ice water.") == ["violates"]


def test_the_tolerance_is_told_in_the_scale_of_the_reading() -> None:
    """1 °C for food thermometers: 4-203.11."""
    (finding,) = meant("Their dual scale thermometer reads 1.4 C in ice water.").findings
    assert "within 1 °C of 0 °C" in finding.what


@pytest.mark.parametrize(
    ("said", "class_"),
    [
        ("Mouse droppings under the sink.", "Pf"),
        ("Faucet drips at the prep sink, the P-trap leaks.", "C"),
    ],
)
def test_a_section_of_several_classes_takes_that_of_what_was_seen(said: str, class_: str) -> None:
    """6-501.111(C); 5-205.15(B); letters from memory."""
    assert [finding.class_ for finding in meant(said).findings] == [class_]


def test_still_tells_of_now_unless_an_earlier_visit_is_named() -> None:
    (ill,) = meant("Cook with diarrhea still working.").findings
    (sink,) = meant("Hand sink blocked, same as last time.").findings
    assert (ill.repeat, sink.repeat) == (False, True)


def test_what_is_still_so_is_a_violation_though_none_was_told_before() -> None:
    """5-205.11(A)."""
    assert sections("Hand sink is still blocked by the rack.") == ["5-205.11(A)"]


def test_shellstock_tags_are_kept_for_90_days() -> None:
    """90 days: 3-203.12(C)."""
    assert sections("They only keep their shellstock tags for 60 days.") == ["3-203.12"]
    assert not sections("They keep their oyster tags for 120 days.")
