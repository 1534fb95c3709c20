"""Changes every byte of a sealed report in turn and verifies: `python -m tests.seal.every_byte [STRIDE]`.

The full run takes about twenty minutes on one core; the suite tries a sample (test_manipulation.py).
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from review_api.report import render
from review_api.seal import open_key, seal, verify
from tests.report.samples import record


def main(stride: int) -> int:
    """The number of changed files that were taken for whole; prints each place."""
    with TemporaryDirectory() as folder:
        key = open_key(Path(folder), department="Tamarind County Environmental Health", warn=lambda _: None)
    small = record(draft=False, violations=(), photos=(), figures=(), marks=())
    pdf = seal(render(small, {}).pdf, key=key)
    missed = tried = 0
    for at in range(0, len(pdf), stride):
        for mask in (0x01, 0x20):  # one bit; the case of a letter
            changed = pdf[:at] + bytes([pdf[at] ^ mask]) + pdf[at + 1 :]
            tried += 1
            if verify(changed, certificate=key.certificate).whole:
                missed += 1
                print(f"byte {at}: {pdf[at]:#04x} as {pdf[at] ^ mask:#04x} was not found")
    print(f"{tried} changes of a report of {len(pdf)} bytes, {missed} not found")
    return missed


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1) > 0)
