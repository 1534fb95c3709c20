"""A loaded speech model, and what is known about its weights."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from capture.speech.memory import few_heaps, one_heap
from capture.speech.weights import PACKAGED, WeightsError, ready, sha256

if TYPE_CHECKING:
    from faster_whisper import WhisperModel

DEFAULT = "base"
CHECKER = "tiny.en"

_THREADS_EACH = 4  # per worker; more gain little for models of this size
_MOST_WORKERS = 4  # each holds a window of its own: more would not stay under 1.5 GB
_BATCH = 4  # windows of all workers together: memory must not grow with the cores
_CUDA_BATCH = 16


@dataclass(frozen=True, slots=True)
class SpeechModel:
    """A Whisper model ready to use."""

    whisper: WhisperModel
    name: str
    """`base`, `tiny.en`, or what the user named."""
    sha256: str | None
    """Of `model.bin`; None when it lies in memory or in a cache of another program."""
    verified: bool
    """The weights are byte for byte a pair of weights that this project measured."""
    device: str
    """`cpu` or `cuda`."""
    workers: int = 1
    """Batches that may be heard at the same time."""
    batch: int = 4
    """Windows in a batch."""
    checker: SpeechModel | None = None
    """The other model, which hears the numbers again."""

    @property
    def identity(self) -> str:
        """What tells these weights from others, as well as is known."""
        return self.sha256 or self.name


def load_model(
    name_or_folder: str | None = None,
    *,
    threads: int | None = None,
    cache: Path | None = None,
    checked: bool = True,
    keeps_memory: bool = True,
) -> SpeechModel:
    """A model by name (`base`, `tiny.en`: from the packages, verified) or by folder (unverified).

    Any other name is given to faster-whisper, which looks in its own cache and then on the network.
    tiny.en comes with it as the checker of numbers, unless `checked` is false. A CUDA device is used when
    there is one. `keeps_memory` lets the process keep what it frees until `memory.give_back`. Raises
    `WeightsError` when the weights are missing, damaged, or not a model.
    """
    if keeps_memory:
        settle = one_heap if _workers(threads or cores()) == 1 else few_heaps
        settle()
    model = _load(name_or_folder or DEFAULT, threads, cache)
    if not checked or model.identity == PACKAGED[CHECKER].sha256:
        return model
    return replace(model, checker=_load(CHECKER, threads, cache))


def _load(name: str, threads: int | None, cache: Path | None) -> SpeechModel:
    if name in PACKAGED:
        folder = ready(PACKAGED[name], cache=cache)
        return _open(str(folder), name, PACKAGED[name].sha256, True, threads)
    if Path(name).is_dir():
        weights = Path(name) / "model.bin"
        if not weights.is_file():
            raise WeightsError(
                f"{name}: has no model.bin; name the folder of a Whisper model converted for CTranslate2"
            )
        found = sha256(weights)
        known = any(found == packaged.sha256 for packaged in PACKAGED.values())
        return _open(name, Path(name).name, found, known, threads)
    return _open(name, name, None, False, threads)


def cores() -> int:
    """The cores that this process may use."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not on this system
        return os.cpu_count() or 1


def _workers(available: int) -> int:
    """How many batches are heard side by side by so many threads."""
    return max(1, min(available // _THREADS_EACH, _MOST_WORKERS))


def _open(place: str, name: str, found: str | None, verified: bool, threads: int | None) -> SpeechModel:
    import ctranslate2
    from faster_whisper import WhisperModel

    device = "cuda" if ctranslate2.get_cuda_device_count() > 0 else "cpu"
    available = threads or cores()
    workers = 1 if device == "cuda" else _workers(available)
    try:
        whisper = WhisperModel(
            place,
            device=device,
            compute_type="int8_float32" if device == "cuda" else "int8",
            cpu_threads=max(1, min(available, available // workers)),
            num_workers=workers,
        )
    except Exception as error:  # the libraries below raise many kinds, from RuntimeError to HTTP errors
        raise WeightsError(
            f"{place}: is not a speech model that can be loaded ({str(error).splitlines()[0][:160]}); name "
            f"{', '.join(PACKAGED)}, or the folder of a Whisper model converted for CTranslate2"
        ) from error
    return SpeechModel(
        whisper,
        name,
        found,
        verified,
        device,
        workers,
        _CUDA_BATCH if device == "cuda" else max(1, _BATCH // workers),
    )
