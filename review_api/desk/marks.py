"""The check sheet: each form item with its mark, where the mark comes from, and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from review_api.api.shown import Evidence, Finding, ItemMark, Reading
from review_api.store.tables import Proposal
from shared.rules.model import FormItem, Rules

DECIDED = ("confirmed", "edited")


def marks(
    rules: Rules,
    *,
    findings: Sequence[Finding],
    readings: Sequence[Reading],
    compliances: Sequence[Proposal],
    chosen: Mapping[str, Mapping[str, Any]],
) -> tuple[ItemMark, ...]:
    """One line for each form item of the rules.

    A finding that stands marks its item OUT. A confirmed reading within its limit marks IN, unless another
    reading of the item, decided or not, is out of its limit: then nothing marks it but the person. A remark
    that all was in order only proposes a mark, until the person accepts it. The person's own mark goes over
    all, save that an item with a finding stays OUT: to change that, the finding is rejected.
    """
    return tuple(
        _line(item, rules, findings, readings, compliances, chosen.get(str(item.number)))
        for item in rules.form_items.values()
    )


def _line(
    item: FormItem,
    rules: Rules,
    findings: Sequence[Finding],
    readings: Sequence[Reading],
    compliances: Sequence[Proposal],
    chosen: Mapping[str, Any] | None,
) -> ItemMark:
    line = ItemMark(
        number=item.number, group=item.group, heading=item.heading, text=item.text, allowed=list(item.marks)
    )
    here = [f for f in findings if f.form_item == item.number and f.decision.state in DECIDED]
    if here:
        line.mark, line.origin, line.accepted = "OUT", "finding", True
        line.findings = tuple(finding.id for finding in here)
        line.corrected_on_site = all(finding.corrected_on_site for finding in here)
        line.repeat = any(finding.repeat for finding in here)
        line.evidence = tuple(part for finding in here for part in finding.evidence)
        return line
    if chosen is not None:
        line.mark, line.origin, line.accepted = chosen["mark"], "person", True
    judged = [
        (reading, reading.check.verdict)
        for reading in readings
        if reading.check is not None and _item_of(reading.check.section, rules) == item.number
    ]
    good = [one for one, verdict in judged if verdict == "meets" and one.decision.state in DECIDED]
    bad = [one for one, verdict in judged if verdict == "violates" and one.decision.state != "rejected"]
    remarks = [row for row in compliances if row.content["form_item"] == item.number]
    if good and not bad and line.mark is None and "IN" in item.marks:
        line.mark, line.origin, line.accepted = "IN", "reading", True
    elif remarks and not bad and line.mark is None and remarks[0].content["mark"] in item.marks:
        line.mark, line.origin = remarks[0].content["mark"], "remark"
    line.evidence = (
        *(Evidence(reading=reading.id) for reading in (*good, *bad)),
        *(Evidence.model_validate(part) for row in remarks for part in row.content["evidence"]),
    )
    return line


def _item_of(section: str | None, rules: Rules) -> int | None:
    provision = rules.provision(section) if section else None
    return provision.form_item if provision else None
