"""What the documents say is there is there."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from review_api.command import COMMANDS

ROOT = Path(__file__).parents[2]
PAGES = sorted(path for path in (*ROOT.glob("*.md"), *(ROOT / "docs").glob("*.md")))
_LINK = re.compile(r"\]\((?!https?:|mailto:|#)([^)#\s]+)")


@pytest.mark.parametrize("page", PAGES, ids=lambda path: path.name)
def test_every_link_leads_somewhere(page: Path) -> None:
    missing = [link for link in _LINK.findall(page.read_text("utf-8")) if not (page.parent / link).exists()]
    assert not missing


def test_the_readme_names_every_call() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    assert [call for call in COMMANDS if f"`probeside {call}" not in text] == []


def test_the_readme_shows_what_a_dictated_line_really_becomes() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    shown = re.search(r"\$ echo \"(?P<line>.+)\" \| probeside extract -\n(?P<printed>.+?)```", text, re.S)
    assert shown is not None
    call = [sys.executable, "-m", "review_api.command", "extract", "-"]
    done = subprocess.run(call, input=shown["line"] + "\n", capture_output=True, text=True, check=True)
    assert _without_dates(done.stdout) == _without_dates(shown["printed"])


def _without_dates(text: str) -> str:
    """A deadline counts from the day the line is read."""
    return re.sub(r"\d{4}-\d{2}-\d{2}", "DATE", text)
