from hypothesis import given
from hypothesis import strategies as st

from voicenotes.speech.cues import LONG_S, PAUSE_S, split_cues
from voicenotes.transcript import Word


def words_of(text: str, pauses: dict[int, float] | None = None) -> list[Word]:
    """Words of half a second each, 0.1 s apart; ``pauses`` holds longer ones by place."""
    words, clock = [], 0.0
    for place, word in enumerate(text.split()):
        clock += (pauses or {}).get(place, 0.1)
        words.append(Word(text=word, start=round(clock, 3), end=round(clock + 0.5, 3)))
        clock += 0.5
    return words


def texts(words: list[Word]) -> list[str]:
    return [cue.text for cue in split_cues(words)]


def test_a_cue_ends_with_the_sentence() -> None:
    assert texts(words_of("The elbow drops. Is it late? Yes, at 0.5 seconds")) == [
        "The elbow drops.",
        "Is it late?",
        "Yes, at 0.5 seconds",
    ]


def test_a_cue_ends_where_the_speaker_pauses() -> None:
    assert texts(words_of("and then the hand goes in", {3: PAUSE_S})) == [
        "and then the",
        "hand goes in",
    ]


def test_talk_without_full_stops_is_parted_at_breaths() -> None:
    talk = words_of("and the hand " * 40, dict.fromkeys(range(0, 120, 12), 0.3))
    cues = list(split_cues(talk))
    assert all(cue.end - cue.start < LONG_S + 8 for cue in cues)
    assert all(len(cue.words) % 12 == 0 for cue in cues)


@given(
    st.lists(st.sampled_from(["elbow", "drops.", "left,", "why?", "0.5"]), max_size=40),
    st.lists(st.floats(0, 3), min_size=40, max_size=40),
)
def test_every_word_is_in_one_cue_in_order(said: list[str], pauses: list[float]) -> None:
    words = words_of(" ".join(said), dict(enumerate(pauses)))
    cues = list(split_cues(words))
    assert [word for cue in cues for word in cue.words] == words
    for cue in cues:
        assert cue.text == " ".join(word.text for word in cue.words)
        assert (cue.start, cue.end) == (cue.words[0].start, cue.words[-1].end)
