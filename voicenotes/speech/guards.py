"""What of the heard words can be trusted, and which speech gave no words.

No single sign is trusted: recognition invents words with high probabilities, and good words have
bad times. What is dropped is kept as a doubt.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from voicenotes.speech.activity import Span
from voicenotes.speech.heard import Heard
from voicenotes.transcript import Doubt, Word

UNREAD_S = 1.2
"""Speech without words this long is worth hearing again: where all is well, no stretch over 0.2 s
is left over (measured on narrations in a synthetic voice, clean and in noise)."""

COVER_S = 0.3
"""How far a word's times may be off from the voice."""

JOIN_S = 0.3
"""Spans of voice closer than this are one stretch."""

LOOP_TIMES = 4
LOOP_WORDS = 8
LOOP_COMPRESSION = 2.4
"""A run of up to LOOP_WORDS said LOOP_TIMES over is a loop only in text that packs this well (the
recogniser's own bound for text that repeats itself); a coach does say "kick, kick, kick, kick"."""

UNSURE = 0.5
"""Mean probability of a phrase's words; phrases that were said are above 0.6 even in noise."""

BASELESS = 0.2
"""A phrase with a mean this low needs no second sign."""

VOICELESS = 0.35
"""Share of a phrase's time in which there is a voice."""

NO_SPEECH = 0.6
LOW_LOG_PROBABILITY = -1.0
"""The recogniser's own bounds for a clip in which nobody speaks."""

CRAMMED_S = 0.06
"""Mean length of a word that nobody can speak as fast."""

PHRASE_PAUSE_S = 0.7

ECHO_WORDS = 7
"""As many words in the hint's own order are an echo by themselves: nobody speaks a made-up text."""

SHORT_ECHO_WORDS = 3
"""So few are one with another sign: a coach may say "single arm, body roll"."""

ECHO_SHARE = 0.6
"""Share of a phrase that an echo fills; in a longer phrase the same words were said."""


OTHER_LANGUAGE = 0.1
"""A clip that is English with less probability is not: English in nine voices, in noise too, is
above 0.35; German, Spanish and French are below 0.09."""

LIKELY_OTHER = 0.4
UNSURE_CLIP = -0.55
"""Below both (probability of English, mean log probability of the words) it is not, either."""

LANGUAGE_S = 2.0
"""Seconds of voice by which a language can be told."""


def judge(clips: Sequence[Heard], hint: str) -> tuple[list[Word], list[Doubt]]:
    """Words to be trusted, in order of time, and doubts on the rest and on unread speech."""
    words: list[Word] = []
    doubts: list[Doubt] = []
    for clip in clips:
        if is_foreign(clip):
            said = _text(sorted([*clip.words, *clip.again], key=lambda word: word.start))
            start, end = clip.spans[0][0], clip.spans[-1][1]
            doubts.append(Doubt(start=start, end=end, reason="other_language", text=said))
            continue
        plain, loops = without_loops(clip)
        heard = sorted([*plain, *clip.again], key=lambda word: (word.start, word.end))
        kept, dropped = _without_inventions(clip, heard, hint)
        doubts += [*loops, *dropped]
        doubts += [
            Doubt(start=start, end=end, reason="unread_speech")
            for start, end in unread(clip.spans, heard)  # a dropped phrase is told of once
        ]
        words += kept
    return words, doubts


def is_foreign(clip: Heard) -> bool:
    """Whether a clip is spoken in another language than English."""
    if clip.english is None or sum(end - start for start, end in clip.spans) < LANGUAGE_S:
        return False
    likely = clip.english < LIKELY_OTHER and clip.log_probability < UNSURE_CLIP
    return clip.english < OTHER_LANGUAGE or likely


def unread(spans: Sequence[Span], words: Sequence[Word]) -> list[Span]:
    """Stretches with a voice, at least UNREAD_S long, that no word covers."""
    left = []
    for start, end in _joined(spans):
        at = start
        for word in words:
            if word.start - COVER_S >= end or word.end + COVER_S <= at:
                continue
            left.append((at, word.start - COVER_S))
            at = max(at, word.end + COVER_S)
        left.append((at, end))
    return [(round(a, 3), round(b, 3)) for a, b in left if b - a >= UNREAD_S]


def _joined(spans: Sequence[Span]) -> list[Span]:
    joined: list[Span] = []
    for start, end in spans:
        if joined and start - joined[-1][1] <= JOIN_S:
            joined[-1] = (joined[-1][0], end)
        else:
            joined.append((start, end))
    return joined


def without_loops(clip: Heard) -> tuple[list[Word], list[Doubt]]:
    """A clip's words with each loop said once, and doubts that count its other rounds."""
    words = list(clip.words)
    if clip.compression <= LOOP_COMPRESSION:
        return words, []
    names = [_bare(word.text) for word in words]
    kept: list[Word] = []
    doubts: list[Doubt] = []
    at = 0
    while at < len(words):
        length, times = _loop_at(names, at)
        kept += words[at : at + length]
        if times > 1:
            again = words[at + length : at + length * times]
            rounds = f"{_text(again[:length])} ({times - 1} times more)"
            doubts.append(
                Doubt(start=again[0].start, end=again[-1].end, reason="repeat", text=rounds)
            )
        at += length * times
    return kept, doubts


def _loop_at(names: Sequence[str], at: int) -> tuple[int, int]:
    """Words in one round of the loop that starts here, and its rounds; (1, 1) for none."""
    for length in range(1, LOOP_WORDS + 1):
        first = names[at : at + length]
        times = 1
        while names[at + length * times : at + length * (times + 1)] == first:
            times += 1
        if times >= LOOP_TIMES:
            return length, times
    return 1, 1


def _without_inventions(
    clip: Heard, words: Sequence[Word], hint: str
) -> tuple[list[Word], list[Doubt]]:
    kept: list[Word] = []
    doubts: list[Doubt] = []
    for phrase in _phrases(words):
        signs = _Signs.of(clip, phrase, hint)
        if signs.echo >= (SHORT_ECHO_WORDS if signs.weak else ECHO_WORDS):
            doubts.append(_doubt(phrase, "prompt_echo"))
        elif signs.weak > 1:
            doubts.append(_doubt(phrase, "no_speech" if signs.voiceless else "filler"))
        else:
            kept += phrase
    return kept, doubts


def _phrases(words: Sequence[Word]) -> Iterator[list[Word]]:
    phrase: list[Word] = []
    for word in words:
        if phrase and (
            phrase[-1].text.endswith((".", "?", "!"))
            or word.start - phrase[-1].end > PHRASE_PAUSE_S
        ):
            yield phrase
            phrase = []
        phrase.append(word)
    if phrase:
        yield phrase


@dataclass(frozen=True)
class _Signs:
    """What speaks against a phrase: ``weak`` counts signs, ``echo`` words in the hint's order."""

    weak: int
    voiceless: bool
    echo: int

    @classmethod
    def of(cls, clip: Heard, phrase: Sequence[Word], hint: str) -> "_Signs":
        sure = sum(word.probability or 0.0 for word in phrase) / len(phrase)
        length = phrase[-1].end - phrase[0].start
        voiceless = _voiced_share(clip.spans, phrase) < VOICELESS
        weak = [
            sure < UNSURE,
            sure < BASELESS,
            voiceless,
            length / len(phrase) < CRAMMED_S,
            clip.no_speech > NO_SPEECH,
            clip.log_probability < LOW_LOG_PROBABILITY,
        ]
        return cls(sum(weak), voiceless, _echoed_words(phrase, hint))


def _voiced_share(spans: Sequence[Span], phrase: Sequence[Word]) -> float:
    """Share of the time of a phrase's words in which there is a voice."""
    least = 0.02  # words without a length count too
    whole = sum(max(least, word.end - word.start) for word in phrase)
    voiced = sum(
        max(0.0, min(max(word.end, word.start + least), end) - max(word.start, start))
        for word in phrase
        for start, end in ((a - COVER_S, b + COVER_S) for a, b in _joined(spans))
    )
    return voiced / whole


def _echoed_words(phrase: Sequence[Word], hint: str) -> int:
    """The longest run of a phrase's words that stands in the hint; 0 where it is a small part."""
    said = " ".join(_bare(word.text) for word in phrase).split()
    told = f" {_bare(hint)} "
    longest = 0
    for last in range(1, len(said) + 1):
        run = said[max(0, last - longest - 1) : last]
        if len(run) > longest and f" {' '.join(run)} " in told:
            longest = len(run)
    return longest if longest >= ECHO_SHARE * len(said) else 0


def _bare(text: str) -> str:
    """Letters and digits in lower case, words parted by one space."""
    plain = "".join(sign if sign.isalnum() or sign == "'" else " " for sign in text.casefold())
    return " ".join(plain.split())


def _doubt(words: Sequence[Word], reason: Literal["prompt_echo", "no_speech", "filler"]) -> Doubt:
    return Doubt(start=words[0].start, end=words[-1].end, reason=reason, text=_text(words))


def _text(words: Sequence[Word]) -> str:
    return " ".join(word.text for word in words)
