"""The department's settings and the data folder: what is wrong with them is told in one sentence."""

from __future__ import annotations

import re
import sqlite3
from pathlib import Path

import pytest

from review_api.command import main
from review_api.data_folder import DataFolder
from review_api.settings import Settings, read_settings
from review_api.state import open_state
from shared.errors import InputError

ROOT = Path(__file__).parents[2]


def settings(folder: Path, text: str) -> Settings:
    folder.mkdir(exist_ok=True)
    (folder / "settings.toml").write_text(text, encoding="utf-8")
    return read_settings(folder)


def test_every_part_may_be_left_out(tmp_path: Path) -> None:
    assert read_settings(tmp_path) == settings(tmp_path, "") == Settings()


def test_the_documented_settings_are_taken_as_they_stand(tmp_path: Path) -> None:
    page = (ROOT / "docs" / "settings.md").read_text(encoding="utf-8")
    example = re.search(r"```toml\n(.*?)```", page, re.DOTALL)
    assert example is not None
    found = settings(tmp_path, example[1])
    assert found.rules == "food_code_2022"
    assert found.department.address_lines == ("12 Quarry Lane", "Port Alder")
    assert found.office is not None
    assert (found.office.zone.key, len(found.office.hours)) == ("America/Chicago", 5)


def test_rules_may_lie_in_a_file(tmp_path: Path) -> None:
    path = ROOT / "shared" / "rules" / "quillmere_county.toml"
    assert settings(tmp_path, f'rules = "{path}"').rules == str(path)


WRONG = [
    ("[departmnt]\nname = 'x'", "departmnt: is not known here; did you mean department?"),
    ("color = 'red'", "color: is not known here; known are department, office, rules"),
    ("department = 3", "settings.toml: department: "),
    ("[department]\nnom = 'x'", "department.nom"),
    ("office = 3", "office settings: 3 is no table; write them below [office]"),
    ("[office]\ntime_zone = 'UTC'\ncountry = ['US']", "country: the holidays of ['US'] are not known"),
    ("[office]\ntime_zone = 'UTC'\nsubdivision = ['MN']", "subdivision: ['MN'] is no part of US"),
    ("[office]\ntime_zone = 3", "time_zone: 3 is no time zone"),
    ("[office]\ntime_zone = 'UTC'\nhours = { monday = '08:00Z-17:00' }", "hours.monday"),
    ("rules = 'food_code_2020'", "rules: no rules are called 'food_code_2020'"),
    ("rules = 3", 'rules: 3 is no name; write it as rules = "food_code_2022"'),
    ("rules =", "cannot be read as TOML"),
]


@pytest.mark.parametrize(("text", "says"), WRONG)
def test_a_mistake_is_named_with_its_file_and_entry(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, says: str
) -> None:
    with pytest.raises(InputError, match=r"settings\.toml: ") as caught:
        settings(tmp_path, text)
    assert says in str(caught.value)
    assert main(["serve", "--port", "0", "--data", str(tmp_path)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.mark.parametrize(
    "content", [b"this is no database at all, " * 200, b"SQLite format 3\x00" + b"\xff" * 9000]
)
def test_a_damaged_database_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes
) -> None:
    data = tmp_path / "data"
    data.mkdir()
    (data / "probeside.sqlite").write_bytes(content)
    assert main(["serve", "--port", "0", "--data", str(data)]) == 2
    told = capsys.readouterr().err
    assert "probeside.sqlite: cannot be used as database" in told
    assert "put back a copy of the data folder" in told
    assert "Traceback" not in told
    assert (data / "probeside.sqlite").read_bytes() == content


def test_a_database_of_a_later_version_is_left_alone(tmp_path: Path) -> None:

    folder = DataFolder(tmp_path / "data")
    state = open_state(folder, Settings())
    state.jobs.close()
    state.database.close()
    with sqlite3.connect(folder.database) as raw:
        raw.execute("UPDATE probeside_version SET version_num = '9999'")
    raw.close()
    with pytest.raises(InputError, match="was made by another version of Probeside"):
        open_state(folder, Settings())
