"""A department's key, a stranger's key, and one small sealed report, made once for all seal tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from review_api.report import render
from review_api.seal import Key, open_key, seal
from tests.report.samples import record


@pytest.fixture(scope="session")
def key(tmp_path_factory: pytest.TempPathFactory) -> Key:
    """The key of the invented department."""
    folder: Path = tmp_path_factory.mktemp("department")
    return open_key(folder, department="Tamarind County Environmental Health", warn=lambda _: None)


@pytest.fixture(scope="session")
def stranger(tmp_path_factory: pytest.TempPathFactory) -> Key:
    """Another key that claims the same department."""
    folder: Path = tmp_path_factory.mktemp("stranger")
    return open_key(folder, department="Tamarind County Environmental Health", warn=lambda _: None)


@pytest.fixture(scope="session")
def prepared() -> bytes:
    """A small report, ready for its seal."""
    small = record(draft=False, violations=(), photos=(), figures=(), marks=())
    return render(small, {}).pdf


@pytest.fixture(scope="session")
def sealed(prepared: bytes, key: Key) -> bytes:
    """The same, sealed."""
    return seal(prepared, key=key)
