"""Whether a text is English."""

import re
from collections.abc import Iterable

COMMON = frozenset("the and of to your you that this with it is".split())
"""Words of every English talk that other languages do not have, or seldom."""

LEAST_SHARE = 0.06
"""Share of these words below which a text is no English: in narrations it is above 0.17, in German,
French, Spanish and Dutch below 0.03."""

LEAST_WORDS = 20
"""Words by which a language can be told."""

UNKNOWN = "und"
"""ISO 639-2 for a language that is not determined."""


def language_of(texts: Iterable[str]) -> str:
    """ "en", or "und" for a text that is not in English; short texts count as English."""
    words = [word for text in texts for word in re.findall(r"[^\W\d_]+", text.casefold())]
    common = sum(word in COMMON for word in words)
    foreign = len(words) >= LEAST_WORDS and common < LEAST_SHARE * len(words)
    return UNKNOWN if foreign else "en"
