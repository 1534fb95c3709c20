"""`probeside transcribe AUDIO…`: what was said in recordings, with times and doubts."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

from capture.speech import Progress, load_model, progress_folder, transcribe
from shared import wire
from shared.errors import InputError
from shared.types import Transcript, Utterance


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options of the call."""
    parser.add_argument(
        "audio", nargs="+", type=Path, help="recordings: wav, flac, mp3, m4a, ogg, opus, webm"
    )
    parser.add_argument(
        "--speech-model", metavar="NAME", help="base (default), tiny.en, another model's name, or its folder"
    )
    parser.add_argument(
        "--words",
        action="append",
        default=[],
        metavar="WORD",
        help="a name of the place to expect; repeatable",
    )
    parser.add_argument(
        "--afresh", action="store_true", help="do not go on from an earlier run that was stopped"
    )
    parser.add_argument("--json", action="store_true", help="JSON Lines, one object a file")


def run(options: argparse.Namespace) -> int:
    """Transcribes each file in turn; a file that cannot be read is told, the others are done."""
    model = load_model(options.speech_model)
    if not model.verified:
        print(f"probeside: the weights of {model.name} are not verified", file=sys.stderr)
    checkpoints = None if options.afresh else progress_folder()
    failed = False
    for path in options.audio:
        try:
            found = transcribe(
                path,
                model=model,
                words=options.words,
                progress=_teller(path),
                checkpoints=checkpoints,
            )
        except InputError as error:
            print(f"probeside: {error}", file=sys.stderr)
            failed = True
            continue
        for warning in found.warnings:
            print(f"probeside: {path}: {warning}", file=sys.stderr)
        if options.json:
            print(json.dumps(wire.transcript(_shown(path), found), ensure_ascii=False), flush=True)
        else:
            _print(path, found)
    return 2 if failed else 0


def _print(path: Path, found: Transcript) -> None:
    print(_shown(path))
    for utterance in found.utterances:
        print(f"  [{_clock(utterance.start or 0.0)}] {utterance.text}")
        for doubt in utterance.doubts:
            others = f" (also heard: {'; '.join(doubt.alternatives)})" if doubt.alternatives else ""
            print(f"             ? {_doubted(utterance, doubt.span)}{doubt.why}{others}")
    for stretch in found.not_understood:
        print(f"  [{_clock(stretch.start)}] not understood, {stretch.end - stretch.start:.1f} s: listen")
    for text in found.removed:
        print(f"  [{_clock(text.start)}] taken out: “{text.text}” ({text.why})")


def _doubted(utterance: Utterance, span: tuple[int, int] | None) -> str:
    return f"“{utterance.text[span[0] : span[1]]}”: " if span else ""


def _shown(path: Path) -> str:
    """The name as it can be printed: it may hold bytes that are no text."""
    return os.fsencode(path).decode("utf-8", "replace")


def _clock(seconds: float) -> str:
    whole = int(seconds)
    return f"{whole // 3600:02d}:{whole // 60 % 60:02d}:{whole % 60:02d}"


def _teller(path: Path) -> Callable[[Progress], None]:
    """Tells on standard error how far it has come; on a terminal in one line that is written over."""
    shown = sys.stderr.isatty()

    def tell(progress: Progress) -> None:
        last = progress.total_s is not None and progress.done_s >= progress.total_s - 1
        of = f" of {_clock(progress.total_s)}" if progress.total_s else ""
        left = f", about {_span(progress.left_s)} left" if progress.left_s is not None else ""
        line = f"{path.name}: {_clock(progress.done_s)}{of}{left}"
        end = "" if shown and not last else "\n"
        print(f"\r\x1b[K{line}" if shown else line, end=end, file=sys.stderr, flush=True)

    return tell


def _span(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds < 90 else f"{seconds / 60:.0f} min"
