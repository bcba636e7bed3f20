"""Clauses: the stretch of words within which a part, a motion and a place belong together."""

from dataclasses import dataclass
from itertools import pairwise

from spacy.tokens import Doc, Span, Token

BREAKS = frozenset({",", ";", ":", "-", "–", "—", "...", "…"})
JOINERS = frozenset(
    "but because so which while whereas though although unless if when then now cause cos".split()
)
VERBS = frozenset({"VERB", "AUX"})


@dataclass(frozen=True)
class Clause:
    """A run of tokens of one sentence; ``last`` is exclusive."""

    sentence: int
    first: int
    last: int

    def __contains__(self, token: int) -> bool:
        return self.first <= token < self.last


def clauses_of(span: Span, sentence: int) -> tuple[Clause, ...]:
    """The clauses of a sentence, in order; each has a verb unless the whole sentence has none.

    Cuts are made at commas and at words that start a new clause. A piece without a verb belongs
    to the piece before it ("her hand comes across, over the middle").
    """
    cuts = [span.start, *(token.i for token in span if _starts_clause(token)), span.end]
    pieces: list[tuple[int, int]] = []
    for first, last in pairwise(cuts):
        if first == last:
            continue
        lacks_verb = not _has_verb(span.doc, first, last)
        if pieces and (lacks_verb or not _has_verb(span.doc, *pieces[-1])):
            pieces[-1] = (pieces[-1][0], last)
        else:
            pieces.append((first, last))
    return tuple(Clause(sentence, first, last) for first, last in pieces)


def _starts_clause(token: Token) -> bool:
    if token.i == token.sent.start:
        return False
    if token.text in BREAKS or token.lower_ in JOINERS:
        return True
    return token.lower_ in {"and", "or"} and _joins_clauses(token)


def _joins_clauses(joiner: Token) -> bool:
    """Whether what follows an "and" has a verb with a subject or part of its own."""
    for token in joiner.doc[joiner.i + 1 : joiner.sent.end]:
        if token.text in BREAKS or token.lower_ in JOINERS or token.lower_ in {"and", "or"}:
            return False
        if token.pos_ in VERBS:
            return True
    return False


def _has_verb(doc: Doc, first: int, last: int) -> bool:
    return any(token.pos_ in VERBS for token in doc[first:last])
