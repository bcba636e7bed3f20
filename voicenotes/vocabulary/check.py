"""Tries the vocabulary's own examples: every ``says`` must be read, every ``never`` must not."""

from collections.abc import Callable, Iterator
from typing import Literal

from voicenotes.record import Record
from voicenotes.vocabulary.model import Vocabulary

ExampleReader = Callable[[str], set[tuple[str, str]]]
"""Reads one sentence: kind ("fault" or "strength") and code of all that is true of the swimmer."""


class Failure(Record):
    """An example sentence that was not read as its entry says."""

    kind: Literal["fault", "strength"]
    code: str
    sentence: str
    expected: bool
    """True for ``says``: the code should have been read; False for ``never``."""
    got: tuple[str, ...]
    """What was read instead, as kind:code in order."""

    @property
    def line(self) -> str:
        """The failure in one line."""
        wanted = "is not read as it" if self.expected else "is read as it and should not be"
        got = ", ".join(self.got) or "nothing"
        return f"{self.kind} {self.code}: {self.sentence!r} {wanted} (read: {got})"


def check_examples(vocabulary: Vocabulary, read: ExampleReader) -> list[Failure]:
    """Every example sentence of faults and strengths that ``read`` gets wrong.

    The reader is handed in, since the vocabulary knows of none. A ``says`` fails where its code
    is missing, a ``never`` where its code is there.
    """
    failures = []
    for kind, code, sentence, expected in _examples(vocabulary):
        got = read(sentence)
        if ((kind, code) in got) != expected:
            named = tuple(sorted(f"{kind}:{code}" for kind, code in got))
            failures.append(
                Failure(kind=kind, code=code, sentence=sentence, expected=expected, got=named)
            )
    return failures


def count_examples(vocabulary: Vocabulary) -> int:
    """How many example sentences faults and strengths have."""
    return sum(1 for _ in _examples(vocabulary))


def _examples(
    vocabulary: Vocabulary,
) -> Iterator[tuple[Literal["fault", "strength"], str, str, bool]]:
    for fault in vocabulary.faults.values():
        yield from (("fault", fault.code, sentence, True) for sentence in fault.says)
        yield from (("fault", fault.code, sentence, False) for sentence in fault.never)
    for strength in vocabulary.strengths.values():
        yield from (("strength", strength.code, sentence, True) for sentence in strength.says)
        yield from (("strength", strength.code, sentence, False) for sentence in strength.never)
