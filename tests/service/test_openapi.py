"""The interface keeps to its own description: requests made up from it get answers that it describes."""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.specs.openapi.checks import positive_data_acceptance

from review_api.service import create_app
from tests.service.conftest import Open
from tests.service.samples import Sample

HOST = {"Host": "127.0.0.1:8470"}
EXAMPLES = 8
"""Made-up requests for each route."""


def test_made_up_requests_get_answers_as_described(
    tmp_path_factory: pytest.TempPathFactory, opened: Open
) -> None:
    """No 5xx, no status or body that is not described, whatever the request; schemathesis makes them up."""
    with opened(tmp_path_factory.mktemp("openapi") / "data") as sample:
        schema = schemathesis.openapi.from_asgi("/api/openapi.json", create_app(sample.state), headers=HOST)
        for found in schema.get_all_operations():
            strategy = found.ok().as_strategy()

            @settings(
                max_examples=EXAMPLES,
                deadline=None,
                derandomize=True,
                database=None,
                phases=[Phase.generate],
                suppress_health_check=list(HealthCheck),
            )
            @given(case=strategy)
            def answers(case: schemathesis.Case) -> None:
                case.call_and_validate(headers=HOST, excluded_checks=[positive_data_acceptance])

            answers()


def test_every_route_is_described_with_a_sentence(sample: Sample) -> None:
    paths = sample.client.get("/api/openapi.json").json()["paths"]
    assert len(paths) > 20
    for path, methods in paths.items():
        for method, operation in methods.items():
            assert operation.get("description", "").endswith("."), f"{method} {path}"
