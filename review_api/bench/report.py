"""`probeside bench report`: time and memory of a report and its seal, beside the bare libraries."""

from __future__ import annotations

import argparse
import json
import random
import resource
import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from io import BytesIO
from itertools import count
from pathlib import Path
from typing import Any

from PIL import Image

from review_api.record import (
    Acknowledgement,
    DecidedPhoto,
    DecidedReading,
    Department,
    Establishment,
    ItemMark,
    Record,
    SealWords,
    Signature,
    Violation,
    Visit,
)
from review_api.report import render
from review_api.report.pdf import forget
from review_api.report.pictures import LONGEST_PX
from review_api.report.typeface import fonts
from review_api.seal import Key, open_key, seal, verify
from shared.rules import load
from shared.rules.model import Provision

_AT = datetime(2026, 5, 4, 10, 30, tzinfo=UTC)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--violations", type=int, default=30)
    parser.add_argument("--photos", type=int, default=40)
    parser.add_argument("--runs", type=int, default=5, help="warm runs; the median counts")
    parser.add_argument("--json", action="store_true", help="print one JSON object")


def run(options: argparse.Namespace) -> int:
    """Prints seconds and megabytes; 0."""
    photos = _photos(options.photos)
    record = _record(options.violations, list(photos))
    with tempfile.TemporaryDirectory(prefix="probeside-bench-") as folder:
        key = open_key(Path(folder), department="Tamarind County", warn=lambda _: None)
        told = _measured(record, photos, key, Path(folder), options.runs)
    if options.json:
        print(json.dumps(told))
        return 0
    size = f"{options.violations} violations and {options.photos} photos, {told['pdf_mb']:.1f} MB of PDF"
    print(f"A report of {size}; seconds on the clock, and of the processor:")
    for name, words in _ROWS.items():
        print(f"  {words:58} {told[name]:8.3f} {told[f'{name}_cpu']:8.3f}")
    print("Beside the bare libraries, by processor time:")
    print(f"  {'drafting, warm':58} {told['draft_ratio']:8.2f} times")
    print(f"  {'sealing, warm':58} {told['seal_ratio']:8.2f} times")
    print(f"Memory at the highest, above idle: {told['memory_mb']:.0f} MB")
    return 0


_ROWS = {
    "draft_first": "drafting, the first of the process (PDF, HTML, JSON)",
    "draft": "drafting, warm",
    "bare_draft": "the bare typesetter, same photos, an untagged PDF alone",
    "seal_first": "sealing and verifying, the first of the process",
    "seal": "sealing and verifying, warm",
    "bare_seal": "the library’s own signer with the same key, unverified",
    "verify": "verifying alone, warm",
}


def _measured(
    record: Record, photos: dict[str, bytes], key: Key, folder: Path, runs: int
) -> dict[str, float]:
    idle = _peak_mb()
    words = SealWords(sealed_by=key.owner, certificate_sha256=key.fingerprint)
    final = record.model_copy(update={"draft": False, "seal": words})
    told: dict[str, float] = {}
    turn = count()  # another number each time, or the typesetter would only remember
    _time(told, "draft", lambda: render(_numbered(record, next(turn)), photos), runs, first=True)
    prepared = render(final, photos).pdf
    sealed = _time(told, "seal", lambda: _sealed(prepared, key), runs, first=True)
    told["memory_mb"] = _peak_mb() - idle  # before the alternatives use theirs
    _time(told, "verify", lambda: verify(sealed, certificate=key.certificate), runs)
    _time(told, "bare_draft", lambda: _bare_typesetter(_numbered(record, next(turn)), photos, folder), runs)
    _time(told, "bare_seal", lambda: _bare_signer(prepared, key), runs)
    told["draft_ratio"] = told["draft_cpu"] / told["bare_draft_cpu"]
    told["seal_ratio"] = told["seal_cpu"] / told["bare_seal_cpu"]
    told["pdf_mb"] = len(sealed) / 1e6
    return told


def _numbered(record: Record, turn: int) -> Record:
    number = f"{record.number}-{turn}"
    cited = tuple(item.model_copy(update={"title": f"{item.title} ({turn})"}) for item in record.violations)
    return record.model_copy(update={"number": number, "violations": cited})


def _sealed(prepared: bytes, key: Key) -> bytes:
    sealed = seal(prepared, key=key)
    found = verify(sealed, certificate=key.certificate)
    if not found.whole:
        raise AssertionError(f"the seal does not hold: {found.faults}")
    return sealed


def _time(
    told: dict[str, float], name: str, job: Callable[[], Any], runs: int, *, first: bool = False
) -> Any:
    """The last result; `told` gets the median of the warm runs, and the first run where it is asked for."""
    walls, processors, result = [], [], None
    for _ in range(runs + 1):
        wall, processor = time.perf_counter(), time.process_time()
        result = job()
        walls.append(time.perf_counter() - wall)
        processors.append(time.process_time() - processor)
    told[name], told[f"{name}_cpu"] = statistics.median(walls[1:]), statistics.median(processors[1:])
    if first:
        told[f"{name}_first"], told[f"{name}_first_cpu"] = walls[0], processors[0]
    return result


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def _bare_typesetter(record: Record, photos: dict[str, bytes], folder: Path) -> bytes:
    """The same words and photos set by typst alone: no tags, standards, row headers, HTML or JSON."""
    import typst

    lines = []
    for item in record.violations:
        lines.append(f"== {item.title}\n{item.what}\n\n{item.why}\n\n{item.reason}\n\n{item.correction}\n")
        for sha256 in item.photos:
            (folder / f"{sha256}.jpg").write_bytes(photos[sha256])
            lines.append(f'#image("{sha256}.jpg", height: 50mm)\n')
    (folder / "bare.typ").write_text("\n".join(lines), encoding="utf-8")
    made = typst.compile(
        folder / "bare.typ", root=folder, font_paths=fonts(), ignore_system_fonts=True, pdf_tags=False
    )
    forget()  # as after a report
    return made


def _bare_signer(prepared: bytes, key: Key) -> bytes:
    """pyHanko's own signer, as its manual shows it."""
    from cryptography.hazmat.primitives.serialization import NoEncryption, pkcs12
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign import signers

    packed = pkcs12.serialize_key_and_certificates(None, key.private, key.certificate, None, NoEncryption())
    signer = signers.SimpleSigner.load_pkcs12_data(packed, other_certs=[])
    out = BytesIO()
    signers.PdfSigner(signers.PdfSignatureMetadata(field_name="Seal", certify=True), signer).sign_pdf(
        IncrementalPdfFileWriter(BytesIO(prepared)), output=out
    )
    return out.getvalue()


def _photos(many: int) -> dict[str, bytes]:
    """Copies of the size that leaves the office, as detailed as photos are."""
    chance = random.Random(7)
    photos = {}
    for number in range(many):
        grain = Image.frombytes("L", (350, 262), chance.randbytes(350 * 262)).resize(
            (LONGEST_PX, LONGEST_PX * 3 // 4)
        )
        shade = Image.linear_gradient("L").resize(grain.size)
        out = BytesIO()
        Image.blend(grain, shade, 0.7).convert("RGB").save(out, "JPEG", quality=85)
        photos[f"{number:064x}"] = out.getvalue()
    return photos


def _record(many: int, photos: list[str]) -> Record:
    rules = load("food_code_2022")
    step = max(1, len(rules.provisions) // max(many, 1))
    cited = list(rules.provisions.values())[::step][:many]
    receipt = Signature(name="Pilar Muñoz Åström", role="person in charge", at=_AT)
    return Record(
        number="TM-2026-0200",
        draft=True,
        made=_AT + timedelta(hours=2),
        rules=rules.name,
        rules_title=rules.title,
        department=Department(name="Tamarind County", address="12 Quarry Lane"),
        establishment=Establishment(name="Saltgrass Noodle Bar", address="4 Ferry Steps"),
        visit=Visit(inspector="R. Okonjo-Vale", time_in=_AT, time_out=_AT + timedelta(hours=2)),
        readings=tuple(_reading(number) for number in range(many)),
        violations=tuple(
            _violation(number, item, tuple(photos[number::many])) for number, item in enumerate(cited)
        ),
        marks=tuple(
            ItemMark(number=line.number, heading=line.heading, text=line.text, mark=None)
            for line in rules.form_items.values()
        ),
        photos=tuple(
            DecidedPhoto(sha256=sha256, caption="prep line", alternative_text="A shelf", taken=_AT)
            for sha256 in photos
        ),
        acknowledgement=Acknowledgement(kind="signed", at=_AT, signature=receipt),
    )


def _reading(number: int) -> DecidedReading:
    return DecidedReading(
        id=f"r{number}",
        kind="temperature",
        value=40.0 + number,
        unit="degF",
        said=f"{40 + number} degrees",
        stage="cold_holding",
        item="cut melon",
        place="prep line",
        agent=None,
        at=_AT,
        verdict="violates",
        section="3-501.16(A)(2)",
        limit="41 °F or below",
        margin=number - 1.0,
    )


def _violation(number: int, item: Provision, photos: tuple[str, ...]) -> Violation:
    return Violation(
        id=f"f{number}",
        provision=item.section,
        class_=item.classes[0],  # type: ignore[arg-type]
        form_item=item.form_item,
        title=item.title,
        who=None,
        what=f"seen on the prep line: {item.title.lower()}",
        where="prep line",
        when=_AT + timedelta(minutes=number),
        why=item.reason,
        reason=item.reason,
        corrected_on_site=False,
        correction=item.correction,
        correct_by=_AT + timedelta(days=10),
        repeat=number % 7 == 0,
        readings=(f"r{number}",),
        photos=photos,
        evidence=("walk.flac 10:12.0-10:15.5",),
    )
