"""`probeside bench speech`: the speech stage beside one plain call of faster-whisper, same model and threads.

Without options: time and peak memory on talk without pauses and on a visit with pauses, as ratios.
`--noise`: what is heard, clean and under kitchen noise, side by side. `--human`: recordings of people.
`--two`: two people at once. `--faint`: whispers, and kitchens with nobody in them. `--day`: hours in one
recording, whole, and stopped halfway and gone on.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from dataclasses import asdict
from pathlib import Path

from capture.audio import wav_bytes
from capture.bench import contest, plain
from capture.bench.faint import came_of, empty_rooms, heard_of_nobody, whispers
from capture.bench.human import human_scores
from capture.bench.long_day import day_of, write_day
from capture.bench.overlap import both, counted
from capture.bench.recordings import Made, clips, long_recording, recording
from capture.bench.scoring import Score, score
from capture.speech import SpeechModel, load_model, transcribe
from capture.voice import BLOCK_S

NOISE_DB = (None, 10.0, 5.0, 0.0)
_PAUSE_S = (1.2, 2.6)
_FALLS_IN = ((1.0, 0.0), (1.0, -6.0), (1.0, -12.0), (0.7, 0.0), (0.7, -6.0), (0.7, -12.0), (0.4, 0.0))
"""Where in the first line the second begins, and how much louder it is in dB."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The options of the benchmark."""
    parser.add_argument("--minutes", type=float, default=20.0, help="length of the long recordings (20)")
    parser.add_argument(
        "--only",
        choices=("dense", "sparse"),
        help="one of the two long recordings; with --day, sparse: a line every two minutes",
    )
    parser.add_argument("--noise", action="store_true", help="words and numbers under noise, beside plain")
    parser.add_argument("--human", action="store_true", help="recordings of people")
    parser.add_argument("--two", action="store_true", help="two people talking at once")
    parser.add_argument("--faint", action="store_true", help="whispers, and kitchens with nobody in them")
    parser.add_argument("--day", type=float, metavar="HOURS", help="one long recording, whole and stopped")
    parser.add_argument("--errors", action="store_true", help="with --noise: list the silent errors")
    parser.add_argument("--json", action="store_true", help="one JSON object a line")


def run(options: argparse.Namespace) -> int:
    """Runs what was asked for and prints it."""
    if options.noise:
        _noise(options)
    elif options.human:
        _human(options)
    elif options.two:
        _two()
    elif options.faint:
        _faint(options.minutes)
    elif options.day is not None:
        _day(options.day, quiet=options.only == "sparse")
    else:
        _cost(options)
    return 0


# ---------------------------------------------------------------- time and memory


def _cost(options: argparse.Namespace) -> None:
    if not options.json:
        print(f"{'recording':10} {'who':6} {'wall s':>8} {'cpu s':>8} {'peak MB':>8} {'words':>6}")
    for kind in (options.only,) if options.only else ("dense", "sparse"):
        made = long_recording(minutes=options.minutes, sparse=kind == "sparse")
        talk = sum(line.end - line.start for line in made.lines) / made.duration_s
        print(
            f"probeside: {kind}: {made.duration_s / 60:.1f} min, {talk:.0%} of it talk",
            file=sys.stderr,
        )
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / f"{kind}.wav"
            path.write_bytes(wav_bytes(made.samples))
            costs = {who: contest.cost_of(who, path) for who in ("plain", "ours")}
        ours, beside = costs["ours"], costs["plain"]
        ratios = {
            "wall": ours.wall_s / beside.wall_s,
            "cpu": ours.cpu_s / beside.cpu_s,
            "memory": ours.peak_mb / beside.peak_mb,
        }
        if options.json:
            told = {who: asdict(cost) for who, cost in costs.items()}
            print(json.dumps({"recording": kind, "duration_s": made.duration_s, **told, "ratio": ratios}))
            continue
        for who, cost in costs.items():
            print(
                f"{kind:10} {who:6} {cost.wall_s:8.1f} {cost.cpu_s:8.1f} {cost.peak_mb:8.0f} {cost.words:6}"
            )
        print(f"{kind:10} {'ratio':6} {ratios['wall']:8.2f} {ratios['cpu']:8.2f} {ratios['memory']:8.2f}")


# ---------------------------------------------------------------- noise


_COLUMNS = (
    "WER %", "numbers", "right", "wrong, doubted", "wrong, silent", "right, doubted", "invented words",
    "lines told lost", "lines lost",
)  # fmt: skip


def _cells(result: Score) -> list[str]:
    counts = (
        result.numbers, result.right, result.wrong_doubted, result.wrong_silent, result.false_doubts,
        result.invented_words, result.told_lines, result.lost_lines,
    )  # fmt: skip
    return [f"{100 * result.word_error_rate:.1f}", *map(str, counts)]


def _noise(options: argparse.Namespace) -> None:
    model = load_model()
    if not options.json:
        print("| noise | who | " + " | ".join(_COLUMNS) + " |")
        print("|---" * (2 + len(_COLUMNS)) + "|")
    for snr_db in NOISE_DB:
        made = recording(clips(), snr_db=snr_db, pause_s=_PAUSE_S)
        label = "clean" if snr_db is None else f"{snr_db:g} dB"
        misses: list[str] = []
        ours = _ours(made, model, misses)
        beside = score(made.lines, plain.transcribe(made.samples, model=model))
        for who, result in (("plain", beside), ("ours", ours)):
            if options.json:
                print(json.dumps({"noise": label, "who": who, **asdict(result)}), flush=True)
            else:
                print(f"| {label} | {who} | {' | '.join(_cells(result))} |", flush=True)
        if options.errors:
            for miss in misses:
                print(f"probeside: {label}: {miss}", file=sys.stderr)


def _ours(made: Made, model: SpeechModel, misses: list[str]) -> Score:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "recording.wav"
        path.write_bytes(wav_bytes(made.samples))
        return score(made.lines, transcribe(path, model=model), misses=misses)


# ---------------------------------------------------------------- people


def _human(options: argparse.Namespace) -> None:
    for row in human_scores(model=load_model()):
        if options.json:
            print(json.dumps(asdict(row)))
        else:
            print(f"{row.file}: “{row.said}” heard as “{row.heard}”, {row.doubts} doubts")


# ---------------------------------------------------------------- two at once, and long days


def _two() -> None:
    """One JSON object for each way in which the second speaker falls in."""
    model = load_model()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "both.wav"
        for after, second_db in _FALLS_IN:
            made = both(after=after, second_db=second_db)
            path.write_bytes(wav_bytes(made.samples))
            found = counted(made, transcribe(path, model=model))
            print(json.dumps({"after": after, "second_db": second_db, **asdict(found)}), flush=True)


def _faint(minutes: float) -> None:
    """One JSON object for each level of noise, and for each kitchen with nobody in it."""
    model = load_model()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "faint.wav"
        for seed, snr_db in enumerate(NOISE_DB, start=1):
            made = whispers(snr_db, seed=seed)
            path.write_bytes(wav_bytes(made.samples))
            found = came_of(made, transcribe(path, model=model))
            print(json.dumps({"snr_db": snr_db, **asdict(found)}), flush=True)
        for name, samples in empty_rooms(minutes, seed=1):
            path.write_bytes(wav_bytes(samples))
            heard = heard_of_nobody(samples, transcribe(path, model=model))
            print(json.dumps({"nobody": name, **asdict(heard)}), flush=True)


def _day(hours: float, *, quiet: bool) -> None:
    """One JSON object for the whole run, one for the run that was killed halfway and went on."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "day.wav"
        seconds = write_day(path, hours=hours, quiet=quiet)
        blocks = max(1, int(seconds / BLOCK_S / 2))
        for name, stop_after in (("whole", None), ("stopped", blocks)):
            kept = Path(folder) / name
            kept.mkdir()
            if stop_after:
                day_of(path, kept, stop_after=stop_after)
            day = day_of(path, kept)
            if day is not None:
                print(json.dumps({"run": name, "recording_s": seconds, **asdict(day)}), flush=True)
