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
    assert all(len(cue.words) % 12 == 0 for cue in split_cues(talk))


def test_a_long_sentence_without_a_breath_is_parted_at_a_comma() -> None:
    talk = words_of("and then the hand goes in late, " * 3 + "which is what we saw last week.")
    first, *_, last = texts(talk)
    assert first.endswith("late,")
    assert last.startswith("and")


def test_a_long_sentence_without_any_place_to_part_it_gives_no_scraps() -> None:
    for cue in split_cues(words_of("and " * 50)):
        assert LONG_S / 4 <= cue.end - cue.start <= LONG_S


@st.composite
def talk(draw: st.DrawFn) -> list[Word]:
    """Words as recognition gives them: some of no length, some far too long, some overlapping."""
    words, clock = [], 0.0
    for text in draw(st.lists(st.sampled_from(["elbow", "drops.", "left,", "why?", "0.5"]))):
        clock += draw(st.floats(0, 3))
        end = clock + draw(st.floats(0, 2) | st.floats(0, 30))
        words.append(Word(text=text, start=round(clock, 3), end=round(end, 3)))
    return words


@given(talk())
def test_every_word_is_in_one_cue_in_order(words: list[Word]) -> None:
    cues = list(split_cues(words))
    assert [word for cue in cues for word in cue.words] == words
    for cue in cues:
        assert cue.text == " ".join(word.text for word in cue.words)
        assert cue.start == cue.words[0].start
        assert cue.end == max(word.end for word in cue.words)
        assert cue.end - cue.start <= LONG_S or len(cue.words) == 1


@given(talk())
def test_no_cue_goes_on_after_a_sentence_ends(words: list[Word]) -> None:
    for cue in split_cues(words):
        assert not any(word.text.endswith((".", "?")) for word in cue.words[:-1])
