"""Fixtures of the service's tests."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from review_api.seal import open_key
from tests.service.samples import Sample, a_sample


@pytest.fixture(scope="session")
def key_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A department's sealing key, made once: making one takes a second."""
    folder = tmp_path_factory.mktemp("key")
    open_key(folder, department="Health department (name not set)", warn=lambda _: None)
    return folder


@pytest.fixture
def sample(tmp_path: Path, key_folder: Path) -> Iterator[Sample]:
    """The small inspection behind the real service and the real database."""
    with opened(tmp_path / "data", key_folder) as made:
        yield made


@contextmanager
def opened(root: Path, key_folder: Path) -> Iterator[Sample]:
    made = a_sample(root)
    shutil.copytree(key_folder, root / "key")
    try:
        yield made
    finally:
        made.client.close()
        made.state.jobs.close()
        made.state.database.close()
