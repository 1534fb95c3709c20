"""`probeside verify`: whether sealed reports are whole, who sealed them when, and what amends them."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from review_api.log import read_lines
from review_api.log import verify as verify_log
from review_api.record import Amendment, Record
from review_api.report.export import from_json
from review_api.report.statement import content_sha256
from review_api.seal import read_certificate
from review_api.seal.key import CERTIFICATE_FILE, KEY_FOLDER
from review_api.seal.together import Looked, amendments_of, beside, look
from review_api.seal.trail import sealed_hashes
from shared.errors import InputError

_DATA = Path("probeside-data")
_KINDS = {"probeside/record/1": "report", "probeside/amendment/1": "amendment"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE", help="a sealed report or amendment")
    parser.add_argument(
        "--certificate",
        type=Path,
        metavar="PEM",
        help=f"the department's {CERTIFICATE_FILE}, got from the department and not with the report; "
        "default: the one of the data folder",
    )
    parser.add_argument("--data", type=Path, default=_DATA, metavar="DIR", help=f"default {_DATA}")
    parser.add_argument(
        "--sha256", help="the SHA-256 that the department's records give for FILE (one FILE only)"
    )
    parser.add_argument("--log", type=Path, metavar="JSONL", help="an exported event log, checked too")
    parser.add_argument("--json", action="store_true", help="print one JSON object a file")


def run(options: argparse.Namespace) -> int:
    """0 when all are whole, 1 when one is not."""
    if options.sha256 and len(options.files) > 1:
        raise InputError("--sha256: it can be compared with one file only; name one FILE")
    for path in options.files:
        if not path.is_file():
            raise InputError(f"{path}: there is no such file; check its name")
    certificate = read_certificate(options.certificate or _certificate_of(options.data))
    looked = [look(path, certificate=certificate, expected_sha256=options.sha256) for path in options.files]
    log = list(_log_faults(options.log, looked)) if options.log else []
    for item in looked:
        others = [*looked, *beside(item.path, certificate=certificate)]
        amendments = amendments_of(item, others) if item.found.whole else ()
        if options.json:
            print(json.dumps(_plain(item, amendments, log), ensure_ascii=False))
        else:
            print("\n".join(_words(item, amendments)))
    if options.log and not options.json:
        print("\n".join([f"{options.log}: whole"] if not log else [f"{options.log}: NOT WHOLE", *log]))
    return 0 if all(item.found.whole for item in looked) and not log else 1


def _certificate_of(data: Path) -> Path:
    """The certificate of the department whose data folder this is. Raises InputError when there is none."""
    path = data / KEY_FOLDER / CERTIFICATE_FILE
    if not path.exists():
        raise InputError(
            f"{path}: there is no certificate to verify with; give the department's with --certificate"
        )
    return path


def _record_beside(item: Looked) -> str | None:
    """Whether the JSON beside the PDF is the record that was sealed; None when there is none."""
    path = item.path.with_suffix(".json")
    statement = item.found.statement
    if statement is None or not path.is_file():
        return None
    model: type[Record | Amendment] = Amendment if statement.amends else Record
    try:
        same = content_sha256(from_json(path.read_bytes(), model, name=str(path))) == statement.content
    except (InputError, OSError):
        same = False
    return "says the same" if same else "was CHANGED after the seal or is another's: rely on the PDF alone"


def _words(item: Looked, amendments: tuple[Looked, ...]) -> Iterator[str]:
    found = item.found
    if not found.whole or found.statement is None or found.sealed is None:
        yield f"{item.path}: NOT WHOLE"
        yield from (f"  {fault[0].upper()}{fault[1:]}." for fault in found.faults)
        yield "  Do not rely on it. Ask the department for the report as it was sealed."
        return
    kind = _KINDS.get(found.statement.schema, "document")
    yield f"{item.path}: whole"
    yield f"  {kind.capitalize()} {found.statement.number}; nothing was changed since it was sealed."
    yield f"  Sealed by {found.sealed_by}, {found.sealed.isoformat(' ')} by the sealing machine's clock."
    yield f"  Certificate SHA-256 {found.certificate_sha256}"
    yield f"  File SHA-256 {found.sha256}"
    if found.statement.amends:
        yield f"  It amends {found.statement.amends.number}, SHA-256 {found.statement.amends.sha256}."
    if (beside := _record_beside(item)) is not None:
        yield f"  The record beside it, {item.path.with_suffix('.json').name}, {beside}."
    for other in amendments:
        if other.found.statement and other.found.sealed:
            number, sealed = other.found.statement.number, other.found.sealed.isoformat(" ")
            yield f"  Amended by {number} ({other.path}), sealed {sealed}."
    if amendments:
        yield "  Read them together."
    elif not found.statement.amends:
        yield "  No amendment was found among the files given or beside it."


def _plain(item: Looked, amendments: tuple[Looked, ...], log: list[str]) -> dict[str, Any]:
    found = item.found
    statement = found.statement
    return {
        "schema": "probeside/1",
        "file": str(item.path),
        "whole": found.whole,
        "faults": list(found.faults),
        "sha256": found.sha256,
        "number": statement.number if statement else None,
        "kind": _KINDS.get(statement.schema) if statement else None,
        "sealed_by": found.sealed_by,
        "sealed": found.sealed.isoformat() if found.sealed else None,
        "certificate_sha256": found.certificate_sha256,
        "amends": {"number": statement.amends.number, "sha256": statement.amends.sha256}
        if statement and statement.amends
        else None,
        "amended_by": [
            {"file": str(other.path), "number": other.found.statement.number, "sha256": other.found.sha256}
            for other in amendments
            if other.found.statement
        ],
        "log_faults": log,
    }


def _log_faults(path: Path, looked: list[Looked]) -> Iterator[str]:
    try:
        lines = path.read_text("utf-8").splitlines()
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(f"{path}: cannot be read as a log; export the log again") from error
    entries = read_lines(lines, name=str(path))
    statements = [item.found.statement for item in looked if item.found.statement]
    heads = [statement.log_head for statement in statements if statement.log_head]
    for fault in verify_log(entries, anchors=heads):
        yield f"  Entry {fault.sequence}: {fault.what}." if fault.sequence else f"  {fault.what}."
    for item in looked:
        if item.found.whole and item.found.sha256 not in sealed_hashes(entries):
            yield f"  It has no entry of the sealing of {item.path} (SHA-256 {item.found.sha256})."
