"""The learned weights, and what they say of a sentence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import hypot, log
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

import numpy as np
from numpy.typing import NDArray

from extract.likeness.features import neighbours
from extract.likeness.tone import Tone
from shared.errors import InputError

WEIGHTS = Path(__file__).with_name("weights.npz")


@dataclass(frozen=True, slots=True)
class Side:
    """A linear rule over words: place of each word, and its inverse document frequency."""

    places: Mapping[str, int]
    idf: Sequence[float]

    def vector(self, words: Sequence[str]) -> tuple[list[int], list[float]]:
        """The places of the known words and their tf-idf weights, of length 1."""
        where, values = [], []
        for word, count in Counter(words).items():
            place = self.places.get(word)
            if place is not None:
                where.append(place)
                values.append(self.idf[place] * (1 + log(count) if count > 1 else 1))
        length = hypot(*values)
        return where, [value / length for value in values]


@dataclass(frozen=True, slots=True)
class Likeness:
    """What was learned from the sayings."""

    columns: Mapping[str, int]
    """Section → its place in `by_section`, for each of which there are sayings."""
    subject: Side
    by_section: NDArray[np.int8]
    """Words × sections, in units of `scale`."""
    scale: float
    level: NDArray[np.float32]
    """What each section starts from."""
    tone: Tone
    ending: Tone
    weighing: Sequence[float]
    """One weight per feature of `weighing.FEATURES`, then what it starts from."""
    learned_from: str
    """SHA-256 of the sayings and walks (`extract.learned_from`)."""

    def senses(self, sentences: Sequence[Sequence[str]]) -> list[float]:
        """Of each sentence's words the log-odds that they tell of a violation, of whatever section."""
        return self.tone.of([neighbours(sounds) for sounds in sentences])

    def put_right(self, told: Sequence[Sequence[str]]) -> list[float]:
        """Of each clause (`manner.ending_of`) the log-odds that it tells of something done that ended a
        violation, and not of a promise."""
        return self.ending.of(told)

    def sections(self, stems: Sequence[str]) -> NDArray[np.float32]:
        """How far the words speak for each section of `columns`; above 0 they plainly do."""
        where, values = self.subject.vector(stems)
        if not where:
            return self.level.copy()
        by_section = self.by_section[where].astype(np.float32)
        return self.level + (np.array(values, np.float32) @ by_section) * np.float32(self.scale)

    def telling(self, stems: Sequence[str], section: str, most: int = 3) -> list[str]:
        """The words that speak most for a section, the strongest first; words against it are left out."""
        column = self.columns.get(section)
        if column is None:
            return []
        where, values = self.subject.vector(stems)
        parts = {
            place: value * self.by_section[place, column] for place, value in zip(where, values, strict=True)
        }
        strong = max(parts.values(), default=0)
        words = {self.subject.places[stem]: stem for stem in stems if stem in self.subject.places}
        ranked = sorted(
            (place for place, part in parts.items() if part > strong / 4), key=lambda p: -parts[p]
        )
        return [words[place] for place in ranked[:most]]


def save(made: Likeness, path: Path = WEIGHTS) -> None:
    """Writes the weights, all matrices compressed in one file."""
    np.savez_compressed(
        path,
        sections=np.array(list(made.columns)),
        subject_words=np.array("\n".join(made.subject.places)),
        subject_idf=np.array(made.subject.idf, np.float16),
        by_section=made.by_section,
        scale=np.float32(made.scale),
        level=made.level,
        **_packed("tone", made.tone),
        **_packed("ending", made.ending),
        weighing=np.array(made.weighing, np.float32),
        learned_from=np.array(made.learned_from),
    )


def load(path: Path = WEIGHTS) -> Likeness:
    """The weights of a file. InputError says what to do when they are missing or damaged."""
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as kept:
            return Likeness(
                columns={name: at for at, name in enumerate(kept["sections"].tolist())},
                subject=Side(
                    {word: at for at, word in enumerate(str(kept["subject_words"]).split("\n"))},
                    kept["subject_idf"].tolist(),
                ),
                by_section=kept["by_section"],
                scale=float(kept["scale"]),
                level=kept["level"],
                tone=_tone(kept, "tone"),
                ending=_tone(kept, "ending"),
                weighing=kept["weighing"].tolist(),
                learned_from=str(kept["learned_from"]),
            )
    except (OSError, ValueError, KeyError, EOFError, BadZipFile) as error:
        raise InputError(f"{path}: the learned weights cannot be read ({error}); run make weights") from error


def _packed(name: str, tone: Tone) -> dict[str, Any]:
    return {
        f"{name}_words": np.array(tone.counted),
        f"{name}_idf": tone.idf.astype(np.float16),
        f"{name}_weights": tone.weights.astype(np.float16),
        f"{name}_level": np.float32(tone.level),
    }


def _tone(kept: Mapping[str, Any], name: str) -> Tone:
    return Tone(
        str(kept[f"{name}_words"]),
        kept[f"{name}_idf"],
        kept[f"{name}_weights"],
        float(kept[f"{name}_level"]),
    )


@cache
def likeness() -> Likeness:
    """The weights that ship, read at first use."""
    return load()
