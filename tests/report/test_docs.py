"""What docs/sealed-reports.md says can be done works as it stands there."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

from review_api.log import write_lines
from tests.report.test_log_chain import a_log

PAGE = Path(__file__).parents[2] / "docs" / "sealed-reports.md"


def check(log: Path) -> subprocess.CompletedProcess[str]:
    found = re.search(r"```python\n(.*?)```", PAGE.read_text("utf-8"), re.DOTALL)
    assert found
    call = [sys.executable, "-c", found[1], str(log)]
    return subprocess.run(call, capture_output=True, text=True, check=False)


def test_the_log_can_be_checked_with_the_script_on_the_page(tmp_path: Path) -> None:
    log = tmp_path / "log.jsonl"
    lines = list(write_lines(a_log()))
    log.write_text("".join(lines), encoding="utf-8")
    assert f"whole; its last hash is {a_log()[-1].hash}" in check(log).stdout
    log.write_text("".join([lines[0], *lines[2:]]), encoding="utf-8")
    assert "entry 2 does not follow" in check(log).stderr


def test_the_files_it_names_are_there() -> None:
    root = PAGE.parents[1]
    for name in re.findall(r"`((?:review_api|shared|tests)/[\w/.]+)`", PAGE.read_text("utf-8")):
        assert (root / name.replace("chapter_N", "chapter_3")).exists(), name
