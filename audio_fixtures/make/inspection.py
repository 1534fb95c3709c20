"""Speaks the script in an inspection's `expected.json`; writes its recordings, photos and `timing.json`."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

import encode
import noise
import numpy as np
import photos
from kokoro import SAMPLE_RATE, Sound, Speaker

FIXTURES = Path(__file__).resolve().parent.parent
INSPECTIONS = ("harbor_wren", "short")

# Who speaks how: voice, speed, level against the inspector, direct to reverberant sound in dB (the operator
# stands further off).
VOICES = {
    "inspector": ("af_heart", 1.0, 1.0, 9.0),
    "operator": ("am_michael", 1.1, 0.6, 3.0),
}
# How each recording was made: signal-to-noise ratio, seed, and the file's format.
RECORDERS: dict[str, dict[str, Any]] = {
    "walk.ogg": {"snr_db": 14.0, "seed": 11, "codec": "libopus", "out_rate": 48_000, "bit_rate": 40_000},
    "back-rooms.m4a": {
        "snr_db": 15.0, "seed": 12, "codec": "aac", "out_rate": 44_100, "bit_rate": 64_000,
        "container_options": {"movflags": "+use_metadata_tags+faststart"},
    },
    "note.flac": {"snr_db": 20.0, "seed": 13, "codec": "flac", "out_rate": 16_000},
}  # fmt: skip
SPEECH_LEVEL = 0.08


def speak(utterances: list[dict[str, Any]], speaker: Speaker) -> list[Sound]:
    """Each utterance as its speaker says it, in the room, at its level."""
    spoken = []
    for utterance in utterances:
        voice, speed, level, direct_db = VOICES[utterance["speaker"]]
        dry = speaker.say(utterance["text"], voice=voice, speed=speed)
        wet = noise.in_room(dry, SAMPLE_RATE, direct_db=direct_db)
        spoken.append(wet * level * SPEECH_LEVEL / noise.speech_level(wet, SAMPLE_RATE))
        print(f"  {utterance['n']:3d} {dry.size / SAMPLE_RATE:5.1f} s  {utterance['text']}", flush=True)
    return spoken


def record(
    recording: dict[str, Any], script: list[dict[str, Any]], speaker: Speaker, folder: Path
) -> list[Any]:
    """Writes one recording; returns when each of its utterances sounds, in seconds."""
    spoken = speak(script, speaker)
    sound = np.zeros(int(recording["length_s"] * SAMPLE_RATE), np.float32)
    timing = []
    free = 0.0
    for utterance, voice in zip(script, spoken, strict=True):
        start, end = utterance["at_s"], utterance["at_s"] + voice.size / SAMPLE_RATE
        if start < free or end > recording["length_s"]:
            raise SystemExit(
                f"utterance {utterance['n']} from {start} to {end:.1f} s has no room: move its at_s"
            )
        sound[int(start * SAMPLE_RATE) :][: voice.size] += voice
        free = end
        timing.append({"n": utterance["n"], "start": start, "end": round(end, 2)})
    recorder = dict(RECORDERS[recording["file"]])
    kitchen = noise.kitchen(sound.size, SAMPLE_RATE, spoken, seed=recorder.pop("seed"))
    sound += kitchen * SPEECH_LEVEL / 10 ** (recorder.pop("snr_db") / 20)
    tags = {**recording["tag"], "model": recording["device"]}
    encode.write(folder / recording["file"], sound, SAMPLE_RATE, tags=tags, **recorder)
    return timing


def make(folder: Path, speaker: Speaker) -> None:
    """Writes everything of one inspection but what is written by hand."""
    truth = json.loads((folder / "expected.json").read_text("utf-8"))
    timing = {}
    for recording in truth["recordings"]:
        script = [item for item in truth["utterances"] if item["recording"] == recording["file"]]
        timing[recording["file"]] = record(recording, script, speaker, folder)
    lines = [f'  "{file}": [\n' + ",\n".join("    " + json.dumps(row) for row in rows) + "\n  ]"
             for file, rows in timing.items()]  # fmt: skip
    (folder / "timing.json").write_text("{\n" + ",\n".join(lines) + "\n}\n", "utf-8")
    photos.make(folder, truth)


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--voices", type=Path, required=True, help="folder of Kokoro's voices, NAME.bin")
    options.add_argument("inspections", nargs="*", default=INSPECTIONS)
    given = options.parse_args()
    speaker = Speaker(given.voices)
    for name in given.inspections:
        print(name, flush=True)
        make(FIXTURES / name, speaker)


if __name__ == "__main__":
    main()
