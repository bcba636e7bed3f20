"""Which of two readers is believed."""

from typing import Literal

from voicenotes.notes import Kind, Status
from voicenotes.reading.faults.agreeing import agree
from voicenotes.reading.faults.sightings import Sighting

KNOWN: frozenset[tuple[Kind, str]] = frozenset({("fault", "elbow_drops")})


def _sighting(
    reader: Literal["frames", "learned"], certainty: float, status: Status = "true"
) -> Sighting:
    return Sighting("fault", "elbow_drops", 0, 0, 4, status, certainty, reader)


def test_a_sure_learned_reader_is_believed_alone() -> None:
    assert agree([], [_sighting("learned", 0.95)], KNOWN)


def test_a_doubtful_learned_reader_needs_a_frame() -> None:
    doubtful = _sighting("learned", 0.4)
    assert agree([], [doubtful], KNOWN) == []
    assert {s.seen_by for s in agree([_sighting("frames", 0.7)], [doubtful], KNOWN)} == {
        "frames",
        "learned",
    }


def test_a_frame_alone_does_not_count_for_what_was_learned() -> None:
    assert agree([_sighting("frames", 0.85)], [], KNOWN) == []


def test_a_frame_alone_counts_for_a_fault_of_the_coach_s_own() -> None:
    assert agree([_sighting("frames", 0.85)], [], set())


def test_what_is_true_is_not_set_aside_as_well() -> None:
    kept = agree(
        [_sighting("frames", 0.7, "denied")],
        [_sighting("learned", 0.95)],
        KNOWN,
    )
    assert [s.status for s in kept] == ["true"]
