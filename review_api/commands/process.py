"""`probeside process FOLDER`: one inspection's folder to results and a draft report."""

from __future__ import annotations

import argparse
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from review_api.handed_in import refuse_what_is_no_folder


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "folder", type=Path, metavar="FOLDER", help="recordings, photos, optional inspection.toml"
    )
    parser.add_argument(
        "--rules", metavar="NAME", help="rules by name or file; else those of inspection.toml"
    )
    parser.add_argument(
        "--out",
        type=Path,
        metavar="DIR",
        help="where results and draft go; default: FOLDER's name with -draft",
    )
    parser.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        help="the data folder to work in; default: DIR/data, for `probeside serve`",
    )
    parser.add_argument(
        "--json", action="store_true", help="print the results as JSON; files only with --out"
    )
    parser.add_argument("--speech-model", metavar="NAME", help="another Whisper model, by folder or name")


def run(options: argparse.Namespace) -> int:
    """0 when the folder was processed, whatever was found in it."""
    refuse_what_is_no_folder(options.folder)  # before anything is written beside it and much is loaded
    from review_api.at_work import Teller, at_work, process
    from review_api.written_out import print_summary, results_of, write_out

    out: Path | None = options.out or (None if options.json else _beside(options.folder))
    with _room(out, options.data) as data, at_work(data, speech_model=options.speech_model) as here:
        ignore = [path for path in (out, data) if path]
        inspection_id = process(here, options.folder, rules=options.rules, tell=Teller(), ignore=ignore)
        if out:
            write_out(here, inspection_id, out)
        if options.json:
            print(json.dumps(results_of(here, inspection_id), ensure_ascii=False))
        else:
            print_summary(here, inspection_id)
            print(f"\nResults and draft report: {out}")
    return 0


def _beside(folder: Path) -> Path:
    name = os.fsencode(folder.resolve().name).decode(
        "utf-8", "replace"
    )  # it is printed: bytes that are no text are not
    return Path(f"{name}-draft")


@contextmanager
def _room(out: Path | None, data: Path | None) -> Iterator[Path]:
    """The data folder to work in; one for this run only when nothing is to be kept."""
    if data or out:
        yield data or Path(out or ".") / "data"
    else:
        with TemporaryDirectory(prefix="probeside-") as room:
            yield Path(room)
