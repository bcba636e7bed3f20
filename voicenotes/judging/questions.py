"""What a coach should listen to again: single figures that look odd."""

from collections.abc import Callable
from dataclasses import dataclass

from voicenotes.judging.bands import choose_band
from voicenotes.judging.cases import Case, hold, verdicts_of
from voicenotes.judging.intervals import Span, closed, compare, span
from voicenotes.notes import Interval, Notes
from voicenotes.review import Question, Verdict
from voicenotes.vocabulary.model import Band, Measure, Vocabulary
from voicenotes.words import amount, listen, named, quantity

UNSURE_BELOW = 0.5
"""Probability of a figure's words below which it is put to the coach: the recogniser itself gives
them less than an even chance."""

OFF_BY_SHARE = 0.1
"""Share of the nearest edge by which a figure must miss a range before it is worth a question:
angles and counts taken from a clip by eye are good to about a tenth (common practice)."""

OFF_BY_REACH = 0.02
"""The same as a share of all that is possible, for ranges with an edge near nought."""

EITHER_WAY = {"pace", "split", "swolf"}
"""Measures of time, where "too much" may mean the seconds or the speed."""


@dataclass(frozen=True)
class Reading:
    """Another way to take a figure: ``words`` tells what it would then have been.

    ``at_a_pinch`` readings are only thought of where the figure is not possible as it stands:
    a roll of 80 is a fault more often than the sum of both sides.
    """

    words: str
    convert: Callable[[float], float]
    at_a_pinch: bool = False


FROM_STRAIGHT = Reading("bend from straight", lambda x: 180 - x)
INSIDE_ANGLE = Reading("the inside angle of the joint", lambda x: 180 - x)
BOTH_SIDES = Reading("the whole roll from left to right", lambda x: x / 2, at_a_pinch=True)

OTHER_READINGS: dict[str, tuple[Reading, ...]] = {
    "elbow_angle": (FROM_STRAIGHT,),
    "knee_bend": (INSIDE_ANGLE,),
    "hip_bend": (INSIDE_ANGLE,),
    "ankle_point": (Reading("the angle between foot and shin", lambda x: x - 90),),
    "shoulder_roll": (BOTH_SIDES,),
    "hip_roll": (BOTH_SIDES,),
    "stroke_rate": (Reading("full cycles a minute", lambda x: 2 * x),),
    "cycle_rate": (Reading("single strokes a minute", lambda x: x / 2),),
    "distance_per_stroke": (Reading("the distance of a full cycle", lambda x: x / 2),),
}
"""Conventions that coaches mix, with the figure each would give in the measure's own one."""


def question_about(
    case: Case, notes: Notes, vocabulary: Vocabulary, borne_out: frozenset[int] = frozenset()
) -> Question | None:
    """The one question a figure most wants answered, or None.

    A figure is only called odd where it is odd for every level and condition that may be meant.
    ``borne_out`` holds indexes of figures that others confirm as they were read.
    """
    convention = None if case.index in borne_out else _convention(case, notes, vocabulary)
    return (
        _impossible(case)
        or convention
        or _remark(case)
        or _target_off_band(case)
        or _unsurely_heard(case)
    )


def clearly_off(verdict: Verdict, measure: Measure) -> bool:
    """Whether a figure lies outside a range by more than a coach's eye may err."""
    if verdict.outcome not in ("under", "over"):
        return False
    edge = verdict.low if verdict.outcome == "under" else verdict.high
    reach = measure.possible[1] - measure.possible[0]
    return verdict.margin > max(OFF_BY_SHARE * abs(edge or 0), OFF_BY_REACH * reach)


def _off_for_anyone(case: Case, value: Span) -> bool:
    """Whether a value is off every band that may be meant."""
    bands = case.for_anyone
    held = (hold(case.index, value, (band.low, band.high), band) for band in bands)
    return bool(bands) and all(clearly_off(verdict, case.measure) for verdict in held)


def _ask(about: str, case: Case, text: str) -> Question:
    mentions = case.figure.mentions
    return Question.model_validate(
        {
            "about": about,
            "text": f"{text} {listen(mentions)}",
            "figures": (case.index,),
            "mention": mentions[0],
        }
    )


def _impossible(case: Case) -> Question | None:
    said = [i for i in (case.figure.observed, case.figure.target) if i is not None]
    odd = next((i for i in said if not _possible(i, case.measure)), None)
    if odd is None:
        return None
    other = _readings_inside(case, odd, span(case.measure.possible))
    if other:
        return _which_reading(case, odd, other[0])
    low, high = case.measure.possible
    return _ask(
        "impossible",
        case,
        f"You gave the {_name(case)} as {quantity(odd, case.measure.unit)}, but only"
        f" {quantity((low, high), case.measure.unit)} is possible.",
    )


def _possible(said: Interval, measure: Measure) -> bool:
    low, high = measure.possible
    return all(low <= end <= high for end in said if end is not None)


def _convention(case: Case, notes: Notes, vocabulary: Vocabulary) -> Question | None:
    """Asks where a figure is odd as it was read and ordinary when it is taken the other way."""
    seen, value = case.figure.observed, case.observed
    if seen is None or value is None or case.target or not _off_for_anyone(case, value):
        return None
    if case.figure.remark in ("too_much", "too_little"):
        return None
    off = verdicts_of(case)
    if not off or _explained(off[0], case, notes, vocabulary):
        return None
    usual = span((off[0].low, off[0].high))
    readings = [r for r in _readings_inside(case, seen, usual) if not r.at_a_pinch]
    return _which_reading(case, seen, readings[0]) if readings else None


def _explained(verdict: Verdict, case: Case, notes: Notes, vocabulary: Vocabulary) -> bool:
    """Whether a fault that the coach found puts the figure where it is."""
    faults = [vocabulary.faults.get(f.code) for f in notes.findings if f.kind == "fault"]
    return any(
        sign.measure == case.figure.measure and sign.when == verdict.outcome
        for fault in faults
        if fault
        for sign in fault.measured_by
    )


def _readings_inside(case: Case, said: Interval, allowed: Span) -> list[Reading]:
    """Other ways to take a figure that put it inside a range."""
    readings = OTHER_READINGS.get(case.figure.measure, ())
    return [r for r in readings if compare(span(_retaken(said, r)), allowed)[0] == "inside"]


def _retaken(said: Interval, reading: Reading) -> Interval:
    low, high = (None if end is None else reading.convert(end) for end in said)
    turned = reading.convert(1) < reading.convert(0)
    return (high, low) if turned else (low, high)


def _which_reading(case: Case, said: Interval, reading: Reading) -> Question:
    unit = case.measure.unit
    return _ask(
        "convention",
        case,
        f"You gave the {_name(case)} as {quantity(said, unit)}, read as"
        f" {case.measure.convention}. If you meant {reading.words}, it is"
        f" {quantity(_retaken(said, reading), unit)}. Which was it?",
    )


def _remark(case: Case) -> Question | None:
    """Asks where what the coach said of a figure and what it is do not go together."""
    remark, verdict = case.figure.remark, next(iter(verdicts_of(case)), None)
    if remark is None or verdict is None or case.observed is None:
        return None
    band = verdict.band
    off = clearly_off(verdict, case.measure) and (
        band is None or _off_for_anyone(case, case.observed)
    )
    firm = band is None or band.standing != "from memory"
    if remark == "good":
        odd, called = off, "good"
    elif case.figure.measure in EITHER_WAY:
        return None
    else:
        wrong, called = ("under", "too much") if remark == "too_much" else ("over", "too little")
        odd = (firm and verdict.outcome == "inside") or (off and verdict.outcome == wrong)
    if not odd:
        return None
    return _ask(
        "remark",
        case,
        f"You said the {_name(case)} of"
        f" {quantity(case.figure.observed or (None, None), case.measure.unit)} is {called}, but"
        f" it is {_where(verdict, case.measure.unit)}.",
    )


def _where(verdict: Verdict, unit: str) -> str:
    """ "35° over the 90 to 120° you asked for", "within the usual 90 to 120° (...)"."""
    by = f"{amount(verdict.margin, unit)} {verdict.outcome}"
    place = "within" if verdict.outcome == "inside" else by
    edges_said = quantity((verdict.low, verdict.high), unit)
    if verdict.band is None:
        return f"{place} the {edges_said} you asked for"
    return f"{place} the usual {edges_said} ({_standing(verdict.band)})"


def _standing(band: Band) -> str:
    shown = band.source if band.standing == "published" else band.standing
    return f"{band.condition}; {shown}"


def _target_off_band(case: Case) -> Question | None:
    target, unit = case.figure.target, case.measure.unit
    if target is None:
        return None
    wanted = closed(target, case.measure.possible)
    band = choose_band(wanted, case.bands)
    if band is None or band.standing == "from memory" or not _off_for_anyone(case, wanted):
        return None
    verdict = hold(case.index, wanted, (band.low, band.high), band)
    return _ask(
        "target_off_band",
        case,
        f"You asked for the {_name(case)} to be {quantity(target, unit)},"
        f" {_where(verdict, unit)}. Is that what you want?",
    )


def _unsurely_heard(case: Case) -> Question | None:
    unsure = [
        m for m in case.figure.mentions if m.certainty is not None and m.certainty < UNSURE_BELOW
    ]
    if not unsure:
        return None
    said = case.figure.observed or case.figure.target or (None, None)
    return _ask(
        "unsurely_heard",
        case,
        f"The {_name(case)} of {quantity(said, case.measure.unit)} was heard"
        f" unsurely (“{unsure[0].quote}”).",
    )


def _name(case: Case) -> str:
    return named(case.figure, case.measure)
