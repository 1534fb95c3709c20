"""The conditions that an utterance describes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extract.conditions.catalogue import Catalogue, load_catalogue
from extract.conditions.choosing import chosen
from extract.conditions.content import (
    LONGEST_HEADING,
    STOP,
    Content,
    content,
    headings,
    is_heading,
    under_headings,
)
from extract.conditions.matching import Match, matches, sentence
from extract.conditions.model import Condition, Span
from extract.conditions.nodes import Scene
from extract.conditions.polarity import Meaning, meaning
from extract.words.text import Token, tokens, word_set, words_of
from shared.rules.model import Rules

NOT_AS_IT_SHOULD_BE = 0.55
"""How sure it is that "not" before words of good order names this row's violation: only enough to ask."""
_EXCEPTED = {True: 0.65, False: 0.55}
"""The same of an exception from good order (`all dated except the ham`) and from what is not there
(`no droppings except by the door`): the one is proposed, the other asked about."""
_LONGEST = 20_000
"""Characters of one utterance that are looked at; a longer line is no speech."""


def find_conditions(
    text: str,
    *,
    catalogue: Catalogue | None = None,
    rules: Rules | None = None,
    line: Sequence[Token] | None = None,
    read: Content | None = None,
    before: str = "",
) -> tuple[Condition, ...]:
    """The conditions that `text` describes, in its order, each with its section and how it is meant.

    `catalogue`: else the one that ships. `rules`: gives the form items; else they are None. `line`: the
    tokens of `text`, and `read` their content, where the caller has them. `before`: the utterance before
    it, looked at where it only names what this one is about ("Hand sink in the bakery.").
    """
    if catalogue is None:
        catalogue = load_catalogue()
    if before and len(before) < LONGEST_HEADING and is_heading([token.low for token in tokens(before)]):
        return _under(before, text, catalogue, rules)
    if line is None:
        line = tokens(text[:_LONGEST])
    read = read if read is not None else content(line)
    scene = catalogue.vocabulary.scene(read)
    found = matches(scene)
    if STOP in read.stems[:-1] and (ended := headings(line, read)):
        scene = replace(scene, content=under_headings(read, ended))
        found += _said_under(scene, matches(scene), ended, found)
    if not found:
        return ()
    asked = any(token.low == "?" for token in line)
    meanings = {}
    meant = []
    for match in found:
        how = meaning(scene, match, catalogue.context, asked and _is_question(line, read, match))
        if how.excepted:
            sure = match.confidence * _EXCEPTED[match.in_order]
            match = match._replace(confidence=round(sure, 3), in_order=False)
        elif match.in_order and how.polarity == "violation":
            match = match._replace(confidence=round(match.confidence * NOT_AS_IT_SHOULD_BE, 3))
        elif how.polarity == "compliance" and not match.in_order:
            match = match._replace(in_order=True)
        meanings[id(match)] = how
        meant.append(match)
    return tuple(
        _condition(text, read, match, lost, meanings[id(match)], rules)
        for match, lost in chosen(scene, meant)
    )


def _under(heading: str, text: str, catalogue: Catalogue, rules: Rules | None) -> tuple[Condition, ...]:
    """The conditions of `text`, read as what is said under the heading of the utterance before it."""
    joined = f"{heading.rstrip(' .')}. {text}"
    shift = len(joined) - len(text)
    own = []
    for one in find_conditions(joined, catalogue=catalogue, rules=rules):
        pieces = tuple((a - shift, b - shift) for a, b in one.pieces if a >= shift)
        if pieces:
            item = one.item_span
            item = (item[0] - shift, item[1] - shift) if item is not None and item[0] >= shift else None
            span = (pieces[0][0], max(end for _, end in pieces))
            own.append(replace(one, span=span, pieces=pieces, item_span=item))
    return tuple(own)


def _said_under(
    scene: Scene, joined: Sequence[Match], ended: Sequence[int], alone: Sequence[Match]
) -> list[Match]:
    """Of the matches that reach over a heading's end, those whose sentence says nothing by itself."""
    reaching = []
    for match in joined:
        stop = next((at for at in ended if match.first < at < match.last), None)
        if stop is None:
            continue
        first, last = sentence(scene, stop + 1)
        if not any(first <= other.first < last for other in alone):
            reaching.append(match)
    return reaching


def _is_question(line: Sequence[Token], read: Content, match: Match) -> bool:
    end = read.ends[match.last - 1]
    for token in line:
        if token.start >= end and token.low in ".!?;\n":
            return token.low == "?" and not _answered(line, token)
    return False


_YES = word_set("yes yep yeah yup")


def _answered(line: Sequence[Token], mark: Token) -> bool:
    """Whether a "yes" follows: `moldy cheese, discarded? yes`."""
    return any(token.low in _YES for token in line if token.start >= mark.end and token.start - mark.end <= 1)


def _condition(
    text: str,
    read: Content,
    match: Match,
    lost: tuple[str, ...],
    how: Meaning,
    rules: Rules | None,
) -> Condition:
    provision = rules.provision(match.row.section) if rules is not None else None
    item_span = _span(read, match.item) if match.item is not None else None
    if item_span is not None and (
        not words_of(text[slice(*item_span)]) or text[slice(*item_span)].lower().endswith((" of", " the"))
    ):
        item_span = None  # no thing: the `of` of `hair down on the pair of them`
    return Condition(
        section=match.row.section,
        span=_span(read, (match.first, match.last)),
        polarity=how.polarity,
        confidence=match.confidence,
        runners_up=lost,
        form_item=provision.form_item if provision is not None else None,
        item=text[slice(*item_span)] if item_span is not None else None,
        item_span=item_span,
        rule=f"{match.row.name}: {match.pattern.text}",
        questions=match.row.questions if how.polarity == "violation" else (),
        says=match.row.says,
        pieces=tuple(_span(read, taken) for taken in match.ranges),
        repeated=how.repeated,
        plain=how.polarity == "violation" and (match.row.plain or how.excepted),
    )


def _span(read: Content, taken: tuple[int, int]) -> Span:
    return read.starts[taken[0]], read.ends[taken[1] - 1]
