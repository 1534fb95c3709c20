"""Fixtures of the service's tests."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.service.samples import Sample, a_sample


@pytest.fixture
def sample(tmp_path: Path) -> Iterator[Sample]:
    """The small inspection behind the real service and the real database."""
    made = a_sample(tmp_path / "data")
    yield made
    made.client.close()
    made.state.jobs.close()
    made.state.database.close()
