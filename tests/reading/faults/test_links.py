"""Causes between faults, and the coach's own order of work."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reading.spoken import narrated
from voicenotes.reading.faults.links import find_causes, find_priorities
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.load import load_vocabulary

VOCABULARY = load_vocabulary()
HEAD, HIPS = ("chin lifts", "head_lifts"), ("hips sink", "hips_sink")


def _seen(narration: Narration, *faults: tuple[str, str]) -> list[Sighting]:
    """Sightings of faults wherever their words stand in the narration."""
    sightings = []
    for sentence in narration.sentences:
        for words, code in faults:
            at = sentence.text.lower().find(words)
            span = sentence.span.char_span(at, at + len(words)) if at >= 0 else None
            if span is not None:
                sightings.append(
                    Sighting(
                        "fault", code, sentence.index, span.start, span.end, "true", 0.9, "frames"
                    )
                )
    return sightings


def _linked(*sentences: str) -> list[tuple[str, str]]:
    narration = narrated(*sentences)
    causes = find_causes(narration, _seen(narration, HEAD, HIPS), VOCABULARY)
    return [(cause.cause, cause.effect) for cause in causes]


@given(
    put=st.sampled_from(
        [
            "The chin lifts, so the hips sink.",
            "The chin lifts and that's why the hips sink.",
            "The chin lifts, which makes the hips sink.",
            "The hips sink because the chin lifts.",
            "Because the chin lifts, the hips sink.",
            "When the chin lifts the hips sink.",
            "The hips sink, and it all comes from how the chin lifts.",
            "The hips sink, thanks to the way the chin lifts.",
        ]
    ),
    opening=st.sampled_from(["", "Look, ", "There, "]),
)
@settings(max_examples=24, deadline=None)
def test_a_link_reads_the_same_both_ways_round(put: str, opening: str) -> None:
    words = opening + (put[0].lower() + put[1:] if opening else put)
    assert _linked(words) == [("head_lifts", "hips_sink")]


def test_a_link_reaches_over_the_sentence_break() -> None:
    assert _linked("The chin lifts on every breath.", "That's why the hips sink.") == [
        ("head_lifts", "hips_sink")
    ]


@pytest.mark.parametrize(
    "sentences",
    [
        ("The chin lifts a little.", "Nice kick.", "Good rhythm.", "The hips sink as well."),
        ("The chin lifts.", "The hips sink."),
    ],
)
def test_faults_named_one_after_the_other_are_not_linked(sentences: tuple[str, ...]) -> None:
    assert _linked(*sentences) == []


def test_a_fault_that_is_not_true_is_not_linked() -> None:
    narration = narrated("The chin lifts, so the hips sink.")
    first, second = _seen(narration, HEAD, HIPS)
    denied = Sighting("fault", second.code, 0, second.first, second.last, "denied", 0.9, "frames")
    assert find_causes(narration, [first, denied], VOCABULARY) == ()


def test_a_link_points_to_its_sentence() -> None:
    narration = narrated("Here we go.", "The chin lifts, so the hips sink.")
    (cause,) = find_causes(narration, _seen(narration, HEAD, HIPS), VOCABULARY)
    assert cause.mention.quote == "The chin lifts, so the hips sink."
    assert (cause.mention.start, cause.mention.end) == (4.0, 8.0)


def test_the_learned_reader_can_link_what_no_word_links() -> None:
    narration = narrated("The hips sink there, the chin lifts and down they go.")
    head, hips = sorted(_seen(narration, HEAD, HIPS), key=lambda s: s.code)
    sure = [
        Sighting("fault", s.code, 0, s.first, s.last, "true", 0.9, "learned", cause, effect)
        for s, cause, effect in ((head, 0.9, 0.0), (hips, 0.0, 0.9))
    ]
    causes = find_causes(narration, sure, VOCABULARY)
    assert [(c.cause, c.effect) for c in causes] == [("head_lifts", "hips_sink")]


def test_what_is_counted_off_is_ranked() -> None:
    narration = narrated("First thing, the hips sink.", "Second, the chin lifts.")
    ranked = find_priorities(narration, _seen(narration, HEAD, HIPS))
    assert [(p.rank, p.code) for p in ranked] == [(1, "hips_sink"), (2, "head_lifts")]
