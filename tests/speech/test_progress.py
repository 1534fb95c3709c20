"""Progress that was kept is gone on with only by a run that would have heard the same."""

import subprocess
import sys
from dataclasses import replace
from importlib import import_module
from pathlib import Path

import pytest

from capture.speech.ear import Ear
from capture.speech.model import SpeechModel
from capture.speech.transcribe import _settings
from capture.speech.version import decisive_files, digest

LOADED = """
import sys, capture.speech.transcribe
print(*(one.__file__ for name, one in sys.modules.items() if name.startswith("capture.")), sep="\\n")
"""


@pytest.fixture
def ear() -> Ear:
    model = SpeechModel(None, "base", "aa", True, "cpu")  # type: ignore[arg-type]
    return Ear(model, "Quat.", ("quat",), ())


def test_the_version_of_the_program_is_a_setting(ear: Ear, monkeypatch: pytest.MonkeyPatch) -> None:
    before = _settings(ear)
    assert _settings(ear) == before
    module = import_module("capture.speech.transcribe")  # its name in the package is the function's
    monkeypatch.setattr(module, "fingerprint", lambda: "an update")
    assert _settings(ear) != before


@pytest.mark.parametrize(
    "change", [{"sha256": "bb"}, {"device": "cuda"}, {"batch": 2}, {"workers": 2}], ids=str
)
def test_what_the_model_is_and_how_it_is_run_are_settings(ear: Ear, change: dict[str, object]) -> None:
    other = replace(ear, model=replace(ear.model, **change))
    assert _settings(other) != _settings(ear)


def test_a_changed_renamed_or_added_file_and_another_library_are_another_version(tmp_path: Path) -> None:
    rules, table = tmp_path / "rules.py", tmp_path / "words.csv"
    rules.write_text("THRESHOLD = 0.35\n")
    table.write_text("quat\n")
    before = digest([rules, table], ["numpy 2.0"])
    assert digest([table, rules], ["numpy 2.0"]) == before
    assert digest([rules, table], ["numpy 2.1"]) != before
    assert digest([rules], ["numpy 2.0"]) != before
    assert digest([rules, table.rename(tmp_path / "other.csv")], ["numpy 2.0"]) != before
    rules.write_text("THRESHOLD = 0.45\n")
    assert digest([rules, tmp_path / "other.csv"], ["numpy 2.0"]) != before


def test_every_module_that_hearing_loads_is_part_of_the_version() -> None:
    loaded = subprocess.run([sys.executable, "-c", LOADED], capture_output=True, text=True, check=True)
    parts = {str(one) for one in decisive_files()}
    assert set(loaded.stdout.split()) <= parts
    assert {Path(one).name for one in parts} >= {
        "doubts.py", "voice.py", "faint.py", "two_voices.csv", "trade_words.toml", "mishearings.toml"
    }  # fmt: skip
