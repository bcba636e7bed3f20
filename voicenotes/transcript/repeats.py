"""Words that a transcript holds twice though they were said once."""

import re
from collections import defaultdict
from collections.abc import Sequence
from itertools import pairwise

from voicenotes.transcript.model import Cue, Doubt

TOUCH_S = 0.1
"""Cues this close follow one another without a breath: rolling captions do."""

SURE_WORDS = 3
"""As many words again at a seam are a caption's repeat, not the speaker's."""

TRAILER_WORDS = 12
"""A passage this long that comes back word for word was cut in, not said twice."""

TRAILER_DISTINCT = 6
"""Different words that a trailer must hold: a recognition loop has fewer."""

TRAILER_WITHIN_S = 60.0
"""A trailer stands in the first minute."""

TRAILER_SLIP = 3
"""Stray words allowed before a trailer's passage: a cut seldom falls cleanly."""

_WORD = re.compile(r"\S+")


def join_overlaps(cues: Sequence[Cue]) -> tuple[tuple[Cue, ...], tuple[Doubt, ...]]:
    """Cues that follow one another, each word once.

    Rolling captions show the last line again above the new one, or a line as it grows: what is
    shown again is dropped, with a doubt. Cues that start together become one; a cue ends where
    the next starts.
    """
    rolling = _is_rolling(cues)
    kept: list[Cue] = []
    doubts: list[Doubt] = []
    for index, cue in enumerate(cues):
        words = cue.text.split()
        again = _repeated(cues[index - 1], cue, rolling) if index else 0
        if again:
            whole = again == len(words)
            end = cue.end if whole else cue.start
            dropped = " ".join(words[:again])
            doubts.append(Doubt(start=cue.start, end=end, reason="repeat", text=dropped))
            if whole:
                continue
        _append(kept, cue.model_copy(update={"text": " ".join(words[again:])}))
    return tuple(kept), tuple(doubts)


def _append(kept: list[Cue], cue: Cue) -> None:
    last = kept[-1] if kept else None
    if last and last.start == cue.start:
        kept[-1] = Cue(start=last.start, end=max(last.end, cue.end), text=f"{last.text} {cue.text}")
        return
    if last and last.end > cue.start:
        kept[-1] = last.model_copy(update={"end": cue.start})
    kept.append(cue)


def _is_rolling(cues: Sequence[Cue]) -> bool:
    """Rolling captions repeat at most seams; a speaker who says a thing twice does so at few."""
    seams = [pair for pair in pairwise(cues) if _touch(*pair)]
    plain = sum(_is_plain(*pair) for pair in seams)
    return plain >= 2 and plain * 3 >= len(seams)


def _is_plain(before: Cue, cue: Cue) -> bool:
    """Whether a seam is a repeat for sure: long, or the whole of a shorter cue."""
    shorter = min(len(before.text.split()), len(cue.text.split()))
    return _seam(before, cue) >= max(2, min(SURE_WORDS, shorter))


def _repeated(before: Cue, cue: Cue, rolling: bool) -> int:
    """How many words at the start of a cue only show again what the one before showed."""
    if rolling and _touch(before, cue):
        return _seam(before, cue)
    overlaps = cue.start < before.end - TOUCH_S / 2
    again = _seam(before, cue)
    return again if overlaps and again >= SURE_WORDS else 0


def _touch(before: Cue, cue: Cue) -> bool:
    return cue.start <= before.end + TOUCH_S


def _seam(before: Cue, cue: Cue) -> int:
    """The longest run of words that ends one cue and starts the next."""
    last, first = before.text.casefold().split(), cue.text.casefold().split()
    longest = min(len(last), len(first))
    return next((n for n in range(longest, 0, -1) if last[-n:] == first[:n]), 0)


def drop_trailer(cues: Sequence[Cue]) -> tuple[tuple[Cue, ...], tuple[Doubt, ...]]:
    """Cues without a trailer: opening passages that come once more, word for word, later on.

    The opening copy goes, with a doubt, where at least TRAILER_WORDS words come again exactly
    once. A passage that comes twice further in may be either copy, and stays.
    """
    places = [(at, word) for at, cue in enumerate(cues) for word in _WORD.finditer(cue.text)]
    names = [re.sub(r"\W", "", word.group().casefold()) for _, word in places]
    within = sum(cues[at].start < TRAILER_WITHIN_S for at, _ in places)
    dropped: dict[int, set[int]] = defaultdict(set)
    for index in _trailer(names, within):
        dropped[places[index][0]].add(places[index][1].start())
    kept: list[Cue] = []
    doubts: list[Doubt] = []
    for at, cue in enumerate(cues):
        for is_gone, run in _runs(cue, dropped[at]) if at in dropped else [(False, cue)]:
            if is_gone:
                doubts.append(Doubt(start=run.start, end=run.end, reason="repeat", text=run.text))
            else:
                kept.append(run)
    return tuple(kept), tuple(doubts)


def _trailer(names: Sequence[str], within: int) -> set[int]:
    """Places of the words of a trailer: passages one after another from the first word on."""
    gone: set[int] = set()
    first = 0
    while first < within:
        tries = ((at, _comes_again(names, at)) for at in range(first, first + TRAILER_SLIP + 1))
        start, length = next((found for found in tries if found[1]), (within, 0))
        gone.update(range(start, start + length))
        first = start + length
    return gone


def _comes_again(names: Sequence[str], first: int) -> int:
    """How many words from ``first`` on come again exactly once; 0 for none or too few."""
    opening = names[first : first + TRAILER_WORDS]
    if len(opening) < TRAILER_WORDS or len(set(opening)) < TRAILER_DISTINCT:
        return 0
    later = [
        at
        for at in range(first + TRAILER_WORDS, len(names) - TRAILER_WORDS + 1)
        if names[at] == opening[0] and names[at : at + TRAILER_WORDS] == opening
    ]
    if len(later) != 1:
        return 0
    length = TRAILER_WORDS
    again = later[0]
    while (
        first + length < again
        and again + length < len(names)
        and names[first + length] == names[again + length]
    ):
        length += 1
    return length


def _runs(cue: Cue, dropped: set[int]) -> list[tuple[bool, Cue]]:
    """A cue cut where dropped words start and end, times shared out by length of text."""
    runs: list[tuple[bool, int, int]] = []
    for word in _WORD.finditer(cue.text):
        is_gone = word.start() in dropped
        if runs and runs[-1][0] == is_gone:
            runs[-1] = (is_gone, runs[-1][1], word.end())
        else:
            runs.append((is_gone, word.start(), word.end()))

    def moment(char: int) -> float:
        share = char / max(1, len(cue.text))
        return round(cue.start + share * (cue.end - cue.start), 3)

    return [
        (is_gone, Cue(start=moment(a), end=moment(b), text=cue.text[a:b])) for is_gone, a, b in runs
    ]
