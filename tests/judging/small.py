"""A small vocabulary and notes for tests of judging. All of it is invented."""

from typing import Literal

from voicenotes.notes import (
    Cause,
    DrillSet,
    Figure,
    Finding,
    Interval,
    Mention,
    Notes,
    Priority,
    Severity,
    Side,
)
from voicenotes.vocabulary.model import (
    Aid,
    Band,
    Caution,
    Concept,
    Dose,
    Drill,
    Fault,
    Measure,
    Sign,
    Stage,
    Vocabulary,
)

Remark = Literal["good", "too_much", "too_little"]


def at(start: float, quote: str = "said here", certainty: float | None = None) -> Mention:
    return Mention(start=start, end=start + 4, quote=quote, certainty=certainty)


def fault(
    code: str,
    *starts: float,
    side: Side | None = None,
    severity: Severity | None = None,
) -> Finding:
    return Finding(
        kind="fault",
        code=code,
        side=side,
        severity=severity,
        mentions=tuple(at(start) for start in starts or (10.0,)),
    )


def praise(code: str, *starts: float) -> Finding:
    return Finding(kind="strength", code=code, mentions=tuple(at(s) for s in starts or (5.0,)))


def figure(
    measure: str,
    observed: Interval | None = None,
    target: Interval | None = None,
    *,
    side: Side | None = None,
    remark: Remark | None = None,
    start: float = 14.0,
    quote: str = "said here",
    certainty: float | None = None,
    distance_m: float | None = None,
) -> Figure:
    return Figure(
        measure=measure,
        side=side,
        observed=observed,
        target=target,
        unit=MEASURES[measure].unit,
        remark=remark,
        distance_m=distance_m,
        mentions=(at(start, quote, certainty),),
    )


def cause(one: str, other: str) -> Cause:
    return Cause(cause=one, effect=other, mention=at(30))


def first_of_all(*codes: str) -> tuple[Priority, ...]:
    return tuple(
        Priority(rank=rank, code=code, mention=at(90)) for rank, code in enumerate(codes, 1)
    )


def drill_set(
    code: str,
    reps: int | None = None,
    distance_m: int | None = None,
    rest_s: int | None = None,
    *,
    interval_s: int | None = None,
    duration_s: int | None = None,
    equipment: tuple[str, ...] = (),
    trains: tuple[str, ...] = (),
    start: float = 60.0,
    quote: str = "said here",
    name: str | None = None,
) -> DrillSet:
    return DrillSet(
        code=code,
        name=name or code,
        reps=reps,
        distance_m=distance_m,
        rest_s=rest_s,
        interval_s=interval_s,
        duration_s=duration_s,
        equipment=equipment,
        trains=trains,
        mentions=(at(start, quote),),
    )


def _measure(
    code: str,
    name: str,
    unit: str,
    possible: tuple[float, float],
    *bands: Band,
    convention: str = "as measured",
) -> Measure:
    return Measure(
        code=code,
        name=name,
        unit=unit,
        convention=convention,
        possible=possible,
        usual=(0, 1000),
        possible_source="invented for tests",
        terms=(name,),
        bands=bands,
    )


def band(
    low: float | None,
    high: float | None,
    standing: Literal["published", "common practice", "from memory"] = "common practice",
    **fields: object,
) -> Band:
    return Band.model_validate(
        {
            "low": low,
            "high": high,
            "standing": standing,
            "source": standing,
            "condition": "any pace",
            **fields,
        }
    )


MEASURES = {
    measure.code: measure
    for measure in (
        _measure(
            "elbow_angle",
            "elbow angle",
            "deg",
            (15, 195),
            band(90, 120, phase="pull"),
            band(120, 160, phase="catch"),
            convention="the inside angle, straight arm 180",
        ),
        _measure("shoulder_roll", "shoulder roll", "deg", (0, 90), band(35, 50)),
        _measure(
            "knee_bend",
            "knee bend",
            "deg",
            (0, 165),
            band(20, 45),
            convention="bend from straight, straight leg 0",
        ),
        _measure(
            "stroke_rate",
            "stroke rate",
            "/min",
            (20, 160),
            band(44, 72, levels=["club"], condition="steady"),
            band(90, 140, levels=["competitive"], condition="race", strokes=["freestyle"]),
        ),
        _measure("cycle_rate", "cycle rate", "/min", (10, 80)),
        _measure("distance_per_stroke", "distance per stroke", "m", (0.25, 4)),
        _measure("stroke_count", "stroke count", "count", (6, 120)),
        _measure("pace", "pace", "s/100m", (36, 480)),
        _measure("split", "split", "s", (0, 7200)),
        _measure("speed", "speed", "m/s", (0.2, 2.6)),
        _measure("swolf", "time plus strokes", "count", (15, 150)),
        _measure("pause", "pause of the front hand", "s", (0, 5), band(None, 0.2)),
    )
}


def _fault(code: str, name: str, drills: tuple[str, ...] = (), *signs: Sign) -> Fault:
    return Fault(
        code=code,
        name=name,
        area="arms",
        says=("said",),
        never=("not said",),
        why=f"Why {name} matters.",
        cue=f"Mend {name}.",
        drills=drills,
        measured_by=signs,
    )


FAULTS = {
    entry.code: entry
    for entry in (
        _fault(
            "elbow_drops",
            "elbow drops",
            ("scull", "fist", "paddles"),
            Sign(measure="elbow_angle", when="over"),
        ),
        _fault("arm_straight", "arm too straight", (), Sign(measure="elbow_angle", when="over")),
        _fault(
            "over_rotates",
            "shoulders roll too far",
            ("side_kick", "single_arm"),
            Sign(measure="shoulder_roll", when="over"),
        ),
        _fault("head_lifts", "head lifts", ("side_kick", "snorkel_swim")),
        _fault("hips_sink", "hips low", ("side_kick",)),
        _fault("legs_sink", "legs low", ("board_kick",)),
        _fault(
            "knee_bends",
            "knees bend too much",
            ("vertical_kick",),
            Sign(measure="knee_bend", when="over"),
        ),
        _fault("finish_short", "finish too short", ("paddles",)),
    )
}


def _drill(
    code: str,
    stage: Stage,
    dose: Dose,
    slower_by: float = 1.3,
    equipment: tuple[str, ...] = (),
    cautions: tuple[str, ...] = (),
    trains: tuple[str, ...] = (),
) -> Drill:
    return Drill(
        code=code,
        name=code.replace("_", " "),
        names=(code.replace("_", " "),),
        how="How it is done.",
        stage=stage,
        dose=dose,
        equipment=equipment,
        slower_by=slower_by,
        cautions=cautions,
        trains=trains,
        says=("said",),
        never=("not said",),
    )


def _swum(reps: int, distance_m: int, rest_s: int = 20) -> Dose:
    return Dose(reps=reps, distance_m=distance_m, rest_s=rest_s)


DRILLS = {
    entry.code: entry
    for entry in (
        _drill("band_pull", "dry_land", Dose(reps=15, duration_s=4, rest_s=0), 1, ("band",)),
        _drill("bobs", "balance_and_kick", _swum(10, 0, 0), 1),
        _drill("side_kick", "balance_and_kick", _swum(6, 25), 1.8, trains=("hips_sink",)),
        _drill("board_kick", "balance_and_kick", _swum(6, 50), 1.6, ("kickboard",)),
        _drill(
            "vertical_kick",
            "balance_and_kick",
            Dose(reps=6, duration_s=30, rest_s=30),
            1,
            cautions=("upright",),
        ),
        _drill("push_off", "balance_and_kick", _swum(8, 10), 1.5, cautions=("breath",)),
        _drill("scull", "part_stroke", _swum(6, 25), 2.5, trains=("elbow_drops",)),
        _drill("single_arm", "part_stroke", _swum(6, 25), 1.4),
        _drill("fist", "constrained_stroke", _swum(6, 25), 1.3, trains=("elbow_drops",)),
        _drill("paddles", "constrained_stroke", _swum(4, 50), 1, ("paddles",), ("shoulders",)),
        _drill("snorkel_swim", "constrained_stroke", _swum(6, 50), 1.05, ("snorkel",)),
        _drill("easy_swim", "constrained_stroke", _swum(1, 200, 0), 1),
        _drill("build_swim", "at_pace", _swum(6, 50, 30), 0.95),
    )
}

AIDS = {
    code: Aid(code=code, name=code, names=(code,))
    for code in ("band", "kickboard", "paddles", "snorkel", "fins")
}

CAUTIONS = {
    caution.code: caution
    for caution in (
        Caution(code="pain", text="Stop at pain.", source="common practice", general=True),
        Caution(code="upright", text="Stay near the wall.", source="common practice"),
        Caution(code="breath", text="Do not hold the breath.", source="a body's statement"),
        Caution(code="shoulders", text="Mind the shoulders.", source="common practice"),
    )
}

VOCABULARY = Vocabulary(
    lexicon={
        "phase": {
            "pull": Concept(forms=("pull", "mid pull")),
            "catch": Concept(forms=("catch",)),
        }
    },
    faults=FAULTS,
    strengths={},
    measures=MEASURES,
    drills=DRILLS,
    aids=AIDS,
    cautions=CAUTIONS,
    misheard={},
    digest="0" * 64,
)


def notes(**entries: object) -> Notes:
    return Notes.model_validate(entries)
