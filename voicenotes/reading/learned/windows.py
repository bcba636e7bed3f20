"""Windows of speech: which sentences are read together, and as which tokens.

A sentence is read with those around it, so that "it", "the other one" and "same again" find what
they stand for. Training and reading share this module.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

LONGEST_SENTENCE = 72
"""Tokens of a sentence that are looked at; spoken sentences run to some 20."""
CONTEXT = 150
"""Tokens of context on either side at most."""


class Encoder(Protocol):
    """What is needed of a tokeniser: the ids of a text, without marks of start and end."""

    def __call__(self, text: str) -> list[int]:
        """The ids of a text."""
        ...


@dataclass(frozen=True)
class Plan:
    """How a talk is cut: tokens asked about at once, sentences of context before and after.

    A ``width`` of 0 asks about one sentence at a time.
    """

    width: int
    before: int
    after: int


@dataclass(frozen=True)
class Window:
    """Sentences ``first`` to ``last`` read together, of which ``start`` to ``end`` are asked about.

    Ends are exclusive.
    """

    first: int
    start: int
    end: int
    last: int


def windows_of(lengths: Sequence[int], plan: Plan) -> list[Window]:
    """Windows that ask about every sentence once. ``lengths`` are tokens a sentence."""
    cut = [min(length, LONGEST_SENTENCE) for length in lengths]
    windows, start = [], 0
    while start < len(cut):
        end, asked = start + 1, cut[start]
        while end < len(cut) and asked + cut[end] <= plan.width:
            asked += cut[end]
            end += 1
        first, last = start, end
        while first > max(0, start - plan.before) and sum(cut[first - 1 : start]) <= CONTEXT:
            first -= 1
        while last < min(len(cut), end + plan.after) and sum(cut[end : last + 1]) <= CONTEXT:
            last += 1
        windows.append(Window(first, start, end, last))
        start = end
    return windows


@dataclass(frozen=True)
class Tokens:
    """A window as token ids, and where each sentence asked about lies in them (end exclusive)."""

    ids: tuple[int, ...]
    spans: tuple[tuple[int, int], ...]


def tokens_of(
    sentences: Sequence[Sequence[int]], window: Window, start_mark: int, end_mark: int
) -> Tokens:
    """The window's tokens: a start mark, then each sentence with an end mark after it."""
    ids, spans = [start_mark], []
    for number in range(window.first, window.last):
        sentence = sentences[number][:LONGEST_SENTENCE]
        if window.start <= number < window.end:
            spans.append((len(ids), len(ids) + len(sentence)))
        ids += [*sentence, end_mark]
    return Tokens(tuple(ids), tuple(spans))
