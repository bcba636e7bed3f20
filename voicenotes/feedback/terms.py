"""Words of the trade with their meaning, told where a page first uses them."""

import re
from collections.abc import Iterable

TERMS = (
    ("catch", r"catch(?:es)?(?! a\b)", "the moment when your hand takes hold of the water in"
     " front of you"),
    ("pull", r"pulls?(?! buoy)", "the part of the stroke when your arm moves the water back"),
    ("finish", r"finish", "the end of an arm stroke, when your hand passes your thigh"),
    ("recovery", r"recover(?:y|ies)", "your arm on its way forward over the water"),
    ("scull", r"scull(?:s|ing)?", "small sweeps of the hands, out and in, that hold the water"),
    ("pull buoy", r"pull buoys?", "a float that you hold between your thighs"),
    ("kickboard", r"kickboards?", "a float that you hold in front of you"),
    ("snorkel", r"snorkels?", "a tube to breathe through with your face in the water"),
    ("streamline", r"streamlined?", "arms stretched over your head, one hand on the other"),
    ("roll", r"(?:shoulder|hip|body) roll", "how far you turn about the line from head to feet"),
    ("stroke rate", r"stroke rate", "how many strokes you take in a minute"),
    ("flip turn", r"flip turns?|tumble turns?", "a roll at the wall that turns you round"),
)  # fmt: skip
"""Term, how it is found in a text, meaning (common practice)."""

_FOUND = tuple((term, re.compile(rf"\b(?:{words})\b", re.I), is_) for term, words, is_ in TERMS)


def terms_in(texts: Iterable[str], known: set[str]) -> tuple[tuple[str, str], ...]:
    """Terms of some texts that are not known yet, each with its meaning; they are then known."""
    text = " ".join(texts)
    new = [(term, is_) for term, found, is_ in _FOUND if term not in known and found.search(text)]
    known.update(term for term, _ in new)
    return tuple(new)
