"""What is built from a vocabulary, built once for all narrations that are read with it."""

from collections.abc import Callable
from typing import TypeVar

from voicenotes.vocabulary.model import Vocabulary

T = TypeVar("T")


def once_for(make: Callable[[Vocabulary], T]) -> Callable[[Vocabulary], T]:
    """A maker that keeps what it made of the last vocabulary."""
    kept: list[tuple[Vocabulary, T]] = []

    def made(vocabulary: Vocabulary) -> T:
        if not kept or kept[0][0] is not vocabulary:
            kept[:] = [(vocabulary, make(vocabulary))]
        return kept[0][1]

    return made
