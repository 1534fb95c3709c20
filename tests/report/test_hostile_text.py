"""Hostile text is text in every format: no markup, script, trick or emoji gets further than the page."""

from __future__ import annotations

import json
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from review_api.record import DecidedPhoto, Establishment, Record
from review_api.report import Rendered, render
from review_api.report.export import from_json
from review_api.report.text import clean, linked, printable, sentence
from review_api.report.typeface import covered
from shared.errors import InputError
from tests.report.samples import at, photo_files, reading, record, sha, violation

FILES = photo_files()
HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }} {% raw %} ${x} #{x} {0}",
    '#import "@preview/x:0.1.0" #read("/etc/passwd") *bold* _it_ $x$ `raw` = head <label> @ref \\',
    "‮desrever si siht‬ ⁦isolate⁩ ‏mark",
    "zero\u200bwidth \ufeff soft\u00adhyphen \u2028line\u2029paragraph",
    "control \x00\x01\x1b[31m red\x7f\x9b",
    "emoji 🍜👩‍🍳🏴󠁧󠁢󠁥󠁮󠁧󠁿 and 名前 اسم שם ชื่อ",
    "combining Z̸̗͈̀ą́l̈g̃ȯ",
    "tab\tand\r\nlines\rmore\n\n\nend",
    "x" * 10_000,
    "word " * 2_000,
    "\ud800 lone surrogate",
    "&amp; &#x3c; %3Cscript%3E",
    "]]> --> */ </style> </title>",
    "ﬁ ligature ½ ≤ ≥ ° ± − – — ‘’ “” … № ™",
]


TEXTS = ("title", "what", "where", "who", "why", "reason", "correction")


def everywhere(words: str) -> Record:
    """The sample with the same words in every field that takes text."""
    return record(
        establishment=Establishment(name=words, address=words, permit=words),
        violations=(
            violation(**dict.fromkeys(TEXTS, words), evidence=(words,), photos=(sha(1),)),
            violation("f2", what=words, why=words, typed=True),
        ),
        readings=(reading("r1", 48.5, item=words, place=words, said=words, limit=words),),
        photos=(DecidedPhoto(sha256=sha(1), caption=words, alternative_text=words, taken=at("10:41")),),
        education=(words,),
        remarks=(words,),
        left_open=(words,),
    )  # fmt: skip


class Tags(HTMLParser):
    """The tags and attributes of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes.update(name for name, _ in attrs)


def shape(rendered: Rendered) -> tuple[set[str], set[str]]:
    parser = Tags()
    parser.feed(rendered.html.decode())
    return parser.tags, parser.attributes


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_it_renders_and_stays_text(words: str) -> None:
    whole = everywhere(words)
    rendered = render(whole, FILES)
    plain = shape(render(everywhere("plain words"), FILES))
    assert shape(rendered) == plain
    assert from_json(rendered.json, Record, name="report.json") == whole
    assert rendered.pdf.startswith(b"%PDF-1.7")
    html = rendered.html.decode()
    assert not any(sign in html for sign in "\u202e\u2066\u2069\u200f\x00\x1b")
    assert "\\u202e" in rendered.json.decode() or "\u202e" not in words


def test_markup_is_shown_as_it_was_typed() -> None:
    html = render(everywhere("<b>&</b>"), FILES).html.decode()
    assert "&lt;b&gt;&amp;&lt;/b&gt;" in html


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("41 °F ≤ ½ ± ñ Å", "41 °F ≤ ½ ± ñ Å"),
        ("中文 noodles", "[U+4E2D U+6587] noodles"),
        ("🍜", "[U+1F35C]"),
        ("a\u202eb\u200bc\x07d", "abcd"),
        ("thin\u2009space", "thin space"),
        ("e\u0301", "é"),
        ("a\r\nb\tc", "a\nb c"),
        ("", ""),
    ],
)
def test_what_the_typeface_does_not_hold_is_replaced_visibly(text: str, shown: str) -> None:
    assert printable(text, covered=covered()) == shown


@given(st.text(max_size=200))
@settings(max_examples=200)
def test_printable_text_is_always_covered_and_cleaning_twice_changes_nothing(text: str) -> None:
    signs = covered() | {ord("\n"), 0x200B}  # the zero width space is where a long run may break
    assert all(ord(sign) in signs for sign in printable(text, covered=covered()))
    assert clean(clean(text)) == clean(text)


@given(st.text(st.characters(categories=["L", "N", "P", "S", "Zs", "Cf", "Cc"]), max_size=60))
@settings(max_examples=15, deadline=None)
def test_any_text_renders(words: str) -> None:
    small = record(
        violations=(violation(what=words, where=words),), photos=(), figures=(), marks=(), readings=()
    )
    assert render(small, {}).pdf.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("text", "links"),
    [
        ("see https://a.example/x?y=1.", ["https://a.example/x?y=1"]),
        ("(https://a.example)", ["https://a.example"]),
        ("mail a.b@c.example, or call", ["mailto:a.b@c.example"]),
        ("javascript:alert(1) http://a.example ftp://x data:text/html,1 //x.example", []),
        ("https://", []),
        ("https://a.example/<script>", ["https://a.example/"]),
    ],
)
def test_only_web_and_mail_addresses_become_links(text: str, links: list[str]) -> None:
    runs = linked(text)
    assert [run.link for run in runs if run.link] == links
    assert "".join(run.text for run in runs) == text


@pytest.mark.parametrize(
    ("words", "result"),
    [
        ("dirty floor", "Dirty floor."),
        ("Why?", "Why?"),
        ("  two\n lines ", "Two lines."),
        ("", ""),
        ("41 °F", "41 °F."),
    ],
)
def test_words_become_a_sentence(words: str, result: str) -> None:
    assert sentence(words) == result


@pytest.mark.parametrize(
    "content", [b"", b"{}", b"[1]", b"null", b'{"schema": "probeside/record/2"}', b"\xff", b"[" * 90_000]
)
def test_json_that_is_no_record_is_named(content: bytes) -> None:
    with pytest.raises(InputError, match=r"report\.json: not"):
        from_json(content, Record, name="report.json")


def test_json_keeps_the_trade_s_names() -> None:
    whole = json.loads(render(record(), FILES).json)
    assert whole["schema"] == "probeside/record/1"
    assert whole["violations"][0]["class"] == "P"
    assert not any(name.endswith("_") for name in whole)
