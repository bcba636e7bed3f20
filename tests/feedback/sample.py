"""An invented swimmer's review, made by hand, with something of everything that a page shows."""

from voicenotes.notes import Cause, DrillSet, Figure, Finding, Mention, Priority, Repair, SetAside
from voicenotes.review import (
    Brief,
    CautionNote,
    Correction,
    Made,
    Plan,
    Question,
    Review,
    Session,
    Swim,
    Verdict,
)
from voicenotes.transcript import Cue, Doubt, Transcript
from voicenotes.vocabulary.model import (
    Aid,
    Band,
    Caution,
    Dose,
    Drill,
    Fault,
    Measure,
    Strength,
    Vocabulary,
)

BAND = Band(
    low=58, high=64, condition="steady club pace", source="common practice",
    standing="common practice",
)  # fmt: skip


def said(start: float, end: float, quote: str) -> Mention:
    return Mention(start=start, end=end, quote=quote, certainty=0.912345)


REACH = said(4.2, 8.9, "Lovely long reach out in front, Esme, keep that.")
ELBOW = said(14.25, 19.1, "This left elbow drops right down as you start the catch.")
ANGLE = said(19.3, 24.0, "I'd call that a hundred and fifty-five, and I want ninety to one twenty.")
ELBOW_AGAIN = said(82.0, 86.5, "There it goes again, the elbow's leading.")
HEAD = said(31.0, 36.2, "You're lifting the head to breathe, and that's why the hips go down.")
HIPS = said(36.4, 39.0, "See the hips, a good bit lower than the shoulders.")
RATE = said(47.0, 51.0, "Fifty-two to sixty a minute, single strokes.")
KICK = said(55.0, 58.0, "That's not a scissor kick, by the way.")
SINGLE = said(95.0, 101.0, "Six fifties of single arm with fins, twenty seconds rest.")
SPREAD = said(60.0, 63.0, "Fingers are a touch open.")

CATCH_DRILL = DrillSet(
    code="single_arm", name="single arm", reps=6, distance_m=50, rest_s=20,
    equipment=("fins",), trains=("elbow_drops",), mentions=(SINGLE,),
)  # fmt: skip


def sample_vocabulary() -> Vocabulary:
    fault_names = {
        "elbow_drops": "Elbow drops in the catch",
        "head_lifts": "Head lifts to breathe",
        "hips_sink": "Hips sink",
        "fingers_spread": "Fingers spread",
        "scissor_kick": "Legs scissor",
    }
    faults = {
        code: Fault(
            code=code,
            name=name,
            area="arms",
            says=("x",),
            never=("y",),
            why="It costs you hold on the water.",
            cue="Keep the elbow *high*.",
        )
        for code, name in fault_names.items()
    }
    return Vocabulary(
        lexicon={},
        faults=faults,
        strengths={
            "extension": Strength(code="extension", name="reach", says=("x",), never=("y",))
        },
        measures=_measures(),
        drills=_drills(),
        aids={"fins": Aid(code="fins", name="Fins", names=("fins",))},
        cautions={"pain": Caution(code="pain", text="Stop if it hurts.", source="x")},
        misheard={},
        digest="0123456789abcdef" * 4,
    )


def _measures() -> dict[str, Measure]:
    rows = [
        ("elbow_angle", "elbow angle", "deg", "inside angle at the elbow, straight arm 180"),
        ("stroke_rate", "stroke rate", "/min", "every arm pull counts as one"),
        ("pace", "pace", "s/100m", "time for 100 m"),
    ]
    return {
        code: Measure(
            code=code, name=name, unit=unit, convention=convention, possible=(0, 1000),
            usual=(0, 1000),
            possible_source="from memory", terms=("x",),
        )
        for code, name, unit, convention in rows
    }  # fmt: skip


def _drills() -> dict[str, Drill]:
    rows = [
        ("single_arm", "single-arm swimming", "One arm swims, the other rests in front."),
        ("scull_front", "front scull", "Lie long and scull with the hands in front of the head."),
        ("side_kick", "kick on the side", "Lie on one side, bottom arm out, and kick."),
    ]
    return {
        code: Drill(
            code=code, name=name, names=(name,), how=how, stage="part_stroke",
            dose=Dose(reps=4, distance_m=25, rest_s=15), says=("x",), never=("y",),
        )
        for code, name, how in rows
    }  # fmt: skip


def sample_transcript() -> Transcript:
    mentions = [REACH, ELBOW, ANGLE, HEAD, HIPS, RATE, KICK, SPREAD, ELBOW_AGAIN, SINGLE]
    cues = tuple(Cue(start=m.start, end=m.end, text=m.quote) for m in mentions)
    return Transcript(name="esme", cues=cues, duration=104.0)


def _corrections() -> tuple[Correction, ...]:
    elbow = Correction(
        rank=1, code="elbow_drops", name="Elbow drops in the catch", side="left",
        severity="marked", focus="now",
        reasons=("You put it first.", "It is 35° over your target."),
        mentions=(ELBOW, ANGLE, ELBOW_AGAIN), figures=(0,),
        why="A low elbow slips through the water, so you hold less of it with each pull.",
        cue="Fingertips down first, elbow *high*, as if reaching over a barrel.",
        drills=("single_arm", "scull_front"),
    )  # fmt: skip
    head = Correction(
        rank=2, code="head_lifts", name="Head lifts to breathe", side=None,
        severity="moderate", focus="now", reasons=("You said it brings about: hips sink.",),
        mentions=(HEAD,), leads_to=("hips_sink",),
        why="When the head comes up, the hips go down.",
        cue="Roll to air: one goggle stays in the water.", drills=("side_kick",),
    )  # fmt: skip
    hips = Correction(
        rank=3, code="hips_sink", name="Hips sink", side=None, severity="moderate",
        focus="now", reasons=("You said it once.",), mentions=(HIPS,),
        why="Low hips drag behind you.", cue="Press the chest a little into the water.",
        drills=("side_kick",),
    )  # fmt: skip
    fingers = Correction(
        rank=4, code="fingers_spread", name="Fingers spread", side="both",
        severity="slight", focus="later", reasons=("By your words it is slight.",),
        mentions=(SPREAD,),
        why="Open fingers let water through.", cue="Relaxed hand, fingers nearly closed.",
    )  # fmt: skip
    return (elbow, head, hips, fingers)


def _plan() -> Plan:
    warm_up = Swim(
        part="warm_up", name="Easy swim", reps=1, distance_m=200, rest_s=30, added=True,
        metres=200, seconds=290,
    )  # fmt: skip
    single = Swim(
        part="drills", drill="single_arm", name="Single-arm swimming", reps=6, distance_m=50,
        rest_s=20, equipment=("fins",), focus="elbow_drops", added=False, metres=300,
        seconds=640, mentions=(SINGLE,), note="Change arms each length.",
    )  # fmt: skip
    side = Swim(
        part="drills", drill="side_kick", name="Kick on the side", reps=4, distance_m=25,
        rest_s=15, focus="head_lifts", added=True, metres=100, seconds=260,
    )  # fmt: skip
    carry = Swim(
        part="carry_over", name="Front crawl", reps=4, distance_m=100, rest_s=20, interval_s=140,
        focus="elbow_drops", added=True, metres=400, seconds=560,
        note="Think: Fingertips down first, elbow *high*, as if reaching over a barrel.",
    )  # fmt: skip
    down = Swim(
        part="cool_down", name="Easy swim", reps=1, distance_m=100, rest_s=0, added=True,
        metres=100, seconds=140,
    )  # fmt: skip
    sessions = (
        Session(
            number=1, stage="part_stroke", swims=(warm_up, single, side, carry, down),
            metres=1100, minutes=31.5, fits=True,
        ),
        Session(
            number=2, stage="at_pace", swims=(warm_up, single, carry, carry, down),
            metres=1400, minutes=46.2, fits=False,
        ),
    )  # fmt: skip
    return Plan(sessions=sessions, remarks=("Session 2 takes 2 minutes longer than you have.",))


def _figures() -> tuple[Figure, ...]:
    return (
        Figure(
            measure="elbow_angle", side="left", observed=(155, 155), target=(90, 120),
            unit="deg", mentions=(ANGLE,), converted="25 from straight is an inside angle of 155",
        ),
        Figure(measure="stroke_rate", observed=(52, 60), unit="/min", mentions=(RATE,)),
        Figure(measure="pace", observed=(100, 100), target=(90, 94), unit="s/100m",
               mentions=(RATE,)),
    )  # fmt: skip


def sample_review() -> Review:
    return Review(
        name="esme",
        duration=104.0,
        brief=Brief(swimmer="Esme", pace_s=100.0, equipment=("fins",)),
        findings=(
            Finding(kind="strength", code="extension", mentions=(REACH,), seen_by=("frames",)),
            Finding(
                kind="fault", code="elbow_drops", side="left", severity="marked",
                mentions=(ELBOW, ANGLE, ELBOW_AGAIN), seen_by=("frames",),
            ),
            Finding(kind="fault", code="head_lifts", severity="moderate", mentions=(HEAD,)),
            Finding(kind="fault", code="hips_sink", severity="moderate", mentions=(HIPS,)),
            Finding(kind="fault", code="fingers_spread", side="both", severity="slight",
                    mentions=(SPREAD,)),
        ),
        figures=_figures(),
        drills=(CATCH_DRILL,),
        causes=(("head_lifts", "hips_sink"),),
        links=(Cause(cause="head_lifts", effect="hips_sink", mention=HEAD),),
        priorities=(Priority(rank=1, code="elbow_drops", side="left", mention=ELBOW),),
        set_aside=(SetAside(kind="fault", code="scissor_kick", reason="denied", mention=KICK),),
        repairs=(Repair(heard="L bow", read_as="elbow", reason="sounds alike", start=14.3,
                        end=14.9),),
        doubts=(Doubt(start=70.0, end=74.0, reason="unread_speech"),),
        verdicts=(
            Verdict(figure=0, outcome="over", margin=35.000000001, low=90, high=120,
                    against="spoken target"),
            Verdict(figure=1, outcome="straddles", margin=6, low=58, high=64, against="band",
                    band=BAND),
            Verdict(figure=2, outcome="over", margin=6, low=90, high=94,
                    against="spoken target"),
        ),
        questions=(
            Question(about="unsurely_heard", text="Is the elbow angle really 155°?",
                     figures=(0,), mention=ANGLE),
            Question(about="unread_speech", text="Four seconds of speech could not be read."),
        ),
        strengths=("extension",),
        corrections=_corrections(),
        plan=_plan(),
        cautions=(
            CautionNote(code="pain", text="Stop if anything hurts.", source="common practice"),
            CautionNote(code="supervised", text="Swim only where someone can help you.",
                        source="common practice"),
        ),
        draft=True,
        made=Made(tool="voicenotes 0.1.0", vocabulary="0123456789abcdef" * 4,
                  engine={"model": "base"}),
    )  # fmt: skip
