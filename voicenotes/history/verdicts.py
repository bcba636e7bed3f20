"""What became of earlier corrections: the figures decide, then what was said."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from voicenotes.history.kept import Kept, KeptCorrection, KeptFigure
from voicenotes.judging.intervals import Span, closed, meet, span
from voicenotes.judging.ranking import GRADES
from voicenotes.notes import Interval, Severity, Side
from voicenotes.review import Became, Compared, Since
from voicenotes.vocabulary.model import STAGES, Stage, Stroke, Vocabulary

GONE_BY_WORDS = {"denied", "past"}
"""Reasons for setting a fault aside that say that it is not there any more."""

FROM_BEST = ("gone", "better", "same", "worse")

PRAISED_AS = {
    fault: strength
    for strength, faults in {
        "entry": "entry_crosses_midline entry_wide entry_short entry_thumb_first entry_slaps"
        " arms_enter_wide_fly back_entry_crosses",
        "catch": "elbow_drops",
        "pull": "pull_wide pull_crosses_midline pull_arm_straight pull_slips breast_pull_wide",
        "finish": "finish_short finish_palm_up",
        "recovery": "recovery_elbow_low recovery_wide",
        "head": "head_lifts head_turns_far head_unsteady back_head_lifts",
        "breathing": "breath_late breath_held breath_one_side",
        "body_line": "hips_sink legs_sink body_snakes back_arches body_bounces",
        "rotation": "over_rotates under_rotates roll_uneven hips_lag",
        "kick": "knee_bends scissor_kick ankles_stiff kick_weak kick_too_big kick_timing_off",
        "rhythm": "catch_up_timing timing_uneven stroke_rate_low stroke_rate_high",
        "turns": "turn_slow",
    }.items()
    for fault in faults.split()
}
"""The strength that praises the very part that a fault belongs to (common practice); a fault
without one is not taken for gone because something was praised."""


@dataclass(frozen=True)
class _Open:
    """A correction that is still to be worked on, as it was last looked at."""

    code: str
    name: str
    side: Side | None
    severity: Severity | None
    figures: tuple[KeptFigure, ...]
    day: date
    stage: Stage | None
    """The latest stage of the drills that the plan had for it."""


def since_last(earlier: Sequence[Kept], now: Kept, vocabulary: Vocabulary) -> tuple[Since, ...]:
    """What a review says of each correction of the reviews before it, then its new ones.

    ``earlier`` are the same swimmer's reviews, oldest first. Empty for a first review.
    """
    *_, last = course([*earlier, now], vocabulary)
    return last


def course(reviews: Iterable[Kept], vocabulary: Vocabulary) -> Iterator[tuple[Since, ...]]:
    """For each of a swimmer's reviews, oldest first, what it says of those before it.

    Those of another stroke do not count. A correction that was not looked at stays open with its
    latest figures; one that is gone is closed, and is new where it comes back.
    """
    open_in: dict[Stroke, list[_Open]] = {}
    for kept in reviews:
        still = open_in.get(kept.stroke)
        if still is None:
            yield ()
        else:
            told = [_became(one, kept, vocabulary) for one in still]
            new = [_new(found) for found in kept.corrections if not _known(found, still)]
            yield (*told, *new)
        open_in[kept.stroke] = _still_open(still or [], kept, vocabulary)


def _still_open(still: list[_Open], kept: Kept, vocabulary: Vocabulary) -> list[_Open]:
    """What is open after a review: its own corrections, and those it did not close."""
    left = []
    for one in still:
        found = _became(one, kept, vocabulary)
        if found.became == "gone" or _said_again(one, kept):
            continue
        newer = tuple(now for now, _ in _pairs(one, kept))
        looked_at = found.became != "not looked at"
        left.append(replace(one, figures=newer, day=kept.made_on) if looked_at else one)
    return [_opened(found, kept, vocabulary) for found in kept.corrections] + left


def _opened(correction: KeptCorrection, kept: Kept, vocabulary: Vocabulary) -> _Open:
    stages = [
        vocabulary.drills[swim.drill].stage
        for swim in kept.plan
        if swim.focus == correction.code and swim.drill in vocabulary.drills
    ]
    return _Open(
        code=correction.code,
        name=correction.name,
        side=correction.side,
        severity=correction.severity,
        figures=tuple(kept.figures[index] for index in correction.figures),
        day=kept.made_on,
        stage=max(stages, key=STAGES.index, default=None),
    )


def _known(correction: KeptCorrection, still: Sequence[_Open]) -> bool:
    return any(
        one.code == correction.code and _sides_fit(one.side, correction.side) for one in still
    )


def _new(correction: KeptCorrection) -> Since:
    return Since(code=correction.code, name=correction.name, side=correction.side, became="new")


def _became(one: _Open, now: Kept, vocabulary: Vocabulary) -> Since:
    pairs = _pairs(one, now)
    told = [_by_figure(one.code, was, seen, vocabulary) for seen, was in pairs]
    measured = [became for became in told if became is not None]
    by_figures = max(measured, key=FROM_BEST.index, default=None)
    again = _said_again(one, now)
    became = _decided(by_figures, _by_words(one, again, now), again is not None)
    return Since(
        code=one.code,
        name=one.name,
        side=one.side,
        became=became,
        seen_on=one.day,
        compared=tuple(_compared(was, seen) for seen, was in pairs),
        stage=_next_stage(one.stage, became) if again else None,
    )


def _next_stage(stage: Stage | None, became: Became) -> Stage | None:
    """A stage on where it is better, the same where nothing has changed, one back where worse."""
    if stage is None:
        return None
    step = {"better": 1, "worse": -1}.get(became, 0)
    return STAGES[min(len(STAGES) - 1, max(0, STAGES.index(stage) + step))]


def _decided(figures: Became | None, words: Became | None, again: bool) -> Became:
    """Figures before words: but a fault that is named again is not gone, and one that is said to
    be gone and did not measure worse is."""
    if again:
        return "better" if figures == "gone" else figures or words or "same"
    if words == "gone" and figures != "worse":
        return "gone"
    return figures or "not looked at"


def _said_again(one: _Open, now: Kept) -> KeptCorrection | None:
    named = (c for c in now.corrections if c.code == one.code and _sides_fit(one.side, c.side))
    return next(named, None)


def _by_words(one: _Open, again: KeptCorrection | None, now: Kept) -> Became | None:
    """By severity where the fault is named again and both words are there; else whether it was
    said to be gone, or the very part was praised on every side that it was on."""
    if again is not None:
        if one.severity is None or again.severity is None:
            return None
        change = GRADES[again.severity] - GRADES[one.severity]
        return "better" if change < 0 else "worse" if change > 0 else "same"
    over = {
        found.side
        for found in now.findings
        if (found.kind == "fault" and found.code == one.code and found.reason in GONE_BY_WORDS)
        or (
            found.kind == "strength"
            and found.code == PRAISED_AS.get(one.code)
            and found.reason is None
        )
    }
    covered = bool(over & {None, "both", one.side}) or {"left", "right"} <= over
    return "gone" if covered else None


def _pairs(one: _Open, now: Kept) -> list[tuple[KeptFigure, KeptFigure]]:
    """Figures of now beside those of then: same measure, unit, distance and side."""
    return [
        (seen, was)
        for was in one.figures
        for seen in now.figures
        if was.observed is not None
        and seen.observed is not None
        and (seen.measure, seen.unit, seen.distance_m) == (was.measure, was.unit, was.distance_m)
        and _sides_fit(seen.side, was.side)
    ]


def _by_figure(
    code: str, was: KeptFigure, seen: KeptFigure, vocabulary: Vocabulary
) -> Became | None:
    """What two figures say of a fault: nothing has changed where they share a value.

    Distances are those of the nearest and the farthest value from the aim of now, else of then;
    without any, the fault's own sign tells which way is better.
    """
    before, after = _span(was, vocabulary), _span(seen, vocabulary)
    if meet(before, after):
        return "same"
    aim = seen.aim or was.aim
    if aim is None:
        return _by_sign(code, was.measure, before, after, vocabulary)
    nearest_then, farthest_then = _away(before, span(aim))
    nearest_now, farthest_now = _away(after, span(aim))
    if farthest_now == 0:
        return "gone" if farthest_then > 0 else "same"
    if farthest_now < nearest_then:
        return "better"
    return "worse" if nearest_now > farthest_then else "same"


def _by_sign(
    code: str, measure: str, before: Span, after: Span, vocabulary: Vocabulary
) -> Became | None:
    fault = vocabulary.faults.get(code)
    ways = {sign.when for sign in fault.measured_by if sign.measure == measure} if fault else set()
    if len(ways) != 1:
        return None
    return "better" if (after.high < before.low) == (ways == {"over"}) else "worse"


def _span(figure: KeptFigure, vocabulary: Vocabulary) -> Span:
    """What was seen, to a millionth, an open end closed at what is possible."""
    seen: Interval = figure.observed or (None, None)
    measure = vocabulary.measures.get(figure.measure)
    ends = closed(seen, measure.possible) if measure else span(seen)
    return Span(round(ends.low, 6), round(ends.high, 6))


def _away(seen: Span, aim: Span) -> tuple[float, float]:
    """How far the nearest and the farthest value lie from a range."""
    ends = [max(0.0, aim.low - end, end - aim.high) for end in seen]
    return (0.0 if meet(seen, aim) else min(ends)), max(ends)


def _sides_fit(one: Side | None, other: Side | None) -> bool:
    return one == other or bool({one, other} & {None, "both"})


def _compared(was: KeptFigure, seen: KeptFigure) -> Compared:
    return Compared(
        measure=seen.measure,
        side=seen.side or was.side,
        unit=seen.unit,
        was=was.observed or (None, None),
        now=seen.observed or (None, None),
        aim=seen.aim or was.aim,
    )
