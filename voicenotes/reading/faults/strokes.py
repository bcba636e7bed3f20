"""Which stroke a narration speaks of, for faults that belong to one stroke alone."""

import re

from voicenotes.vocabulary.model import Stroke

NAMES: dict[Stroke, re.Pattern[str]] = {
    "freestyle": re.compile(r"\b(?:freestyle|front[ -]crawl|crawl)\b", re.IGNORECASE),
    "backstroke": re.compile(r"\b(?:back ?stroke|back[ -]crawl)\b", re.IGNORECASE),
    "breaststroke": re.compile(r"\b(?:breast ?stroke|breast)\b", re.IGNORECASE),
    "butterfly": re.compile(r"\b(?:butterfly|(?<!a )fly)\b", re.IGNORECASE),
}
"""What swimmers call the strokes (common practice)."""

OPENING = 400
"""Characters at the start, about twenty seconds of speech, in which a coach says which clip this
is; strokes named later are asides (a judgement on narrations by several coaches)."""


def stroke_spoken_of(text: str) -> Stroke:
    """The first stroke that is named in the opening; freestyle goes without saying."""
    opening = text[:OPENING]
    found = ((name.search(opening), stroke) for stroke, name in NAMES.items())
    named = [(place.start(), stroke) for place, stroke in found if place]
    return min(named)[1] if named else "freestyle"
