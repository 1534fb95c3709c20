"""The sealed file, the log and the database are made to disagree in every way; each disagreement is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta

import pytest

from review_api.log import Entry, follow
from review_api.seal import Key, Sealed, close
from review_api.seal.trail import Kept, disagreements
from tests.report.samples import at, record, signed

VISIT = signed(violations=(), photos=(), figures=(), marks=())


@dataclass(frozen=True)
class Story:
    """What the three tell."""

    kept: Kept | None
    pdf: bytes | None
    log: tuple[Entry, ...]


def log_of(*events: object) -> tuple[Entry, ...]:
    entries: list[Entry] = []
    for event in events:
        entries.append(follow(entries[-1] if entries else None, event))  # type: ignore[arg-type]
    return tuple(entries)


BEFORE = [
    {"did": "recording taken in", "about": {}},
    {"did": "finding confirmed", "about": {"finding": "f1"}},
]


@pytest.fixture(scope="module")
def sealed(key: Key, tmp_path_factory: pytest.TempPathFactory) -> Sealed:
    head = log_of(*BEFORE)[-1].hash
    return close(VISIT, {}, key=key, folder=tmp_path_factory.mktemp("reports"), log_head=head)


@pytest.fixture(scope="module")
def story(sealed: Sealed) -> Story:
    entry = sealed.event(who="R. Okonjo-Vale", at=at("12:30"), inspection=sealed.number)
    kept = Kept(sealed.number, sealed.sha256, sealed.sealed, VISIT)
    return Story(kept, sealed.path.read_bytes(), log_of(*BEFORE, entry))


def told(story: Story, key: Key) -> tuple[str, ...]:
    return disagreements(story.kept, story.pdf, story.log, number=VISIT.number, certificate=key.certificate)


def test_three_that_agree_are_not_doubted(story: Story, key: Key) -> None:
    assert told(story, key) == ()


def kept(story: Story, **changes: object) -> Story:
    assert story.kept
    return replace(story, kept=replace(story.kept, **changes))  # type: ignore[arg-type]


def relogged(story: Story, **about: object) -> Story:
    event = dict(story.log[-1].event)
    return replace(story, log=log_of(*BEFORE, {**event, "about": {**event["about"], **about}}))


def longer(story: Story) -> Story:
    return replace(story, pdf=(story.pdf or b"") + b"\n")


def rechained(story: Story) -> Story:
    """The log's last event changed, its hash left."""
    event = relogged(story, sha256="0" * 64).log[-1].event
    return replace(story, log=(*story.log[:-1], replace(story.log[-1], event=event)))


OTHER_RECORD = VISIT.model_copy(update={"remarks": ("none",)})
WAYS: list[tuple[str, Callable[[Story], Story], str]] = [
    (
        "file gone",
        lambda s: replace(s, pdf=None),
        "the folder knows no sealed TM-2026-0107, but the database and",
    ),
    ("row gone", lambda s: replace(s, kept=None), "the database knows no sealed"),
    ("entry gone", lambda s: replace(s, log=s.log[:-1]), "the log knows no sealed"),
    ("only the file", lambda s: Story(None, s.pdf, s.log[:-1]), "the log knows no sealed"),
    ("file changed", longer, "the file is not whole: something was added"),
    ("file changed, its hash", longer, "file is not the one in the database"),
    ("row's hash changed", lambda s: kept(s, sha256="0" * 64), "the log give different SHA-256"),
    ("row's number changed", lambda s: kept(s, number="TM-9"), "the database gives the number TM-9"),
    ("row's time changed", lambda s: kept(s, sealed=at("09:00")), "different times of the seal"),
    (
        "row's record changed",
        lambda s: kept(s, record=OTHER_RECORD),
        "the record in the database was changed",
    ),
    (
        "log's hash changed and chained again",
        lambda s: relogged(s, sha256="0" * 64),
        "not the one in the log",
    ),
    ("log's hash changed", rechained, "its event was changed after it was written"),
    ("log written anew", lambda s: replace(s, log=log_of(BEFORE[0], s.log[-1].event)), "or written anew"),
    ("sealed twice", lambda s: replace(s, log=log_of(*BEFORE, *[s.log[-1].event] * 2)), "tells 2 sealings"),
    ("entry taken out", lambda s: replace(s, log=s.log[1:]), "entries are missing"),
]


@pytest.mark.parametrize(("change", "words"), [pytest.param(c, w, id=name) for name, c, w in WAYS])
def test_each_disagreement_is_named(change, words: str, story: Story, key: Key) -> None:
    assert any(words in line for line in told(change(story), key)), told(change(story), key)


def test_the_file_of_another_report_is_named(story: Story, key: Key, tmp_path) -> None:
    other = close(
        signed(number="TM-2026-0108", photos=(), violations=(), figures=()), {}, key=key, folder=tmp_path
    )
    lines = told(replace(story, pdf=other.path.read_bytes()), key)
    assert "the file is report TM-2026-0108, not TM-2026-0107" in lines
    assert "the SHA-256 of the file is not the one in the database" in lines


def test_a_seal_is_no_later_than_now(sealed: Sealed) -> None:
    # The seal's time is the machine's own; the record's `made` is an invented time of the sample.
    assert sealed.sealed.utcoffset() == timedelta(0)
    assert record().made == at("12:05")
