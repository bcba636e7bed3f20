"""Word, Cue, Transcript: what was heard, and when."""

from typing import Literal, Self

from pydantic import Field, model_validator

from voicenotes.record import Record


class Word(Record):
    """One recognised word. Times are seconds of the narration."""

    text: str
    start: float = Field(ge=0)
    end: float = Field(ge=0)
    probability: float | None = Field(default=None, ge=0, le=1)


class Cue(Record):
    """A stretch of speech: a sentence or a breath group. Times are seconds of the narration."""

    start: float = Field(ge=0)
    end: float = Field(ge=0)
    text: str
    words: tuple[Word, ...] = ()

    @model_validator(mode="after")
    def _ends_after_start(self) -> Self:
        if self.end < self.start:
            raise ValueError(f"ends at {self.end} s, before it starts at {self.start} s")
        return self


class Doubt(Record):
    """A stretch where what was heard cannot be trusted, and why. Times in seconds."""

    start: float
    end: float
    reason: Literal[
        "unread_speech",
        "no_speech",
        "repeat",
        "filler",
        "prompt_echo",
        "other_language",
        "cut_off",
    ]
    text: str = ""


class Transcript(Record):
    """A narration in words.

    ``doubts`` holds what was dropped or could not be read, so that nothing vanishes silently.
    ``timed`` is False where times were guessed from the length of the text.
    """

    name: str
    cues: tuple[Cue, ...]
    duration: float = Field(ge=0)
    language: str = "en"
    timed: bool = True
    engine: dict[str, str] = Field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()

    @model_validator(mode="after")
    def _cues_run_forwards(self) -> Self:
        for before, after in zip(self.cues, self.cues[1:], strict=False):
            if after.start < before.start:
                raise ValueError(f"a cue at {after.start} s follows one at {before.start} s")
        return self
