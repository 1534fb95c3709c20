"""`probeside check`, `cooling` and `rules` as a user calls them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from review_api.command import main
from tests.checks.making import HERE


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(list(arguments))
    printed = capsys.readouterr()
    return status, printed.out, printed.err


def parsed(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    status, out, err = run(capsys, *arguments, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


COLD = ("check", "--stage", "cold_holding", "--item", "sliced turkey", "--value", "49", "--unit", "degF")
QUAT = ("check", "--stage", "sanitizer", "--agent", "quat", "--value", "300", "--unit", "ppm")
ZONE = ("--date", "2026-05-04", "--zone", "America/Chicago")


def test_check_prints_the_whole_check_and_what_was_understood(capsys: pytest.CaptureFixture[str]) -> None:
    found = parsed(capsys, *COLD)
    expected = {
        "schema": "probeside/1", "rules": "food_code_2022", "verdict": "violates",
        "section": "3-501.16(A)(2)", "operator": "<=", "limit": 41, "unit": "degF", "margin": 8,
        "missing": [],
    }  # fmt: skip
    assert {key: found[key] for key in expected} == expected
    assert found["provision"]["class"] == "P" and found["provision"]["form_item"] == 22
    assert found["understood"]["food"]["name"] == "sliced turkey"
    assert found["source"]["verified"].startswith("yes: ")
    assert found["question"] == "how long it has been out"
    assert found["caution"]


def test_check_says_it_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, *COLD)
    assert status == 0
    assert out.startswith("violates the limit: 49 °F is 8 °F over the limit of 41 °F for food held cold\n")
    assert "section: 3-501.16(A)(2)" in out and "verified: yes: " in out


def test_check_takes_every_fact_that_a_limit_may_need(capsys: pytest.CaptureFixture[str]) -> None:
    chlorine = ("check", "--stage", "sanitizer", "--value", "50", "--unit", "ppm", "--agent", "chlorine")
    assert parsed(capsys, *chlorine)["verdict"] == "undetermined"
    assert parsed(capsys, *chlorine, "--ph", "7.5", "--water", "76 degF")["verdict"] == "meets"
    quat = ("check", "--stage", "sanitizer", "--value", "100", "--unit", "ppm", "--agent", "quat")
    assert parsed(capsys, *quat, "--label-min", "200", "--label-max", "400")["verdict"] == "violates"
    patty = ("check", "--stage", "cooking", "--item", "beef patty", "--value", "153", "--unit", "F")
    assert parsed(capsys, *patty, "--held", "1 min")["verdict"] == "meets"
    assert parsed(capsys, *patty, "--held", "15 s")["verdict"] == "violates"
    assert parsed(capsys, *COLD, "--offset", "8 degF")["verdict"] == "borderline"
    assert parsed(capsys, *COLD, "--accuracy", "10 degF")["verdict"] == "borderline"
    assert parsed(capsys, *COLD, "--ice", "40 degF")["margin"] == 0
    assert parsed(capsys, *COLD, "--boiling", "212 degF", "--elevation", "0")["margin"] == 8
    assert [row["section"] for row in parsed(capsys, *COLD, "--out-for", "5 h")["options"]] == [
        "3-501.16, 3-701.11"
    ]


def test_check_says_how_a_question_is_answered(capsys: pytest.CaptureFixture[str]) -> None:
    call = ("check", "--stage", "hot_holding", "--item", "prime rib", "--value", "132.5", "--unit", "degF")
    assert "(--said roast_table or --said cooked_otherwise)" in run(capsys, *call)[1]
    assert parsed(capsys, *call, "--said", "roast table")["verdict"] == "meets"


def test_check_knows_the_tcs_tables(capsys: pytest.CaptureFixture[str]) -> None:
    """1-201.10: aw 0.94 at pH 5.0 is no TCS food by Table A."""
    call = (
        "check",
        "--stage",
        "storage",
        "--value",
        "0.94",
        "--unit",
        "aw",
        "--ph",
        "5",
        "--said",
        "packaged",
    )
    assert parsed(capsys, *call)["why"].endswith("it needs no temperature control (1-201.10)")
    assert parsed(capsys, *call[:4], "5", "--unit", "pH", "--aw", "0.94")["missing"] == [
        "whether it was heat-treated and then packaged"
    ]


def test_check_goes_by_the_rules_that_are_named(capsys: pytest.CaptureFixture[str]) -> None:
    rice = ("check", "--stage", "hot holding", "--item", "rice", "--value", "137.5", "--unit", "degF")
    assert parsed(capsys, *rice)["verdict"] == "meets"
    assert parsed(capsys, *rice, "--rules", "quillmere_county")["verdict"] == "violates"
    sink = ("check", "--stage", "handwashing", "--value", "88", "--unit", "degF")
    assert parsed(capsys, *sink, "--rules", str(HERE / "edition_2013.toml"))["verdict"] == "violates"


def test_cooling_prints_stages_forecast_and_options(capsys: pytest.CaptureFixture[str]) -> None:
    found = parsed(capsys, "cooling", "135 degF@14:00", "82 degF@16:00", *ZONE)
    assert [(stage["section"], stage["deadline"], stage["verdict"]) for stage in found["stages"]] == [
        ("3-501.14(A)(1)", "2026-05-04T16:00:00-05:00", "violates"),
        ("3-501.14(A)(2)", "2026-05-04T20:00:00-05:00", "undetermined"),
    ]
    assert set(found["forecast"]) == {"70 degF", "41 degF"}
    assert set(found["forecast"]["70 degF"]) == {"at", "low", "high"}
    assert found["forecast"]["70 degF"]["at"].startswith("2026-05-04T16:4")
    assert found["next_probe"] is None
    assert found["options"][0]["section"] == "3-501.14, 3-701.11"


def test_cooling_asks_for_a_fact_once(capsys: pytest.CaptureFixture[str]) -> None:
    out = run(capsys, "cooling", "120 degF@14:00", "90 degF@15:00", *ZONE)[1]
    assert out.count("find out: when it was at 135 °F\n") == 1


def test_one_hot_reading_is_let_go_on_and_probed_again(capsys: pytest.CaptureFixture[str]) -> None:
    """Common practice, no source: half-way to the deadline of 3-501.14(A)(1)."""
    found = parsed(capsys, "cooling", "135 degF@14:00", *ZONE)
    assert found["next_probe"] == "2026-05-04T15:00:00-05:00"
    assert [option["says"] for option in found["options"]] == [
        "Let it go on, and probe again at the time given."
    ]


def test_cooling_runs_over_midnight_in_the_order_given(capsys: pytest.CaptureFixture[str]) -> None:
    found = parsed(capsys, "cooling", "57 degC@23:10", "30 degC@00:40", "20 degC@01:05", *ZONE)
    assert found["stages"][0]["verdict"] == "meets"
    assert found["stages"][1]["deadline"] == "2026-05-05T05:10:00-05:00"


@pytest.mark.parametrize(
    ("points", "hours"),
    [
        (("135 degF@20:00", "45 degF@09:00"), 13),
        (("45 degF@09:00", "--started", "20:00"), 13),
        (("140 degF@12:00", "45 degF@11:59", "--started", "12:00"), 23),
    ],
)
def test_a_night_is_longer_than_a_day(
    capsys: pytest.CaptureFixture[str], points: tuple[str, ...], hours: int
) -> None:
    """41 °F is due within 6 hours (3-501.14(A)(2)); from 20:00 to 09:00 there are 13."""
    late = parsed(capsys, "cooling", *points, *ZONE)["stages"][1]
    assert (late["verdict"], f"45 °F after {hours} hours" in late["why"]) == ("violates", True)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (("45 degF@09:00", "135 degF@20:00"), "give the readings in the order in which they were taken"),
        (
            ("20 degC@01:05", "57 degC@23:10", "30 degC@00:40"),
            "or each time with its date, as 2026-05-04T01:05",
        ),
        (("135 degF@10:00", "66 degF@12:30", "66 degF@12:20"), "do not tell their days"),
        (("60 degF@09:00", "45 degF@22:00", "--started", "20:00"), "--started 20:00 is later than the first"),
        (("135 degF@2026-05-04T20:00", "45 degF@09:00"), "'09:00' has no date and another time has one"),
        (("135 degF@20:00", "100 degF@20:00"), "are two figures of one time"),
    ],
)
def test_cooling_asks_where_times_do_not_tell_their_days(
    capsys: pytest.CaptureFixture[str], call: tuple[str, ...], says: str
) -> None:
    status, out, err = run(capsys, "cooling", *call, *ZONE)
    assert (status, out, says in err) == (2, "", True)


def test_one_figure_given_twice_is_one(capsys: pytest.CaptureFixture[str]) -> None:
    twice = parsed(capsys, "cooling", "135 degF@14:00", "135 degF@14:00", *ZONE)
    assert twice["stages"] == parsed(capsys, "cooling", "135 degF@14:00", *ZONE)["stages"]


@pytest.mark.parametrize(
    ("day", "points", "deadline"),
    [
        # America/Chicago (tz database): on 8 March 2026 2:00 becomes 3:00, on 1 November 2026 it becomes 1:00
        ("2026-03-07", ("135 degF@23:30", "66 degF@00:50"), "2026-03-08T06:30:00-05:00"),
        ("2026-10-31", ("135 degF@23:30", "66 degF@00:50"), "2026-11-01T04:30:00-06:00"),
    ],
)
def test_cooling_counts_real_hours_over_a_change_of_daylight_time(
    capsys: pytest.CaptureFixture[str], day: str, points: tuple[str, ...], deadline: str
) -> None:
    found = parsed(capsys, "cooling", *points, "--date", day, "--zone", "America/Chicago")
    assert found["stages"][1]["deadline"] == deadline


def test_a_time_with_its_offset_says_which_of_two_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    night = ("cooling", "2026-10-31T23:30-05:00", "2026-11-01T01:20-06:00")
    call = (night[0], f"135 degF@{night[1]}", f"74 degF@{night[2]}")
    assert parsed(capsys, *call, "--zone", "America/Chicago")["stages"][0]["verdict"] == "violates"


@pytest.mark.parametrize(
    ("day", "when", "says"),
    [
        ("2026-10-31", "01:20", "2026-11-01 01:20 comes twice that night"),
        ("2026-03-07", "02:20", "2026-03-08 02:20 does not come that night"),
    ],
)
def test_a_clock_time_that_comes_twice_or_never_is_asked_for_whole(
    capsys: pytest.CaptureFixture[str], day: str, when: str, says: str
) -> None:
    call = ("cooling", "135 degF@23:30", f"70 degF@{when}", "--date", day, "--zone", "America/Chicago")
    status, _, err = run(capsys, *call)
    assert (status, says in err) == (2, True)
    there = ("--date", says[:10], "--zone", "America/Chicago")
    status, _, err = run(capsys, "cooling", "70 degF@05:50", *there, "--started", when)
    assert (status, says in err) == (2, True)


@pytest.mark.parametrize(
    ("thermometer", "verdict"),
    [
        ((), "violates"),
        (("--offset", "1 degF"), "borderline"),
        (("--ice", "36 degF"), "meets"),
        (("--accuracy", "3 degF"), "borderline"),
        (("--accuracy", "1 degF", "--offset", "1 degF"), "violates"),
        # at 1609 m water boils at 202.4 °F (CoolProp): 204.4 read is 2 °F high
        (("--boiling", "204.4 degF", "--elevation", "1609"), "borderline"),
    ],
)
def test_cooling_knows_the_thermometer_of_the_day(
    capsys: pytest.CaptureFixture[str], thermometer: tuple[str, ...], verdict: str
) -> None:
    """70 °F is due at 16:00 (3-501.14(A)(1)); 73 read."""
    found = parsed(
        capsys, "cooling", "139 degF@14:00", "73 degF@16:00", "--started", "14:00", *thermometer, *ZONE
    )
    assert found["stages"][0]["verdict"] == verdict


def test_cooling_from_warm_ingredients_starts_when_it_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    call = ("cooling", "48 degF@15:10", "--rule", "room_temperature_ingredients", "--started", "11:00", *ZONE)
    assert parsed(capsys, *call)["verdict"] == "violates"


def test_cooling_says_it_in_words_and_draws_it(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    picture = tmp_path / "curve.svg"
    status, out, _ = run(capsys, "cooling", "135 degF@14:00", "84 degF@15:00", "--svg", str(picture), *ZONE)
    assert status == 0
    assert "open: 3-501.14(A)(1): 84 °F at 15:00: 60 minutes left to reach 70 °F by 16:00" in out
    assert "next probe: 15:" in out and "may be done: " in out and "caution: " in out
    assert picture.read_text(encoding="utf-8").startswith("<svg")


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ((*COLD[:-1], "furlong"), "unknown unit 'furlong': use one of degF"),
        (
            (*COLD, "--said", "microwaved"),
            "--said 'microwaved' is no condition of food_code_2022: did you mean",
        ),
        (("cooling", "-500 degF@14:00", *ZONE), "'-500 degF' cannot be: nothing is colder than -459.67 degF"),
        ((*COLD, "--said", "qqqq"), "docs/rules.md lists the conditions in use"),
        ((*COLD, "--offset", "1 degF", "--ice", "33 degF"), "tell the same twice: give one of them"),
        (("check", "--stage", "dreaming", "--value", "4", "--unit", "degF"), "unknown stage 'dreaming'"),
        (
            ("check", "--stage", "cooking", "--value", "hot", "--unit", "degF"),
            "--value 'hot' is not a number",
        ),
        (("check", "--stage", "cooking", "--value", "nan", "--unit", "degF"), "is not a number"),
        ((*COLD, "--held", "15"), "is not a figure with its unit: write it as '15 s'"),
        ((*COLD, "--held", "-5 s"), "less than nothing"),
        ((*COLD, "--water", "76 inches"), "a figure in degF or degC is wanted"),
        ((*COLD, "--accuracy", "-2 degF"), "less than nothing"),
        ((*COLD, "--boiling", "200 degF", "--elevation", "90000"), "--elevation cannot be right"),
        ((*COLD, "--boiling", "202 degF"), "--boiling needs --elevation, the height of the site in metres"),
        (("cooling", "135 degF@14:00", "--boiling", "202 degF", *ZONE), "--boiling needs --elevation"),
        # off by more than 10 °F or 5 °C: common practice, no source
        (
            (*COLD, "--offset", "500 degF"),
            "--offset '500 degF' cannot be meant: a thermometer that is off by",
        ),
        ((*COLD, "--offset=-10.1 degF"), "more than 10 degF corrects nothing; measure with another one"),
        ((*COLD, "--offset", "5.1 degC"), "more than 5 degC corrects nothing"),
        ((*COLD, "--ice", "212 degF"), "--ice '212 degF' cannot be meant"),
        ((*COLD, "--accuracy", "41 degF"), "--accuracy '41 degF' cannot be meant"),
        ((*QUAT, "--label-min", "400", "--label-max", "200"), "--label-min 400 is over --label-max 200"),
        ((*COLD, "--rules", "nowhere"), "no rules are called 'nowhere'"),
        (("cooling", "135 degF"), "has no time: write a reading as '135 degF@14:00'"),
        (("cooling", "135 degF@25:00"), "is not a time"),
        (("cooling", "warm@14:00"), "is not a figure with its unit"),
        (("cooling", "135 degF@14:00", "20 degC@16:00"), "give all of one cooling in one of degC, degF"),
        (("cooling", "135 degF@14:00", "--zone", "Mars/Crater"), "unknown time zone 'Mars/Crater'"),
        (("cooling", "135 degF@14:00", "--date", "tomorrow"), "is not a date"),
        (("cooling", "135 degF@14:00", "--rule", "slowly"), "has no cooling rule 'slowly' in force"),
        (("cooling", "135 degF@14:00", "--svg", "/nowhere/at/all.svg"), "the picture cannot be written"),
        (("rules", "show", "quillmere_county", "--stage", "dreaming"), "has nothing for that stage"),
        (("rules", "validate", "nowhere.toml"), "no rules are called"),
    ],
)
def test_a_wrong_call_is_one_sentence_and_status_2(
    capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], says: str
) -> None:
    status, out, err = run(capsys, *arguments)
    assert (status, out) == (2, "")
    assert err.startswith("probeside: ") and err.count("\n") == 1
    assert says in err


# ---------------------------------------------------------------- rules


def test_rules_list_names_what_ships_and_how_it_was_verified(capsys: pytest.CaptureFixture[str]) -> None:
    found = parsed(capsys, "rules", "list")
    assert [row["name"] for row in found] == ["food_code_2022", "quillmere_county"]
    assert found[1]["inherits"] == ["food_code_2022"]
    assert found[0]["verified"]["memory"] > 0
    _, out, _ = run(capsys, "rules", "list")
    assert "as food_code_2022 except for its own rows" in out


def test_rules_show_prints_limits_with_their_source(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "rules", "show", "quillmere_county", "--stage", "hot_holding")
    assert "at least 140 °F / 60 °C" in out and "common practice, no source" in out
    _, out, _ = run(capsys, "rules", "show", "food_code_2022", "--section", "3-501.14")
    assert "Cooling of cooked food" in out and "Hot holding" not in out
    whole = parsed(capsys, "rules", "show", "food_code_2022")
    assert len(whole["provisions"]) == 289 and whole["sanitizers"] and whole["tables"]


@pytest.mark.parametrize(
    ("stage", "says"),
    [
        (
            "cooking",
            "cooked to be held hot: at least 155 °F / 68 °C; held 17 seconds; when hot_held",
        ),
        ("cooking", "131 °F / 55 °C 89 minutes, "),
        ("cooking", "158 °F / 70 °C an instant"),
        ("cooling", "70 °F / 21 °C within 2 hours, 41 °F / 5 °C within 6 hours"),
        ("sanitizer", "chlorine, minimum: at least 50 ppm, pH at most 8, water at least 75 °F / 24 °C"),
        (
            "sanitizer",
            "hardness at most 500 ppm, water at least 75 °F / 24 °C, strength by the label",
        ),
        (
            "sanitizer",
            "at least 50 ppm, pH at most 8, water at least 75 °F / 24 °C, contact 7 seconds",
        ),
        ("thermometer_check", "within 2 °F / 1 °C of 32 °F / 0 °C; unless air_device, boiling, water_device"),
        ("handwashing", "at least 100 °F / 38 °C [edition 2001 to 2017] [not in force]"),
        (
            "time_control",
            "warmest part during the 6-hour option: at most 70 °F / 21 °C; when six_hour",
        ),
    ],
)
def test_rules_show_prints_every_kind_of_row_with_its_figures(
    capsys: pytest.CaptureFixture[str], stage: str, says: str
) -> None:
    assert says in run(capsys, "rules", "show", "food_code_2022", "--stage", stage)[1]
    found = parsed(capsys, "rules", "show", "food_code_2022", "--stage", stage)
    assert found["limits"] or found["tables"] or found["sanitizers"] or found["cooling"]


def test_rules_validate_says_whole_or_lists_every_fault(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    status, out, _ = run(capsys, "rules", "validate", "food_code_2022")
    assert status == 0 and "whole" in out
    broken = tmp_path / "broken.toml"
    broken.write_text('name = "x"\n[[limit]]\nid = "y"\n', encoding="utf-8")
    status, out, err = run(capsys, "rules", "validate", str(broken))
    assert status == 1
    assert "broken.toml: limit y: `quantity` is missing" in out and "faults" in err
    status, out, _ = run(capsys, "rules", "validate", str(broken), "--json")
    assert status == 1 and json.loads(out)["whole"] is False


def test_rules_compare_shows_every_row_that_differs(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "rules", "compare", "food_code_2022", "quillmere_county")
    assert "limits: hot_holding: changed\n  values: 135 °F / 57 °C → 140 °F / 60 °C" in out
    assert "limits: cook_pork: added" in out
    _, out, _ = run(capsys, "rules", "compare", "food_code_2022", "food_code_2022")
    assert out == "no row differs\n"


def test_rules_compare_shows_what_would_change_for_an_inspection(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    said = tmp_path / "visit.txt"
    said.write_text("Walk-in cooler, sliced ham 40.\nRice on the hot line 138.\n", encoding="utf-8")
    _, out, _ = run(
        capsys, "rules", "compare", "food_code_2022", "quillmere_county", "--inspection", str(said)
    )
    assert out.startswith("40 °F, sliced ham, ") and "\n138 °F, Rice, " in out
    assert "meets under food_code_2022, borderline under quillmere_county" in out
    found = json.loads(
        run(
            capsys,
            "rules",
            "compare",
            "food_code_2022",
            "quillmere_county",
            "--inspection",
            str(said),
            "--json",
        )[1]
    )
    assert {change["second"]["limit"] for change in found} == {45.0, 140.0}


def test_the_benchmark_prints_a_rate_for_each_rules_file(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "bench", "checks", "--count", "200", "--json")
    found = json.loads(out)
    assert status == 0
    assert set(found["checks_a_second"]) == {"food_code_2022", "quillmere_county"}
    assert all(rate > 0 for rate in found["checks_a_second"].values())


# ---------------------------------------------------------------- extract


@pytest.mark.parametrize("led", ["[25:00:00]", "[09:75]", "[00:12:05.120]", "[100:15]", "[9:5]"])
def test_a_leading_time_that_no_clock_shows_is_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, led: str
) -> None:
    """Its figures are no readings."""
    text = tmp_path / "visit.txt"
    text.write_text(f"[09:30] Walk-in.\n{led} Ham 44.\n", encoding="utf-8")
    status, out, err = run(capsys, "extract", str(text))
    assert (status, out) == (2, "")
    assert f"{text}, line 2: {led} is not a time of day; write it as [09:30:00]" in err


def test_each_object_of_extract_names_its_file(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    files = [tmp_path / name for name in ("one.txt", "two.txt")]
    for path in files:
        path.write_text("Walk-in: ham 44.", encoding="utf-8")
    status, out, _ = run(capsys, "extract", "--json", *map(str, files))
    assert status == 0
    found = [json.loads(line) for line in out.splitlines()]
    assert [list(each)[:2] for each in found] == [["schema", "file"]] * 2
    assert [each["file"] for each in found] == [str(path) for path in files]
