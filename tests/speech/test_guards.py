import re
from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from voicenotes.speech.activity import Span
from voicenotes.speech.guards import UNREAD_S, judge, unread, without_loops
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


FEW_WORDS = st.lists(st.sampled_from(["kick", "kick,", "pull", "—", "Look", "at", "the."]))
"""So few different words that they loop, echo and end sentences all the time."""


@st.composite
def clips(draw: st.DrawFn) -> Heard:
    """A clip as it might be: loops, words of no length, words where nobody speaks."""

    def some_words() -> tuple[Word, ...]:
        lengths, clock, words = st.sampled_from([0.0, 0.02, 0.3, 2.0]), 0.0, []
        for text in draw(FEW_WORDS):
            end = clock + draw(lengths)
            words.append(Word(text=text, start=clock, end=end, probability=draw(st.floats(0, 1))))
            clock = end + draw(lengths)
        return tuple(words)

    return heard(
        some_words(),
        draw(st.sampled_from([(), ((0.0, 4.0),), ((0.0, 2.0), (2.1, 5.0), (9.0, 25.0))])),
        again=some_words(),
        log_probability=draw(st.floats(-2, 0)),
        no_speech=draw(st.floats(0, 1)),
        compression=draw(st.floats(0.5, 30)),
    )


@given(clips(), FEW_WORDS.map(" ".join))
def test_nothing_that_was_heard_vanishes(clip: Heard, hint: str) -> None:
    words, doubts = judge([clip], hint)
    told = " ".join(word.text for word in words).split()
    for doubt in doubts:
        rounds = re.fullmatch(r"(.*) \((\d+) times more\)", doubt.text)
        text, times = (rounds[1], int(rounds[2])) if rounds else (doubt.text, 1)
        told += text.split() * times
    said = [word.text for word in (*clip.words, *clip.again)]
    assert Counter(word.strip(",") for word in told) == Counter(word.strip(",") for word in said)
    assert words == sorted(words, key=lambda word: word.start)


@given(clips())
def test_speech_is_unread_only_where_a_voice_goes_on_without_a_word(clip: Heard) -> None:
    for start, end in unread(clip.spans, clip.words):
        assert end - start >= UNREAD_S - 0.001
        assert clip.spans[0][0] <= start <= end <= clip.spans[-1][1]
        assert not any(start < (word.start + word.end) / 2 < end for word in clip.words)


@given(st.lists(st.sampled_from(["kick", "pull"]), min_size=1, max_size=3), st.integers(4, 200))
def test_a_loop_of_any_length_comes_to_an_end(once: list[str], times: int) -> None:
    clip = heard(words_of(" ".join(once * times), length=0.1), (), compression=30.0)
    kept, doubts = without_loops(clip)
    assert len(kept) <= len(once)
    assert reasons(doubts) == ["repeat"]


def test_another_language_is_dropped_on_record_whatever_english_is_made_of_it() -> None:
    said = words_of("This is the second largo, and the camera is on the side.")
    clip = heard(said, ((0.0, 4.0),)).model_copy(update={"english": 0.02, "other": "es"})
    words, doubts = judge([clip], HINT)
    assert words == []
    assert [(d.reason, d.start, d.end, d.text) for d in doubts] == [
        ("other_language", 0.0, 4.0, text_of(list(said)))
    ]


def test_a_strong_accent_is_no_other_language() -> None:
    clip = heard(words_of(SAID), ((0.0, 3.0),)).model_copy(update={"english": 0.35})
    assert judge([clip], HINT)[1] == []


def test_a_single_word_tells_no_language() -> None:
    clip = heard(words_of("Okay."), ((0.0, 0.5),)).model_copy(update={"english": 0.02})
    assert text_of(judge([clip], HINT)[0]) == "Okay."
