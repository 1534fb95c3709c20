"""The one entry point: what it says, what it exits with, and that it never shows a traceback."""

import subprocess
import sys

import pytest

from review_api.command import COMMANDS


def _call(*arguments: str, given: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "review_api.command", *arguments], input=given, capture_output=True, text=True
    )


FOR_WORK_ONLY = {"ctranslate2", "dbos", "fastapi", "faster_whisper", "pint", "sqlmodel", "spacy", "uvicorn"}
"""Libraries that take long to load and that only the work itself needs."""


@pytest.mark.parametrize("call", sorted(COMMANDS))
def test_each_call_explains_itself_and_loads_nothing_that_only_its_work_needs(call: str) -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "review_api.command", call, "--help"],
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    assert COMMANDS[call][1] in done.stdout.replace("\n", " ").replace("  ", " ")
    loaded = {line.rpartition("|")[2].strip() for line in done.stderr.splitlines()}
    assert "argparse" in loaded
    assert not loaded & FOR_WORK_ONLY


WRONG = [
    ("an unknown call", ["nonsense"]),
    ("a missing file", ["extract", "no-such-file.txt"]),
    ("rules that do not exist", ["rules", "show", "no_such_county"]),
    ("a missing recording", ["transcribe", "no-such-file.wav"]),
    ("a missing folder", ["process", "no-such-folder"]),
    ("a report that is not there", ["verify", "no-such-report.pdf"]),
    ("a unit nobody knows", ["check", "--stage", "cold_holding", "--value", "41", "--unit", "parsec"]),
    ("a cooling point without a time", ["cooling", "135 degF"]),
]


@pytest.mark.parametrize(("what", "arguments"), WRONG, ids=[what for what, _ in WRONG])
def test_a_wrong_call_exits_with_2_and_one_sentence(what: str, arguments: list[str]) -> None:
    done = _call(*arguments)
    assert done.returncode == 2, (done.stdout, done.stderr)
    assert "Traceback" not in done.stderr
    assert done.stderr.strip()
    if arguments[0] != "nonsense":
        assert len(done.stderr.strip().splitlines()) == 1
        assert any(word in done.stderr for word in arguments[1:])
