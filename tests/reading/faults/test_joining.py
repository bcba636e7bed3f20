"""Findings made of sightings: side, severity and repeats."""

from tests.reading.spoken import narrated
from voicenotes.notes import Finding
from voicenotes.reading.context import Context
from voicenotes.reading.faults.joining import Joiner
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.vocabulary.load import load_vocabulary


def _joined(code: str, *sentences: str) -> tuple[Finding, ...]:
    """The findings where every sentence says one fault."""
    narration = narrated(*sentences)
    sightings = [
        Sighting("fault", code, s.index, s.span.start, s.span.end, "true", 0.9, "learned")
        for s in narration.sentences
    ]
    findings, _ = Joiner(narration, Context(narration), load_vocabulary()).join(sightings)
    return findings


def test_repeats_are_one_finding_with_all_their_moments() -> None:
    (finding,) = _joined("elbow_drops", "Your left elbow drops.", "There it drops a lot again.")
    assert (finding.side, finding.severity) == ("left", "marked")
    assert [m.start for m in finding.mentions] == [0.0, 4.0]


def test_left_and_right_said_alike_are_both() -> None:
    (finding,) = _joined("elbow_drops", "Your left elbow drops.", "The right elbow drops too.")
    assert finding.side == "both"


def test_a_fault_of_the_whole_body_has_no_side() -> None:
    (finding,) = _joined("hips_sink", "Your hips sink as the left hand goes in.")
    assert finding.side is None


def test_arms_that_move_as_a_pair_are_both() -> None:
    (finding,) = _joined("arms_enter_wide_fly", "Hands land way outside the shoulders.")
    assert (finding.side, finding.severity) == ("both", "marked")


def test_two_faults_in_one_sentence_keep_their_own_grading() -> None:
    narration = narrated("The left hand lands a touch wide, but the hips are really low.")
    comma = next(token.i for token in narration.doc if token.text == ",")
    sightings = [
        Sighting("fault", "entry_wide", 0, 0, comma, "true", 0.9, "learned"),
        Sighting("fault", "hips_sink", 0, comma + 1, len(narration.doc), "true", 0.9, "learned"),
    ]
    findings, _ = Joiner(narration, Context(narration), load_vocabulary()).join(sightings)
    assert {f.code: f.severity for f in findings} == {"entry_wide": "slight", "hips_sink": "marked"}


def test_what_is_not_true_is_set_aside_with_its_reason() -> None:
    narration = narrated("That left elbow isn't dropping.")
    denied = Sighting("fault", "elbow_drops", 0, 0, len(narration.doc), "denied", 0.9, "frames")
    findings, aside = Joiner(narration, Context(narration), load_vocabulary()).join([denied])
    assert findings == ()
    assert [(a.code, a.side, a.reason) for a in aside] == [("elbow_drops", "left", "denied")]
