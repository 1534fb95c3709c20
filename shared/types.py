"""The values that cross a stage boundary: capture → extract → review_api.

All are frozen; all that a later stage adds is a new value. Conventions that hold everywhere:

- `start` and `end` are seconds into the recording; spans are half-open character offsets into an
  utterance's `text`; `utterance` is the index of an utterance in its list, from 0.
- Clock times and dates are `datetime` with an offset; a spoken clock time is "HH:MM" (24 h).
- Units are written as Pint writes them (`degF`, `ppm`, `inch`), pH as `pH`, water activity as `aw`.
- A recording or photo goes by the SHA-256 of its original bytes, 64 lower-case hex digits.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Literal

Span = tuple[int, int]

Kind = Literal[
    "temperature", "concentration", "ph", "length", "illuminance", "duration", "pressure", "water_activity"
]
Stage = Literal[
    "cooking", "reheating", "hot_holding", "cold_holding", "cooling", "receiving", "thawing", "time_control",
    "ambient", "handwashing", "manual_wash", "manual_sanitize", "machine_wash", "machine_rinse",
    "utensil_surface", "sanitizer", "thermometer_check", "freezing", "storage", "lighting", "other",
]  # fmt: skip
Agent = Literal["chlorine", "quat", "iodine", "peracetic", "lactic", "hot_water"]
Verdict = Literal["meets", "violates", "borderline", "undetermined", "none"]
TimeOrigin = Literal["container", "exif", "file_name", "file_date", "given"]


# ---------------------------------------------------------------- what was captured


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why something may be wrong, in words an inspector can act on."""

    code: str
    """Short stable name of the kind of doubt, such as `passes_disagree` or `unit_assumed`."""
    why: str
    """One sentence for the inspector."""
    span: Span | None = None
    """The doubted characters of the utterance; None when it concerns the whole."""
    alternatives: tuple[str, ...] = ()
    """Other understandings, most likely first, as they would be written."""
    start: float | None = None
    end: float | None = None
    """The seconds of the recording to listen to."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word as heard."""

    text: str
    start: float
    end: float
    probability: float
    """The speech model's own, 0 to 1."""


@dataclass(frozen=True, slots=True)
class Utterance:
    """One stretch of talk, or one line that was typed."""

    text: str
    """The words, misheard trade words mended."""
    start: float | None = None
    end: float | None = None
    words: tuple[Word, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    heard: str | None = None
    """The words before mending; None when nothing was mended."""
    at: datetime | None = None
    """When it was said, on the inspection's one time line."""
    recording: str | None = None
    """SHA-256 of the recording; None for typed text."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a recording, in seconds."""

    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Removed:
    """Text that the speech model printed and that was taken out, kept to be looked at."""

    text: str
    start: float
    end: float
    why: str


@dataclass(frozen=True, slots=True)
class Transcript:
    """All that was heard in one recording."""

    utterances: tuple[Utterance, ...]
    not_understood: tuple[Stretch, ...] = ()
    """Stretches with voice in them that have no words."""
    removed: tuple[Removed, ...] = ()
    warnings: tuple[str, ...] = ()
    """What could not be read: sentences that follow the recording's name."""


@dataclass(frozen=True, slots=True)
class Recording:
    """An original sound file, kept as it came."""

    sha256: str
    name: str
    media_type: str
    duration_s: float
    started: datetime
    started_from: TimeOrigin
    device: str | None = None
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Photo:
    """An original picture, kept as it came; sizes are those of the upright picture."""

    sha256: str
    name: str
    media_type: str
    width: int
    height: int
    taken: datetime
    taken_from: TimeOrigin
    sharpness: float
    """Variance of the Laplacian at 1024 px; only meaningful where the exposure is good."""
    exposure: Literal["good", "dark", "bright"]
    has_place: bool
    """The original carries GPS data. Copies that leave the office never do."""
    device: str | None = None
    warnings: tuple[str, ...] = ()
    """Sentences such as "blurred: take it again if you still can"."""


@dataclass(frozen=True, slots=True)
class EarlierViolation:
    """A violation cited in an earlier report, to tell repeats."""

    section: str
    on: date | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Facts:
    """What `inspection.toml` says of the visit. Every field may be missing."""

    establishment: str | None = None
    address: str | None = None
    permit: str | None = None
    risk_category: int | None = None
    person_in_charge: str | None = None
    inspector: str | None = None
    purpose: str | None = None
    time_zone: str | None = None
    """IANA name; None: the machine's own."""
    time_in: datetime | None = None
    time_out: datetime | None = None
    rules: str | None = None
    elevation_m: float | None = None
    thermometer: str | None = None
    thermometer_accuracy_degf: float | None = None
    """Plus or minus, as a difference in °F; None: the rules' own."""
    words: tuple[str, ...] = ()
    """Menu, equipment and names of rooms of this place; never numbers."""
    previous: tuple[EarlierViolation, ...] = ()
    clock_offsets_s: Mapping[str, float] = field(default_factory=dict)
    """Seconds to add to a device's clock, by device name or file-name pattern."""
    times: Mapping[str, datetime] = field(default_factory=dict)
    """The true start of a recording or time of a photo, by file name, where the files cannot tell."""


# ---------------------------------------------------------------- what it means


@dataclass(frozen=True, slots=True)
class Check:
    """A reading held against the limit that applies to it."""

    verdict: Verdict
    section: str | None = None
    operator: str | None = None
    limit: float | None = None
    unit: str | None = None
    margin: float | None = None
    """Distance from the limit in `unit`; positive is over the limit as written, as in value - limit."""
    missing: tuple[str, ...] = ()
    """Facts without which no verdict is possible, or that were taken as given, in plain words."""
    why: str = ""
    """The sum, in one sentence."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure with its unit."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Context:
    """What a reading's check was made of besides the reading: kept, so that a corrected reading is held
    against the same limit. `extract.checks.Measured` says what each field is."""

    item: str | None = None
    """The food as the check took it: may be told more fully than the reading's own."""
    place: str | None = None
    agent: str | None = None
    held_s: float | None = None
    at: Quantity | None = None
    ph: float | None = None
    water: Quantity | None = None
    concentration_ppm: float | None = None
    label_min: float | None = None
    label_max: float | None = None
    diameter: Quantity | None = None
    elevation_m: float | None = None
    says: tuple[str, ...] = ()
    by_gauge: bool = False
    """Read from the thing's own gauge, not with the inspector's thermometer."""
    asks_item: bool = False
    """The words leave open which food it is, and the check hangs on it."""


@dataclass(frozen=True, slots=True)
class Trace:
    """Which rule read which words."""

    rule: str
    utterance: int
    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Reading:
    """A quantity that the inspector measured and said."""

    id: str
    kind: Kind
    value: float
    unit: str
    said: str
    stage: Stage
    item: str | None
    place: str | None
    agent: Agent | None
    clock: str | None
    utterance: int
    span: Span
    start: float | None = None
    end: float | None = None
    doubts: tuple[Doubt, ...] = ()
    alternatives: tuple[float, ...] = ()
    """Other values the words could mean, in `unit`."""
    check: Check | None = None
    trace: tuple[Trace, ...] = ()
    context: Context | None = None
    """For the desk, not printed. None: its check rests on more than can be kept, such as other readings."""


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """A reading that the inspector took back, and what took its place."""

    reading: Reading
    why: str
    """The words that withdrew it."""
    superseded_by: str | None = None


@dataclass(frozen=True, slots=True)
class Evidence:
    """What a finding rests on: exactly one of words, a reading, or a photo."""

    utterance: int | None = None
    span: Span | None = None
    reading: str | None = None
    photo: str | None = None
    """`sha256:` and 64 hex digits."""


@dataclass(frozen=True, slots=True)
class Finding:
    """A violation that the program proposes. The person decides."""

    id: str
    provision: str
    class_: str
    """P, Pf or C."""
    form_item: int | None
    what: str
    where: str | None
    when: datetime | None
    why: str
    who: str | None = None
    item: str | None = None
    corrected_on_site: bool = False
    correction: str | None = None
    correct_by: datetime | None = None
    repeat: bool = False
    open_questions: tuple[str, ...] = ()
    confidence: float = 1.0
    alternatives: tuple[str, ...] = ()
    """Runner-up sections, most likely first."""
    evidence: tuple[Evidence, ...] = ()
    trace: tuple[Trace, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """Something that must be asked and belongs to no finding yet."""

    text: str
    evidence: tuple[Evidence, ...] = ()
    provisions: tuple[str, ...] = ()
    """Sections that might be meant."""


@dataclass(frozen=True, slots=True)
class Compliance:
    """A remark that something was in order, for the check sheet."""

    form_item: int
    mark: Literal["IN", "NO", "NA"]
    evidence: tuple[Evidence, ...]


@dataclass(frozen=True, slots=True)
class HeardDoubt:
    """Words of an utterance that may have been misheard, whatever they belong to."""

    utterance: int
    doubt: Doubt


@dataclass(frozen=True, slots=True)
class Extraction:
    """All that one inspection's utterances mean."""

    rules: str
    readings: tuple[Reading, ...] = ()
    withdrawn: tuple[Withdrawn, ...] = ()
    findings: tuple[Finding, ...] = ()
    questions: tuple[Question, ...] = ()
    compliances: tuple[Compliance, ...] = ()
    doubts: tuple[HeardDoubt, ...] = ()
    """Words that may stand for others; those that touch a reading are on the reading too."""
