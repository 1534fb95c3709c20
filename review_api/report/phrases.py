"""Sentences about a violation, made from what is known of it and the phrase tables of `shared/vocabulary`."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

import shared
from review_api.record import Violation
from review_api.report.text import sentence
from review_api.report.times import Clock
from shared.errors import InputError

FOLDER = Path(shared.__file__).parent / "vocabulary" / "report_phrases"
_PLACE = re.compile(r"\{([a-z_]+)\}")
_FRAMES: dict[str, set[str]] = {
    "observed": {"observed"},
    "readings": {"readings"},
    "when": {"when"},
    "no_when": set(),
    "where": {"where"},
    "no_where": set(),
    "item": {"item"},
    "who": {"who"},
    "repeat": set(),
    "corrected": set(),
    "correct_by": {"correct_by"},
    "no_correct_by": set(),
}
"""Each frame and the facts that it names."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """What is known of a violation; None where it is not."""

    item: str | None = None
    where: str | None = None
    when: datetime | None = None
    who: str | None = None
    readings: tuple[str, ...] = ()
    """As printed, such as `sliced turkey 48.5 °F (limit 41 °F or below)`."""
    corrected_on_site: bool = False
    correct_by: datetime | None = None
    repeat: bool = False


@dataclass(frozen=True, slots=True)
class Phrases:
    """One language's tables."""

    language: str
    """Its code, such as `en`."""
    reviewed: bool
    """A person who knows the trade in this language has read them."""
    frames: Mapping[str, str]
    observed: Mapping[str, str]
    correct: Mapping[str, str]
    unknown_section: Mapping[str, str]
    copy: Mapping[str, str]
    """The words of the courtesy copy; empty for the language of the report itself."""


def languages() -> tuple[str, ...]:
    """The codes of the languages that have tables."""
    return tuple(sorted(path.name for path in FOLDER.iterdir() if path.is_dir()))


@cache
def phrases(language: str = "en") -> Phrases:
    """The tables of that language. Raises InputError with every fault, by file and entry."""
    folder = FOLDER / language
    if language not in languages():
        names = ", ".join(languages())
        raise InputError(f"{language}: there are no report phrases in this language; there are: {names}")
    faults: list[str] = []
    tables: dict[str, dict[str, str]] = {"observed": {}, "correct": {}}
    for path in sorted(folder.glob("chapter_*.toml")):
        read = tomllib.loads(path.read_text("utf-8"))
        for name, table in tables.items():
            for section, text in read.get(name, {}).items():
                faults.extend(_faults(path, name, section, text, table))
                table[section] = text
    whole = tomllib.loads((folder / "frames.toml").read_text("utf-8"))
    frames: dict[str, str] = whole.get("frames", {})
    for name, facts in _FRAMES.items():
        if set(_PLACE.findall(frames.get(name, ""))) != facts or not frames.get(name, "").endswith("."):
            faults.append(f"{folder.name}/frames.toml, {name}: must be a sentence that names {sorted(facts)}")
    if faults:
        raise InputError(f"the report phrases have {len(faults)} faults: {'; '.join(faults[:12])}")
    return Phrases(
        language=language,
        reviewed=bool(whole.get("reviewed")),
        frames=frames,
        observed=tables["observed"],
        correct=tables["correct"],
        unknown_section=whole["unknown_section"],
        copy=whole.get("copy", {}),
    )


def _faults(path: Path, name: str, section: str, text: Any, table: Mapping[str, str]) -> list[str]:
    where = f"{path.parent.name}/{path.name}, {name} {section}"
    if not isinstance(text, str) or not text.strip() or _PLACE.search(text):
        return [f"{where}: must be words without a place for a fact"]
    if section in table:
        return [f"{where}: stands twice"]
    if name == "observed" and (text[0].isupper() or text[-1] in ".!?"):
        return [f"{where}: must be a clause, without capital and full stop"]
    if name == "correct" and not (text[0].isupper() and text.endswith(".")):
        return [f"{where}: must be a sentence"]
    return []


def observed(section: str, *, language: str = "en") -> str:
    """What was found, as a clause; for a section without a phrase, that its requirement was not met."""
    tables = phrases(language)
    known = tables.observed.get(section) or tables.observed.get(_parent(section))
    return known or _filled(tables.unknown_section["observed"], {"section": section})


def correct(section: str, *, language: str) -> str:
    """The usual correction as a sentence."""
    tables = phrases(language)
    known = tables.correct.get(section) or tables.correct.get(_parent(section))
    return known or tables.unknown_section["correct"]


def statement(section: str, known: Known, *, language: str = "en") -> str:
    """What was found and all that is known of it, in full sentences; what is not known says so."""
    frames, clock = phrases(language).frames, Clock(language)
    facts = {
        "observed": observed(section, language=language),
        "readings": "; ".join(known.readings),
        "when": clock.both(known.when) if known.when else "",
        "where": _bare(known.where),
        "item": _bare(known.item),
        "who": _bare(known.who),
        "correct_by": clock.both(known.correct_by) if known.correct_by else "",
    }
    names = ["observed", "readings", "item", "where", "when", "who"]
    lines = [frames.get(name if facts[name] else f"no_{name}", "") for name in names]
    if known.repeat:
        lines.append(frames["repeat"])
    if known.corrected_on_site:
        lines.append(frames["corrected"])
    else:
        lines.append(frames["correct_by" if facts["correct_by"] else "no_correct_by"])
    return " ".join(_capital(_filled(line, facts)) for line in lines if line)


def described(item: Violation, *, readings: tuple[str, ...] = ()) -> str:
    """What was found, in full sentences: the decided words as they are, else those of the phrase tables."""
    if item.typed and item.what.strip():
        return item.what
    return sentence(item.what) or statement(
        item.provision,
        Known(
            where=item.where,
            when=item.when,
            who=item.who,
            readings=readings,
            corrected_on_site=item.corrected_on_site,
            correct_by=item.correct_by,
            repeat=item.repeat,
        ),
    )


def _filled(frame: str, facts: Mapping[str, str]) -> str:
    """The frame with its facts; one pass, so that braces within a fact stay what they are."""
    return _PLACE.sub(lambda found: facts[found[1]], frame)


def _bare(text: str | None) -> str:
    return " ".join((text or "").split()).rstrip(".")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _parent(section: str) -> str:
    return section.split("(", 1)[0]
