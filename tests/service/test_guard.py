"""Who may talk to the service, and how much at once."""

from __future__ import annotations

import pytest

from review_api.api.guard import content_policy
from tests.service.samples import Sample

OWN = "http://127.0.0.1:8470"

ORIGINS = [
    ({}, 200),
    ({"Origin": OWN}, 200),
    ({"Origin": "http://127.0.0.1:9999"}, 403),
    ({"Origin": "https://elsewhere.example"}, 403),
    ({"Origin": "null"}, 403),
    ({"Sec-Fetch-Site": "cross-site"}, 403),
    ({"Sec-Fetch-Site": "same-origin"}, 200),
]


@pytest.mark.parametrize(("headers", "status"), ORIGINS)
def test_changes_come_only_from_its_own_page(sample: Sample, headers: dict[str, str], status: int) -> None:
    body = {"mark": "IN", "revision": sample.revision()}
    answer = sample.client.put(f"{sample.at}/marks/10", json=body, headers=headers)
    assert answer.status_code == status
    if status != 200:
        assert answer.json()["code"] == "foreign_origin"
        assert next(line for line in sample.desk()["marks"] if line["number"] == 10)["origin"] is None


@pytest.mark.parametrize(
    "headers", [{"Origin": "https://elsewhere.example"}, {"Sec-Fetch-Site": "cross-site"}]
)
def test_what_is_stored_is_not_read_by_other_pages(sample: Sample, headers: dict[str, str]) -> None:
    assert sample.client.get("/api/inspections", headers=headers).status_code == 403


HOSTS = [
    ("127.0.0.1:8470", 200),
    ("localhost:8470", 200),
    ("[::1]:8470", 200),
    ("LOCALHOST", 200),
    ("elsewhere.example", 421),
    ("127.0.0.1.elsewhere.example:8470", 421),
    ("", 421),
]


@pytest.mark.parametrize(("host", "status"), HOSTS)
def test_it_answers_only_to_its_own_name(sample: Sample, host: str, status: int) -> None:
    """A page elsewhere whose name points at this machine gets nothing."""
    answer = sample.client.get("/api/inspections", headers={"Host": host})
    assert answer.status_code == status


def test_a_huge_body_is_refused_before_it_is_read(sample: Sample) -> None:
    answer = sample.client.put(f"{sample.at}/notes", content=b"x" * 1_000_001)
    assert (answer.status_code, answer.json()["code"]) == (413, "too_large")


def test_a_huge_body_without_a_length_is_cut_off(sample: Sample) -> None:
    def endless() -> object:
        for _ in range(40):
            yield b"x" * 50_000

    answer = sample.client.put(
        f"{sample.at}/notes",
        content=endless(),
        headers={"Content-Type": "application/json"},  # type: ignore[arg-type]
    )
    assert answer.status_code in (400, 413)


NOT_VALID = [
    ("GET", "/api/inspections/0", 422),
    ("GET", "/api/inspections/99", 404),
    ("GET", "/api/inspections/one", 422),
    ("GET", "/api/inspections?limit=-1", 422),
    ("GET", "/api/nothing", 404),
    ("DELETE", "/api/inspections", 405),
    ("GET", "/api/photos/xyz", 422),
    ("GET", f"/api/recordings/{'a' * 64}/clip?start=5&end=1", 422),
    ("GET", f"/api/recordings/{'a' * 64}/clip?start=nan&end=1", 422),
    ("GET", "/api/inspections/1/report.pdf", 404),
    ("GET", "/api/inspections/1/report.exe", 422),
]


@pytest.mark.parametrize(("method", "path", "status"), NOT_VALID)
def test_errors_are_problems_with_a_sentence(sample: Sample, method: str, path: str, status: int) -> None:
    answer = sample.client.request(method, path)
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    problem = answer.json()
    assert {"title", "status", "detail", "code"} <= problem.keys()
    assert problem["status"] == status
    assert "Traceback" not in problem["detail"]


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"null", b'"x"', b"\xff\xfe", b"{" * 5000])
def test_a_body_that_is_no_json_is_refused(sample: Sample, body: bytes) -> None:
    answer = sample.client.post(
        f"{sample.at}/decisions", content=body, headers={"Content-Type": "application/json"}
    )
    assert answer.status_code in (400, 422)
    assert answer.headers["content-type"] == "application/problem+json"


def test_every_answer_forbids_what_the_page_does_not_need(sample: Sample) -> None:
    headers = sample.client.get("/api/inspections").headers
    assert "default-src 'self'" in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cache-control"] == "no-store"
    assert "access-control-allow-origin" not in headers


def test_inline_scripts_are_allowed_by_their_hash_only() -> None:
    # SHA-256 of `alert(1)` in base64, from `printf 'alert(1)' | openssl dgst -sha256 -binary | base64`
    policy = content_policy('<script src="x.js"></script><script>alert(1)</script>')
    assert "script-src 'self' 'sha256-bhHHL3z2vDgxUt0W3dWQOrprscmda2Y5pLsLg4GF+pI='" in policy
