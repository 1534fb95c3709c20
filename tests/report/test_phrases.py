"""The phrase tables: every provision gives full sentences, whatever is known, and no place is left open."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from review_api.report.courtesy import courtesy
from review_api.report.phrases import Known, correct, described, observed, phrases, statement
from shared.errors import InputError
from shared.rules import load, names
from tests.report.samples import at, record, violation

SECTIONS = sorted(load("food_code_2022").provisions)
LANGUAGES = ["en", "es"]
FULL = Known(
    item="sliced turkey", where="walk-in cooler", when=at("10:42"), who="the cook", readings=("48.5 °F",),
    correct_by=at("17:00"),
)  # fmt: skip
OPEN_PLACE = re.compile(r"\{[a-z_]*\}|None|null")


def combinations() -> list[Known]:
    """Every combination of known and unknown facts, corrected or not, repeated or not."""
    facts = ("item", "where", "when", "who", "readings", "correct_by")
    empty = Known()
    return [
        replace(
            FULL,
            **{
                name: getattr(empty, name)
                for name, is_known in zip(facts, known, strict=True)
                if not is_known
            },
            corrected_on_site=corrected,
            repeat=repeat,
        )
        for *known, corrected, repeat in product((True, False), repeat=len(facts) + 2)
    ]


def assert_full_sentences(text: str) -> None:
    assert not OPEN_PLACE.search(text), text
    assert text == text.strip()
    assert "  " not in text
    assert ".." not in text
    assert " ." not in text
    for line in re.split(r"(?<=\.)\s+(?=[A-ZÁÉÍÓÚ])", text):
        assert line[0].isupper(), line
        assert line.endswith("."), line
        assert len(line.split()) > 1, line


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_phrase_states_a_figure(language: str) -> None:
    # A limit is the rules' own: another jurisdiction has another.
    tables = phrases(language)
    assert [
        text for text in (*tables.observed.values(), *tables.correct.values()) if re.search(r"\d", text)
    ] == []


@pytest.mark.parametrize("rules", [name for name in names() if name != "food_code_2022"])
def test_every_other_jurisdiction_s_provisions_have_words_too(rules: str) -> None:
    assert set(load(rules).provisions) <= set(phrases("en").observed)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_provision_has_its_own_words(language: str) -> None:
    tables = phrases(language)
    assert set(tables.observed) == set(SECTIONS)
    assert len(set(tables.observed.values())) == len(SECTIONS), "two sections say the same"
    if language != "en":
        assert set(tables.correct) == set(SECTIONS)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_provision_renders_with_every_combination_of_known_and_unknown_facts(language: str) -> None:
    for section in SECTIONS:
        for known in combinations():
            text = statement(section, known, language=language)
            assert_full_sentences(text)


COLD = "Cold food was held above its limit."
ONE = [
    (
        FULL,
        f"{COLD} Measured: 48.5 °F. It concerned: sliced turkey. This was the place: walk-in cooler. "
        "It was seen on Monday, May 4, 2026, 10:42 AM. These people were involved: the cook. "
        "It must be corrected by Monday, May 4, 2026, 5:00 PM.",
    ),
    (
        Known(),
        f"{COLD} The place was not recorded. The time was not recorded. "
        "No date for the correction has been set.",
    ),
    (
        Known(corrected_on_site=True, repeat=True),
        f"{COLD} The place was not recorded. The time was not recorded. "
        "It was cited before. It was corrected on site.",
    ),
]


@pytest.mark.parametrize(("known", "words"), ONE)
def test_the_sentences_of_one_violation(known: Known, words: str) -> None:
    assert statement("3-501.16(A)(2)", known) == words


def test_the_same_in_spanish() -> None:
    text = statement("3-501.16(A)(2)", Known(correct_by=at("17:00")), language="es")
    assert text == (
        "El alimento frío se mantenía por encima de su límite. No se registró el lugar. "
        "No se registró la hora. Debe corregirse a más tardar el lunes, 4 de mayo de 2026, 17:00."
    )


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"what": "turkey at 48.5 °F"}, "Turkey at 48.5 °F."),
        ({"what": "as typed - no stop", "typed": True}, "as typed - no stop"),
        (
            {"what": "", "typed": True, "where": None, "when": None},
            f"{COLD} Measured: 48.5 °F. The place was not",
        ),
        (
            {"what": " ", "where": "bar"},
            f"{COLD} Measured: 48.5 °F. This was the place: bar. It was seen on Monday",
        ),
    ],
)
def test_the_decided_words_stand_and_the_tables_speak_only_where_there_are_none(
    facts: dict, words: str
) -> None:
    assert described(violation(**facts), readings=("48.5 °F",)).startswith(words)


@pytest.mark.parametrize("section", ["9-999.99", "3-501.16(Z)(9)", "LOCAL-7"])
def test_a_section_without_a_phrase_says_that_it_was_not_met(section: str) -> None:
    for language in LANGUAGES:
        assert_full_sentences(statement(section, Known(), language=language))


def test_a_paragraph_without_its_own_phrase_takes_its_section_s() -> None:
    assert observed("6-501.111(A)") == observed("6-501.111")
    assert correct("6-501.111(A)", language="es") == correct("6-501.111", language="es")


@given(st.sampled_from(SECTIONS), st.text(max_size=40), st.text(max_size=40), st.sampled_from(LANGUAGES))
def test_facts_stay_what_they_are(section: str, item: str, where: str, language: str) -> None:
    text = statement(section, Known(item=item, where=where, when=at("10:42")), language=language)
    for fact in (item, where):
        assert " ".join(fact.split()).rstrip(".") in text


@pytest.mark.parametrize("hostile", ["{when}", "{observed} {observed}", "%s", "{{}}", "\\1", "{0.__class__}"])
def test_braces_within_a_fact_are_text(hostile: str) -> None:
    text = statement("6-501.12", Known(item=hostile, when=at("10:42")))
    assert f"It concerned: {hostile}." in text


@pytest.mark.parametrize("language", ["tlh", "", "../es", "."])
def test_an_unknown_language_says_which_there_are(language: str) -> None:
    with pytest.raises(InputError, match="there are: en, es"):
        phrases(language)


def test_no_courtesy_copy_is_made_in_the_report_s_own_language() -> None:
    with pytest.raises(InputError, match="the report itself is in this language"):
        courtesy(record(), language="en")
