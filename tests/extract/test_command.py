"""`probeside extract` on the command line."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from review_api.command import main

TEXT = """\
[09:12:04] Walk-in cooler, tomatoes 38 and the ham is at 47.5.

[09:15:00] He's pitching the ham now.
"""


@pytest.fixture
def walk(tmp_path: Path) -> Path:
    path = tmp_path / "walk.txt"
    path.write_text(TEXT, encoding="utf-8")
    return path


def test_json_lines_one_object_a_file(walk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["extract", str(walk), str(walk), "--json"]) == 0
    one, two = (json.loads(line) for line in capsys.readouterr().out.splitlines())
    assert one == two
    assert one["schema"] == "probeside/1" and one["rules"] == "food_code_2022"
    reading = one["readings"][1]
    assert (reading["value"], reading["unit"], reading["stage"], reading["item"]) == (
        47.5,
        "degF",
        "cold_holding",
        "ham",
    )
    assert reading["check"]["verdict"] == "violates" and reading["utterance"] == 0
    assert "trace" not in reading
    (finding,) = one["findings"]
    assert finding["state"] == "proposed" and finding["class"] == "P" and finding["corrected_on_site"] is True
    assert {"utterance": 0, "span": finding["evidence"][0]["span"]} == finding["evidence"][0]


def test_summary_for_a_person(walk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["extract", str(walk)]) == 0
    printed = capsys.readouterr().out
    assert "ham 47.5 °F" in printed and "VIOLATES" in printed and "corrected on site" in printed


def test_explain_names_words_and_rules(walk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["extract", str(walk), "--explain"]) == 0
    printed = capsys.readouterr().out
    assert "stage: cold_holding" in printed and "“47.5”" in printed and "line 1 [09:12:04]" in printed


def test_standard_input(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    class Input:
        buffer = io.BytesIO(b"soup 150\n")

    monkeypatch.setattr("sys.stdin", Input())
    assert main(["extract", "-"]) == 0
    assert "soup 150 °F" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("missing.txt", None, "no such file"),
        ("sound.txt", b"RIFF\x00\x00\x00\x00WAVE", "no text"),
        ("", None, "directory"),
    ],
)
def test_what_cannot_be_read_is_said_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, content: bytes | None, says: str
) -> None:
    path = tmp_path / name
    if content is not None:
        path.write_bytes(content)
    assert main(["extract", str(path)]) == 2
    printed = capsys.readouterr().err
    assert says in printed and str(path) in printed and "Traceback" not in printed


def test_unknown_rules(walk: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["extract", str(walk), "--rules", "nowhere"]) == 2
    assert "nowhere" in capsys.readouterr().err


def test_an_empty_file_gives_an_empty_result(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "empty.txt"
    path.write_text("")
    assert main(["extract", str(path), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["readings"] == []
