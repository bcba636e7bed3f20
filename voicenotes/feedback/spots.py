"""Where an entry is to be seen or heard: the clip's moments where known, else the narration's."""

from collections.abc import Iterable, Iterator, Sequence

from voicenotes.feedback.view import Clocks, Moment, Spot
from voicenotes.notes import Mention
from voicenotes.review import Review

QUOTE_WORDS = 24
"""A quote is cut after so many words."""

QUOTES = 2
"""Quotes shown for one entry."""


def spot_of(review: Review, mentions: Sequence[Mention]) -> Spot:
    """The spot of an entry, by its mentions.

    Where the page plays the clip, a moment of the clip is played itself, and one that only the
    narration has is not; else the words about it are played.
    """
    in_clip = any(mention.clip_s for mention in mentions)
    moments: dict[int, Moment] = {}
    for moment in _moments(mentions, in_clip=in_clip, plays_clip=review.plays_clip):
        moments.setdefault(int(moment.second), moment)
    quotes = dict.fromkeys(_shortened(mention.quote) for mention in mentions)
    return Spot(
        moments=tuple(moments.values()),
        quotes=tuple(filter(None, quotes))[:QUOTES],
        spans=tuple(_spans(mentions, plays_clip=review.plays_clip)),
        in_clip=in_clip,
    )


def clocks_of(review: Review) -> Clocks:
    """Whose moments a review's findings and figures show."""
    told = [entry.mentions for entry in review.findings]
    told += [entry.mentions for entry in review.figures]
    shown = {any(mention.clip_s for mention in mentions) for mentions in told}
    if shown == {True, False}:
        return "both"
    return "clip" if True in shown else "narration"


def _moments(mentions: Iterable[Mention], *, in_clip: bool, plays_clip: bool) -> Iterator[Moment]:
    for mention in mentions:
        if in_clip:
            for second in mention.clip_s:
                yield Moment(second, second if plays_clip else mention.start)
        else:
            yield Moment(mention.start, None if plays_clip else mention.start)


def _spans(mentions: Iterable[Mention], *, plays_clip: bool) -> Iterator[tuple[float, float]]:
    """A moment of the clip lasts as long as the words about it."""
    for mention in mentions:
        for start in mention.clip_s if plays_clip else (mention.start,):
            yield start, start + mention.end - mention.start


def _shortened(quote: str) -> str:
    words = quote.split()
    tail = " …" if len(words) > QUOTE_WORDS else ""
    return " ".join(words[:QUOTE_WORDS]) + tail
