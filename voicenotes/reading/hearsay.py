"""What is only told, feared, looked for or asked about, and so is not seen."""

from collections.abc import Iterable

from spacy.tokens import Span, Token

TELLS = frozenset("tell say claim reckon write ask think believe".split())
"""Verbs by which somebody other than the speaker tells."""

FEARS = frozenset("worry fear suspect wonder expect suppose".split())
"""Verbs that hold something possible."""

SHOWING = frozenset("watch clock screen camera computer picture that it which this what".split())
"""Subjects that "say" what is seen."""

SOMEBODY = frozenset("somebody someone nobody people they everybody everyone some".split())


def is_hearsay(tokens: Iterable[Token]) -> bool:
    """Whether a clause tells what somebody said, or what the speaker feared or looked for."""
    return any(_tells(token) or _fears(token) or _looks_for(token) for token in tokens)


def is_bare_question(span: Span) -> bool:
    """Whether a sentence asks by naming a thing ("Scissors?"), or by a verb at its start."""
    words = [token for token in span if not token.is_punct and not token.is_space]
    if not str(span.text).rstrip().endswith("?") or not words:
        return False
    return len(words) <= 3 and not any(w.tag_ in {"WP", "WRB", "WDT", "VBZ", "VBP"} for w in words)


def opens_with_question(span: Span) -> bool:
    """Whether a sentence starts by asking if something is so, and may go on to answer it."""
    words = [token for token in span if not token.is_punct]
    return (
        len(words) > 1
        and words[0].lower_ in {"is", "are", "does", "do", "has", "have"}
        and words[1].dep_ in {"nsubj", "det", "poss"}
        and words[1].lower_ not in {"not", "n't"}
    )


def _tells(token: Token) -> bool:
    if token.lemma_.lower() not in TELLS or token.pos_ != "VERB":
        return False
    tellers = [child for child in token.children if child.dep_ == "nsubj"]
    if any(teller.lower_ == "you" for teller in tellers):
        return token.tag_ in {"VBP", "VBD"} and token.lemma_.lower() in {"say", "think", "tell"}
    return any(
        teller.pos_ in {"NOUN", "PROPN"} or teller.lower_ in SOMEBODY
        for teller in tellers
        if teller.lower_ not in SHOWING
    )


def _fears(token: Token) -> bool:
    lemma = token.lemma_.lower()
    return (lemma in FEARS and token.tag_ in {"VBD", "VBG", "VBN", "JJ", "VB"}) or (
        token.lower_ in {"worried", "whether"}
    )


def _looks_for(token: Token) -> bool:
    if token.lemma_.lower() != "look":
        return False
    following = token.doc[token.i + 1 : token.i + 2]
    return bool(following) and following[0].lower_ == "for" and token.tag_ in {"VBD", "VBG"}
