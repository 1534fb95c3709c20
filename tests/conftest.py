"""What several parts' tests share: the shipped inspection, processed once with the real speech model."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

# The suite tries the same examples every time, so that a red run is the change's doing.
# To look for new ones: pytest --hypothesis-profile explore
settings.register_profile("suite", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None)
settings.load_profile("suite")

TESTS = Path(__file__).parent
SHIPPED = TESTS.parent / "audio_fixtures" / "harbor_wren"

LONGEST = ("end_to_end", "page", "speech/test_transcribe.py", "service/test_kill.py")
"""What takes longest: the speech model, the browser and killed processes really run in them. The page's files
stand together, so that a process starts their service and browser once, and between those with the speech
model, which takes all cores."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest first, so that several processes, which take one file after the other, end together."""

    def turn(item: pytest.Item) -> int:
        place = item.path.relative_to(TESTS).as_posix()
        return next((at for at, long in enumerate(LONGEST) if place.startswith(long)), len(LONGEST))

    items.sort(key=turn)


@dataclass(frozen=True)
class Processed:
    """The shipped inspection as `probeside process` left it. Copy `data` before you change anything in it."""

    data: Path
    """A data folder that `probeside serve --data` takes."""
    out: Path
    """Results and draft report."""
    results: dict[str, Any]
    """`results.json`: what `process --json` prints."""
    inspection_id: int = 1


@pytest.fixture(scope="session")
def processed(tmp_path_factory: pytest.TempPathFactory) -> Processed:
    """The whole path, once for all tests that need it: about half a minute."""
    from review_api.command import main

    out = tmp_path_factory.mktemp("shipped")
    assert main(["process", str(SHIPPED), "--out", str(out)]) == 0
    return Processed(out / "data", out, json.loads((out / "results.json").read_text(encoding="utf-8")))
