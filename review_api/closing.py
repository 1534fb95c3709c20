"""Closing an inspection, amending it, handing it over: the store's side of the seal.

Every sealed document goes the same way. First its record and who signed are stored, with their event: from
then on nothing of the inspection can be edited. Then the seal is made (`seal.ceremony`: the sealed file is
there whole or not at all). Then the database and the log tell of it. A kill between any two of these is made
good by `finish_all` at the next start: it makes the same document from the same record.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from cryptography.x509 import Certificate
from sqlmodel import Session, col, select

from review_api import record as r
from review_api.api.changes import AmendmentCreate, ClosingCreate, DueDone, HandOverCreate, SignatureGiven
from review_api.api.changing import Seen, look
from review_api.api.shown import Accepted
from review_api.clocks import CORRECTION, HAND_OVER, REVISIT, Clock, clocks
from review_api.office import office_for
from review_api.place_time import local, zone_of_desk
from review_api.record_of import record as record_of
from review_api.reporting import photo_files, sealed_folder
from review_api.seal import close, close_amendment, open_key
from review_api.seal.ceremony import SEALED, Sealed
from review_api.seal.key import KEY_FOLDER, Key, certificate_in
from review_api.seal.trail import Kept, disagreements
from review_api.state import State
from review_api.store import dues, events, inspections
from review_api.store.choices import refuse_closed
from review_api.store.refusals import Conflict, Lacks, NotFound, NotSealed, NotValid
from review_api.store.tables import HandOver, Inspection, Report, Sealing, now
from review_api.waiting import repeats, waiting
from shared.errors import ProbesideError

_log = logging.getLogger(__name__)

_SETTLED = {CORRECTION: "violation corrected", REVISIT: "revisit made"}
"""What the log calls a clock that is stopped."""

_DID = {
    "signed": "report signed",
    "refused": "signature refused",
    "nobody_available": "nobody available to sign",
}


def close_now(here: State, inspection_id: int, given: ClosingCreate) -> tuple[Report, tuple[str, ...]]:
    """Stores how the review ended and seals the report: its row, and what the department must be told.

    Where that was stored before and could not be sealed, it is sealed now. Raises what `begin` raises;
    NotSealed where the seal cannot be made, and Conflict where something else was signed before.
    """
    return _sealed_now(here, inspection_id, given, begin)


def amend_now(here: State, inspection_id: int, given: AmendmentCreate) -> tuple[Report, tuple[str, ...]]:
    """The same for an amendment."""
    return _sealed_now(here, inspection_id, given, begin_amendment)


_Given = TypeVar("_Given", ClosingCreate, AmendmentCreate)


def _sealed_now(
    here: State, inspection_id: int, given: _Given, first: Callable[[State, int, _Given], str]
) -> tuple[Report, tuple[str, ...]]:
    kind = "sealed" if isinstance(given, ClosingCreate) else "amendment"
    with here.database.reading() as session:
        left = waiting(session, inspection_id, kind)
    number = left.number if left is not None else first(here, inspection_id, given)
    try:
        done = finish(here, inspection_id, number)
    except Exception as error:
        _log.exception("%s is stored and could not be sealed", number)
        why = str(error) if isinstance(error, ProbesideError | OSError) else "an error of the program"
        raise NotSealed(
            f"{number} is kept as it was signed, but it could not be sealed: {why}; put that right, then "
            "send it again, or start Probeside again"
        ) from error
    if left is not None and not repeats(left, given):
        raise Conflict(
            f"{number} had been signed before, with other content, and could not be sealed then; it is "
            "sealed now as it was signed. Look at it; what differs needs an amendment"
        )
    return done


def begin(here: State, inspection_id: int, given: ClosingCreate) -> str:
    """Stores how the review ended; gives the number of the document that is now to be sealed by `finish`.

    Raises Closed, Conflict when anything changed after the revision that was signed, Lacks when something is
    missing and no reason is given, NotValid when a signature or reason is missing.
    """
    _refuse_incomplete(given)
    with here.database.writing() as session:
        rows = inspections.whole(session, inspection_id)
        seen, inspection = look(rows), rows.inspection
        refuse_closed(inspection)
        if inspection.state != "ready":
            raise Conflict("the work on this inspection is not done yet; wait until it is ready")
        if inspection.revision != given.revision:
            raise Conflict(
                "something was changed since this was opened to be signed; look at it again, then sign",
                revision=inspection.revision,
            )
        missing = tuple(item.text for item in seen.desk.missing)
        if missing and not given.left_open:
            raise Lacks("something is missing; settle it, or say why it is left open", missing=list(missing))
        at = _now(seen)
        record = record_of(
            seen.desk,
            seen.rules,
            department=here.settings.department,
            made=at,
            left_open=(*missing, f"Closed all the same: {given.left_open}") if missing else (),
            acknowledgement=_acknowledgement(given, at),
            inspector_signature=_signature(given.inspector_signature, at),
        )
        _worked_out(here, seen, record)
        about = {"left_open": len(missing), "reason": given.left_open, "receipt": given.kind}
        _store(session, seen, inspection, "sealed", record, did=_DID[given.kind], about=about)
        inspection.state = "closing"
        session.add(inspection)
    return record.number


def begin_amendment(here: State, inspection_id: int, given: AmendmentCreate) -> str:
    """Stores an amendment; gives the number under which `finish` seals it.

    Raises NotFound when nothing is sealed.
    """
    with here.database.writing() as session:
        rows = inspections.whole(session, inspection_id)
        seen, inspection = look(rows), rows.inspection
        sealed = [row for row in rows.reports if row.kind != "draft"]
        if not sealed or inspection.state != "closed":
            raise NotFound("nothing is sealed yet, so there is nothing to amend; change it at the desk")
        if inspection.revision != given.revision:
            raise Conflict(
                "something was added since this was opened; look at it, then amend",
                revision=inspection.revision,
            )
        amended = sealed[-1]
        at, zone = _now(seen), zone_of_desk(seen.desk)
        record = r.Amendment(
            number=f"{inspection.number}-A{len(sealed)}",
            draft=True,
            made=at,
            amends_number=str(amended.record["number"]),
            amends_sha256=amended.sha256,
            department=here.settings.department,
            establishment=r.Establishment.model_validate(sealed[0].record["establishment"]),
            changes=tuple(r.Change(**part.model_dump()) for part in given.changes),
            why=given.why,
            inspector=given.inspector_signature.name,
            approved_by=given.approved_by,
            approved=local(given.approved, zone),
            operator_told=local(given.operator_told, zone),
            operator_told_who=given.operator_told_who,
            operator_told_how=given.operator_told_how,
            inspector_signature=_signature(given.inspector_signature, at),
        )
        _worked_out(here, seen, record)
        about = {"number": record.number, "amends": record.amends_number, "why": given.why}
        _store(
            session,
            seen,
            inspection,
            "amendment",
            record,
            did="amendment written",
            about=about,
            amends=amended.id,
        )
    return record.number


def finish(here: State, inspection_id: int, number: str) -> tuple[Report, tuple[str, ...]]:
    """The sealed document's row, and what the department must be told. Done before, it is found again."""
    warnings: list[str] = []
    with here.database.reading() as session:
        row = session.get_one(Sealing, (inspection_id, number))
        seen = look(inspections.whole(session, inspection_id))
        amended = session.get(Report, row.amends) if row.amends is not None else None
    key = key_of(here, warnings)
    folder = sealed_folder(here.folder)
    record: r.Record | r.Amendment
    if row.kind == "sealed":
        record = r.Record.model_validate(row.record)
        files = photo_files(here, seen.desk, record)
        sealed = close(record, files, key=key, folder=folder, log_head=row.log_head)
    else:
        record = r.Amendment.model_validate(row.record)
        assert amended is not None, "an amendment names what it amends"
        path = folder / f"{amended.record['number']}.pdf"
        sealed = close_amendment(record, amended=path, key=key, folder=folder, log_head=row.log_head)
    return _tell(here, row, record, sealed), tuple(warnings)


def finish_all(here: State) -> Iterator[str]:
    """Finishes what a kill interrupted; gives the number of each document that is sealed now.

    One that cannot be sealed is logged and left for the next time; it holds up nothing else.
    """
    with here.database.reading() as session:
        left = session.exec(select(Sealing).where(col(Sealing.done).is_(False))).all()
    for row in left:
        try:
            _, warnings = finish(here, row.inspection_id, row.number)
        except Exception:
            _log.exception("%s was signed and still cannot be sealed; the next start tries again", row.number)
            continue
        for warning in warnings:
            _log.warning(warning)
        yield row.number


def hand_over_to(here: State, inspection_id: int, given: HandOverCreate) -> HandOver:
    """Takes down that a sealed document was handed over, and stops its clock. Raises NotFound."""
    with here.database.writing() as session:
        rows = inspections.whole(session, inspection_id)
        sealed = [row for row in rows.reports if row.kind != "draft" and given.report in (None, row.id)]
        if not sealed:
            raise NotFound("there is no such sealed document; sign and seal it first")
        document = sealed[-1]
        assert document.id is not None
        seen = look(rows)
        row = HandOver(
            inspection_id=inspection_id,
            report_id=document.id,
            at=local(given.at or now(), zone_of_desk(seen.desk)),
            how=given.how,
            to_whom=given.to_whom,
            note=given.note,
        )
        session.add(row)
        about = {"sha256": document.sha256, "how": given.how, "to": given.to_whom, "at": row.at.isoformat()}
        events.append(session, rows.inspection, "handed over", who=seen.who, about=about)
        dues.done(session, inspection_id, HAND_OVER, str(document.record["number"]))
    return row


def settle_due(here: State, inspection_id: int, given: DueDone) -> Accepted:
    """The new revision once a clock is stopped, or runs again; the log tells who said so.

    Raises NotFound where nothing is due; the sealed report stays as it is.
    """
    with here.database.writing() as session:
        rows = inspections.whole(session, inspection_id)
        row = dues.get(session, inspection_id, given.what, given.subject)
        did = f"{_SETTLED[given.what]}{'' if given.done else ', not after all'}: {row.text}"
        if row.done != given.done:
            about = {"what": given.what, "subject": given.subject, "done": given.done, "note": given.note}
            events.append(session, rows.inspection, did, who=look(rows).who, about=about)
            dues.done(session, inspection_id, given.what, given.subject, done=given.done)
        return Accepted(revision=rows.inspection.revision, did=did)


def check(here: State, inspection_id: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The numbers of the sealed documents, and all that file, log and database say differently of them."""
    certificate = certificate_of(here)
    with here.database.reading() as session:
        inspection = inspections.get(session, inspection_id)
        log = events.entries(session, inspection)
        rows = session.exec(
            select(Report)
            .where(Report.inspection_id == inspection_id, Report.kind != "draft")
            .order_by(col(Report.id))
        ).all()
        sealed = {
            str(row.number)
            for row in session.exec(
                select(Sealing).where(Sealing.inspection_id == inspection_id, Sealing.done)
            )
        }
    kept = {str(row.record["number"]): row for row in rows}
    found: list[str] = []
    numbers = sorted({*kept, *sealed})
    if certificate is None:
        gone = "the sealing key and its certificate are gone from the data folder; put their copy back"
        return tuple(numbers), (gone,) if numbers else ()
    for number in numbers:
        path = sealed_folder(here.folder) / f"{number}.pdf"
        pdf = path.read_bytes() if path.is_file() else None
        told = _kept(kept[number]) if number in kept else None
        faults = disagreements(told, pdf, log, number=number, certificate=certificate)
        found += [f"{number}: {fault}" for fault in faults]
    return tuple(numbers), tuple(found)


def key_of(here: State, warnings: list[str]) -> Key:
    """The department's sealing key, made at first use; then `warnings` and the log get the sentence about
    keeping it."""

    def warn(sentence: str) -> None:
        _log.warning(sentence)
        warnings.append(sentence)

    return open_key(_key_folder(here), department=here.settings.department.name, warn=warn)


def certificate_of(here: State) -> Certificate | None:
    """The certificate of the department's sealing key; None while there is no key."""
    return certificate_in(_key_folder(here))


def _key_folder(here: State) -> Path:
    return here.folder.root / KEY_FOLDER


def _kept(row: Report) -> Kept:
    model: type[r.Record | r.Amendment] = r.Record if row.kind == "sealed" else r.Amendment
    record = model.model_validate(row.record)
    return Kept(number=record.number, sha256=row.sha256, sealed=row.made, record=record)


def _store(
    session: Session,
    seen: Seen,
    inspection: Inspection,
    kind: str,
    record: r.Record | r.Amendment,
    *,
    did: str,
    about: Mapping[str, object],
    amends: int | None = None,
) -> None:
    events.append(session, inspection, did, who=seen.who, about=dict(about))
    session.add(
        Sealing(
            inspection_id=inspection.key,
            number=record.number,
            kind=kind,
            record=record.model_dump(mode="json"),
            amends=amends,
            log_head=events.entries(session, inspection)[-1].hash,
            who=seen.who,
        )
    )
    session.flush()


def _tell(here: State, sealing: Sealing, record: r.Record | r.Amendment, sealed: Sealed) -> Report:
    """The row of the sealed document; database and log tell of it once."""
    with here.database.writing() as session:
        stored = session.get_one(Sealing, (sealing.inspection_id, sealing.number))
        if stored.done:
            rows = session.exec(select(Report).where(Report.sha256 == sealed.sha256)).all()
            return rows[0]
        inspection = inspections.get(session, sealing.inspection_id)
        row = Report(
            inspection_id=inspection.key,
            kind=sealing.kind,
            made=sealed.sealed,
            revision=inspection.revision,
            sha256=sealed.sha256,
            record=stored.record,
        )
        session.add(row)
        event = sealed.event(who=sealing.who, at=now(), inspection=inspection.number)
        events.append(session, inspection, SEALED, who=sealing.who, about=dict(event.about))
        stored.done = True
        session.add(stored)
        inspection.state = "closed"
        session.add(inspection)
        _clocks(here, session, inspection, record)
        session.flush()
    return row


def _worked_out(here: State, seen: Seen, record: r.Record | r.Amendment) -> tuple[Clock, ...]:
    """What falls due from the seal on. Raises InputError: then nothing may be signed."""
    return clocks(record, office_for(here.settings, zone_of_desk(seen.desk)))


def _clocks(here: State, session: Session, inspection: Inspection, record: r.Record | r.Amendment) -> None:
    """Sets what falls due."""
    seen = look(inspections.whole(session, inspection.key))
    for clock in _worked_out(here, seen, record):
        dues.put(session, inspection, clock.what, clock.subject, clock.text, clock.at)


def _now(seen: Seen) -> datetime:
    """Now, on the clock of the place that was visited."""
    return now().astimezone(zone_of_desk(seen.desk))


def _refuse_incomplete(given: ClosingCreate) -> None:
    if given.kind == "signed" and given.signature is None:
        raise NotValid(
            "the operator's signature is missing; take it, or say that it was refused", where="signature"
        )
    if given.kind != "signed" and not given.reason:
        raise NotValid("say why nobody signed; the report states it", where="reason")


def _acknowledgement(given: ClosingCreate, at: datetime) -> r.Acknowledgement:
    told = given.supervisor_told
    return r.Acknowledgement(
        kind=given.kind,
        at=at,
        signature=_signature(given.signature, at) if given.kind == "signed" and given.signature else None,
        reason=given.reason,
        supervisor=given.supervisor,
        supervisor_told=local(told, at.tzinfo) if told is not None and at.tzinfo is not None else told,
    )


def _signature(given: SignatureGiven, at: datetime) -> r.Signature:
    return r.Signature(name=given.name, role=given.role, at=at, strokes=given.strokes, aspect=given.aspect)
