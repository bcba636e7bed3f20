"""A hint to the recogniser: the trade's words, drawn from the vocabulary, in the coach's manner.

The recogniser goes on in the manner of its hint. A bare list of terms makes it forget full stops,
and half of all sentence ends are lost; sentences keep them. Numbers in digits run into one
another ("four fifties" comes out as 450s); sets in words keep them apart.
"""

from voicenotes.vocabulary.model import Vocabulary

MOST_TERMS = 20
"""More gain little, every clip pays for them in time, and faster-whisper cuts a hint off where it
grows too long."""

SETS = "Do eight twenty-fives, then six fifties and two two-hundreds."


def hint_of(vocabulary: Vocabulary) -> str:
    """A sentence with the terms that the vocabulary marks for it, and one with sets.

    Of too many terms the last are kept: a coach's own come last in a vocabulary.
    """
    marked = [entry.term for entry in vocabulary.misheard.values() if entry.hint]
    *others, last = marked[-MOST_TERMS:] or [""]
    terms = f"{', '.join(others)} and {last}" if others else last
    return f"Look at the {terms}. {SETS}" if terms else SETS
