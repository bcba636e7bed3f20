"""What to do as captions of the clip, and its moments as chapters: WebVTT (W3C)."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from voicenotes.feedback.escape import plain, without_emphasis
from voicenotes.feedback.view import View
from voicenotes.transcript import Cue, Transcript
from voicenotes.transcript.formats import write_vtt


@dataclass(frozen=True)
class Told:
    """What is told of one stretch of the clip, in seconds: its name, and what to do.

    ``rank`` counts up from what matters most."""

    start: float
    end: float
    rank: int
    title: str
    words: str


def captions_vtt(view: View, duration: float) -> str:
    """A caption for each moment of an entry: what is good, or the cue of the correction.

    One at a time: where two would overlap, the one to work on sooner is told.
    """
    shown: list[Told] = []
    for told in sorted(_moments(view), key=lambda t: t.rank):
        if all(told.end <= other.start or told.start >= other.end for other in shown):
            shown.append(told)
    cues = [Cue(start=t.start, end=t.end, text=t.words) for t in sorted(shown, key=_when)]
    return _as_vtt(cues, view, duration)


def chapters_vtt(view: View, duration: float) -> str:
    """A chapter from each moment to the next; what begins together is one chapter.

    Chapters do not overlap, so that players can list them.
    """
    every = sorted(_moments(view), key=_when)
    starts = [
        (start, "; ".join(dict.fromkeys(t.title for t in told)))
        for start, told in groupby(every, key=lambda t: t.start)
    ]
    ends = [*(start for start, _ in starts[1:]), max([duration, *(t.end for t in every)])]
    cues = [
        Cue(start=start, end=end, text=title)
        for (start, title), end in zip(starts, ends, strict=False)
    ]
    return _as_vtt(cues, view, duration)


def _as_vtt(cues: Sequence[Cue], view: View, duration: float) -> str:
    return write_vtt(
        Transcript(name="captions", cues=tuple(cues), duration=duration, timed=view.timed)
    )


def _when(told: Told) -> tuple[float, int]:
    return told.start, told.rank


def _moments(view: View) -> Iterator[Told]:
    """Every moment of the entries, to the thousandth of a second."""
    entries = [(f.spot, f.name, f.side, f.cue or f.name) for f in view.now]
    entries += [(p.spot, p.name, p.side, f"Good: {p.name}") for p in view.praise]
    entries += [(f.spot, f.name, f.side, f.cue or f.name) for f in view.later]
    for rank, (spot, name, side, words) in enumerate(entries):
        sided = f"{name} ({'both sides' if side == 'both' else side})" if side else name
        for start, end in spot.spans:
            title, told = _title(sided), without_emphasis(words)
            yield Told(round(start, 3), round(end, 3), rank, title, told)


def _title(name: str) -> str:
    shown = plain(name)
    return shown[:1].upper() + shown[1:]
