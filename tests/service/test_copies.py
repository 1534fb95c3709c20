"""The e-mail file and the courtesy copy, through the service."""

from __future__ import annotations

from email import message_from_bytes, policy
from email.message import EmailMessage

import pytest

from tests.service.samples import Sample
from tests.service.test_closing import ready, sealed


def test_the_sealed_report_goes_out_as_an_unsent_message(sample: Sample) -> None:
    document = sealed(sample)["report"]
    answer = sample.client.get(
        f"{sample.at}/mail.eml", params={"to": "tomas@birchwood.example", "courtesy": "es"}
    )
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-type"].startswith("message/rfc822")
    read = message_from_bytes(answer.content, policy=policy.default)
    assert isinstance(read, EmailMessage)
    assert (read["To"], read["X-Unsent"]) == ("tomas@birchwood.example", "1")
    report, copy = read.iter_attachments()
    kept = sample.client.get(f"{sample.at}/report.pdf", params={"report": document["id"]})
    assert report.get_content() == kept.content
    assert copy.get_content().startswith(b"%PDF")


def test_a_draft_is_not_sent(sample: Sample) -> None:
    ready(sample)
    sample.post("report")
    answer = sample.client.get(f"{sample.at}/mail.eml", params={"to": "tomas@birchwood.example"})
    assert answer.status_code == 404
    assert "sign and seal it first" in answer.json()["detail"]


def test_a_wrong_address_is_named(sample: Sample) -> None:
    sealed(sample)
    answer = sample.client.get(f"{sample.at}/mail.eml", params={"to": "tomas"})
    assert answer.status_code == 422
    assert "'tomas': is no e-mail address" in answer.json()["detail"]


@pytest.mark.parametrize(("format", "media"), [("pdf", "application/pdf"), ("html", "text/html")])
def test_the_courtesy_copy_of_the_newest_report(sample: Sample, format: str, media: str) -> None:
    sealed(sample)
    answer = sample.client.get(f"{sample.at}/courtesy.{format}")
    assert answer.status_code == 200, answer.text
    assert answer.headers["content-type"].startswith(media)
    if format == "html":
        assert "BORRADOR" not in answer.text
        assert "borrador" not in answer.text
        assert "El alimento frío se mantenía por encima de su límite." in answer.text


def test_a_language_without_phrases_is_named(sample: Sample) -> None:
    sealed(sample)
    answer = sample.client.get(f"{sample.at}/courtesy.pdf", params={"language": "tlh"})
    assert answer.status_code == 422
    assert "there are: en, es" in answer.json()["detail"]
