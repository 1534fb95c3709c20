"""The PDF: tagged, accessible, self-contained, and the same bytes for the same record."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections import Counter
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from review_api.report import Rendered, render
from review_api.report.courtesy import courtesy_pdf
from review_api.report.pictures import LONGEST_PX
from review_api.seal import Key, open_key, seal
from shared.errors import InputError, RefusedError
from tests.report.samples import at, photo, photo_files, reading, record, sha, signed, violation

FILES = photo_files()


@pytest.fixture(scope="module")
def draft() -> Rendered:
    return render(record(), FILES)


@pytest.fixture(scope="module")
def final() -> Rendered:
    return render(signed(), FILES)


@pytest.fixture(scope="module")
def key(tmp_path_factory: pytest.TempPathFactory) -> Key:
    return open_key(tmp_path_factory.mktemp("key"), department="Tamarind County", warn=lambda _: None)


def elements(document: pikepdf.Pdf) -> list[tuple[str, pikepdf.Object]]:
    """Each structure element and its kind, in reading order."""

    def walk(element: pikepdf.Object) -> Iterator[tuple[str, pikepdf.Object]]:
        inner = element.get("/K", [])
        for part in inner if isinstance(inner, pikepdf.Array) else [inner]:
            if isinstance(part, pikepdf.Dictionary) and "/S" in part:
                yield str(part.S)[1:], part
                yield from walk(part)

    return list(walk(document.Root.StructTreeRoot))


def text(pdf: bytes) -> str:
    """The text in reading order, as Poppler finds it; without it the test says what to install."""
    tool = shutil.which("pdftotext")
    if tool is None:
        pytest.skip("pdftotext is not installed; install poppler-utils to check the order of the text")
    run = subprocess.run([tool, "-raw", "-", "-"], input=pdf, capture_output=True, check=True)
    return run.stdout.decode()


def joined(words: str) -> str:
    """The text without its line breaks."""
    return " ".join(words.split())


@pytest.mark.parametrize("made", ["draft", "final", "sealed", "courtesy"])
def test_it_claims_the_standards_that_the_renderer_checks(made: str, draft, final, key: Key) -> None:
    pdf = {
        "draft": lambda: draft.pdf,
        "final": lambda: final.pdf,
        "sealed": lambda: seal(final.pdf, key=key),
        "courtesy": lambda: courtesy_pdf(record()),
    }[made]()
    with pikepdf.open(BytesIO(pdf)) as document:
        meta = document.open_metadata()
        assert meta["pdfuaid:part"] == "1"
        assert (meta["pdfaid:part"], meta["pdfaid:conformance"]) == ("2", "A")
        assert document.Root.MarkInfo.Marked
        assert document.Root.ViewerPreferences.DisplayDocTitle
        assert str(document.Root.Lang) == ("es" if made == "courtesy" else "en")
        assert "Saltgrass Noodle Bar" in str(document.docinfo.Title)


def test_its_syntax_has_no_fault(draft: Rendered, final: Rendered, key: Key) -> None:
    for pdf in (draft.pdf, final.pdf, seal(final.pdf, key=key)):
        with pikepdf.open(BytesIO(pdf)) as document:
            assert document.check_pdf_syntax() == []


def test_every_font_is_inside_and_ours(final: Rendered) -> None:
    with pikepdf.open(BytesIO(final.pdf)) as document:
        fonts = [item for item in document.objects if _is(item, "/FontDescriptor")]
        assert fonts
        for font in fonts:
            assert any(name in font for name in ("/FontFile2", "/FontFile3", "/FontFile"))
            assert "SourceSansPro" in str(font.FontName)


def _is(item: object, kind: str) -> bool:
    return isinstance(item, pikepdf.Dictionary) and item.get("/Type") == kind


def test_the_same_record_gives_the_same_bytes(final: Rendered) -> None:
    assert render(signed(), FILES) == final


READING_ORDER = (
    "Saltgrass Noodle Bar",
    "Routine inspection",
    "What to correct, and by when",
    "3 violations: 3 priority.",
    "1. Cold holding",
    "Sliced turkey stood at 48.5 °F",
    "7.5 °F over the limit",
    "Photo 1.",
    "2. When to wash",
    "3. Chlorine",
    "Readings Item Measured",
    "Out of the limit by 7.5 °F",
    "Thermometer",
    "Cooling",
    "10 min too late",
    "Further photos",
    "Check sheet",
    "Discussed as education",
    "Remarks of the operator",
    "Left open",
    "Receipt",
    "Received by",
    "Pilar Muñoz Åström, person in charge; signed on glass",
    "Your rights",
    "within 10 days",
    "UTC−05:00",
)


def test_headings_and_text_come_in_the_order_of_reading(final: Rendered) -> None:
    words = joined(text(final.pdf))
    at = 0
    for part in READING_ORDER:
        assert part in words[at:], f"{part!r} does not come after what stands before it"
        at = words.index(part, at) + len(part)
    with pikepdf.open(BytesIO(final.pdf)) as document:
        levels = [kind for kind, _ in elements(document) if re.fullmatch(r"H\d", kind)]
    assert levels[0] == "H1"
    assert levels.count("H1") == 1
    assert set(levels) == {"H1", "H2", "H3"}


def test_tables_have_headers_for_columns_and_rows(final: Rendered) -> None:
    with pikepdf.open(BytesIO(final.pdf)) as document:
        parts = elements(document)
        headers = [element for kind, element in parts if kind == "TH"]
        scopes = Counter(str(part.Scope) for element in headers for part in element.A if "/Scope" in part)
    kinds = Counter(kind for kind, _ in parts)
    assert (
        kinds["Table"] == 8
    )  # the visit, what to correct, three violations, two of readings, the check sheet
    assert kinds["THead"] == 4
    assert scopes == {"/Column": 5 + 6 + 6 + 5, "/Row": kinds["TR"] - kinds["THead"]}
    assert len(headers) == sum(scopes.values())


def test_every_picture_has_an_alternative_text(final: Rendered) -> None:
    with pikepdf.open(BytesIO(final.pdf)) as document:
        described = [str(element.Alt) for kind, element in elements(document) if kind == "Figure"]
    assert described == [
        "A tray of sliced turkey on a shelf of the walk-in cooler",
        "The display of the walk-in cooler reads 47",
        "Plates beside raw chicken on the grill line",
        "Drawing: Chili, cooling since 2:00 PM. Described in the text below it.",
        "Photo 4 of the inspection; nobody described it.",
        "Signature of Pilar Muñoz Åström, written by hand",
    ]


def test_a_draft_says_so_in_text_on_every_page_and_cannot_be_sealed(draft: Rendered, key: Key) -> None:
    pages = text(draft.pdf).split("\f")[:-1]
    assert all("DRAFT" in page for page in pages)
    assert "Draft. Not signed, not sealed, not a finished report." in pages[0]
    assert "Draft. Not signed" in draft.html.decode()
    assert "Still open" in draft.html.decode()
    with pytest.raises(RefusedError, match="cannot be sealed"):
        seal(draft.pdf, key=key)


def test_a_final_report_says_nothing_of_a_draft(final: Rendered) -> None:
    assert "draft" not in text(final.pdf).lower()
    assert "draft" not in final.html.decode().lower()


def test_the_field_of_the_seal_is_tagged_invisible_and_printable(final: Rendered) -> None:
    with pikepdf.open(BytesIO(final.pdf)) as document:
        (field,) = document.Root.AcroForm.Fields
        assert list(field.Rect) == [0, 0, 0, 0]
        assert int(field.F) & 4
        assert not int(field.F) & 2
        assert str(field.TU) == "Seal of report TM-2026-0107"
        tree = document.Root.StructTreeRoot.ParentTree
        numbers = list(tree.Nums)
        filed = numbers[numbers.index(field.StructParent) + 1]
        assert filed.S == "/Form"
        assert filed.K.Obj.T == "Seal"
    assert "/AcroForm" not in pikepdf.open(BytesIO(render(record(), FILES).pdf)).Root


def test_signature_strokes_are_lines_not_pixels(final: Rendered) -> None:
    with pikepdf.open(BytesIO(final.pdf)) as document:
        images = [item for item in document.objects if _is_image(item)]
        assert len(images) == 4  # the photos alone


def _is_image(item: object) -> bool:
    return isinstance(item, pikepdf.Stream) and item.get("/Subtype") == "/Image" and "/SMask" not in item


def test_links_go_to_https_and_mail_alone() -> None:
    contact = (
        "https://health.tamarind.example/a, mailto:x javascript:alert(1) http://plain.example "
        "file:///etc/passwd food@tamarind.example data:text/html,x"
    )
    department = record().department.model_copy(update={"contact": contact})
    rendered = render(record(department=department), FILES)
    with pikepdf.open(BytesIO(rendered.pdf)) as document:
        links = {
            str(item.A.URI) for page in document.pages for item in page.get("/Annots", []) if "/A" in item
        }
    assert links == {"https://health.tamarind.example/a", "mailto:food@tamarind.example"}
    assert set(re.findall(r'href="([^"]*)"', rendered.html.decode())) == links


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"verdict": "violates", "margin": 7.5}, "Out of the limit by 7.5 °F"),
        ({"verdict": "meets", "margin": -2.0}, "Within the limit by 2 °F"),
        ({"verdict": "borderline", "margin": 0.30000000000000004}, "Borderline to the limit, 0.3 °F from it"),
        ({"verdict": "meets", "margin": 0.0}, "Within the limit, exactly at it"),
        ({"verdict": "undetermined", "margin": None}, "Not decided"),
        ({"verdict": "none", "limit": None}, "No limit applies"),
    ],
)
def test_a_reading_says_its_result_with_the_margin(facts: dict, words: str) -> None:
    page = render(record(readings=(reading("r1", 48.5, **facts),)), FILES).html.decode()
    assert f"<td>{words}</td>" in page


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"item": "ham"}, "Ham"),
        ({"item": None, "agent": "quat"}, "Quat"),
        ({"item": "bucket", "agent": "hot_water"}, "Bucket, hot water"),
        ({"item": None}, "Not recorded"),
    ],
)
def test_a_reading_says_of_what_it_is(facts: dict, words: str) -> None:
    page = render(record(readings=(reading("r1", 100, **facts),)), FILES).html.decode()
    assert f'<th scope="row">{words}</th><td>100' in page


def test_a_photo_that_is_missing_is_named() -> None:
    with pytest.raises(InputError, match="its file is missing"):
        render(record(), {name: content for name, content in FILES.items() if name != sha(3)})


def with_place() -> bytes:
    out = BytesIO()
    picture = Image.open(BytesIO(photo(1)))
    exif = Image.Exif()
    exif.get_ifd(0x8825).update({1: "N", 2: (41.0, 52.0, 0.0), 3: "W", 4: (87.0, 37.0, 0.0)})
    picture.save(out, "JPEG", exif=exif)
    return out.getvalue()


def too_large() -> bytes:
    out = BytesIO()
    Image.new("RGB", (2 * LONGEST_PX, 10)).save(out, "JPEG")
    return out.getvalue()


@pytest.mark.parametrize("content", [with_place(), too_large(), b"", b"<svg/>", b"\xff\xd8 cut off"])
def test_a_copy_that_must_not_leave_is_refused(content: bytes) -> None:
    with pytest.raises(InputError, match="make it again"):
        render(record(), {**FILES, sha(2): content})


def test_an_original_with_a_place_leaves_without_it(tmp_path: Path) -> None:
    original = tmp_path / "original.jpg"
    original.write_bytes(with_place())
    rendered = render(record(), {**FILES, sha(1): original})
    for needle in (b"Exif", b"GPS"):
        assert needle not in rendered.pdf
        assert needle not in rendered.html
    assert b"Exif" in original.read_bytes()


def test_a_time_of_the_visit_with_another_offset_says_its_own() -> None:
    there = at("10:42").astimezone(timezone(timedelta(hours=-6)))  # a device in another zone
    later = datetime(2026, 11, 25, 9, 0, tzinfo=timezone(timedelta(hours=-6)))  # the same place in winter
    cited = (violation(when=there, correct_by=later),)
    page = render(record(violations=cited), FILES).html.decode()
    assert "9:42 AM (UTC−06:00)" in page
    assert "<td>10:31 AM to 11:58 AM</td>" in page
    assert "<td>Wednesday, November 25, 2026, 9:00 AM</td>" in page
    assert "Times are local to the place of the visit, UTC−05:00 on that day." in page


USUAL = {"correction": None, "usual_correction": "repair it"}
CORRECTIONS = [
    ({"correction": "call the repair company"}, "Correction", "Call the repair company."),
    (USUAL, "Usual correction", "Repair it."),
    ({"correction": None}, "Correction", "Not recorded"),
    ({**USUAL, "corrected_on_site": True}, "Corrected on site", "Not recorded"),
    ({"correction": "he repaired it", "corrected_on_site": True}, "Corrected on site", "He repaired it."),
]


@pytest.mark.parametrize(("facts", "label", "words"), CORRECTIONS)
def test_what_was_decided_about_a_correction_is_told_apart_from_the_usual(facts, label, words) -> None:
    page = render(record(violations=(violation(**facts),)), FILES).html.decode()
    assert f'<th scope="row">{label}</th><td>{words}</td>' in page


def test_a_reason_that_is_the_provision_s_own_stands_once() -> None:
    page = render(
        record(violations=(violation(why="Hands matter.", reason="hands matter"),)), FILES
    ).html.decode()
    assert page.count("Hands matter.") == 1
    assert "Why cited" not in page


def test_a_record_with_nothing_in_it_says_what_is_not_recorded() -> None:
    from review_api.record import Department, Establishment, Record, Visit

    bare = Record(
        number="TM-1", draft=True, made=at("12:00"), rules="food_code_2022", rules_title="Model code",
        department=Department(name="Tamarind County"), establishment=Establishment(), visit=Visit(),
    )  # fmt: skip
    words = text(render(bare, {}).pdf)
    assert "Establishment not named" in words
    assert words.count("Not recorded") == 8
    assert "No violation is confirmed so far." in words, "a draft does not say that there is nothing to cite"
    whole = bare.model_copy(update={"draft": False})
    assert "No violation was cited on this visit." in render(whole, {}).html.decode()


MANY = (
    "3-501.16(A)(2)",
    "2-301.14",
    "3-302.11(A)(1)",
    "4-501.114",
    "6-501.111",
    "5-205.11",
    "3-501.17",
    "4-601.11(A)",
    "7-102.11",
    "3-403.11(A)",
    "3-501.15",
    "6-301.12",
    "3-305.11",
    "4-204.112",
)


@pytest.mark.parametrize("count", [1, 6, 7, 12])
def test_the_courtesy_copy_of_up_to_twelve_violations_is_one_page(count: int) -> None:
    cited = tuple(violation(f"f{at}", provision=section) for at, section in enumerate(MANY[:count]))
    with pikepdf.open(BytesIO(courtesy_pdf(record(violations=cited)))) as document:
        assert len(document.pages) == 1


def test_the_courtesy_copy_says_what_it_is_and_translates_no_one_s_words() -> None:
    words = joined(text(courtesy_pdf(record(draft=False))))
    assert "Traducción de cortesía" in words
    assert "Una persona debe revisarla" in words
    assert "El alimento frío se mantenía por encima de su límite." in words
    assert "turkey" not in words
