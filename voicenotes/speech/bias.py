"""A hint to the recogniser: the trade's words, drawn from the vocabulary, in the coach's manner.

The recogniser goes on in the manner of its hint. A bare list of terms makes it forget full stops,
and half of all sentence ends are lost; sentences keep them. Numbers in digits run into one
another ("four fifties" comes out as 450s); a hint with sets in words keeps them apart.
"""

from collections.abc import Iterator
from itertools import islice

from voicenotes.vocabulary.model import Vocabulary

HINT_TERMS = 25
"""More terms gain little, and every clip pays for them in time."""

TERMS_A_SENTENCE = 5

LONGEST_TERM = 3
"""Words in a term; longer names are descriptions that nobody says word for word."""

OPENINGS = ("Look at the", "Now the", "Then the", "And here the")

SETS = "Do eight twenty-fives, then six fifties and two two-hundreds."


def hint_of(vocabulary: Vocabulary) -> str:
    """A few short sentences with the terms that recognition is most likely to need."""
    terms = list(islice(_new_terms(vocabulary), HINT_TERMS))
    groups = [terms[at : at + TERMS_A_SENTENCE] for at in range(0, len(terms), TERMS_A_SENTENCE)]
    told = [
        f"{OPENINGS[index % len(OPENINGS)]} {_listed(group)}." for index, group in enumerate(groups)
    ]
    return " ".join([*told, SETS])


def _listed(terms: list[str]) -> str:
    return " and ".join([", ".join(terms[:-1]), terms[-1]]) if len(terms) > 1 else terms[0]


def _new_terms(vocabulary: Vocabulary) -> Iterator[str]:
    """Terms in order of need, without those whose every word went before."""
    known: set[str] = set()
    for term in _terms(vocabulary):
        words = set(term.casefold().replace("-", " ").split())
        if len(words) <= LONGEST_TERM and not words <= known:
            known |= words
            yield term


def _terms(vocabulary: Vocabulary) -> Iterator[str]:
    """What recognition is known to mishear first, then what is named most."""
    for misheard in vocabulary.misheard.values():
        yield misheard.term
    for aid in vocabulary.aids.values():
        yield aid.name
    for drill in vocabulary.drills.values():
        yield drill.name
    for measure in vocabulary.measures.values():
        yield measure.name
