"""What carries over from one utterance to the next while it plainly holds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from extract.amended.amend import Amendments
from extract.figures.figure import Figure
from extract.figures.times_of_day import hour_of
from extract.second_reader.reader import UtteranceTold
from extract.words.lexicon import Place
from extract.words.line import Chunk, Line
from extract.words.text import Span


@dataclass(frozen=True, slots=True)
class Cooked:
    """How a roast was told to have been cooked."""

    value: float
    unit: str
    held_s: float | None
    """For how long it was held there, where that was said."""
    slow: bool
    """Overnight, or for many hours."""


@dataclass(slots=True)
class Draft:
    """A reading while it is being made."""

    figure: Figure
    line: Line
    value: float
    unit: str
    kind: str
    stage: str = "other"
    stage_told: bool = False
    """Words of its own tell the stage; else it is what such a figure mostly is, or that of one before."""
    stage_fixed: bool = False
    """A rule that knows just this case has settled the stage."""
    just_made: bool = False
    """Cold food that was made a short while ago: it cools."""
    item: str | None = None
    item_fixed: bool = False
    """The same of the item."""
    chunk: Chunk | None = None
    place: str | None = None
    place_row: Place | None = None
    agent: str | None = None
    clock: str | None = None
    unit_said: bool = True
    order: int = 0
    codes: list[tuple[str, str, tuple[str, ...]]] = field(default_factory=list)
    """Doubts as code, sentence and alternatives."""
    rules: list[tuple[str, int, int, int]] = field(default_factory=list)
    """Trace: rule, utterance, first and last character."""
    fallen: str | None = None
    """The words that took it back."""
    successor: Draft | None = None
    carried: bool = False
    """The item was not named in its own sentence."""
    food: bool = False
    label: tuple[float, float] | None = None
    water: float | None = None
    ph: float | None = None
    held_s: float | None = None
    facts: frozenset[str] = frozenset()
    """What the surrounding words say of it, such as `plan` or `commercial`."""
    cooked: Cooked | None = None
    verdict: str = "none"
    known_as: str | None = None
    """The longer name that its item was called by just before: `baked pork buns` for `the buns`."""
    said: tuple[int, int] | None = None
    """Tokens that say it, when they are not the figure's own (`same for the ham`)."""

    @property
    def first(self) -> int:
        """The first token of its line that says it."""
        return self.figure.first if self.said is None else self.said[0]

    @property
    def last(self) -> int:
        """The token after the last one that says it."""
        return self.figure.last if self.said is None else self.said[1]

    @property
    def span(self) -> Span:
        """The characters that say it."""
        return self.line.span(self.first, self.last)

    def carries(self, doubt: str) -> bool:
        """Whether it has a doubt of this code."""
        return any(code == doubt for code, _, _ in self.codes)

    @property
    def verdict_low(self) -> bool:
        """A hot food under what hot holding asks for anywhere (130 °F, 54 °C)."""
        return self.value < (55 if self.unit == "degC" else 132)


@dataclass(slots=True)
class Scene:
    """Where the inspector is and what was measured last."""

    place: str | None = None
    place_row: Place | None = None
    topic: str | None = None
    topic_chunk: Chunk | None = None
    topic_food: bool = False
    topic_line: int = -9
    topic_place: tuple[str, Place] | None = None
    """Where the topic only came from, as in `lasagna out of the microwave. Middle 121.`"""
    agent: str | None = None
    agent_line: int = -9
    machine: str = ""
    """`machine`, `warewashing` or `handwashing`: what kind of washing place was named last."""
    ph_from: tuple[int, int] = (-9, 0)
    """Utterance and token where a pH was spoken of last."""
    check_line: int = -9
    """Utterance in which a thermometer was being checked."""
    time_line: int = -9
    lighting_line: int = -9
    stage: str = ""
    """A stage announced without a figure, as in `Reheating for lunch.`"""
    stage_line: int = -9
    lines: list[Line] = field(default_factory=list)
    """The utterances so far."""
    drafts: list[Draft] = field(default_factory=list)
    celsius: list[tuple[int, float]] = field(default_factory=list)
    """Utterance and value of the figures said in °C."""
    all_celsius: bool = False
    """It was said that all figures are in °C."""
    celsius_lines: frozenset[int] = frozenset()
    """Utterances whose figures are said afterwards to be in °C."""
    celsius_until: int = -9
    """Last utterance in which a log kept in °C is told."""
    celsius_twice: bool = False
    """Two figures or more were said in °C somewhere."""
    only_celsius: bool = True
    """No figure was said in °F."""

    numbered_places: set[float] = field(default_factory=set)
    """The numbers of places named so far, as in `Section 118 bar`."""
    room: str | None = None
    """The room or counter that a heading named last, in which sinks stand."""
    hand_sinks: tuple[int, str] | None = None
    """Utterance and words of a heading that names hand sinks, until a food is measured."""
    delivery: bool = False
    """A truck or dock was named as where the inspector is, and since then only boxes that came with it."""
    place_is_aside: bool = False
    """The place is only where one thing came from (`off the grill`), not where the inspector stands."""
    aside_sentence: int = -1
    base_place: str | None = None
    base_row: Place | None = None
    """The place outside which food was only taken off the heat for a moment."""

    def recent(self, index: int, *, back: int) -> Iterator[Draft]:
        """The readings that stand of the last `back` utterances and this one, the latest first."""
        for draft in reversed(self.drafts):
            if draft.line.index < index - back:
                return
            if draft.fallen is None:
                yield draft

    @property
    def last(self) -> Draft | None:
        """The reading said last that still stands."""
        for draft in reversed(self.drafts):
            if draft.fallen is None:
                return draft
        return None

    @property
    def last_but_held(self) -> Draft | None:
        """The same, past the minutes for which food was kept at a figure."""
        last = self.last
        if last is None or last.kind != "duration" or last.stage != "cooking":
            return last
        return next(
            (d for d in self.recent(last.line.index, back=1) if d.kind == "temperature"),
            last,
        )


@dataclass(slots=True)
class Read:
    """One utterance read: its figures, amendments and the readings made of it."""

    line: Line
    figures: list[Figure]
    amendments: Amendments
    told: UtteranceTold
    """What the second reader takes its figures and sentences for."""
    drafts: list[Draft] = field(default_factory=list)
    place_before: str | None = None
    """The place that held when the utterance began."""
    hour: float | None = None
    """When it was said, as hours from midnight; None where that is not known."""

    @property
    def now(self) -> float | None:
        """The time told as that of now, `it's 2:15`, else that of the utterance, as hours from midnight."""
        told = self.told_now
        return self.hour if told is None else hour_of(told.clock or "")

    @property
    def told_now(self) -> Figure | None:
        """The time of day said to be now: `it's 2:15`, `quarter past three now`."""
        tokens = self.line.tokens
        for figure in reversed(self.figures):
            if figure.role != "clock" or figure.clock is None:
                continue
            after = tokens[figure.last].low if figure.last < len(tokens) else ""
            before = [token.low for token in tokens[max(0, figure.first - 2) : figure.first]]
            if after == "now" or before[-1:] == ["now"] or before in (["it", "'s"], ["it", "is"]):
                return figure
        return None
