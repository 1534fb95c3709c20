"""Fixtures of the service's tests."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest

from review_api.seal import open_key
from tests.service import samples
from tests.service.samples import Sample

Open = Callable[[Path], AbstractContextManager[Sample]]


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the small inspection and a sealing key, made once: a test works on a copy."""
    root = tmp_path_factory.mktemp("template") / "data"
    samples.a_sample(root).close()
    open_key(root / "key", department="Health department (name not set)", warn=lambda _: None)
    return root


@pytest.fixture(scope="session")
def opened(template: Path) -> Open:
    """Opens a copy of the small inspection in a folder."""

    @contextmanager
    def open_copy(root: Path) -> Iterator[Sample]:
        shutil.copytree(template, root)
        made = samples.opened(root)
        try:
            yield made
        finally:
            made.close()

    return open_copy


@pytest.fixture
def sample(tmp_path: Path, opened: Open) -> Iterator[Sample]:
    """The small inspection behind the real service and the real database."""
    with opened(tmp_path / "data") as made:
        yield made
