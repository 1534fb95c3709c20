"""A second, independent verifier agrees: Poppler's `pdfsig` (Debian: poppler-utils)."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

PDFSIG = shutil.which("pdfsig")
pytestmark = pytest.mark.skipif(
    PDFSIG is None, reason="pdfsig is not installed; install poppler-utils to let a second verifier agree"
)


def says(pdf: bytes, folder: Path) -> str:
    path = folder / "report.pdf"
    path.write_bytes(pdf)
    run = subprocess.run([PDFSIG or "", str(path)], capture_output=True, text=True, check=False)
    return run.stdout + run.stderr


def test_it_finds_the_seal_valid_and_over_the_whole_file(sealed: bytes, tmp_path: Path) -> None:
    words = says(sealed, tmp_path)
    assert "Signature Field Name: Seal" in words
    assert "Signature Validation: Signature is Valid." in words
    assert "Total document signed" in words
    assert "ETSI.CAdES.detached" in words
    assert "O=Tamarind County Environmental Health" in words


def test_it_finds_a_changed_page(sealed: bytes, tmp_path: Path) -> None:
    at = sealed.index(b"stream") + 200
    words = says(sealed[:at] + bytes([sealed[at] ^ 1]) + sealed[at + 1 :], tmp_path)
    assert "Signature is Valid" not in words
