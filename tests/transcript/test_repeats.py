from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from voicenotes.transcript import Cue
from voicenotes.transcript.repeats import drop_trailer, join_overlaps

LINES = [
    "so this is the left arm",
    "and you can see the elbow",
    "drops right down in the catch",
    "which costs you a lot",
]
LATER = "the elbow drops as soon as the hand is in the water and you slip"


def cues_of(*rows: tuple[float, float, str]) -> list[Cue]:
    return [Cue(start=start, end=end, text=text) for start, end, text in rows]


def texts(cues: tuple[Cue, ...]) -> list[str]:
    return [cue.text for cue in cues]


def test_rolling_captions_are_read_once() -> None:
    rolling = [Cue(start=0, end=2, text=LINES[0])]
    for number, (above, new) in enumerate(pairwise(LINES), start=1):
        start = number * 2.0
        rolling.append(Cue(start=start, end=start + 0.01, text=above))
        rolling.append(Cue(start=start + 0.01, end=start + 2, text=f"{above} {new}"))
    cues, doubts = join_overlaps(rolling)
    assert texts(cues) == LINES
    assert {doubt.reason for doubt in doubts} == {"repeat"}
    assert {doubt.text for doubt in doubts} == set(LINES[:-1])


def test_captions_that_grow_are_read_once() -> None:
    cues, _ = join_overlaps(
        cues_of(
            (0, 1, "so the left"), (1, 2, "so the left elbow"), (2, 3, "so the left elbow sags")
        )
    )
    assert texts(cues) == ["so the left", "elbow", "sags"]


def test_a_speaker_who_says_a_thing_twice_is_left_alone() -> None:
    said = cues_of((0, 1, "kick, kick, kick"), (1, 2, "kick, kick, kick"), (2, 4, "good"),
                   (4, 6, "now the arms"), (6, 8, "and breathe"))  # fmt: skip
    cues, doubts = join_overlaps(said)
    assert cues == tuple(said)
    assert not doubts


def test_overlapping_cues_end_where_the_next_starts() -> None:
    cues, _ = join_overlaps(cues_of((0, 5, "the arms"), (3, 6, "the legs"), (3, 7, "the head")))
    assert cues == tuple(cues_of((0, 3, "the arms"), (3, 7, "the legs the head")))


def test_an_opening_trailer_goes_and_the_passage_in_its_place_stays() -> None:
    cues, doubts = drop_trailer(
        cues_of((0, 6, LATER.capitalize() + "."), (6, 9, "Hello Mia."), (90, 96, f"Well, {LATER}"))
    )
    assert texts(cues) == ["Hello Mia.", f"Well, {LATER}"]
    assert [(d.start, d.end, d.reason) for d in doubts] == [(0, 6, "repeat")]


def test_a_trailer_is_cut_out_of_its_cue() -> None:
    cues, doubts = drop_trailer(cues_of((0, 10, f"{LATER} hello Mia"), (90, 96, LATER)))
    assert texts(cues) == ["hello Mia", LATER]
    assert 0 < doubts[0].end < cues[0].start < 10


def test_a_passage_that_comes_twice_further_in_stays() -> None:
    said = cues_of(
        (0, 3, "hello Mia, good to see you again today"), (5, 11, LATER), (90, 96, LATER)
    )
    assert drop_trailer(said) == (tuple(said), ())


def test_a_passage_that_comes_three_times_stays() -> None:
    said = cues_of((0, 6, LATER), (50, 56, LATER), (90, 96, LATER))
    assert drop_trailer(said) == (tuple(said), ())


def test_eleven_words_again_are_no_trailer() -> None:
    short = " ".join(LATER.split()[:11])
    said = cues_of((0, 6, short), (8, 9, "hello"), (90, 96, f"well {short} now"))
    assert drop_trailer(said) == (tuple(said), ())


@given(st.lists(st.text("ab ", min_size=1, max_size=40), max_size=12))
def test_no_word_gets_lost(lines: list[str]) -> None:
    said = [
        Cue(start=at, end=at + 1, text=line.strip())
        for at, line in enumerate(lines)
        if line.strip()
    ]
    kept, doubts = drop_trailer(said)
    before = sum(len(cue.text.split()) for cue in said)
    after = sum(len(cue.text.split()) for cue in kept)
    assert after + sum(len(doubt.text.split()) for doubt in doubts) == before
    joined, dropped = join_overlaps(said)
    after = sum(len(cue.text.split()) for cue in joined)
    assert after + sum(len(doubt.text.split()) for doubt in dropped) == before
