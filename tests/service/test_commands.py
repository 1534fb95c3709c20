"""The command line: process, serve, demo and bench, with what they say when something is wrong."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from review_api import serving
from review_api.command import main
from review_api.commands import bench, serve
from shared.errors import InputError

ROOT = Path(__file__).parents[2]

WRONG_FOLDERS = [
    ("missing", None, "there is no such folder"),
    ("a file", b"x", "is a file"),
    ("empty", (), "empty: what was handed in holds no recording and no photo"),
    ("text only", (("notes.txt", b"milk"),), "notes.txt"),
    ("cut-off sound", (("walk.wav", b"RIFF\x00\x00"),), "walk.wav"),
]


@pytest.mark.parametrize(("name", "content", "says"), WRONG_FOLDERS, ids=[row[0] for row in WRONG_FOLDERS])
def test_a_folder_that_cannot_be_used(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, content: Any, says: str
) -> None:
    folder = tmp_path / name
    if isinstance(content, bytes):
        folder.write_bytes(content)
    elif content is not None:
        folder.mkdir()
        for file, data in content:
            (folder / file).write_bytes(data)
    assert main(["process", str(folder), "--json"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert says in told.err
    assert "Traceback" not in told.err


def test_rules_that_do_not_exist(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["process", str(tmp_path), "--rules", "nowhere_2099", "--json"]) == 2
    assert "nowhere_2099" in capsys.readouterr().err


def test_a_port_that_is_taken_says_so() -> None:
    taken = serving.listen("127.0.0.1", 0)
    with pytest.raises(InputError, match="name another --host or --port"):
        serving.listen("127.0.0.1", taken.getsockname()[1])
    taken.close()


NAMES = [("127.0.0.1", ()), ("::1", ()), ("localhost", ()), ("desk.example", ("desk.example",))]


@pytest.mark.parametrize(("host", "names"), NAMES)
def test_names_under_which_it_answers(host: str, names: tuple[str, ...]) -> None:
    assert serve.names_of(host) == names
    assert "192.0.2.7" in serve.names_of("192.0.2.7")


@pytest.mark.slow
def test_serve_says_where_and_stops_when_asked(tmp_path: Path) -> None:
    command = [
        sys.executable,
        "-m",
        "review_api.command",
        "serve",
        "--port",
        "0",
        "--data",
        tmp_path / "data",
    ]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment
    ) as running:
        try:
            assert running.stdout is not None
            said = running.stdout.readline()
            address = re.search(r"http://127\.0\.0\.1:\d+/", said)
            assert address, said
            with urllib.request.urlopen(f"{address[0]}api/inspections", timeout=20) as answer:
                assert json.load(answer) == {"inspections": [], "total": 0}
            foreign = urllib.request.Request(
                f"{address[0]}api/inspections", headers={"Host": "elsewhere.example"}
            )
            with pytest.raises(urllib.error.HTTPError, match="421"):
                urllib.request.urlopen(foreign, timeout=20)
        finally:
            running.send_signal(signal.SIGINT)
            _, errors = running.communicate(timeout=30)
    assert "Traceback" not in errors


def test_settings_that_cannot_be_read_name_file_and_entry(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = tmp_path / "data"
    data.mkdir()
    (data / "settings.toml").write_text('[department]\nnom = "x"\n', encoding="utf-8")
    assert main(["serve", "--port", "0", "--data", str(data)]) == 2
    assert "settings.toml: department" in capsys.readouterr().err


def test_every_benchmark_has_its_module() -> None:
    for module, _ in bench.BENCHMARKS.values():
        assert (ROOT / f"{module.replace('.', '/')}.py").exists() or (
            ROOT / module.replace(".", "/")
        ).is_dir(), module


def test_an_unknown_benchmark_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["bench", "luck"])
    assert "invalid choice" in capsys.readouterr().err


# ---------------------------------------------------------------- where the output goes

COLD = ("check", "--stage", "cold_holding", "--item", "sliced turkey", "--value", "38", "--unit", "degF")


def _called(*arguments: str, **how: Any) -> subprocess.CompletedProcess[bytes]:
    how = {"stdout": subprocess.PIPE, **how}
    return subprocess.run(
        [sys.executable, "-m", "review_api.command", *arguments],
        stderr=subprocess.PIPE,
        cwd=ROOT,
        check=False,
        **how,
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="Linux has a disk that is always full")
@pytest.mark.parametrize("arguments", [COLD, (*COLD, "--json"), ("rules", "list")])
def test_output_that_cannot_be_written_is_one_sentence(arguments: tuple[str, ...]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = _called(*arguments, stdout=full)
    assert done.returncode == 2
    assert done.stderr.decode() == (
        "probeside: the output cannot be written (no space left on device): make room or write elsewhere\n"
    )


@pytest.mark.parametrize(
    ("encoding", "says"), [("ascii", "41 deg F, margin -3"), ("latin-1", "41 °F, margin -3"),
                           ("utf-8", "41 °F, margin −3")],
)  # fmt: skip
def test_a_minus_stays_a_minus_where_the_output_has_no_letter_for_it(encoding: str, says: str) -> None:
    done = _called(*COLD, env={**os.environ, "PYTHONIOENCODING": encoding})
    assert (done.returncode, done.stderr) == (0, b"")
    assert says in done.stdout.decode(encoding)


def test_json_stays_whole_where_the_output_is_ascii(tmp_path: Path) -> None:
    text = tmp_path / "visit.txt"
    text.write_text("Walk-in: the “famous” crème brûlée is 44.", encoding="utf-8")
    done = _called("extract", "--json", str(text), env={**os.environ, "PYTHONIOENCODING": "ascii"})
    assert done.returncode == 0
    assert [reading["value"] for reading in json.loads(done.stdout)["readings"]] == [44]
