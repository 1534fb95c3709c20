"""A courtesy copy for the operator in another language: what was found, what to do, from the phrase tables.

It is no report: it is not sealed, and says that the report alone counts. Words that people said or typed are
not translated. Up to twelve violations fit on one page.
"""

from __future__ import annotations

from collections.abc import Iterator

from review_api.record import Record, Violation
from review_api.report.blocks import Block, Document, Fact, Facts, Heading, Paragraph, Table
from review_api.report.page import page
from review_api.report.pdf import pdf
from review_api.report.phrases import Phrases, correct, observed, phrases
from review_api.report.text import Run, linked, sentence
from review_api.report.times import Clock
from shared.errors import InputError

_ROOMY = 6
"""With more violations than this the table is set smaller."""


def courtesy_pdf(record: Record, *, language: str = "es") -> bytes:
    """The copy as PDF. Raises InputError when there are no phrases in that language."""
    return pdf(courtesy(record, language=language), {}, made=record.made, field_words=None)


def courtesy_html(record: Record, *, language: str = "es") -> bytes:
    """The copy as one HTML file. Raises InputError when there are no phrases in that language."""
    return page(courtesy(record, language=language), {})


def courtesy(record: Record, *, language: str = "es") -> Document:
    """The copy as a document. Raises InputError when there are no phrases in that language."""
    tables = phrases(language)
    words = tables.copy
    if not words:
        raise InputError(f"{language}: the report itself is in this language; choose another for the copy")
    notice = words["notice_reviewed" if tables.reviewed else "notice"]
    return Document(
        language=language,
        kind=words["kind"],
        number=record.number,
        title=record.establishment.name or words["unnamed"],
        issuer=record.department.name,
        issuer_lines=record.department.address_lines,
        notice=f"{notice} {words['draft']}" if record.draft else notice,
        draft_word=words["draft_word"] if record.draft else "",
        page_words=words["page_words"],
        keywords=(),
        blocks=(*_visit(record, tables), *_found(record, tables), *_rights(record, tables)),
    )


def _visit(record: Record, tables: Phrases) -> Iterator[Block]:
    words, clock, visit = tables.copy, Clock(tables.language), record.visit
    day = visit.time_in or visit.time_out
    rows = [
        Fact(words["address"], record.establishment.address or words["unknown"]),
        Fact(words["date"], clock.date(day) if day else words["unknown"]),
        Fact(words["person_in_charge"], visit.person_in_charge or words["unknown"]),
        Fact(words["inspector"], visit.inspector or words["unknown"]),
    ]
    if visit.revisit:
        rows.append(Fact(words["revisit"], clock.date(visit.revisit)))
    yield Facts(words["visit"], tuple(rows))


def _found(record: Record, tables: Phrases) -> Iterator[Block]:
    words, count = tables.copy, len(record.violations)
    yield Heading(2, words["found"])
    if not count:
        yield Paragraph((Run(words["none"]),))
        return
    summary = words["summary_one"] if count == 1 else words["summary"].replace("{count}", str(count))
    yield Paragraph((Run(summary),), tone="strong")
    yield Table(
        words["found"],
        (words["number"], words["section"], words["what"], words["do"], words["by"]),
        tuple(_row(at, item, tables) for at, item in enumerate(record.violations, start=1)),
        (0, 0, 5, 5, 3),
        small=count > _ROOMY,
    )


def _row(at: int, item: Violation, tables: Phrases) -> tuple[str, ...]:
    words, language = tables.copy, tables.language
    by = words["no_date"]
    if item.corrected_on_site:
        by = words["corrected"]
    elif item.correct_by:
        by = Clock(language).both(item.correct_by)
    return (
        str(at),
        f"{item.provision}\n{words[f'class_{item.class_}']}",
        sentence(observed(item.provision, language=language)),
        correct(item.provision, language=language),
        by,
    )


def _rights(record: Record, tables: Phrases) -> Iterator[Block]:
    words = tables.copy
    contact = (Run(" "), *linked(record.department.contact)) if record.department.contact else ()
    lines = [
        (Run(words["receipt"]),),
        (Run(words["appeal"]), *contact),
        (Run(words["caution"]),),
    ]
    yield Heading(2, words["rights"])
    if len(record.violations) > _ROOMY:
        yield Paragraph(tuple(run for line in lines for run in (*line, Run(" "))), tone="quiet")
        return
    for line in lines:
        yield Paragraph(line)
