"""One inspection from a folder on this machine to the desk, with the whole pipeline in this process."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from pathlib import Path

from review_api.api.shown import Progress
from review_api.closing import finish_all
from review_api.data_folder import DataFolder
from review_api.desk.whole import progress
from review_api.handed_in import bring
from review_api.jobs.worker import working
from review_api.jobs.workshop import Workshop
from review_api.settings import Settings, read_settings
from review_api.state import State, open_state
from review_api.store import inspections
from shared import rules as law
from shared.errors import InputError

_BEAT_S = 0.1

Tell = Callable[[Progress], None]


@contextmanager
def at_work(root: Path, **more: object) -> Iterator[State]:
    """A data folder open and at work: what was interrupted goes on, what is handed in is done."""
    folder = DataFolder(root.resolve()).make()
    settings: Settings = read_settings(folder.root, **more)
    state = open_state(folder, settings)
    try:
        for number in finish_all(state):
            print(f"probeside: {number} was signed before the last stop; it is sealed now", file=sys.stderr)
        with working(Workshop(folder, state.database, settings)):
            yield state
    finally:
        state.jobs.close()
        state.database.close()


def process(
    here: State, source: Path, *, rules: str | None, tell: Tell, ignore: Collection[Path] = ()
) -> int:
    """The id of the inspection in `source`, all its work done. The same folder again is the same inspection.

    Raises InputError where the rules or the folder cannot be used.
    """
    if rules is not None:
        rules = law.load(rules).name if rules in law.names() else str(Path(rules).resolve())
        law.load(rules)
    folder = bring(source, inbox=here.folder.inbox, ignore=(*ignore, here.folder.root))
    inspection, known = here.jobs.hand_in(folder, rules=rules)
    if known and inspection.state == "ready" and rules not in (None, inspection.rules):
        here.jobs.again(inspection.key, rules=rules, hear=False)
    finished = _wait(here, inspection.key, tell)
    if finished.state == "failed":
        raise InputError(f"{source}: {finished.note}")
    if not known:
        _tell_of_earlier(here, inspection.key)
    return inspection.key


def _tell_of_earlier(here: State, inspection_id: int) -> None:
    """Says on standard error that a folder which was changed since it was processed is a new inspection."""
    with here.database.reading() as session:
        number = inspections.get(session, inspection_id).number
        earlier = inspections.earlier_of_the_same(session, inspection_id)
    if earlier:
        print(
            f"probeside: this is a new inspection, {number}, as the folder is not as it was: "
            f"{', '.join(earlier)} has recordings or photos of it too; what was decided there stays there",
            file=sys.stderr,
        )


def _wait(here: State, inspection_id: int, tell: Tell) -> Progress:
    while True:
        with here.database.reading() as session:
            now = progress(inspections.get(session, inspection_id))
        tell(now)
        if now.state not in ("received", "working"):
            return now
        time.sleep(_BEAT_S)


class Teller:
    """Tells on standard error how far the work is; on a terminal in one line that is written over."""

    def __init__(self) -> None:
        self._terminal = sys.stderr.isatty()
        self._last = ""

    def __call__(self, now: Progress) -> None:
        step = f"{now.step} ({now.note})" if now.note and now.state == "working" else now.step
        line = f"{now.part:4.0%}  {step}"
        if self._terminal:
            print(f"\r\x1b[K{line}", end="" if now.state != "ready" else "\n", file=sys.stderr, flush=True)
        elif now.step != self._last:
            print(line, file=sys.stderr, flush=True)
        self._last = now.step
