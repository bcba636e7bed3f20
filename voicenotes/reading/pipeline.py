"""The whole of reading, step by step: a transcript in, notes out."""

from collections.abc import Sequence
from typing import Literal

from voicenotes.clock import Clock
from voicenotes.notes import Kind, Notes
from voicenotes.reading.clip_times import with_clip_times
from voicenotes.reading.context import Context
from voicenotes.reading.faults.agreeing import agree, in_passing
from voicenotes.reading.faults.frames import FramesReader
from voicenotes.reading.faults.joining import Joiner
from voicenotes.reading.faults.links import find_causes, find_priorities
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.figures import read_figures
from voicenotes.reading.learned import LearnedReader
from voicenotes.reading.misheard import repair_misheard
from voicenotes.reading.moments import find_moments
from voicenotes.reading.sets import read_drills
from voicenotes.reading.text import Narration
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary
from voicenotes.vocabulary.once import once_for

COUNTED = 0.15
"""A fault that is told elsewhere and counted off ("first thing, keep your head low") may be heard
as faintly as this."""
LIKELY = 0.5
"""From this certainty on the learned reader says which drill a set without a name is of."""
_frames = once_for(FramesReader)
Readers = Literal["both", "frames", "learned"]
"""Who reads faults and strengths; one alone only to measure what each brings."""


def read_notes(
    transcript: Transcript,
    vocabulary: Vocabulary,
    readers: Readers = "both",
    clock: Clock | None = None,
) -> Notes:
    """What the coach said of the swimmer, with the moment and words of every entry.

    ``clock`` tells the clip's second where the coach names none.
    """
    mended, repairs = repair_misheard(transcript, vocabulary)
    narration = Narration(mended)
    context = Context(narration)
    learned = LearnedReader()  # loads in the background: the frames read meanwhile
    framed = _frames(vocabulary).read(narration, context)
    heard = learned.readings(narration)
    seen = [] if readers == "frames" else learned.sightings(heard, context)
    sightings = _chosen(framed, seen, learned.known, readers)
    named = [*sightings, *in_passing(seen, sightings)]
    faint = learned.sightings(heard, context, COUNTED)
    findings, set_aside = Joiner(narration, context, vocabulary).join(sightings)

    def faults_in(first: int, last: int) -> tuple[str, ...]:
        codes = [s.code for s in named if s.kind == "fault" and first <= s.first < last]
        return tuple(dict.fromkeys(codes))

    def drill_in(first: int, last: int) -> str | None:
        near = [s.index for s in narration.sentences if s.span.start < last and first < s.span.end]
        likely = {code: p for i in near for code, p in heard[i].drills.items() if p >= LIKELY}
        return max(likely, key=likely.__getitem__, default=None)

    drills = read_drills(narration, vocabulary, context, faults_in, drill_in)
    moments = find_moments(narration, drills.taken)
    taken = [*drills.taken, *((moment.first, moment.last) for moment in moments)]
    figures, figures_aside = read_figures(narration, vocabulary, taken, heard)
    notes = Notes(
        findings=findings,
        figures=figures,
        drills=drills.drills,
        causes=find_causes(narration, named, vocabulary),
        priorities=find_priorities(narration, [*sightings, *in_passing(faint, sightings, COUNTED)]),
        set_aside=(*set_aside, *drills.set_aside, *figures_aside),
        repairs=(*repairs, *drills.repairs),
    )
    return with_clip_times(notes, narration, moments, sightings, clock or Clock())


def _chosen(
    framed: Sequence[Sighting],
    learned: Sequence[Sighting],
    known: frozenset[tuple[Kind, str]],
    readers: Readers,
) -> list[Sighting]:
    """What the readers asked for saw, as far as it counts."""
    if readers == "frames":
        return list(framed)
    return agree(framed if readers == "both" else [], learned, known)
