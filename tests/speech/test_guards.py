import re
from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from voicenotes.speech.activity import Span
from voicenotes.speech.guards import judge
from voicenotes.speech.heard import Heard
from voicenotes.transcript import Doubt, Word

HINT = "Look at the scull, sculling and fingertip drag. Do eight twenty-fives, then six fifties."
SAID = "Your left elbow drops as soon as the pull starts."


def words_of(
    text: str, *, first: float = 0.0, sure: float = 0.9, length: float = 0.3
) -> tuple[Word, ...]:
    """Words one after another from a moment on, each equally long and equally sure."""
    return tuple(
        Word(
            text=word,
            start=round(first + place * length, 3),
            end=round(first + (place + 1) * length, 3),
            probability=sure,
        )
        for place, word in enumerate(text.split())
    )


def heard(
    words: tuple[Word, ...],
    spans: tuple[Span, ...],
    *,
    log_probability: float = -0.2,
    no_speech: float = 0.01,
    compression: float = 1.6,
    again: tuple[Word, ...] = (),
) -> Heard:
    """A clip as the recogniser gives it; the defaults are those of good speech."""
    return Heard(
        start=0,
        end=28,
        spans=spans,
        words=words,
        again=again,
        log_probability=log_probability,
        no_speech=no_speech,
        compression=compression,
    )


def text_of(words: list[Word]) -> str:
    return " ".join(word.text for word in words)


def reasons(doubts: list[Doubt]) -> list[str]:
    return [doubt.reason for doubt in doubts]


def test_plain_speech_is_kept_without_a_doubt() -> None:
    words, doubts = judge([heard(words_of(SAID), ((0.0, 3.0),))], HINT)
    assert text_of(words) == SAID
    assert doubts == []


def test_speech_without_words_is_reported_with_its_moment() -> None:
    words, doubts = judge([heard(words_of(SAID), ((0.0, 3.0), (5.0, 9.0)))], HINT)
    assert text_of(words) == SAID
    assert [(d.reason, d.start, d.end) for d in doubts] == [("unread_speech", 5.0, 9.0)]


def test_words_from_a_second_hearing_stand_where_they_were_said() -> None:
    late = words_of("Good head.", first=5.0)
    words, doubts = judge([heard(words_of(SAID), ((0.0, 3.0), (5.0, 5.6)), again=late)], HINT)
    assert text_of(words) == f"{SAID} Good head."
    assert doubts == []


def test_a_loop_is_said_once_and_the_speech_under_it_is_unread() -> None:
    loop = words_of("Good. " + "boom, " * 40, length=0.2)
    words, doubts = judge([heard(loop, ((0.0, 20.0),), compression=20.0)], HINT)
    assert text_of(words) == "Good. boom,"
    assert reasons(doubts) == ["repeat", "unread_speech"]
    assert doubts[0].text == "boom, (39 times more)"


def test_a_coach_may_say_a_word_four_times() -> None:
    said = "And it goes kick, kick, kick, kick, all the way down the length of the pool."
    words, doubts = judge([heard(words_of(said), ((0.0, 5.0),))], HINT)
    assert text_of(words) == said
    assert doubts == []


def test_unsure_words_where_nobody_speaks_are_dropped() -> None:
    made_up = words_of("Thank you so much.", first=10.0, sure=0.4)
    words, doubts = judge([heard(words_of(SAID) + made_up, ((0.0, 3.0),))], HINT)
    assert text_of(words) == SAID
    assert [(d.reason, d.text) for d in doubts] == [("no_speech", "Thank you so much.")]


def test_sure_words_with_bad_times_alone_are_kept() -> None:
    late = words_of("Lovely.", first=10.0, sure=0.98)
    words, _ = judge([heard(words_of(SAID) + late, ((0.0, 3.0),))], HINT)
    assert text_of(words) == f"{SAID} Lovely."


def test_mumbled_words_under_a_voice_are_kept() -> None:
    words, doubts = judge([heard(words_of(SAID, sure=0.45), ((0.0, 3.0),))], HINT)
    assert text_of(words) == SAID
    assert doubts == []


def test_filler_over_music_that_passed_for_a_voice_is_dropped() -> None:
    clip = heard(
        words_of("We will be right back.", sure=0.3),
        ((0.0, 1.5),),
        log_probability=-1.2,
        no_speech=0.7,
    )
    words, doubts = judge([clip], HINT)
    assert words == []
    assert reasons(doubts) == ["filler"]


def test_words_of_the_hint_out_of_nowhere_are_an_echo() -> None:
    clip = heard(words_of("Then six fifties.", sure=0.2), ((0.0, 1.0),), no_speech=0.7)
    words, doubts = judge([clip], HINT)
    assert words == []
    assert reasons(doubts) == ["prompt_echo"]


def test_the_whole_hint_is_an_echo_however_sure() -> None:
    words, doubts = judge([heard(words_of(HINT), ((0.0, 6.0),))], HINT)
    assert "fingertip" not in text_of(words)
    assert "prompt_echo" in reasons(doubts)


def test_a_set_that_is_like_the_hint_is_no_echo() -> None:
    said = "Do eight twenty-fives of fist, then four fifties."
    words, doubts = judge([heard(words_of(said), ((0.0, 3.0),))], HINT)
    assert text_of(words) == said
    assert doubts == []


def test_an_unsure_phrase_that_goes_beyond_the_hint_is_kept() -> None:
    said = "Right, like a screw, eight twenty-fives with fifteen seconds rest."
    words, _ = judge([heard(words_of(said, sure=0.45), ((0.0, 4.0),))], HINT)
    assert text_of(words) == said


CLIPS = st.builds(
    heard,
    st.lists(
        st.tuples(st.sampled_from(["boom", "Look", "at", "the.", "hip"]), st.floats(0, 1)),
        max_size=30,
    ).map(
        lambda said: tuple(
            Word(text=text, start=0.4 * n, end=0.4 * n + 0.3, probability=sure)
            for n, (text, sure) in enumerate(said)
        )
    ),
    st.sampled_from([(), ((0.0, 4.0),), ((0.0, 2.0), (5.0, 12.0))]),
    log_probability=st.floats(-2, 0),
    no_speech=st.floats(0, 1),
    compression=st.floats(0.5, 30),
)


@given(CLIPS)
def test_nothing_that_was_heard_vanishes(clip: Heard) -> None:
    words, doubts = judge([clip], HINT)
    told = Counter(word.text for word in words)
    for doubt in doubts:
        rounds = re.fullmatch(r"(.*) \((\d+) times more\)", doubt.text)
        text, times = (rounds[1], int(rounds[2])) if rounds else (doubt.text, 1)
        told.update(text.split() * times)
    assert told == Counter(word.text for word in clip.words)
    assert words == sorted(words, key=lambda word: word.start)
