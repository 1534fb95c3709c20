"""`probeside verify`: words and exit status for whoever has a report and the department's certificate."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.serialization import Encoding

from review_api.command import main
from review_api.log import follow, write_lines
from review_api.seal import Key, Sealed, close, close_amendment
from tests.report.samples import at, signed
from tests.seal.test_ceremony import amended

VISIT = signed(violations=(), photos=(), figures=(), marks=())


@pytest.fixture
def certificate(key: Key, tmp_path: Path) -> str:
    path = tmp_path / "certificate.pem"
    path.write_bytes(key.certificate.public_bytes(Encoding.PEM))
    return f"--certificate={path}"


@pytest.fixture
def report(key: Key, tmp_path: Path) -> Sealed:
    return close(VISIT, {}, key=key, folder=tmp_path / "reports")


def test_a_whole_report_says_who_sealed_it_when(report: Sealed, certificate: str, capsys) -> None:
    assert main(["verify", str(report.path), certificate]) == 0
    words = capsys.readouterr().out
    assert f"{report.path}: whole" in words
    assert "Sealed by Tamarind County Environmental Health" in words
    assert report.sha256 in words
    assert "No amendment was found" in words


def test_a_changed_report_says_no(report: Sealed, certificate: str, capsys, tmp_path: Path) -> None:
    changed = tmp_path / "changed.pdf"
    changed.write_bytes(report.path.read_bytes() + b" ")
    assert main(["verify", str(changed), certificate]) == 1
    words = capsys.readouterr().out
    assert f"{changed}: NOT WHOLE\n  Something was added to the file after it was sealed." in words


def test_another_certificate_says_no(report: Sealed, stranger: Key, capsys, tmp_path: Path) -> None:
    path = tmp_path / "other.pem"
    path.write_bytes(stranger.certificate.public_bytes(Encoding.PEM))
    assert main(["verify", str(report.path), "--certificate", str(path)]) == 1
    assert "another key" in capsys.readouterr().out


def test_report_and_amendment_are_shown_together(report: Sealed, key: Key, certificate: str, capsys) -> None:
    folder = report.path.parent
    change = close_amendment(
        amended(report.number, report.sha256), amended=report.path, key=key, folder=folder
    )
    assert main(["verify", str(report.path), certificate]) == 0
    assert f"Amended by TM-2026-0107-A1 ({change.path}), sealed" in capsys.readouterr().out
    assert main(["verify", str(change.path), certificate]) == 0
    assert f"It amends TM-2026-0107, SHA-256 {report.sha256}." in capsys.readouterr().out


def test_an_amendment_of_an_amendment_is_shown_too(
    report: Sealed, key: Key, certificate: str, capsys
) -> None:
    folder = report.path.parent
    first = close_amendment(
        amended(report.number, report.sha256), amended=report.path, key=key, folder=folder
    )
    close_amendment(amended(first.number, first.sha256), amended=first.path, key=key, folder=folder)
    assert main(["verify", str(report.path), certificate, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [item["number"] for item in told["amended_by"]] == ["TM-2026-0107-A1", "TM-2026-0107-A1-A1"]


def test_the_records_hash_is_compared(report: Sealed, certificate: str, capsys) -> None:
    assert main(["verify", str(report.path), certificate, "--sha256", report.sha256]) == 0
    assert main(["verify", str(report.path), certificate, "--sha256", "0" * 64]) == 1
    assert "SHA-256 differs" in capsys.readouterr().out


def test_the_record_beside_it_is_compared(report: Sealed, certificate: str, capsys) -> None:
    assert main(["verify", str(report.path), certificate]) == 0
    assert "The record beside it, TM-2026-0107.json, says the same." in capsys.readouterr().out
    beside = report.path.with_suffix(".json")
    changed = beside.read_text("utf-8").replace("48.5", "40.5")
    beside.unlink()
    beside.write_text(changed, "utf-8")
    assert main(["verify", str(report.path), certificate]) == 0  # the report itself is whole
    assert "was CHANGED" in capsys.readouterr().out


def test_an_exported_log_is_checked_with_it(key: Key, certificate: str, capsys, tmp_path: Path) -> None:
    first = follow(None, {"did": "recording taken in", "about": {}})
    report = close(VISIT, {}, key=key, folder=tmp_path, log_head=first.hash)
    last = follow(first, report.event(who="R. Okonjo-Vale", at=at("12:30"), inspection=report.number))
    log = tmp_path / "log.jsonl"
    log.write_text("".join(write_lines([first, last])), encoding="utf-8")
    assert main(["verify", str(report.path), certificate, "--log", str(log)]) == 0
    assert "log.jsonl: whole" in capsys.readouterr().out
    log.write_text("".join(write_lines([first])), encoding="utf-8")
    assert main(["verify", str(report.path), certificate, "--log", str(log)]) == 1
    assert "no entry of the sealing" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["missing.pdf"], "missing.pdf: there is no such file"),
        (["a.pdf", "b.pdf", "--sha256", "0"], "name one FILE"),
    ],
)
def test_a_wrong_call_is_one_line_and_status_2(arguments, words: str, certificate: str, capsys) -> None:
    assert main(["verify", *arguments, certificate]) == 2
    said = capsys.readouterr().err
    assert words in said
    assert said.count("\n") == 1


def test_without_a_certificate_it_takes_the_data_folder_s(
    report: Sealed, key: Key, capsys, tmp_path: Path
) -> None:
    assert main(["verify", str(report.path), "--data", str(tmp_path / "data")]) == 2
    assert "give the department's with --certificate" in capsys.readouterr().err
    (tmp_path / "data" / "key").mkdir(parents=True)
    pem = key.certificate.public_bytes(Encoding.PEM)
    (tmp_path / "data" / "key" / "certificate.pem").write_bytes(pem)
    assert main(["verify", str(report.path), "--data", str(tmp_path / "data")]) == 0


def test_what_is_no_certificate_is_named(report: Sealed, capsys, tmp_path: Path) -> None:
    wrong = tmp_path / "x.pem"
    wrong.write_text("-----BEGIN nonsense")
    assert main(["verify", str(report.path), "--certificate", str(wrong)]) == 2
    assert "x.pem: not a certificate" in capsys.readouterr().err
