"""Words to cues: sentences and breath groups."""

from collections.abc import Iterator, Sequence

from voicenotes.transcript import Cue, Word

FINAL = (".", "?", "!", "…")

PAUSE_S = 0.7
"""A pause this long ends a cue."""

BREATH_S = 0.25
"""A pause for breath, where a cue that grows too long is parted."""

LONG_S = 15.0
"""A cue that lasts longer is hard to find one's place in."""


def split_cues(words: Sequence[Word]) -> Iterator[Cue]:
    """Cues that end where a sentence ends or the speaker pauses; long ones at a breath."""
    held: list[Word] = []
    for word in words:
        if held and _ends(held, word):
            yield _cue(held)
            held = []
        held.append(word)
    if held:
        yield _cue(held)


def _ends(held: Sequence[Word], following: Word) -> bool:
    pause = following.start - held[-1].end
    long = following.end - held[0].start > LONG_S
    return (
        held[-1].text.rstrip("\"'”’)").endswith(FINAL)
        or pause >= PAUSE_S
        or (long and pause >= BREATH_S)
    )


def _cue(words: Sequence[Word]) -> Cue:
    return Cue(
        start=words[0].start,
        end=max(word.end for word in words),
        text=" ".join(word.text for word in words),
        words=tuple(words),
    )
