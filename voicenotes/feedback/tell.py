"""Review and vocabulary -> View: looks up names, picks what is told where."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import get_args

from voicenotes.feedback.charts import draw
from voicenotes.feedback.spots import clocks_of, spot_of
from voicenotes.feedback.terms import terms_in
from voicenotes.feedback.view import (
    Aside,
    Asked,
    Cautioned,
    Change,
    Chart,
    Dose,
    DrillLine,
    Fix,
    Measured,
    Part,
    Praise,
    Sequel,
    Spot,
    SwimLine,
    View,
    Visit,
)
from voicenotes.notes import DrillSet, Finding, Interval, Mention
from voicenotes.review import Became, Correction, Review, Session, Since, Swim, Verdict
from voicenotes.vocabulary.model import Aid, Drill, Fault, Measure, Strength, Vocabulary


def tell(review: Review, vocabulary: Vocabulary) -> View:
    """What the pages show of a review."""
    return _Teller(review, vocabulary).view()


class _Teller:
    """Looks entries up; ``_told`` holds what has been explained once already."""

    def __init__(self, review: Review, vocabulary: Vocabulary) -> None:
        self.review, self.vocabulary = review, vocabulary
        self._told: set[str] = set()
        self._terms: set[str] = set()

    def view(self) -> View:
        """The whole view, in the order in which it is read."""
        review = self.review
        now = tuple(self._fix(c) for c in review.corrections if c.focus == "now")
        later = tuple(self._fix(c) for c in review.corrections if c.focus == "later")
        shown = {i for c in review.corrections if c.focus == "now" for i in self._with_twins(c)}
        rest = [i for i in range(len(review.figures)) if i not in shown]
        return View(
            swimmer=review.brief.swimmer,
            coach=review.brief.coach,
            greeting=_own_lines(review.brief.greeting, review.brief.swimmer),
            sign_off=_own_lines(review.brief.sign_off, review.brief.swimmer),
            stroke=review.brief.stroke,
            minutes_given=review.brief.minutes,
            timed=review.made.timed,
            draft=review.draft,
            clock=clocks_of(review),
            praise=tuple(self._praise()),
            since=tuple(sorted(map(self._sequel, review.since), key=_how_good)),
            now=now,
            later=later,
            other_figures=tuple(self._measured(i) for i in rest),
            visits=tuple(self._visit(session) for session in review.plan.sessions),
            cautions=tuple(Cautioned(note.text, note.source) for note in review.cautions),
            questions=tuple(Asked(q.text, q.mention) for q in review.questions),
            aside=tuple(Aside(s, self._name(s.kind, s.code)) for s in review.set_aside),
            figures=tuple(self._measured(i) for i in range(len(review.figures))),
            added=any(s.added for visit in review.plan.sessions for s in visit.swims),
        )

    def _name(self, kind: str, code: str) -> str:
        """An entry's plain name; the code as words where the vocabulary has none."""
        known: dict[str, Mapping[str, Fault | Strength | Measure | Drill | Aid]] = {
            "fault": self.vocabulary.faults,
            "strength": self.vocabulary.strengths,
            "figure": self.vocabulary.measures,
            "drill": self.vocabulary.drills,
            "aid": self.vocabulary.aids,
        }
        entry = known[kind].get(code)
        return entry.name if entry else code.replace("_", " ")

    def _praise(self) -> Iterable[Praise]:
        for code in self.review.strengths:
            for finding in self._findings(code):
                name = self._name("strength", code)
                yield Praise(name, finding.side, self._spot(finding.mentions))

    def _sequel(self, since: Since) -> Sequel:
        changes = [
            Change(
                measure=pair.measure,
                name=self._name("figure", pair.measure),
                side=pair.side,
                unit=pair.unit,
                was=pair.was,
                now=pair.now,
                aim=pair.aim,
            )
            for pair in since.compared
        ]
        return Sequel(since.name, since.side, since.became, since.seen_on, tuple(changes))

    def _spot(self, mentions: Sequence[Mention]) -> Spot:
        return spot_of(self.review, mentions)

    def _findings(self, strength: str) -> list[Finding]:
        return [f for f in self.review.findings if f.kind == "strength" and f.code == strength]

    def _fix(self, correction: Correction) -> Fix:
        now = correction.focus == "now"
        figures = tuple(self._measured(index) for index in self._with_twins(correction))
        drills = tuple(self._drill(code, correction.code) for code in correction.drills)
        told = [correction.name, correction.why, correction.cue]
        told += [figure.name for figure in figures]
        told += [text for drill in drills for text in (drill.name, drill.how or "")]
        told += [aid for drill in drills for dose in drill.doses for aid in dose.equipment]
        return Fix(
            rank=correction.rank,
            name=correction.name,
            side=correction.side,
            spot=self._spot(correction.mentions),
            figures=figures,
            charts=tuple(_charts(figures)),
            leads_to=tuple(self._name("fault", code) for code in correction.leads_to),
            why=correction.why,
            cue=correction.cue,
            drills=drills,
            terms=terms_in(told, self._terms) if now else (),
            reasons=correction.reasons,
        )

    def _with_twins(self, correction: Correction) -> list[int]:
        """A correction's figures, with what was seen of the same measure on the other side."""
        own = [self.review.figures[index] for index in correction.figures]
        twins = [
            index
            for index, other in enumerate(self.review.figures)
            if other.observed
            and any(
                (other.measure, {other.side, figure.side}) == (figure.measure, {"left", "right"})
                for figure in own
            )
        ]
        return [*dict.fromkeys([*correction.figures, *twins])]

    def _first_time(self, thing: str) -> bool:
        known = thing in self._told
        self._told.add(thing)
        return not known

    def _measured(self, index: int) -> Measured:
        figure = self.review.figures[index]
        measure = self.vocabulary.measures.get(figure.measure)
        verdict = self._verdict(index)
        spoken = figure.target is not None
        band = verdict.band if verdict and not spoken else None
        aim = figure.target or ((verdict.low, verdict.high) if verdict else None)
        first = self._first_time(f"measure {figure.measure}")
        return Measured(
            measure=figure.measure,
            name=self._name("figure", figure.measure),
            meaning=measure.convention if measure and first else None,
            side=figure.side,
            unit=figure.unit,
            observed=figure.observed,
            aim=aim,
            spoken=spoken,
            condition=band.condition if band else None,
            source=band.source if band else None,
            outcome=verdict.outcome if verdict else None,
            margin=verdict.margin if verdict else 0.0,
            above=_reach(figure.observed, aim, high=True),
            below=_reach(figure.observed, aim, high=False),
            converted=figure.converted,
            spot=self._spot(figure.mentions),
        )

    def _verdict(self, index: int) -> Verdict | None:
        """The verdict that is told: against the coach's own target where there is one."""
        against = "spoken target" if self.review.figures[index].target else "band"
        verdicts = (v for v in self.review.verdicts if v.figure == index and v.against == against)
        return next(verdicts, None)

    def _drill(self, code: str, fault: str) -> DrillLine:
        drill = self.vocabulary.drills.get(code)
        sets = [s for s in self.review.drills if s.code == code and (drill or fault in s.trains)]
        name = drill.name if drill else next((s.name for s in sets), self._name("drill", code))
        first = self._first_time(f"drill {code}")
        return DrillLine(
            name=name,
            how=drill.how if drill and first else None,
            doses=tuple(self._dose(prescribed) for prescribed in sets),
            prescribed=bool(sets),
        )

    def _dose(self, swim: Swim | DrillSet) -> Dose:
        return Dose(
            reps=swim.reps,
            distance_m=swim.distance_m,
            duration_s=swim.duration_s,
            rest_s=swim.rest_s,
            interval_s=swim.interval_s,
            equipment=tuple(self._name("aid", code) for code in swim.equipment),
        )

    def _visit(self, session: Session) -> Visit:
        parts = groupby(session.swims, key=lambda swim: swim.part)
        return Visit(
            number=session.number,
            stage=session.stage,
            metres=session.metres,
            minutes=session.minutes,
            fits=session.fits,
            parts=tuple(Part(part, tuple(map(self._swim, swims))) for part, swims in parts),
        )

    def _swim(self, swim: Swim) -> SwimLine:
        cues = {correction.code: correction.cue for correction in self.review.corrections}
        fault = self.vocabulary.faults.get(swim.focus or "")
        focus = cues.get(swim.focus or "") or (fault.cue if fault else None)
        repeats = bool(swim.note and focus and focus in swim.note)
        return SwimLine(
            swim=swim,
            dose=self._dose(swim),
            focus=focus,
            note=None if repeats else swim.note,
        )


def _how_good(sequel: Sequel) -> int:
    return get_args(Became).index(sequel.became)


def _charts(figures: Sequence[Measured]) -> Iterable[Chart]:
    """A drawing for each measure, in the order told."""
    for measure in dict.fromkeys(figure.measure for figure in figures):
        chart = draw([figure for figure in figures if figure.measure == measure])
        if chart:
            yield chart


def _own_lines(text: str | None, swimmer: str | None) -> tuple[str, ...]:
    """The coach's own words line by line, with the swimmer's name where they ask for it."""
    named = (text or "").replace("{swimmer}", swimmer or "").strip()
    return tuple(line.strip() for line in named.splitlines())


def _reach(observed: Interval | None, aim: Interval | None, *, high: bool) -> float:
    """How far an observation reaches over the high or under the low end of its range."""
    if observed is None or aim is None:
        return 0.0
    seen, end = observed[1 if high else 0], aim[1 if high else 0]
    if seen is None or end is None:
        return 0.0
    return max(0.0, round(seen - end if high else end - seen, 6))
