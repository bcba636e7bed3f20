"""Reads misheard words as the trade's own, each repair on record."""

import re
from collections.abc import Sequence

from voicenotes.notes import Repair
from voicenotes.transcript import Cue, Transcript, Word
from voicenotes.vocabulary.model import Misheard, Vocabulary

NEAR_WORDS = 6
"""How many words away the words of ``Misheard.near`` may stand: about a clause."""


def repair_misheard(
    transcript: Transcript, vocabulary: Vocabulary
) -> tuple[Transcript, tuple[Repair, ...]]:
    """The transcript with the vocabulary's misheard terms put right, and the repairs.

    Words as heard stay in the repair, so that each can be undone.
    """
    entries = [
        (heard.lower().split(), entry)
        for entry in vocabulary.misheard.values()
        for heard in entry.heard
    ]
    entries.sort(key=lambda pair: -len(pair[0]))
    cues, repairs = [], []
    for cue in transcript.cues:
        mended, made = _repair_cue(cue, entries)
        cues.append(mended)
        repairs += made
    return transcript.model_copy(update={"cues": tuple(cues)}), tuple(repairs)


def _repair_cue(
    cue: Cue, entries: Sequence[tuple[list[str], Misheard]]
) -> tuple[Cue, list[Repair]]:
    pieces = list(cue.words) or [
        Word(text=text, start=cue.start, end=cue.end) for text in cue.text.split()
    ]
    repairs: list[Repair] = []
    place = 0
    while place < len(pieces):
        entry, length = _match(pieces, place, entries)
        if entry is not None:
            run = pieces[place : place + length]
            pieces[place : place + length] = [_mended(run, entry.term)]
            repairs.append(_record(run, entry))
        place += 1
    if not repairs:
        return cue, []
    text = " ".join(piece.text.strip() for piece in pieces)
    words = tuple(pieces) if cue.words else ()
    return cue.model_copy(update={"text": text, "words": words}), repairs


def _match(
    pieces: Sequence[Word], place: int, entries: Sequence[tuple[list[str], Misheard]]
) -> tuple[Misheard | None, int]:
    first = _bare(pieces[place])
    for heard, entry in entries:
        if heard[:1] != [first]:
            continue
        run = pieces[place : place + len(heard)]
        if [_bare(piece) for piece in run] == heard and _is_near(pieces, place, len(heard), entry):
            return entry, len(heard)
    return None, 0


def _bare(piece: Word) -> str:
    return re.sub(r"^\W+|\W+$", "", piece.text.lower())


def _is_near(pieces: Sequence[Word], place: int, length: int, entry: Misheard) -> bool:
    if not entry.near:
        return True
    around = [
        *pieces[max(0, place - NEAR_WORDS) : place],
        *pieces[place + length : place + length + NEAR_WORDS],
    ]
    words = {_bare(piece) for piece in around}
    return any(word in words or f"{word}s" in words for word in entry.near)


def _mended(run: Sequence[Word], term: str) -> Word:
    """The term in place of the heard words, with their times, capital and final mark."""
    first, last = run[0].text.strip(), run[-1].text.strip()
    mark = re.search(r"\W*$", last)
    text = (term.capitalize() if first[:1].isupper() else term) + (mark.group() if mark else "")
    known = [word.probability for word in run if word.probability is not None]
    probability = min(known) if known else None
    return Word(text=text, start=run[0].start, end=run[-1].end, probability=probability)


def _record(run: Sequence[Word], entry: Misheard) -> Repair:
    return Repair(
        heard=" ".join(piece.text.strip() for piece in run),
        read_as=entry.term,
        reason=f"known mishearing of {entry.term!r}",
        start=run[0].start,
        end=run[-1].end,
    )
