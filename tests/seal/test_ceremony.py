"""Closing an inspection: one sealed report or none, at every moment, and the same one when asked again."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from review_api.record import Acknowledgement, Amendment, Change
from review_api.report.statement import Amends
from review_api.seal import Key, close, close_amendment, open_key, sealed_file, verify
from review_api.seal.files import write_once
from shared.errors import InputError, RefusedError
from tests.own_process import in_own_process
from tests.report.samples import DEPARTMENT, at, photo_files, record, signed
from tests.seal.killing import close_killed

FILES = photo_files()


def test_a_signed_visit_is_sealed_whole_and_in_three_formats(key: Key, tmp_path: Path) -> None:
    sealed = close(signed(), FILES, key=key, folder=tmp_path, log_head="a" * 64)
    found = verify(sealed.path.read_bytes(), certificate=key.certificate, expected_sha256=sealed.sha256)
    assert found.whole, found.faults
    assert found.sealed_by == DEPARTMENT.name
    assert found.statement
    assert found.statement.log_head == "a" * 64
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "TM-2026-0107.html", "TM-2026-0107.json", "TM-2026-0107.pdf",
    ]  # fmt: skip
    assert sealed.path.stat().st_mode & 0o777 == 0o440
    assert b"DRAFT" not in sealed.path.with_suffix(".html").read_bytes()


def test_closing_again_gives_the_same_report(key: Key, tmp_path: Path) -> None:
    first = close(signed(), FILES, key=key, folder=tmp_path)
    later = signed(made=at("18:00"))  # written out later, decided the same
    assert close(later, FILES, key=key, folder=tmp_path, log_head="b" * 64) == first


def test_other_decisions_under_a_sealed_number_are_refused(key: Key, tmp_path: Path) -> None:
    first = close(signed(), FILES, key=key, folder=tmp_path)
    with pytest.raises(RefusedError, match="write an amendment"):
        close(signed(education=("Something else.",)), FILES, key=key, folder=tmp_path)
    assert sealed_file(first.path, certificate=key.certificate) == first


@pytest.mark.parametrize(
    ("kind", "words"),
    [("refused", "Refused"), ("nobody_available", "Nobody was available to sign")],
)
def test_refusal_and_absence_seal_like_a_signature(kind, words: str, key: Key, tmp_path: Path) -> None:
    receipt = Acknowledgement(
        kind=kind, at=at("12:20"), reason="he disagrees with the second violation", supervisor="T. Quill",
        supervisor_told=at("12:25"),
    )  # fmt: skip
    sealed = close(record(acknowledgement=receipt), FILES, key=key, folder=tmp_path)
    html = sealed.path.with_suffix(".html").read_text()
    assert words in html
    assert "T. Quill on Monday, May 4, 2026, 12:25 PM" in html


@pytest.mark.parametrize("receipt", [None, Acknowledgement(kind="signed", at=at("12:20"))])
def test_without_a_receipt_nothing_is_sealed(receipt, key: Key, tmp_path: Path) -> None:
    with pytest.raises(RefusedError, match="sign"):
        close(record(acknowledgement=receipt), FILES, key=key, folder=tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("number", ["../x", "a/b", "", ".hidden", "x" * 65, "TM 1", "ä"])
def test_a_number_that_is_no_file_name_is_refused(number: str, key: Key, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="report number"):
        close(signed(number=number), FILES, key=key, folder=tmp_path)


def test_a_sealed_file_that_was_changed_is_not_sealed_over(key: Key, tmp_path: Path) -> None:
    sealed = close(signed(), FILES, key=key, folder=tmp_path)
    sealed.path.chmod(0o640)
    sealed.path.write_bytes(sealed.path.read_bytes() + b"\n")
    with pytest.raises(RefusedError, match="not whole"):
        close(signed(), FILES, key=key, folder=tmp_path)


STEPS = ["render", "seal", "verify", "unnamed", "html", "json", "pdf"]


@pytest.mark.slow
@pytest.mark.parametrize("step", STEPS)
def test_killed_after_any_step_there_is_one_sealed_report_or_none(step: str, tmp_path: Path) -> None:
    keys, folder = tmp_path / "keys", tmp_path / "reports"
    key = open_key(keys, department="Tamarind County Environmental Health", warn=lambda _: None)
    run = in_own_process(close_killed, step, folder, keys)
    assert run.status == -signal.SIGKILL, run.err
    before = list(folder.glob("*.pdf"))
    assert len(before) == (1 if step == "pdf" else 0)
    sealed = close(signed(), FILES, key=key, folder=folder)
    assert verify(sealed.path.read_bytes(), certificate=key.certificate).whole
    if before:
        assert sealed_file(before[0], certificate=key.certificate) == sealed
    assert len(list(folder.glob("*.pdf"))) == 1


def test_a_write_that_fails_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_once(tmp_path / "report.pdf", b"content")
    assert list(tmp_path.iterdir()) == []


def test_what_is_there_is_never_written_over(tmp_path: Path) -> None:
    assert write_once(tmp_path / "a", b"first")
    assert not write_once(tmp_path / "a", b"second")
    assert (tmp_path / "a").read_bytes() == b"first"


def amended(number: str, sha256: str) -> Amendment:
    return Amendment(
        number=f"{number}-A1", draft=True, made=at("16:00"), amends_number=number, amends_sha256=sha256,
        department=DEPARTMENT, establishment=signed().establishment,
        changes=(Change(where="Violation 1, correct by", was="May 4, 5:00 PM", now="May 6, 5:00 PM"),),
        why="the repair company cannot come earlier", inspector="R. Okonjo-Vale", approved_by="T. Quill",
        approved=at("15:40"), operator_told=at("15:50"), operator_told_who="Pilar Muñoz Åström",
        operator_told_how="by telephone",
    )  # fmt: skip


def test_an_amendment_names_what_it_amends_and_is_sealed_likewise(key: Key, tmp_path: Path) -> None:
    report = close(signed(), FILES, key=key, folder=tmp_path)
    change = close_amendment(
        amended(report.number, report.sha256), amended=report.path, key=key, folder=tmp_path
    )
    found = verify(change.path.read_bytes(), certificate=key.certificate)
    assert found.whole, found.faults
    assert found.statement
    assert found.statement.amends == Amends(report.number, report.sha256)
    assert sealed_file(report.path, certificate=key.certificate) == report
    html = change.path.with_suffix(".html").read_text()
    assert "May 6, 5:00 PM" in html
    assert report.sha256[:8] in html


def test_an_amendment_of_another_file_is_refused(key: Key, tmp_path: Path) -> None:
    report = close(signed(), FILES, key=key, folder=tmp_path)
    with pytest.raises(RefusedError, match="another SHA-256"):
        close_amendment(amended(report.number, "0" * 64), amended=report.path, key=key, folder=tmp_path)
    with pytest.raises(InputError, match="cannot be read"):
        close_amendment(amended("X", "0" * 64), amended=tmp_path / "X.pdf", key=key, folder=tmp_path)


def test_the_key_is_made_once_with_a_warning_and_never_replaced(tmp_path: Path) -> None:
    said: list[str] = []
    first = open_key(tmp_path / "k", department="Tamarind County", passphrase=b"quarry", warn=said.append)
    again = open_key(tmp_path / "k", department="Other", passphrase=b"quarry", warn=said.append)
    assert first.fingerprint == again.fingerprint
    assert again.owner == "Tamarind County"
    assert len(said) == 1
    assert "Copy it now" in said[0]
    assert (tmp_path / "k" / "seal.p12").stat().st_mode & 0o777 == 0o600
    with pytest.raises(InputError, match="passphrase is wrong"):
        open_key(tmp_path / "k", department="Tamarind County", passphrase=b"other", warn=said.append)


def test_a_damaged_key_is_named_and_kept(tmp_path: Path) -> None:
    (tmp_path / "seal.p12").write_bytes(b"damaged")
    with pytest.raises(InputError, match=r"seal\.p12: damaged"):
        open_key(tmp_path, department="Tamarind County", warn=lambda _: None)
    assert (tmp_path / "seal.p12").read_bytes() == b"damaged"
