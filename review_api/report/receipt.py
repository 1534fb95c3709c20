"""Receipt and seal: who signed or why nobody did, and what the document says of its own seal."""

from __future__ import annotations

from collections.abc import Iterator

from review_api.record import Acknowledgement, Amendment, Record, Signature
from review_api.report.blocks import Block, Fact, Facts, Heading, Paragraph, Picture, Signatures, Signed
from review_api.report.text import Run, grouped, sentence
from review_api.report.times import Clock

RECEIPT = (
    "A signature here says that this document was received. It does not say that the person agrees with it. "
    "Without a signature the duty to correct stays the same, and the refusal is noted."
)
"""After Food Code 2022, 8-403.30 and 8-403.40, in our own words."""


SEAL = (
    "Any change after sealing breaks the seal. To check it: ‘probeside verify’ with this file and the "
    "department's certificate; a PDF reader that knows certified documents shows it too. What changes later "
    "is a document of its own that names this one."
)


_BY = {"probeside/record/1": "Inspected by", "probeside/amendment/1": "For the department"}


def receipt_blocks(record: Record | Amendment, clock: Clock) -> Iterator[Block]:
    """The blocks that say how the receipt ended, and the signatures."""
    receipt, inspector = record.acknowledgement, record.inspector_signature
    if not receipt and not inspector:
        return
    yield Heading(2, "Receipt")
    yield Paragraph((Run(RECEIPT),))
    if receipt and receipt.kind != "signed":
        yield _unsigned(receipt, clock)
    items = []
    if receipt and receipt.signature:
        items.append(_signed("Received by", receipt.signature, "signature-operator.svg", clock))
    if inspector:
        items.append(_signed(_BY[record.schema_], inspector, "signature-inspector.svg", clock))
    if items:
        yield Signatures(tuple(items))


def drawings(record: Record | Amendment) -> dict[str, bytes]:
    """The signatures written on glass as SVG, by the file names that the blocks use."""
    receipt = record.acknowledgement
    signatures = {
        "signature-operator.svg": receipt.signature if receipt else None,
        "signature-inspector.svg": record.inspector_signature,
    }
    return {name: _svg(item) for name, item in signatures.items() if item and item.strokes}


def seal_blocks(record: Record | Amendment) -> Iterator[Block]:
    """The document's words about its own seal; none for a draft."""
    if record.draft or not record.seal:
        return
    seal = record.seal
    yield Heading(2, "Seal")
    yield Paragraph((Run(f"Sealed by {seal.sealed_by}. {SEAL}"),))
    rows = [Fact("Certificate, SHA-256", grouped(seal.certificate_sha256))]
    if seal.log_head:
        rows.append(Fact("Event log up to the seal, SHA-256", grouped(seal.log_head)))
    yield Facts("The seal", tuple(rows))


def _unsigned(receipt: Acknowledgement, clock: Clock) -> Facts:
    refused = receipt.kind == "refused"
    rows = [
        Fact("Signature", "Refused" if refused else "Nobody was available to sign"),
        Fact("When", clock.both(receipt.at)),
        Fact("Reason given" if refused else "What was tried", sentence(receipt.reason) or "None given"),
    ]
    if receipt.supervisor:
        told = f" on {clock.both(receipt.supervisor_told)}" if receipt.supervisor_told else ""
        rows.append(Fact("Supervisor told", f"{receipt.supervisor}{told}"))
    return Facts("Receipt not signed", tuple(rows))


def _signed(heading: str, signature: Signature, file: str, clock: Clock) -> Signed:
    role = f", {signature.role}" if signature.role else ""
    how = "signed on glass" if signature.strokes else "signed by typed name"
    picture = (
        Picture(file, f"Signature of {signature.name}, written by hand", "") if signature.strokes else None
    )
    return Signed(
        heading, picture, signature.name, f"{signature.name}{role}; {how}, {clock.both(signature.at)}"
    )


def _svg(signature: Signature) -> bytes:
    height = 100.0
    width = height * signature.aspect
    paths = []
    for stroke in signature.strokes:
        points = [f"{x * width:.2f} {y * height:.2f}" for x, y in stroke]
        if len(points) == 1:  # a dot
            points.append(points[0])
        paths.append(f'<path d="M{" L".join(points)}"/>')
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.2f} {height:.2f}" '
        f'width="{width:.2f}" height="{height:.2f}"><g fill="none" stroke="#000" stroke-width="1.6" '
        f'stroke-linecap="round" stroke-linejoin="round">{"".join(paths)}</g></svg>'
    ).encode()
