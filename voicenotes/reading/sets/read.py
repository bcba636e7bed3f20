"""Drills: what the coach prescribes to this swimmer, with its dose."""

import re
from collections.abc import Callable
from dataclasses import dataclass

from spacy.tokens import Token

from voicenotes.notes import DrillSet, Repair, SetAside, Status
from voicenotes.reading.context import Context
from voicenotes.reading.sets.cues import AID, NAMED, AidCue, DrillFinder
from voicenotes.reading.sets.doses import Said
from voicenotes.reading.sets.passages import ZONE, Passage, passages_of
from voicenotes.reading.sets.segments import Segment, segments_of
from voicenotes.reading.sets.words import FINITE, FOR_THAT, GIVES_AID, KEEPS_AID_OUT, MARKS
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Drill, Vocabulary
from voicenotes.vocabulary.once import once_for

FaultsIn = Callable[[int, int], tuple[str, ...]]
"""Fault codes named between two tokens, last exclusive."""
DrillIn = Callable[[int, int], str | None]
"""The drill that the learned reader hears between two tokens, last exclusive."""

_finder = once_for(DrillFinder)
MOST_WORDS = 8
"""A drill without a name is called by no more of its words than this."""
UNKNOWN = "unknown"
"""Code of a drill that the vocabulary does not know."""
_NOT_GIVEN: frozenset[Status] = frozenset({"general", "other", "past", "taken_back"})
_SPOKEN_OF: frozenset[Status] = _NOT_GIVEN | {"supposed", "explains"}
_OF_A_PAUSE = frozenset({"set", "rest", "interval"})
_OF_A_SET = _OF_A_PAUSE | {"reps", "distance", "time", "span", "count"}
"""Kinds of numbers that are no figures of the swimmer."""
_EACH = r" (?:each|a go|apiece|at a time|per go) "
_CALLED = re.compile(r"((?:[a-z'-]+ ){1,3}(?:drill|exercise))s?\b")
_OF = re.compile(r" of ((?:[a-z'-]+ ?){1,4}?)(?= ?(?:[,.;:]| with | for | on | to | and |$))")
_SMALL_WORDS = frozenset(
    "the a an that this those these do some then first second third next last one your my "
    "and doing try with".split()
)


@dataclass(frozen=True)
class DrillReading:
    """What was read of drills.

    ``taken`` holds token ranges (last exclusive) whose numbers belong to sets, so that they are
    not read as figures. ``repairs`` lists sets that recognition had written as one number.
    """

    drills: tuple[DrillSet, ...]
    set_aside: tuple[SetAside, ...]
    taken: tuple[tuple[int, int], ...]
    repairs: tuple[Repair, ...]


@dataclass(frozen=True)
class _Dose:
    reps: int | None = None
    distance_m: int | None = None
    rest_s: int | None = None
    interval_s: int | None = None
    duration_s: int | None = None


def read_drills(
    narration: Narration,
    vocabulary: Vocabulary,
    context: Context,
    faults_in: FaultsIn = lambda first, last: (),
    drill_in: DrillIn = lambda first, last: None,
) -> DrillReading:
    """Drills prescribed in a narration, and those that are turned down or only spoken of.

    ``faults_in`` tells which faults are named in a stretch of the text: what a set is for;
    ``drill_in`` which drill a set is of that calls none by its name.
    """
    segments = segments_of(narration, _finder(vocabulary))

    def not_given(segment: Segment) -> bool:
        if segment.asks or segment.starts_with_dose:
            return False
        return context.status(segment.first, segment.last) in _NOT_GIVEN

    passages = _of_something(passages_of(segments, not_given))
    drills: list[DrillSet] = []
    aside: list[SetAside] = []
    for passage in passages:
        outsider = next((s for s in passage.segments if s.dosed and not_given(s)), None)
        if outsider is not None:
            reason = context.status(outsider.first, outsider.last)
            aside.append(_set_aside(narration, _code(passage), reason, outsider))
            continue
        code = _code(passage) if passage.swum else _heard(passage, drill_in)
        drill = vocabulary.drills.get(code)
        _add(drills, _drill_set(narration, passage, drill, drills, faults_in))
    aside += _spoken_of(narration, context, segments, {drill.code for drill in drills})
    return DrillReading(
        tuple(drills), tuple(aside), _taken(passages, segments), _repairs(narration, passages)
    )


def _of_something(passages: list[Passage]) -> list[Passage]:
    """Without amounts of nothing that was named, unless they stand among sets of drills."""
    known = [passage.end for passage in passages if passage.swum]
    return [
        passage
        for passage in passages
        if passage.swum or _named(passage) or any(abs(passage.end - end) <= ZONE for end in known)
    ]


def _code(passage: Passage) -> str:
    return passage.swum.code if passage.swum else UNKNOWN


def _heard(passage: Passage, drill_in: DrillIn) -> str:
    heard = (drill_in(segment.first, segment.last) for segment in passage.segments)
    return next((code for code in heard if code), UNKNOWN)


def _set_aside(narration: Narration, code: str, reason: Status, segment: Segment) -> SetAside:
    mention = narration.mention(narration.doc[segment.first : segment.last])
    return SetAside(kind="drill", code=code, reason=reason, mention=mention)


def _spoken_of(
    narration: Narration, context: Context, segments: list[Segment], given: set[str]
) -> list[SetAside]:
    """Drills named but not given: turned down, somebody else's, earlier, explained."""
    aside: list[SetAside] = []
    seen: set[tuple[str, int]] = set()
    for segment in segments:
        for cue in segment.cues:
            if cue.tier not in {NAMED, AID} or (cue.code, segment.sentence) in seen:
                continue
            status: Status = "denied" if cue.dismissed else context.status(cue.first, cue.last)
            elsewhere = cue.code not in given and status in _SPOKEN_OF and not segment.dosed
            if cue.dismissed or elsewhere:
                seen.add((cue.code, segment.sentence))
                aside.append(_set_aside(narration, cue.code, status, segment))
    return aside


def _taken(passages: list[Passage], segments: list[Segment]) -> tuple[tuple[int, int], ...]:
    """Ranges of numbers that are no figures: all of a prescription, and sets of named drills."""
    ours = [s for p in passages for part in p.segments for s in part.said if s.kind in _OF_A_SET]
    ours += [s for p in passages for part in p.after for s in part.said if s.kind in _OF_A_PAUSE]
    ours += [s for part in segments if part.cues for s in part.said if s.kind == "set"]
    return tuple(sorted({(s.first, s.last) for s in ours}))


def _repairs(narration: Narration, passages: list[Passage]) -> tuple[Repair, ...]:
    """Sets that recognition wrote as one number, or with a full stop inside."""
    out = []
    for said in (s for p in passages for part in p.segments for s in part.said):
        if said.heard is not None:
            start, end = narration.moment(narration.doc[said.first : said.last])
            read_as = f"{said.reps} x {said.distance_m}"
            reason = "a set that was written as one number"
            out.append(
                Repair(heard=said.heard, read_as=read_as, reason=reason, start=start, end=end)
            )
    return tuple(out)


def _add(drills: list[DrillSet], drill: DrillSet) -> None:
    """Adds a drill, or its mentions where the same set was given before."""
    for place, before in enumerate(drills):
        same = before.code == drill.code and before.name == drill.name
        if same and all(
            getattr(drill, field) in (None, getattr(before, field))
            for field in ("reps", "distance_m")
        ):
            together = {
                "mentions": (*before.mentions, *drill.mentions),
                "rest_s": drill.rest_s if before.rest_s is None else before.rest_s,
                "equipment": tuple(dict.fromkeys((*before.equipment, *drill.equipment))),
                "trains": tuple(dict.fromkeys((*before.trains, *drill.trains))),
            }
            drills[place] = before.model_copy(update=together)
            return
    drills.append(drill)


def _drill_set(
    narration: Narration,
    passage: Passage,
    drill: Drill | None,
    before: list[DrillSet],
    faults_in: FaultsIn,
) -> DrillSet:
    """One prescription as an entry."""
    dose = _dose(passage, drill, before)
    return DrillSet(
        code=drill.code if drill else UNKNOWN,
        name=drill.name if drill else _named(passage) or _described(passage),
        reps=dose.reps,
        distance_m=dose.distance_m,
        rest_s=dose.rest_s,
        interval_s=dose.interval_s,
        duration_s=dose.duration_s,
        equipment=_equipment(passage, drill),
        trains=_trains(passage, faults_in),
        mentions=tuple(
            narration.mention(narration.doc[s.first : s.last]) for s in passage.segments
        ),
    )


def _named(passage: Passage) -> str | None:
    """What a drill that the vocabulary does not know was called: "the windmill drill"."""
    words = " ".join(token.lower_ for token in passage.segments[0].tokens)
    for pattern in (_CALLED, _OF):
        for match in pattern.finditer(words):
            said = match[1].split()
            small = [place for place, word in enumerate(said) if word in _SMALL_WORDS]
            named = said[small[-1] + 1 :] if small else said
            if named and named[0] not in {"drill", "exercise", "them", "it", "rest"}:
                return " ".join(named)
    return None


def _described(passage: Passage) -> str:
    """The first words beside the amount: all that is known of what is to be swum."""
    segment = passage.segments[0]
    amounts = {i for said in segment.said for i in range(said.first, said.last)}
    words = [t.lower_ for t in segment.tokens if t.i not in amounts and t.text not in MARKS]
    while words and words[0] in _SMALL_WORDS:
        words = words[1:]
    return " ".join(words[:MOST_WORDS])


def _trains(passage: Passage, faults_in: FaultsIn) -> tuple[str, ...]:
    """Faults named where the set is given, or just after it ("that one's for the left elbow")."""
    parts = passage.segments + [part for part in passage.after if not part.dismisses]
    return tuple(dict.fromkeys(code for part in parts for code in faults_in(part.first, part.last)))


def _equipment(passage: Passage, drill: Drill | None) -> tuple[str, ...]:
    out = dict.fromkeys(drill.equipment if drill else ())
    for segment in [*passage.segments, *passage.after]:
        for aid in segment.aids:
            if aid.dismissed:
                out.pop(aid.code, None)
            elif segment in passage.segments or _gives(segment, aid):
                out[aid.code] = None
    return tuple(out)


def _gives(segment: Segment, aid: AidCue) -> bool:
    """Whether a later sentence adds an aid to the set: "you can wear fins for those"."""
    before = [token for token in segment.tokens if token.i < aid.last]
    if KEEPS_AID_OUT.search(_joined(before)):
        return False
    piece = _piece(segment, aid)
    words = _joined(piece)
    bare = not any(token.tag_ in FINITE for token in piece if token.i >= aid.last)
    if words.startswith((" with ", " and with ")) and (bare or " if " in words):
        return True
    if aid.first - piece[0].i <= 1 and FOR_THAT.search(words):
        return True
    rests = any(said.kind == "rest" for said in segment.said)
    return rests or GIVES_AID.search(words) is not None


def _piece(segment: Segment, aid: AidCue) -> list[Token]:
    """The words between the marks around an aid."""
    marks = [token.i for token in segment.tokens if token.text in MARKS]
    first = max((mark for mark in marks if mark < aid.first), default=segment.first - 1)
    last = min((mark for mark in marks if mark >= aid.last), default=segment.last)
    return [token for token in segment.tokens if first < token.i < last]


def _joined(tokens: list[Token]) -> str:
    return f" {' '.join(token.lower_ for token in tokens)} "


def _dose(passage: Passage, drill: Drill | None, before: list[DrillSet]) -> _Dose:
    if passage.same and before:
        last = before[-1]
        return _Dose(last.reps, last.distance_m, last.rest_s, last.interval_s, last.duration_s)
    said = [s for segment in passage.segments for s in segment.said]
    later = [s for segment in passage.after for s in segment.said]
    whole = _first(said, "set")
    reps = whole or _first(said, "reps") or _first(said, "bare")
    distance = whole or _first(said, "distance")
    standing = drill is not None and drill.dose.duration_s is not None
    span, time = _first(said, "span"), _first(said, "time")
    lasts = time is not None and (standing or (distance is None and _lasts(passage, time, reps)))
    rest = _first([*said, *later], "rest") or (None if lasts else time)
    rest_s = rest.seconds if rest else None
    if rest is None and before and any(" same rest " in s.text for s in passage.segments):
        rest_s = before[-1].rest_s
    interval = _first([*said, *later], "interval")
    to_a_beep = drill is not None and "beeper" in drill.equipment
    return _Dose(
        reps=reps.reps if reps else None,
        distance_m=distance.distance_m if distance and not standing else None,
        rest_s=rest_s,
        interval_s=interval.seconds if interval and not (interval.weak and to_a_beep) else None,
        duration_s=next(
            (s.seconds for s in (reps, span, time if lasts else None) if s and s.seconds), None
        ),
    )


def _lasts(passage: Passage, time: Said, reps: Said | None) -> bool:
    """Whether a time is how long each goes: "ten seconds each", "five seconds, eight times"."""
    if reps is not None and time.first < reps.first:
        return True
    each = re.compile(rf" {time.seconds} seconds?{_EACH}")
    return any(each.search(segment.text) for segment in passage.segments)


def _first(said: list[Said], kind: str) -> Said | None:
    return next((one for one in said if one.kind == kind), None)
