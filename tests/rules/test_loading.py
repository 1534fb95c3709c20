"""Rules files: what loads, what is inherited, and what is said of every fault."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shared.errors import InputError, ProbesideError
from shared.rules import RulesError, examine, load, names
from shared.rules.comparing import differences
from shared.rules.files import HERE, KEYS

HEADER = """
format = "probeside/rules/1"
name = "brindle_county"
title = "Brindle County (invented)"
edition = "1"
"""
SOURCE = '[[source]]\nid = "s"\ntext = "a test"\nverified = "memory"\n'
REST = 'section = "x"\nsource = "s"\n'
LIMIT = """
[[limit]]
id = "cold"
quantity = "temperature"
stage = "cold_holding"
operator = "<="
value = {degF = 41, degC = 5}
section = "3-501.16(A)(2)"
says = "food held cold"
source = "s"
"""


def write(folder: Path, text: str, name: str = "brindle.toml") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def faults(folder: Path, text: str) -> list[str]:
    _, found = examine(write(folder, text))
    return [str(fault) for fault in found]


# ---------------------------------------------------------------- what ships


def test_the_shipped_rules_are_whole() -> None:
    assert names() == ["food_code_2022", "quillmere_county"]
    for name in names():
        rules, found = examine(name)
        assert found == []
        assert rules is not None and rules.name == name


def test_the_model_code_holds_every_kind_of_row() -> None:
    rules = load()
    assert (len(rules.provisions), len(rules.form_items)) == (289, 56)
    assert (
        min(len(getattr(rules, kind)) for kind in ("limits", "tables", "sanitizers", "cooling", "tcs_cells"))
        > 5
    )
    assert set(rules.categories) == {1, 2, 3, 4}
    assert {row.classes for row in rules.deadlines.values() if row.in_force} == {("P",), ("Pf",), ("C",)}


def test_every_row_names_its_source_and_how_it_was_verified() -> None:
    rules = load()
    kinds = (
        "provisions", "form_items", "limits", "tables", "sanitizers", "cooling", "tcs_cells", "deadlines",
        "hazards", "categories", "options", "illnesses", "duties", "edition_notes",
    )  # fmt: skip
    rows = [row for kind in kinds for row in getattr(rules, kind).values()]
    assert len(rows) > 600
    for row in rows:
        assert row.source.text
        assert row.source.verified.startswith(
            ("yes: ", "secondary: ", "memory", "common practice, no source")
        )


def test_most_class_letters_are_from_memory_and_say_so() -> None:
    """187 of the first 277 class letters were not seen in a text, nor those of 10 paragraphs added."""
    verified = [row.source.verified for row in load().provisions.values()]
    assert verified.count("memory") == 187 + 10


def test_every_section_of_a_limit_leads_to_a_provision_that_can_be_cited() -> None:
    rules = load()
    assert [limit.section for limit in rules.limits.values() if rules.provision(limit.section) is None] == []


def test_a_paragraph_is_covered_by_the_nearest_provision_above_it() -> None:
    rules = load()
    covered = rules.provision("3-401.11(A)(1)(b)")
    assert covered is not None and covered.section == "3-401.11(A)(1)"
    assert rules.provision("9-999.99(A)") is None
    assert rules.provision("") is None


def test_titles_and_corrections_are_words_a_person_reads() -> None:
    for row in load().provisions.values():
        assert row.title[0].isupper() and not row.title.endswith(".")
        assert row.reason[0].isupper() and row.reason.endswith(".")
        assert row.correction[0].islower() and not row.correction.endswith(".")


# ---------------------------------------------------------------- inheritance


def test_the_county_states_only_what_differs() -> None:
    raw = tomllib.loads((HERE / "quillmere_county.toml").read_text(encoding="utf-8"))
    county, federal = load("quillmere_county"), load("food_code_2022")
    assert county.inherits == ("food_code_2022",)
    assert len(county.provisions) == len(federal.provisions)
    assert county.limits["hot_holding"].section == federal.limits["hot_holding"].section
    changed = {row.name for row in differences(federal, county) if row.kind == "limits"}
    assert changed <= {row["id"] for row in raw["limit"]}


def test_the_countys_figures() -> None:
    """Common practice, no source: an invented code."""
    limits = load("quillmere_county").limits
    expected = {
        "hot_holding": 140, "cold_holding": 45, "cook_poultry": 165, "cook_pork": 150, "cook_comminuted": 158,
        "cook_eggs_to_order": 145, "hot_holding_roasts": 130, "reheat": 165, "reheat_commercial": 140,
    }  # fmt: skip
    assert {name: limits[name].values["degF"] for name in expected} == expected
    assert limits["ice_point"].tolerance["degF"] == 2
    assert limits["food_off_floor"].values["inch"] == 6


def test_a_row_changes_the_fields_it_names_and_keeps_the_others(tmp_path: Path) -> None:
    rules = load(
        write(tmp_path, HEADER + 'inherits = "food_code_2022"\n[[limit]]\nid = "hot_holding"\nhold_s = 5\n')
    )
    assert rules.limits["hot_holding"].hold_s == 5
    assert rules.limits["hot_holding"].values["degF"] == 135
    assert rules.caution == load().caution


def test_a_row_can_be_removed(tmp_path: Path) -> None:
    text = HEADER + 'inherits = "food_code_2022"\n[remove]\nlimit = ["hot_holding_roasts"]\n'
    assert "hot_holding_roasts" not in load(write(tmp_path, text)).limits


def test_rules_inherit_from_a_file_beside_them_and_over_two_steps(tmp_path: Path) -> None:
    write(tmp_path, HEADER + 'inherits = "quillmere_county"\n')
    grandchild = HEADER.replace("brindle_county", "thimble_township") + 'inherits = "brindle.toml"\n'
    rules = load(write(tmp_path, grandchild, "thimble.toml"))
    assert rules.inherits == ("brindle_county", "quillmere_county", "food_code_2022")
    assert rules.limits["hot_holding"].values["degF"] == 140


def test_a_folder_of_parts_is_one_jurisdiction(tmp_path: Path) -> None:
    write(tmp_path, HEADER, "rules.toml")
    write(tmp_path, SOURCE, "a.toml")
    write(tmp_path, LIMIT, "b.toml")
    assert list(load(tmp_path).limits) == ["cold"]


# ---------------------------------------------------------------- faults


def test_all_faults_are_reported_at_once_by_file_and_entry(tmp_path: Path) -> None:
    text = (
        LIMIT.replace('"temperature"', '"warmth"')
        .replace("41", '"cold"')
        .replace('source = "s"', 'source = "gone"')
    )
    found = faults(tmp_path, HEADER + SOURCE + text)
    assert any(
        "brindle.toml: limit cold: `quantity` is 'warmth'; it must be one of" in fault for fault in found
    )
    assert any("`value.degF` is 'cold'; it must be a number" in fault for fault in found)
    assert any("`source` names 'gone', and no [[source]] has that id" in fault for fault in found)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "`format` is missing"),
        (HEADER.replace("rules/1", "rules/9"), "`format` must be 'probeside/rules/1'"),
        (HEADER + "limits = 3", "no such kind of row"),
        (HEADER + "[limit]\nid = 3", "write each row as [[limit]]"),
        (HEADER + '[[limit]]\nquantity = "ph"', "`id` is missing or not a name"),
        (HEADER + SOURCE + LIMIT + LIMIT, "stands twice in this file"),
        (HEADER + SOURCE + LIMIT + 'colour = "red"', "`'colour'` is not a field of this row"),
        (HEADER + SOURCE + LIMIT.replace("= 41", "= nan"), "it must be a number"),
        (HEADER + SOURCE + LIMIT.replace("= 41", "= inf"), "it must be a number"),
        (HEADER + SOURCE + LIMIT.replace("= 41", "= true"), "it must be a number"),
        (HEADER + SOURCE + LIMIT.replace("degF", "kelvin"), "has the unit 'kelvin'; allowed are degF, degC"),
        (HEADER + SOURCE + LIMIT.replace('"<="', '"+-"'), "`tolerance` is missing"),
        (HEADER + SOURCE.replace("memory", "trust me"), "`verified` must begin with one of"),
        (HEADER + 'inherits = "atlantis"', "no rules are called 'atlantis'"),
        (HEADER + 'inherits = "brindle.toml"', "it inherits from itself"),
        (HEADER + "inherits = 7", "`inherits` must be the name of other rules"),
        (HEADER + '[decision]\nrule = "coin"', "`rule` is 'coin'; it must be one of simple_acceptance"),
        (HEADER + "decision = 3", "`decision` must be a table"),
        (HEADER + '[remove]\nlimit = ["nothing"]', "nothing is called 'nothing'"),
        (HEADER + "remove = 3", "must be a table"),
        (HEADER + "effective = 3", "`effective` must be a date"),
        (HEADER + SOURCE + '[[deadline]]\nid = "d"\nclasses = ["P"]\ndefault = "x"\n' + REST,
         "give one of `within_hours` and `within_days`"),
        (HEADER + SOURCE + '[[sanitizer]]\nid = "x"\nagent = "chlorine"\nkind = "maximum"\n' + REST,
         "a maximum needs `most_ppm`"),
        (HEADER + SOURCE + '[[cooling]]\nid = "x"\ntitle = "x"\nclock_from = "x"\n' + REST,
         "`stages` must hold at least one stage"),
        (HEADER + SOURCE + '[[provision]]\ntitle = "x"\nclasses = ["Q"]\nreason = "x"\n'
         'correction = "x"\n' + REST, "`classes` holds 'Q'"),
        ("not toml at all", "is not valid TOML"),
    ],
)  # fmt: skip
def test_a_fault_says_what_is_wrong_and_where(tmp_path: Path, text: str, says: str) -> None:
    found = faults(tmp_path, text)
    assert any(says in fault for fault in found), found
    assert all(fault.startswith("brindle.toml: ") for fault in found)


OVER = HEADER + 'inherits = "food_code_2022"\n' + SOURCE
OWN = LIMIT.replace('"cold"', '"own"')


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (OWN + 'when = ["microwve"]', "limit own: `when` names 'microwve', which nothing knows: did you mean "
         "'microwave'?"),
        (OWN + 'unless = ["time_plann"]', "'time_plann', which nothing knows: did you mean 'time_plan'"),
        (OWN + 'foods = ["tcss"]', "`foods` names 'tcss', which nothing knows: did you mean 'tcs'?"),
        (OWN + 'not_foods = ["qqqqqq"]', "'qqqqqq', which nothing knows: docs/rules.md tells what there is"),
        ('[[limit]]\nid = "hot_holding"\nfoods = ["tcss"]', "limit hot_holding: `foods` names 'tcss'"),
        ('[[limit]]\nid = "hot_holding"\nunless = ["time_plan", "cold_room"]', "`unless` names 'cold_room'"),
        ('[[time_temperature]]\nid = "roast"\nwhen = ["ovn_humid"]', "`when` names 'ovn_humid'"),
        ('[[ambiguity]]\nid = "which_meat"\nfoods = ["met_unsaid"]', "`foods` names 'met_unsaid'"),
        (OWN.replace("3-501.16(A)(2)", "3-501.99"), "limit own: no [[provision]] covers the section '3-5"),
        (OWN.replace("3-501.16(A)(2)", "3-501.16(Z)"), "no [[provision]] covers the section '3-501.16(Z)'"),
        ('[[cooling]]\nid = "cooked"\nsection = "3-501.41"', "the section '3-501.41': did you mean '3-501.1"),
        ('[[option]]\nid = "keep_cooling"\nsection = "3-501.14, 3-710.11"', "section '3-501.14, 3-710.11'"),
        ('[[form_item]]\nnumber = 22\nsections = ["3-501.16", "3-501.99"]', "22: no [[provision]] covers"),
        ('[remove]\nprovision = ["3-501.16(A)(1)"]', "limit hot_holding: no [[provision]] covers"),
        ('[[limit]]\nid = "hot_holding"\nvalue = {degF = 140}',
         "limit hot_holding: `value` leaves out degC, which the inherited row has, so that nothing would be "
         "held against it: give the figure in degC and degF"),
        ('[[limit]]\nid = "ice_point"\ntolerance = {degC = 1}', "`tolerance` leaves out degF"),
        ('[[cooling]]\nid = "cooked"\nstart = {degF = 140}', "cooling cooked: `start` leaves out degC"),
        ('[[cooling]]\nid = "cooked"\nstages = [{section = "3-501.14(A)(1)", target = {degF = 70}, '
         'within_min = 90}]',
         "cooling cooked: `stages` leaves out degC"),
    ],
)  # fmt: skip
def test_a_row_that_would_switch_itself_off_is_a_fault(tmp_path: Path, text: str, says: str) -> None:
    found = faults(tmp_path, OVER + text)
    assert any(says in fault for fault in found), found


def test_an_accuracy_in_one_unit_is_a_fault(tmp_path: Path) -> None:
    text = HEADER + 'inherits = "food_code_2022"\n[decision]\naccuracy = {degF = 1}\n'
    assert faults(tmp_path, text) == ["brindle.toml: decision: `accuracy` must be given in degF and degC"]


@pytest.mark.parametrize(
    "text",
    [
        OWN + 'when = ["microwave", "boiling"]\nfoods = ["tcs", "pooled", "no_date_mark"]',
        '[[limit]]\nid = "food_off_floor"\nvalue = {inch = 8}',
        '[[limit]]\nid = "hot_holding"\nvalue = {degF = 140, degC = 60}',
        '[[form_item]]\nnumber = 22\nsections = ["3-501.16"]',
        '[[option]]\nid = "keep_cooling"\nsection = "3-501.14, 3-701.11"',
        # what an own question may be answered with is known
        '[[ambiguity]]\nid = "kept"\nquantity = "temperature"\nstage = "cold_holding"\nasks = "how long"\n'
        'options = ["kept_briefly"]\n' + OWN + 'when = ["kept_briefly"]',
    ],
)  # fmt: skip
def test_what_there_is_may_be_named(tmp_path: Path, text: str) -> None:
    assert faults(tmp_path, OVER + text) == []


def test_times_of_a_table_must_fall_as_it_gets_hotter(tmp_path: Path) -> None:
    steps = "steps = [{value = {degF = 130}, time_s = 10}, {value = {degF = 140}, time_s = 20}]"
    text = (
        f'{HEADER}{SOURCE}[[time_temperature]]\nid = "t"\ntitle = "t"\nsection = "1"\nsource = "s"\n{steps}\n'
    )
    assert any("from the coolest to the hottest" in fault for fault in faults(tmp_path, text))


def test_a_file_that_is_no_text_or_not_there_is_named(tmp_path: Path) -> None:
    broken = tmp_path / "brindle.toml"
    broken.write_bytes(b"name = \xff\xfe")
    assert "is not UTF-8 text" in str(examine(broken)[1][0])
    with pytest.raises(InputError, match=r"name a TOML file.*food_code_2022"):
        load(tmp_path / "nowhere.toml")
    with pytest.raises(InputError, match="no rules are called"):
        load("\0")


def test_loading_a_faulty_file_gives_one_sentence_with_every_fault(tmp_path: Path) -> None:
    with pytest.raises(RulesError) as raised:
        load(write(tmp_path, HEADER + LIMIT))
    assert "has" not in str(raised.value)[:3]
    assert "[[source]]" in str(raised.value) and "validate" in str(raised.value)
    assert len(raised.value.faults) == 1


VALUES = st.recursive(
    st.one_of(st.booleans(), st.integers(-(10**12), 10**12), st.floats(), st.text(max_size=8), st.none()),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=6), inner, max_size=3)
    ),
    max_leaves=6,
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    rows=st.dictionaries(
        st.sampled_from([*KEYS, "decision", "inherits", "remove", "effective", "format", "name", "zzz"]),
        st.one_of(
            VALUES,
            st.lists(
                st.dictionaries(
                    st.sampled_from(
                        ["id", "section", "number", "value", "steps", "stages", "classes", "marks", "source",
                         "quantity", "operator", "stage", "water", "foods", "form_item", "kind", "tolerance"]
                    ),
                    VALUES,
                    max_size=6,
                ),
                max_size=3,
            ),
        ),
        max_size=5,
    )
)  # fmt: skip
def test_no_rules_file_makes_the_program_crash(tmp_path: Path, rows: dict[str, object]) -> None:
    path = write(tmp_path, _toml(rows))
    try:
        examine(path)
    except ProbesideError as error:
        assert str(error)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.binary(max_size=200))
def test_no_bytes_make_the_program_crash(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "bytes.toml"
    path.write_bytes(data)
    _, found = examine(path)
    assert found


def _toml(rows: dict[str, object]) -> str:
    """Any plain value as TOML; what TOML has no word for becomes a text."""
    return "".join(f"{_text(name)} = {_value(value)}\n" for name, value in rows.items())


def _text(value: str) -> str:
    plain = "".join(letter if letter.isprintable() and letter not in '"\\' else "_" for letter in value)
    return f'"{plain}"'


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return {"inf": "inf", "-inf": "-inf", "nan": "nan"}.get(str(value), repr(value).replace("e+", "e"))
    if isinstance(value, int):
        return str(value)
    if isinstance(value, list):
        return "[" + ", ".join(_value(item) for item in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_text(name)} = {_value(item)}" for name, item in value.items()) + "}"
    return _text(str(value))
