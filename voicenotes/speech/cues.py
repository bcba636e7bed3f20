"""Words to cues: sentences and breath groups."""

from collections.abc import Iterator, Sequence

from voicenotes.transcript import Cue, Word

FINAL = (".", "?", "!", "…")
CLOSING = "\"'”’)"

PAUSE_S = 0.7
"""A pause this long ends a cue."""

LONG_S = 12.0
"""A cue that lasts longer is hard to find one's place in."""

MARKS = (",", ";", ":", "–", "—")
MARK_S = 0.3
"""A mark within the sentence parts a long cue as well as a pause this long."""

NEAR_MIDDLE = (0.25, 0.75)
"""Where in a long cue, as shares of its time, it is parted, so that no piece is a mere scrap."""


def split_cues(words: Sequence[Word]) -> Iterator[Cue]:
    """Cues that end where a sentence ends or the speaker pauses; long ones at a breath or mark."""
    for group in _groups(words):
        for part in _parted(group):
            yield _cue(part)


def _groups(words: Sequence[Word]) -> Iterator[list[Word]]:
    held: list[Word] = []
    for word in words:
        if held and (_ends_sentence(held[-1]) or word.start - held[-1].end >= PAUSE_S):
            yield held
            held = []
        held.append(word)
    if held:
        yield held


def _ends_sentence(word: Word) -> bool:
    return word.text.rstrip(CLOSING).endswith(FINAL)


def _parted(words: Sequence[Word]) -> Iterator[Sequence[Word]]:
    """The words in pieces of up to LONG_S, parted at the best place near the middle."""
    start, end = words[0].start, max(word.end for word in words)
    if end - start <= LONG_S or len(words) == 1:
        yield words
        return
    low, high = (start + share * (end - start) for share in NEAR_MIDDLE)
    middle = (low + high) / 2
    places = range(1, len(words))
    near = [at for at in places if low <= words[at].start <= high] or places
    best = max(
        near,
        key=lambda at: (_ease(words[at - 1], words[at]), -abs(words[at].start - middle)),
    )
    yield from _parted(words[:best])
    yield from _parted(words[best:])


def _ease(before: Word, after: Word) -> float:
    """How well a cue is parted here, in seconds of pause, to a tenth."""
    mark = MARK_S if before.text.rstrip(CLOSING).endswith(MARKS) else 0.0
    return round(after.start - before.end + mark, 1)


def _cue(words: Sequence[Word]) -> Cue:
    return Cue(
        start=words[0].start,
        end=max(word.end for word in words),
        text=" ".join(word.text for word in words),
        words=tuple(words),
    )
