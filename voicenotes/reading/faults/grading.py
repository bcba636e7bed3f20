"""How bad: the grading word that stands with a fault."""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from spacy.tokens import Doc, Span, Token

from voicenotes.notes import Severity
from voicenotes.reading.groups import Groups

SLIGHT = (
    "a bit", "a little", "slight", "slightly", "a touch", "a tad", "a fraction", "a hair",
    "a shade", "a wee", "a smidge", "a smidgen", "a whisker", "a small", "minor", "marginally",
    "wee bit", "ever so slightly", "mild", "mildly", "just a", "a tiny", "tiny", "little bit",
    "small bit", "not by much", "a trace", "a suspicion", "somewhat", "faint", "minimal",
    "only just", "nothing dramatic", "nothing major", "nothing serious",
)  # fmt: skip
"""Gradings that make a fault slight."""

MARKED = (
    "a lot", "really", "way too", "way way", "far too", "far more", "much too", "way over",
    "massively", "massive", "very", "huge", "hugely", "badly", "seriously",
    "serious", "totally", "completely", "miles", "a mile", "terribly", "awful", "awfully",
    "terrible", "loads", "enormous", "enormously", "heavily", "severely", "severe", "dramatic",
    "dramatically", "wildly", "so much", "extremely", "major", "a ton", "horribly", "horrible",
    "tons", "lots", "hell of a", "shocking", "dreadful", "the worst", "big time", "properly",
    "incredibly", "strongly", "excessive", "excessively", "a good bit", "a good deal",
    "a great deal", "a great big", "quite a lot", "a good way", "fierce", "gigantic", "giant",
)  # fmt: skip
"""Gradings that make a fault marked."""

DENIES = frozenset("not n't nothing never hardly".split())
SAME = frozenset("same first last next end start beginning moment".split())
"""Words that "very" singles out, and does not grade."""
GRADES: tuple[Severity, ...] = ("slight", "moderate", "marked")


def severity_of(doc: Doc, first: int, last: int) -> Severity:
    """The grading spoken within a token range (last exclusive); moderate where there is none.

    One that is denied is turned round ("not massive", "not a little late").
    """
    span = doc[first:last]
    found: set[Severity] = set()
    for name, start, end in _gradings().find(span):
        if doc[start].lower_ == "very" and doc[end : end + 1].text.lower() in SAME:
            continue
        slight = (name == "slight") != _denied(doc[max(first, start - 3) : start])
        found.add("slight" if slight else "marked")
    if any(_is_far(token) for token in span):
        found.add("marked")
    if "slight" in found:
        return "slight"
    return "marked" if "marked" in found else "moderate"


def _denied(ahead: Span) -> bool:
    """Whether a denial stands in the words ahead, with no stop after it."""
    words = [token.lower_ for token in ahead]
    last = max((i for i, word in enumerate(words) if word in DENIES), default=None)
    return last is not None and not any(token.is_punct for token in ahead[last:])


def _is_far(token: Token) -> bool:
    """ "way outside", "way past": how far, not "the way in" or "on the way past"."""
    if token.lower_ != "way" or token.i + 1 >= len(token.doc):
        return False
    before = token.nbor(-1) if token.i else None
    named = before is not None and (before.pos_ in {"DET", "PRON", "ADJ", "NUM"})
    return not named and token.nbor().pos_ in {"ADV", "ADJ", "ADP", "SCONJ"}


def settle_severity(said: Sequence[Severity]) -> Severity | None:
    """The grading said most often, of equals the worse; moderate where there is none."""
    counts: Counter[Severity] = Counter(grade for grade in said if grade != "moderate")
    ranked = sorted(counts, key=lambda grade: (counts[grade], GRADES.index(grade)))
    return ranked[-1] if ranked else next(iter(said), None)


@lru_cache(maxsize=1)
def _gradings() -> Groups:
    return Groups({"slight": SLIGHT, "marked": MARKED}, by_lemma=False)
