"""What the second reader learns from: marked sayings and walks, cut into word pieces, with their labels.

Wording: common practice, no source; sections: FDA Food Code 2022.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from extract.second_reader.labels import (
    MEANT,
    NO_VIOLATION,
    NOT_MEASURED,
    NOT_PUT_RIGHT,
    STAGES,
    TOLD,
    UNKNOWN,
)
from extract.second_reader.marked import Mark, Said, Told, files, walks
from extract.second_reader.pieces import MOST, Pieces, around, pieces, tokenizer
from extract.teaching import examples
from extract.teaching.garbling import misprinted
from extract.teaching.sayings import sayings
from extract.teaching.sounds import Sounds
from extract.words.text import Span
from shared.errors import InputError
from tests.extract.said import rules

SOURCE = "# Source: our own\n"


def written(folder: Path, text: str) -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / "own.txt"
    path.write_text(SOURCE + text, encoding="utf-8")
    return path


def known(section: str) -> bool:
    """Whether the rules have it, or paragraphs of it."""
    return rules().provision(section) is not None or any(
        one.startswith(f"{section}(") for one in rules().provisions
    )


def test_a_saying_is_its_words_and_the_marks_of_its_figures(tmp_path: Path) -> None:
    path = written(
        tmp_path / "figures_said",
        "Ham {39:r|cold_holding|Ham}, limit {41:l}.\n# a remark\nI get {128 degrees:r|hot_holding|-}.\n",
    )
    assert walks(path) == [
        [
            Said(
                "Ham 39, limit 41.",
                (Mark((4, 6), "r", "cold_holding", "Ham"), Mark((14, 16), "l", None, None)),
                None,
            )
        ],
        [Said("I get 128 degrees.", (Mark((6, 17), "r", "hot_holding", None),), None)],
    ]


def test_in_walks_violations_are_marked_too_and_items_named_elsewhere(tmp_path: Path) -> None:
    """No soap is 6-301.11, food held hot under 135 °F is 3-501.16 (FDA Food Code 2022)."""
    path = written(
        tmp_path / "walks",
        "# diner\n"
        "Soup {121:r|hot_holding|Soup}. [No soap at sink {2:n}:6-301.11|y], he refilled it.\n"
        "It is back at {171:r|reheating|^Soup}.\n"
        "\n"
        "# bar\n"
        "All fine.\n",
    )
    first, second = walks(path)
    soup, again = first
    assert soup.text == "Soup 121. No soap at sink 2, he refilled it."
    assert soup.told == (Told((10, 27), "6-301.11", True),)
    assert [soup.text[slice(*mark.span)] for mark in soup.marks] == ["121", "2"]
    assert again.marks == (Mark((14, 17), "r", "reheating", "Soup", True),)
    assert second == [Said("All fine.", (), ())]


def test_a_mark_may_name_the_place_and_words_may_be_marked_as_misheard(tmp_path: Path) -> None:
    path = written(
        tmp_path / "walks",
        "Walk-in. The <a clairs=eclairs> {58:r|cold_holding|a clairs@Walk-in|n}, {38:r|cold_holding|-@-}.\n"
        "[No soap at the <hand think=hand sink>:6-301.11|n], <quot=?> {200:r|sanitizer|-}.\n",
    )
    (first, second) = walks(path)[0]
    assert first.text == "Walk-in. The a clairs 58, 38."
    assert [mark.place for mark in first.marks] == ["Walk-in", ""]
    assert [first.text[slice(*span)] for span in first.misheard] == ["a clairs"]
    assert second.marks[0].place is None
    assert second.text == "No soap at the hand think, quot 200."
    assert [second.text[slice(*span)] for span in second.misheard] == ["hand think", "quot"]
    assert [second.text[slice(*each.span)] for each in second.told or ()] == ["No soap at the hand think"]


@pytest.mark.parametrize(
    ("folder", "line", "why"),
    [
        ("figures_said", "Ham {39:r}.", "is no mark"),
        ("figures_said", "Ham {39:r|warm|ham}.", "is no mark"),
        ("figures_said", "Limit {41:l|cold_holding|ham}.", "is no mark"),
        ("figures_said", "Ham {39:x}.", "is no mark"),
        ("walks", "Ham {47:r|cold_holding|ham|x}.", "brace"),
        ("figures_said", "Ham {39.", "brace"),
        ("figures_said", "[No soap:6-301.11|n].", "bracket"),
        ("walks", "[No soap:6-301.11].", "bracket"),
        ("walks", "[No soap:6-301.11|x].", "bracket"),
        ("walks", "[No soap:soap|n].", "bracket"),
        ("walks", "The <a clairs> are out.", "bracket"),
    ],
)
def test_a_wrong_mark_is_told_with_file_and_line(tmp_path: Path, folder: str, line: str, why: str) -> None:
    path = written(tmp_path / folder, f"Slaw {{38:r|cold_holding|slaw}}.\n{line}\n")
    with pytest.raises(InputError, match=f"own.txt, line 3: .*{why}"):
        walks(path)


@pytest.mark.parametrize("path", files(), ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_every_file_names_its_source_and_marks_words_of_its_text(path: Path) -> None:
    assert path.read_text(encoding="utf-8").startswith("# Source: ")
    said = [one for walk in walks(path) for one in walk]
    assert any(one.marks for one in said)
    for one in said:
        for mark in (*one.marks, *(one.told or ())):
            words = one.text[slice(*mark.span)]
            assert words and words == words.strip(), one.text


def test_every_section_in_brackets_is_one_that_the_rules_know() -> None:
    told = {
        each.section for path in files() for walk in walks(path) for one in walk for each in one.told or ()
    }
    assert {section for section in told if not known(section)} == set()


def shown(cut: Pieces) -> str:
    """The pieces; `<` is the mark before a sentence, `=` the one before a figure."""
    name = {at: piece for piece, at in tokenizer()[1].items()} | {1: "=", 2: "<"}
    return " ".join(name[at] for at in cut.ids)


def test_words_are_cut_as_the_encoder_was_taught() -> None:
    """Outside check: a tokenized sentence in McCormick and Ryan, `BERT Word Embeddings Tutorial` (2019), and
    the numbers of one in the Hugging Face course, chapter 2; both of the vocabulary of BERT, uncased."""
    embeddings = pieces("Here is the sentence I want embeddings for.", (), (), ())
    assert shown(embeddings) == "[CLS] here is the sentence i want em ##bed ##ding ##s for . [SEP]"
    course = pieces("I've been waiting for a HuggingFace course my whole life.", (), (), ())
    assert course.ids == [
        101, 1045, 1005, 2310, 2042, 3403, 2005, 1037, 17662, 12172, 2607, 2026, 2878, 2166, 1012, 102
    ]  # fmt: skip


def test_a_mark_stands_before_each_sentence_and_each_figure() -> None:
    cut = pieces("Ham 39. 151 for the rice.", (), [(4, 6), (8, 11)], [(0, 7), (8, 25)])
    assert shown(cut) == "[CLS] < ham = 39 . < = 151 for the rice . [SEP]"
    assert (cut.figures, cut.sentences) == ([3, 7], [1, 6])


def test_a_figure_of_several_words_has_one_mark() -> None:
    cut = pieces("Ham thirty nine", (), [(4, 15)], [(0, 15)])
    assert shown(cut) == "[CLS] < ham = thirty nine [SEP]"


def test_the_two_utterances_before_are_given_with_it() -> None:
    cut = pieces("Ham 39.", ("Dock.", "Walk-in.", "Rice."), [(4, 6)], [(0, 7)])
    assert shown(cut) == "[CLS] walk - in . [SEP] rice . [SEP] < ham = 39 . [SEP]"
    assert cut.types == [0] * 9 + [1] * 6
    assert cut.figures == [11]


def test_of_a_long_utterance_before_the_end_is_given() -> None:
    cut = pieces("Ham.", ("soup " * 60 + "rice",), (), ())
    kept = [piece.span for piece in cut.stands if piece is not None and piece.back == 1]
    assert 10 < len(kept) < 61
    assert kept == [(5 * n, 5 * n + 4) for n in range(61)][-len(kept) :]
    assert shown(cut) == f"[CLS] {'soup ' * (len(kept) - 1)}rice [SEP] ham . [SEP]"


def test_what_is_too_long_is_cut_off() -> None:
    text = "soup 150. " * 100
    figures: list[Span] = [(10 * n + 5, 10 * n + 8) for n in range(100)]
    cut = pieces(text, (), figures, [(10 * n, 10 * n + 9) for n in range(100)])
    assert len(cut.ids) == len(cut.types) == len(cut.stands) == MOST
    assert shown(cut).endswith(" [SEP]")
    last = next(n for n, at in enumerate(cut.figures) if at is None)
    assert 0 < last < 100
    assert all(at is not None for at in cut.figures[:last])
    assert set(cut.figures[last:]) == set(cut.sentences[last + 1 :]) == {None}


def test_pieces_point_at_the_words_that_they_are_of() -> None:
    before, text = "Crème brûlée in the cooler.", "Ham 39, gnocchi 141."
    cut = pieces(text, (before,), [(4, 6), (16, 19)], [(0, 20)])
    words = [
        (piece.back, (text, before)[piece.back][slice(*piece.span)])
        for piece in cut.stands
        if piece is not None
    ]
    assert words[:2] == [(1, "Cr"), (1, "ème")]
    assert "".join(word for back, word in words if back == 1) == before.replace(" ", "")
    assert "".join(word for back, word in words if back == 0) == text.replace(" ", "")


WALK = (
    "# diner\n"
    "Soup {121:r|hot_holding|Soup|y}, wants {135:l}. [No soap at the sink:6-301.11|n]. He is {40:o}.\n"
    "Back on, {171:r|reheating|^Soup}, then {38:r|cold_holding|-}.\n"
)
SOUNDS = """# what of the CMU Pronouncing Dictionary (BSD licence) a few words sound like
leeks L IY1 K S
leaks L IY1 K S
weeks W IY1 K S
sink S IH1 NG K
zinc Z IH1 NG K
"""
SAYINGS = (
    "foreseen,meant,section,also,said\n"
    "no,violation,6-501.111,,Roach under the fryer.\n"
    "no,put right,,,He swept it up.\n"
    "no,neither,,,He only shrugged.\n"
)


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[list[str], list[dict[str, Any]]]:
    """Sections and examples of a small walk, a figure saying and a few sayings of our own."""
    written(tmp_path / "walks", WALK)
    written(tmp_path / "figures_said", "Ham {39:r|cold_holding|Ham}.\n")
    (tmp_path / "sayings").mkdir()
    (tmp_path / "sayings" / "own.csv").write_text(SAYINGS, encoding="utf-8")
    monkeypatch.setattr("extract.second_reader.marked.WALKS", tmp_path / "walks")
    monkeypatch.setattr("extract.second_reader.marked.FIGURES_SAID", tmp_path / "figures_said")
    monkeypatch.setattr(examples, "sayings", lambda: sayings(tmp_path / "sayings"))
    out, sounds = tmp_path / "examples.jsonl", tmp_path / "sounds"
    sounds.write_text(SOUNDS, encoding="utf-8")
    monkeypatch.setattr(examples, "known_misprints", dict)
    monkeypatch.setattr("sys.argv", ["examples", str(out), str(sounds)])
    assert examples.main() == 0
    labels, *made = map(json.loads, out.read_text(encoding="utf-8").splitlines())
    assert (labels["meant"], labels["stages"], labels["told"]) == (list(MEANT), list(STAGES), list(TOLD))
    return labels["sections"], made


@pytest.fixture
def printed(own: tuple[list[str], list[dict[str, Any]]]) -> tuple[list[str], list[dict[str, Any]]]:
    """The same without the misprinted copies."""
    sections, made = own
    return sections, [one for one in made if "copy" not in one]


def words_of(one: dict[str, Any], first: int, last: int) -> str:
    name = {at: piece for piece, at in tokenizer()[1].items()}
    return " ".join(name[at] for at in one["ids"][first : last + 1])


def test_a_figure_is_labelled_with_what_it_is_for_its_stage_its_item_and_whether_it_violates(
    printed: tuple[list[str], list[dict[str, Any]]],
) -> None:
    _, made = printed
    walk = [one for one in made if one["source"] == "own"]
    told = [
        (
            words_of(one, at + 1, at + 1),
            MEANT[meant] if meant >= 0 else meant,
            STAGES[stage] if stage >= 0 else stage,
            words_of(one, first, last) if first > 0 else first,
            violates,
        )
        for one in walk
        for at, meant, stage, first, last, violates, *_ in one["figures"]
    ]
    assert told == [
        ("39", "r", "cold_holding", "ham", UNKNOWN),  # violations are not marked there
        ("121", "r", "hot_holding", "soup", 1),
        ("135", "l", UNKNOWN, UNKNOWN, UNKNOWN),
        ("40", NOT_MEASURED, UNKNOWN, UNKNOWN, UNKNOWN),
        ("171", "r", "reheating", "soup", 0),  # of the utterance before
        ("38", "r", "cold_holding", 0, 0),  # no words name it
    ]
    back = walk[2]
    assert back["types"][back["figures"][0][3]] == 0


def test_a_sentence_is_labelled_with_what_it_tells_and_its_section(
    printed: tuple[list[str], list[dict[str, Any]]],
) -> None:
    sections, made = printed
    assert sections == ["6-301.11", "6-501.111"]
    figures_said, soup, back, *said = [one for one in made if not one["violations"]]
    assert figures_said["sentences"] == []  # violations are not marked there
    assert [each[1:] for each in soup["sentences"]] == [
        [NO_VIOLATION, UNKNOWN],
        [TOLD.index("violation"), 0],
        [NO_VIOLATION, UNKNOWN],
    ]
    assert [each[1:] for each in back["sentences"]] == [[NO_VIOLATION, UNKNOWN]]
    assert [each[1:] for one in said[:3] for each in one["sentences"]] == [
        [TOLD.index("violation"), 1],
        [TOLD.index("put right"), UNKNOWN],
        [NOT_PUT_RIGHT, UNKNOWN],
    ]
    joined = said[3:]
    assert [len(one["sentences"]) for one in joined] == [2]  # two of them, as they stand together in talk


def test_a_violation_is_labelled_with_whether_it_was_put_right_as_said_and_with_what_follows_told_later(
    own: tuple[list[str], list[dict[str, Any]]],
) -> None:
    _, made = own
    told = [one for one in made if one["violations"]]
    assert {len(one["figures"]) + len(one["sentences"]) for one in told} == {0}
    assert [one["violations"][0][2] for one in told] == [0, 0, 1, 1]  # told in words, and shown by a figure
    as_said, later, *_ = told
    begins, ends, _ = as_said["violations"][0]
    assert words_of(as_said, begins + 1, ends - 1) == "no soap at the sink"
    assert {as_said["types"][begins], as_said["types"][ends]} == {1}
    assert later["types"][-1] == 0  # an utterance of its own


def test_what_stands_around_a_violation_is_cut_to_fit() -> None:
    """The utterance before it by its end, its own around it, and those after it as far as they fit."""
    said, before, after = "One two. No soap here. Three.", ["far", "near"], ["he filled it", "x " * MOST]
    cut = around(said, (9, 16), before, after)
    name = {at: piece for piece, at in tokenizer()[1].items()}
    own = "one two . [unused2] no soap [unused3] here . three ."
    assert " ".join(name[at] for at in cut.ids[:20]) == f"[CLS] near [SEP] {own} [SEP] he filled it [SEP] x"
    assert (cut.begins, cut.ends, len(cut.ids), len(cut.types)) == (6, 9, MOST, MOST)
    assert cut.types[3:15] == [1] * 12 and set(cut.types[15:]) == {0} and set(cut.types[:3]) == {0}


def test_walks_are_told_from_sayings_by_what_is_marked(
    own: tuple[list[str], list[dict[str, Any]]],
) -> None:
    (_, saying), (_, walk) = examples.marked_walks()
    assert [one.text for one in saying] == ["Ham 39."]
    assert [one.before for one in walk] == [(), (walk[0].text,)]


def test_what_sounds_alike_is_found_the_likeliest_first(tmp_path: Path) -> None:
    """Outside check: pronunciations of the CMU Pronouncing Dictionary."""
    (tmp_path / "sounds").write_text(SOUNDS, encoding="utf-8")
    sounds = Sounds(tmp_path / "sounds")
    assert [printed for printed, _ in sounds.like("leeks")] == ["leaks", "weeks"]
    assert dict(sounds.like("leeks"))["leaks"] == 0
    assert sounds.like("soppressata") == []  # it does not know how that sounds


def test_a_walk_is_misprinted_alike_wherever_a_word_stands_and_keeps_its_marks(tmp_path: Path) -> None:
    path = written(
        tmp_path / "walks",
        "Leeks {47:r|cold_holding|Leeks@bin of leeks|y} in the bin of leeks. [The leeks drip:3-302.11|n].\n"
        "All leeks out, {39:r|cold_holding|^leeks}.\n",
    )
    first, second = (misprinted(said, "leeks", "leaks") for said in walks(path)[0])
    assert first.text == "Leaks 47 in the bin of leaks. The leaks drip."
    assert [first.text[slice(*span)] for span in first.misheard] == ["Leaks", "leaks", "leaks"]
    (mark,), (told,) = first.marks, first.told or ()
    assert (first.text[slice(*mark.span)], mark.item, mark.place) == ("47", "leaks", "bin of leaks")
    assert first.text[slice(*told.span)] == "The leaks drip"
    assert (second.marks[0].item, second.text[slice(*second.marks[0].span)]) == ("leaks", "39")


def test_misprinted_copies_of_the_walks_tell_which_words_are_printed_for_others(
    own: tuple[list[str], list[dict[str, Any]]],
) -> None:
    _, made = own
    copies = [one for one in made if "copy" in one]
    assert {words_of(one, *span) for one in copies for span in one["misheard"]} == {"zinc"}
    assert all(one["misheard"] in ([], None) for one in made if "copy" not in one)
    soup = next(one for one in copies if one["misheard"])
    assert soup["figures"] == made[1]["figures"]  # what was said of the figures stays


def test_the_place_of_a_figure_is_labelled_where_it_is_marked(tmp_path: Path) -> None:
    written(tmp_path / "walks", "Walk-in. Ham {39:r|cold_holding|Ham@Walk-in}, {41:r|cold_holding|-@-}.\n")
    (said,) = walks(tmp_path / "walks" / "own.txt")[0]
    made = examples._numbers(examples._example("own", said, (), judged=True), {}, 1)
    (ham, none) = made["figures"]
    assert words_of(made, *ham[6:8]) == "walk - in"
    assert none[6:8] == (0, 0)
