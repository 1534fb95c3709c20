"""What was put right during the visit, told from what was promised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from extract.likeness import likeness
from extract.likeness.manner import ending_of, manner_of
from extract.measured.walk import sent_there
from extract.put_right.deeds import Action, Tables
from extract.put_right.deeds import tables as known_deeds
from extract.words.clauses import BREAKS, clause, clauses, way_first
from extract.words.lexicon import lexicon
from extract.words.line import NOUN, Line, prepare
from extract.words.people import caused, people
from extract.words.text import Span, Token, word_set


@dataclass(frozen=True, slots=True)
class Correction:
    """One thing that was done, where it was said and about what."""

    line: int
    span: Span
    text: str
    first: int
    """First token of its clause."""
    action: Action
    words: frozenset[str]
    """Stems of the clause, to find what it is about."""
    widely: bool
    """`both`, `all of it`, `everything`: all that was said just before."""
    pronoun: bool
    instead: bool
    """`it`, `them`: a pronoun stands for the thing itself, and not only for who did it."""
    things: frozenset[str] = frozenset()
    """Stems of the foods and things that it names, other than where they went."""
    sure: bool = True
    """Else it counts only for what it names."""
    plain: bool = True
    """Nothing else than something put right can be meant."""
    state: bool = False
    """It tells how a thing is: of one told wanting in an utterance before, that it was put right."""


_GREEDY = word_set("both all everything them those these")
_PRONOUNS = word_set("it that them both those these they 's one ones he she him her")
_MADE_DO = word_set("have had tell told ask asked make made get got watch sent let")
"""`had them wash it`: not the things, the staff."""
_WHERE_TO = word_set("to in into on onto with for from down up out off under over by at")
_OBJECTS = word_set("it them those these that both")


def corrections(line: Line) -> list[Correction]:
    """What the utterance says was done, in order. Promises and stopgaps are left out."""
    tables = known_deeds()
    tokens = line.tokens
    hits = [*tables.actions.find(tokens), *_sent(line, tables), *_went(line, tables)]
    found = _sounding_done(line, [first for first, _, _ in hits], tables)
    for first, last, actions in hits:
        if _of_a_name(line, first, last):
            continue
        begin, end = clause(line, first)
        if _so_still(line, begin, first, end):
            continue
        if tables.temporary.find(tokens, begin, end):
            continue
        confirmed = bool(tables.confirm.find(tokens, last, min(len(tokens), end + 8))) or caused(
            tokens, first
        )
        if not confirmed and _promised(line, begin, first, tables):
            continue
        if _negated(line, first, last) or _earlier(line, begin, end) or _asked(line, first):
            continue
        if any(token.low == "without" for token in tokens[last : min(len(tokens), last + 2)]):
            continue  # `put gloves on without washing`: the violation itself
        listed = _listed(line, end)
        so = _only_so(line, begin, (first, last), end)
        found += [
            replace(_made(line, begin, listed, action, listed=listed > end), state=so and action.state)
            for action, bare in actions
            if confirmed or not bare
        ]
    return sorted(found, key=lambda one: one.span)


def _listed(line: Line, end: int) -> int:
    """Where the list ends that goes on behind a clause: `refused the turkey, the fish and those two cans`."""
    at, stop = end, line.sentence_span(end - 1)[1]
    while at + 1 < stop and (line.tokens[at].low == "," or (at > end and line.tokens[at].low == "and")):
        n = at + 1
        while n < stop and line.chunk_at[n] < 0 and line.classes[n] in _BEFORE_ITEM:
            n += 1
        last = line.chunks[line.chunk_at[n]].last if n < stop and line.chunk_at[n] >= 0 else n
        while last < stop and line.classes[last] == NOUN:
            last += 1
        if last == n or not _ends_item(line, last, stop):
            break
        at = last
    joined = any(token.low == "and" for token in line.tokens[end:at])
    return at if joined else end


_BEFORE_ITEM = ("determiners", "conjunctions", "number")


def _ends_item(line: Line, at: int, stop: int) -> bool:
    return at >= stop or line.tokens[at].low in (",", "and") or line.tokens[at].low in BREAKS


def _made(
    line: Line,
    begin: int,
    end: int,
    action: Action,
    *,
    like: float = 9.0,
    known: int = 2,
    listed: bool = False,
) -> Correction:
    tokens = line.tokens[begin:end]
    lows = {token.low for token in tokens}
    greedy = listed or any(
        token.low in _GREEDY and not (token.low == "them" and n and tokens[n - 1].stem in _MADE_DO)
        for n, token in enumerate(tokens)
    )
    staff = {
        at for first, last, _ in people().words.find(line.tokens, begin, end) for at in range(first, last)
    }
    return Correction(
        line=line.index,
        span=(tokens[0].start, tokens[-1].end),
        text=line.words(begin, end),
        first=begin,
        action=action,
        words=frozenset(
            token.stem for at, token in enumerate(tokens, begin) if token.kind == "word" and at not in staff
        ),
        widely=greedy,
        pronoun=bool(lows & _PRONOUNS),
        instead=any(
            token.low in _OBJECTS
            and n > 0
            and line.classes[begin + n - 1] not in ("prepositions", "conjunctions", "adverbs")
            for n, token in enumerate(tokens)
        ),
        things=frozenset(
            line.tokens[at].stem
            for chunk in line.chunks
            if begin <= chunk.first < end
            and chunk.sort not in ("position", "gone")
            and chunk.preposition not in _WHERE_TO
            for at in range(chunk.first, chunk.last)
            if at not in staff
        ),
        sure=like >= (_DONE_FROM if known else _PLAIN_FROM),
        plain=like >= _PLAIN_FROM and known == _VERB,
    )


_PLAIN_FROM, _DONE_FROM, _MAYBE_FROM = 3.0, 0.5, 0.0
"""Log-odds from which a clause without a known phrase tells of something done: of what was said just before
even if it names another thing, of whatever was said before it, or only of what it names."""
_LEFT_OVER = Action("sounds done", frozenset(), food=True)


def _sounding_done(line: Line, told: list[int], tables: Tables) -> list[Correction]:
    """Clauses without a known phrase that sound like something put right: `the tray went to the hogs`.

    `told`: where a phrase begins.
    """
    left: list[tuple[int, int, int]] = []
    heard: list[list[str]] = []
    for first, end in clauses(line):
        if (
            not any(token.kind == "word" for token in line.tokens[first:end])
            or any(first <= at < end for at in told)
            or _asked(line, first)
            or tables.promise.find(line.tokens, first, end)
            or tables.later.find(line.tokens, first, end)
            or tables.temporary.find(line.tokens, first, end)
            or _earlier(line, first, end)
            or _so_still(line, first, end, end)
        ):
            continue
        manner = manner_of(line, first, end)
        if _tells_a_doing(line, first, end, manner):
            verb = any(kind.startswith("ends ") for kind in manner) or any(
                token.low in tables.irregular for token in line.tokens[first:end]
            )
            known = _VERB if verb else _WAY if _MOVES.intersection(manner) else _NEITHER
            if not verb and tables.promise.find(line.tokens, end, line.sentence_span(first)[1]):
                continue  # `webbing all down the bin, two of them are going to haul it out`
            left.append((first, end, known))
            heard.append(ending_of(line, first, end, manner))
    likes = likeness().put_right(heard) if heard else []
    return [
        _made(line, first, end, _LEFT_OVER, like=like, known=known)
        for (first, end, known), like in zip(left, likes, strict=True)
        if like >= _MAYBE_FROM
    ]


_LOOKED = 3
"""First words of a clause among which a verb of looking or saying is what was done: `she sniffed it`."""
_TAIL = 2
"""A figure among so many last words is what was measured."""
_MOVES = word_set("out off away down up back on in gone")
_NEITHER, _WAY, _VERB = 0, 1, 2
"""What a clause has of a doing: nothing known, a word of direction, a verb that can end a violation."""


def _tells_a_doing(line: Line, first: int, end: int, manner: list[str]) -> bool:
    """It has a verb or says where something went, and ends in no figure (`it's at 52 now`)."""
    words = [token for token in line.tokens[first:end] if token.kind in ("word", "number")]
    if _looks(words):
        return False
    if any(token.kind == "number" and token.low[0].isdigit() for token in words[-_TAIL:]):
        return False
    if len(words) == 1:
        return manner[0] == "ends done" or (manner[0] == "done" and not words[0].low.endswith("ed"))
    return any(
        kind in ("done", "doing", "does") or kind in _MOVES or kind.startswith("ends ") for kind in manner
    )


_SENT = word_set("put puts putting moved moving shifted transferred relocated went goes going took swapped")
_WHAT_IT_DOES = {"cold_holding": "chilled", "freezing": "chilled", "cooking": "reheated"}


def _sent(line: Line, tables: Tables) -> list[tuple[int, int, tuple[tuple[Action, bool], ...]]]:
    """`put them in the cooler`, `back in the oven they go`: where food was sent tells what was done to it."""
    found: list[tuple[int, int, tuple[tuple[Action, bool], ...]]] = []
    for chunk in line.chunks:
        name = _WHAT_IT_DOES.get(chunk.place.stage) if chunk.place is not None else None
        if name is None or chunk.preposition not in ("to", "in", "into", "on", "onto"):
            continue
        first, end = line.sentence_span(chunk.first)
        back = line.tokens[chunk.prepared_at - 1].low == "back" if chunk.prepared_at > first else False
        around = line.tokens[max(first, chunk.prepared_at - 7) : chunk.prepared_at]
        after = {token.low for token in line.tokens[chunk.last : min(end, chunk.last + 3)]}
        sent = sent_there(line, chunk) or (
            back and (any(token.low in _SENT for token in around) or bool(after & {"go", "goes", "went"}))
        )
        if sent:
            found.append((chunk.prepared_at, chunk.last, ((tables.named[name], False),)))
    return found


_THERE = frozenset(("in", "into", "to", "down", "up", "on", "onto", "for", "with"))
_STAND = word_set("soaking hanging standing sitting kept stored soaks hangs sits stands")
"""What things do in a pail that nobody throws away: `husks soaking in a pail`."""
_GOES = word_set("go goes went gone going straight")


def _went(line: Line, tables: Tables) -> list[tuple[int, int, tuple[tuple[Action, bool], ...]]]:
    """`subs to the hogs`, `the cases go back on the lorry`: where a thing went tells what was done."""
    found: list[tuple[int, int, tuple[tuple[Action, bool], ...]]] = []
    tokens = line.tokens
    for first, last, (action, sure, back) in tables.went.find(tokens):
        at = first - 1
        while at >= 0 and (
            line.classes[at] == "determiners" or line.chunk_at[at] == line.chunk_at[first] >= 0
        ):
            at -= 1  # `in the burn barrel`
        alone = sure and not back and clause(line, first) == (first, last)
        if alone:
            found.append((first, last, ((action, False),)))  # `she didn't argue, trash`
        if alone or at < 0 or tokens[at].low not in _THERE:
            continue
        begin, _ = clause(line, at)
        before = {token.low for token in tokens[begin:at]}
        if not _STAND.isdisjoint(before):
            continue
        if back and "back" not in before and not before & _GOES:
            continue
        ends = any(kind.startswith("ends ") for kind in manner_of(line, begin, at))
        if (back and "back" in before) or (sure and not back) or ends or before & _GOES:
            found.append((at, last, ((action, False),)))
    return found


def _of_a_name(line: Line, first: int, last: int) -> bool:
    """The pulled of `pulled pork`, the covered of `a covered pot`, the dumping of `used for dumping`."""
    at = line.chunk_at[first]
    if at >= 0 and line.chunks[at].known_food:
        return True
    if at >= 0 and line.tokens[last - 1].low.endswith("ed") and line.chunks[at].last > last:
        return True
    return (
        first > 0 and line.tokens[first - 1].low in ("for", "of") and line.tokens[first].low.endswith("ing")
    )


_BE = word_set("is are was were 's 're")
_SINCE = word_set("now been finally")
_WIDE = word_set("all both each")


_AROUND_A_NAME = ("determiners", "predicates", "prepositions", "mark")


def _only_so(line: Line, begin: int, done: tuple[int, int], end: int) -> bool:
    """`salt's labeled`, `a deep covered pot` tell how a thing is; `it's labeled now`, `they're labeled` may
    tell what was done. `done`: the tokens of the participle."""
    first, last = done
    words = [token.low for token in line.tokens[begin:end]]
    before = line.tokens[first - 1].low if first else ","
    if (
        line.tokens[last - 1].low.endswith("ed")
        and last < end
        and (line.chunk_at[last] >= 0 or line.tokens[last].low == "can")
        and (first == 0 or line.classes[first - 1] in _AROUND_A_NAME)
        and before not in _PRONOUNS
    ):
        return True
    at = first - 1
    while at > begin and (line.tokens[at].low in _WIDE or line.classes[at] == "adverbs"):
        at -= 1
    return (
        at > begin
        and line.tokens[at].low in _BE
        and line.tokens[at - 1].low not in _PRONOUNS
        and not _SINCE.intersection(words)
    )


_WILL_NOT = word_set("won't wo wouldn't")


def _promised(line: Line, begin: int, first: int, tables: Tables) -> bool:
    """A promise governs what follows it in the same clause, or the clause before when no subject comes
    between."""
    tokens = line.tokens
    if tokens[first].low in _WILL_NOT or [t.low for t in tokens[first : first + 2]] == ["would", "not"]:
        return False  # `prawns he won't sign for`: not taken
    if tables.promise.find(tokens, max(0, begin), first) or tables.later.find(
        tokens, first, clause(line, first)[1]
    ):
        return True
    if any(tokens[n].low == "'ll" and tokens[n - 1].low not in ("i", "we") for n in range(begin + 1, first)):
        return True  # `she'll put it away`, but not `we'll call it corrected`
    if (
        begin
        and tokens[begin - 1].low == "and"
        and not way_first(line, begin)
        and not any(t.low in ("i", "he", "she", "they", "we") for t in tokens[begin:first])
    ):
        before, _ = clause(line, begin - 2) if begin >= 2 else (0, 0)
        return bool(tables.promise.find(tokens, before, begin))
    return False


def _negated(line: Line, first: int, last: int) -> bool:
    """`nobody washed it`, `reheating isn't going to happen`."""
    begin, end = clause(line, first)
    begin = max(begin, first - 3)
    before = any(
        token.low in ("not", "never", "no", "nobody", "without") for token in line.tokens[begin:first]
    )
    return before or [token.low for token in line.tokens[last : min(last + 2, end)]][-1:] == ["not"]


def _so_still(line: Line, begin: int, first: int, end: int) -> bool:
    """`still propped when the driver pulled out`, `the cans are in the bin yet`: a clause that tells what is
    as it was. `first`: where it tells a deed."""
    lows = [token.low for token in line.tokens[begin:end]]
    yet = any(low == "yet" and "not" not in lows[max(0, n - 3) : n] for n, low in enumerate(lows))
    return yet or "still" in lows[: max(1, first - begin)]


def _earlier(line: Line, begin: int, end: int) -> bool:
    return bool(known_deeds().earlier.find(line.tokens, begin, end))


def _asked(line: Line, at: int) -> bool:
    _, end = line.sentence_span(at)
    return line.tokens[end - 1].low == "?"


def _looks(words: Sequence[Token]) -> bool:
    return not known_deeds().looks.isdisjoint(token.low for token in words[:_LOOKED])


def undone(line: Line, span: Span) -> bool:
    """Whether the words between two characters begin by telling that somebody looked or said something, or
    promise something."""
    inside = [n for n, token in enumerate(line.tokens) if span[0] <= token.start < span[1]]
    words = [line.tokens[n] for n in inside if line.tokens[n].kind == "word"]
    will = any(line.tokens[n].low == "'ll" and line.tokens[n - 1].low not in ("i", "we") for n in inside[1:])
    put_off = (known_deeds().promise, known_deeds().later)
    promised = inside and any(words.find(line.tokens, inside[0], inside[-1] + 1) for words in put_off)
    return (_looks(words) and not _and_then_did(line, inside)) or will or bool(promised)


def _and_then_did(line: Line, inside: Sequence[int]) -> bool:
    """`she says the kids won't touch it and down the disposal it went`: more than looking and saying."""
    at = next((k for k, n in enumerate(inside) if line.tokens[n].low in ("and", "so")), len(inside))
    rest = [line.tokens[n] for n in inside[at + 1 :] if line.tokens[n].kind == "word"]
    did = (known_deeds().irregular | {"went"}) - {"got"}
    return not _looks(rest) and any(token.low in did for token in rest)


def denied(line: Line, span: Span) -> bool:
    """Whether what is known for a deed, between two characters, is negated, asked, promised or of another
    day, all of it: `it was never discarded`."""
    found = [
        (first, last)
        for first, last, _ in known_deeds().actions.find(line.tokens)
        if span[0] <= line.tokens[first].start < span[1] and not _of_a_name(line, first, last)
    ]
    if not found or _goes_on(line, clause(line, found[-1][0])[1], span[1]):
        return False  # `reheating isn't going to happen, they're binning it`
    return all(
        _negated(line, first, last)
        or _asked(line, first)
        or _earlier(line, *clause(line, first))
        or _promised(line, clause(line, first)[0], first, known_deeds())
        or known_deeds().temporary.find(line.tokens, *clause(line, first))
        for first, last in found
    )


def _goes_on(line: Line, at: int, stop: int) -> bool:
    """Whether words follow a clause that ends at token `at`, before character `stop`."""
    return any(token.kind == "word" for token in line.tokens[at + 1 :] if token.start < stop)


def tells_put_right(answer: str, *, form_item: int | None, food: bool) -> bool:
    """Whether an answer tells of something done that puts a violation of the item right; of a food out of its
    limits, only what is done to the food counts. Promises and stopgaps do not."""
    return any(
        not found.action.reaches or (form_item in found.action.reaches and (found.action.food or not food))
        for found in corrections(prepare(answer, 0, lexicon()))
        if not found.state
    )
