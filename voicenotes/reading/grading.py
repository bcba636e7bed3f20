"""How bad: the grading word that stands with a fault."""

from functools import lru_cache

from spacy.tokens import Doc

from voicenotes.notes import Severity
from voicenotes.reading import cues
from voicenotes.reading.groups import Groups


def severity_of(doc: Doc, first: int, last: int) -> Severity:
    """The grading spoken within a token range (last exclusive); moderate where there is none."""
    found = {name for name, *_ in _gradings().find(doc[first:last])}
    if "slight" in found:
        return "slight"
    return "marked" if "marked" in found else "moderate"


@lru_cache(maxsize=1)
def _gradings() -> Groups:
    return Groups({"slight": cues.SLIGHT, "marked": cues.MARKED}, by_lemma=False)
