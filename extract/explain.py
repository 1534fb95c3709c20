"""An extraction in words: a summary for the inspector, and the reasons behind each line of it."""

from __future__ import annotations

from collections.abc import Sequence

from shared.types import Extraction, Finding, Reading, Trace, Utterance
from shared.units import written

_VERDICTS = {
    "meets": "meets",
    "violates": "VIOLATES",
    "borderline": "borderline",
    "undetermined": "open",
    "none": "no limit",
}


def summary(found: Extraction, said: Sequence[Utterance]) -> str:
    """Readings with verdicts, proposed violations, and what must still be asked, one a line."""
    return "\n".join(_lines(found, said, explain=False))


def explained(found: Extraction, said: Sequence[Utterance]) -> str:
    """The summary with the words and the rule behind each reading and finding."""
    return "\n".join(_lines(found, said, explain=True))


def _lines(found: Extraction, said: Sequence[Utterance], *, explain: bool) -> list[str]:
    lines = [f"Readings ({len(found.readings)}), by {found.rules}"]
    for reading in found.readings:
        lines.append(f"  {reading.id:<4} {_reading(reading)}")
        lines += [f"         doubt: {doubt.why}{_or(doubt.alternatives)}" for doubt in reading.doubts]
        if explain:
            lines += _reasons(reading.trace, said)
            if reading.check is not None and reading.check.why:
                lines.append(f"         check: {reading.check.why}")
    if found.withdrawn:
        lines.append(f"Withdrawn ({len(found.withdrawn)})")
        for withdrawn in found.withdrawn:
            instead = f", now {withdrawn.superseded_by}" if withdrawn.superseded_by else ""
            lines.append(f"  {_named(withdrawn.reading)} (“{withdrawn.why}”{instead})")
    lines.append(f"Proposed violations ({len(found.findings)})")
    for finding in found.findings:
        lines += _finding(finding)
        if explain:
            lines += _reasons(finding.trace, said)
            if finding.alternatives:
                lines.append(f"         could also be: {', '.join(finding.alternatives)}")
    if found.questions:
        lines.append(f"To be settled ({len(found.questions)})")
        lines += [f"  ? {question.text}" for question in found.questions]
    if explain and found.compliances:
        lines.append(f"In order ({len(found.compliances)})")
        for remark in found.compliances:
            for evidence in remark.evidence:
                words = evidence.reading or ""
                if evidence.utterance is not None and evidence.span is not None:
                    words = f"“{said[evidence.utterance].text[slice(*evidence.span)]}”"
                lines.append(f"  item {remark.form_item} {remark.mark}: {words}")
    return lines


def _named(reading: Reading) -> str:
    of = " ".join(part for part in (reading.item, f"({reading.agent})" if reading.agent else None) if part)
    where = f", {reading.place}" if reading.place else ""
    when = f" at {reading.clock}" if reading.clock else ""
    return f"{of or reading.stage.replace('_', ' ')} {written(reading.value, reading.unit)}{when}{where}"


def _reading(reading: Reading) -> str:
    check = reading.check
    verdict = _VERDICTS[check.verdict] if check is not None else "not checked"
    limit = ""
    if check is not None and check.limit is not None and check.unit is not None:
        sign = {"<=": "at most", ">=": "at least", "+-": "near"}.get(check.operator or "", "")
        limit = f" ({sign} {written(check.limit, check.unit)}, {check.section})"
    return f"{_named(reading)}; {reading.stage.replace('_', ' ')}: {verdict}{limit}"


def _finding(finding: Finding) -> list[str]:
    item = f", item {finding.form_item}" if finding.form_item is not None else ""
    where = f" In: {finding.where}." if finding.where else ""
    lines = [f"  {finding.id:<4} {finding.provision} {finding.class_}{item}: {finding.what}.{where}"]
    if finding.who:
        lines.append(f"         who: {finding.who}")
    if finding.corrected_on_site:
        lines.append(
            f"         corrected on site: “{finding.correction}”"
            if finding.correction
            else "         corrected on site"
        )
    if finding.repeat:
        lines.append("         said or reported before: repeat")
    if finding.correct_by is not None:
        lines.append(f"         correct by {finding.correct_by:%Y-%m-%d %H:%M}")
    lines += [f"         ask: {question}" for question in finding.open_questions]
    return lines


def _reasons(traces: Sequence[Trace], said: Sequence[Utterance]) -> list[str]:
    lines = []
    for trace in traces:
        at = said[trace.utterance].at
        when = f" [{at:%H:%M:%S}]" if at is not None else ""
        lines.append(f"         {trace.rule}: “{trace.text}” (line {trace.utterance + 1}{when})")
    return lines


def _or(alternatives: Sequence[str]) -> str:
    return f" (or {', '.join(alternatives)})" if alternatives else ""
