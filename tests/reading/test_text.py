"""The narration as one text: sentences, and the way back to moments."""

from hypothesis import given, settings
from hypothesis import strategies as st

from voicenotes.reading.text import LONG_SENTENCE, Narration
from voicenotes.transcript import Cue, Transcript, Word


def narrated(*texts: str, gap: float = 1.0) -> Narration:
    cues, at = [], 0.0
    for text in texts:
        cues.append(Cue(start=at, end=at + 4, text=text))
        at += 4 + gap
    return Narration(Transcript(name="x", cues=tuple(cues), duration=at))


def test_a_sentence_over_two_cues_has_the_times_of_both() -> None:
    (sentence,) = narrated("Your left hand", "drifts wide.").sentences
    assert (sentence.start, sentence.end) == (0, 9)


def test_two_sentences_of_a_cue_share_its_time_by_their_length() -> None:
    first, second = narrated("Head up. The hips go down.").sentences
    assert first.start == 0
    assert 0 < first.end <= second.start < 4
    assert second.end == 4


def test_talk_without_marks_is_cut_at_its_cues() -> None:
    texts = ["so the left hand goes in and it waits there for a bit"] * 8
    assert len(" ".join(texts).split()) > LONG_SENTENCE
    assert [s.text for s in narrated(*texts).sentences] == texts


def test_certainty_is_that_of_the_least_sure_word() -> None:
    words = tuple(
        Word(text=text, start=i, end=i + 1, probability=p)
        for i, (text, p) in enumerate([("Elbow", 0.9), ("drops.", 0.4)])
    )
    cue = Cue(start=0, end=2, text="Elbow drops.", words=words)
    narration = Narration(Transcript(name="x", cues=(cue,), duration=2))
    assert narration.mention(narration.sentences[0].span).certainty == 0.4


@settings(max_examples=30, deadline=None)
@given(st.lists(st.text("abc .?", min_size=1, max_size=30), min_size=1, max_size=5))
def test_every_mention_lies_within_the_narration(texts: list[str]) -> None:
    narration = narrated(*texts)
    for sentence in narration.sentences:
        assert 0 <= sentence.start <= sentence.end <= narration.transcript.duration
