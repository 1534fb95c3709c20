"""What `probeside process` leaves behind: results and the draft report as files, and a summary in words."""

from __future__ import annotations

import json
from pathlib import Path

from review_api import reporting
from review_api.api.changing import look
from review_api.results import results, summary
from review_api.state import State
from review_api.store import inspections
from shared.errors import InputError


def write_out(here: State, inspection_id: int, out: Path) -> None:
    """Writes the results and the draft report in its three formats. Raises InputError."""
    row = reporting.draft(here, inspection_id)
    try:
        out.mkdir(parents=True, exist_ok=True)
        for kind in ("pdf", "html", "json"):
            made = here.folder.reports / f"{row.sha256}.{kind}"
            (out / f"draft-report.{kind}").write_bytes(made.read_bytes())
        text = json.dumps(results_of(here, inspection_id), ensure_ascii=False, indent=1)
        (out / "results.json").write_text(text + "\n", encoding="utf-8")
    except OSError as error:
        raise InputError(
            f"{out}: cannot be written ({error.strerror}); name another folder with --out"
        ) from error


def print_summary(here: State, inspection_id: int) -> None:
    """Prints what was found, for a person."""
    with here.database.reading() as session:
        desk = look(inspections.whole(session, inspection_id)).desk
    print("\n".join(summary(desk)))


def results_of(here: State, inspection_id: int) -> dict[str, object]:
    """The stable JSON of what was found."""
    with here.database.reading() as session:
        return results(inspections.whole(session, inspection_id))
