from collections.abc import Sequence

import hypothesis.strategies as st
import pytest
from hypothesis import given, settings

from tests.judging.small import DRILLS, FAULTS, VOCABULARY, drill_set, fault, notes
from voicenotes.judging import judge
from voicenotes.notes import DrillSet, Notes
from voicenotes.review import Brief, Plan, Session, Swim
from voicenotes.vocabulary.model import STAGES, Level

PARTS = ["dry_land", "warm_up", "drills", "carry_over", "cool_down"]


def plan(said: Notes, **brief: object) -> Plan:
    return judge(said, VOCABULARY, Brief.model_validate(brief)).plan


def swims(made: Plan) -> list[Swim]:
    return [swim for session in made.sessions for swim in session.swims]


def parts(session: Session, part: str) -> list[Swim]:
    return [swim for swim in session.swims if swim.part == part]


THREE_FAULTS = notes(
    findings=[fault("elbow_drops", severity="marked"), fault("head_lifts"), fault("over_rotates")]
)


def test_a_club_session_of_45_minutes_is_what_a_coach_would_write() -> None:
    """Warm-up 200 to 400, drills a fifth to two fifths of the time, whole-stroke swims, 100 to
    200 of cool-down, nearly all of the time used (common practice)."""
    for session in plan(THREE_FAULTS, minutes=45, pace_s=120).sessions:
        assert [swim.part for swim in session.swims] == sorted(
            (swim.part for swim in session.swims), key=PARTS.index
        )
        assert 200 <= sum(s.metres for s in parts(session, "warm_up")) <= 400
        assert 100 <= sum(s.metres for s in parts(session, "cool_down")) <= 200
        drills = sum(s.seconds for s in parts(session, "drills")) / 60
        assert 0.2 <= drills / session.minutes <= 0.4
        assert parts(session, "carry_over")
        assert 36 <= session.minutes <= 45
        assert session.fits


def test_learners_swim_short_pieces_with_rest() -> None:
    for session in plan(THREE_FAULTS, level="learner", minutes=30).sessions:
        for swim in session.swims:
            assert (swim.distance_m or 0) <= 50
            assert swim.rest_s > 0


def test_whole_stroke_swims_carry_over_what_was_drilled() -> None:
    for session in plan(THREE_FAULTS).sessions:
        drilled = {swim.focus for swim in parts(session, "drills")}
        carried = parts(session, "carry_over")
        assert carried[0].focus in drilled
        assert all(swim.note and "Think: Mend" in swim.note for swim in carried)


def test_the_first_correction_is_worked_on_in_every_session() -> None:
    for session in plan(THREE_FAULTS, sessions=4).sessions:
        assert "elbow_drops" in {swim.focus for swim in session.swims}


def test_a_set_of_the_coach_s_stands_as_said() -> None:
    said = notes(
        drills=[
            drill_set(
                "single_arm", 6, 50, 20, equipment=("fins",), trains=("elbow_drops",), start=81
            )
        ]
    )
    first = next(s for s in swims(plan(said, pace_s=120, sessions=1)) if s.drill == "single_arm")
    assert (first.reps, first.distance_m, first.rest_s) == (6, 50, 20)
    assert first.equipment == ("fins",)
    assert first.focus == "elbow_drops"
    assert not first.added
    assert first.mentions[0].start == 81
    assert first.note is None
    assert first.metres == 300
    assert first.seconds == pytest.approx(6 * (50 * 1.2 * 1.4 + 20))


def test_what_was_not_said_of_a_set_is_filled_in_and_noted() -> None:
    said = notes(drills=[drill_set("scull", 6)])
    scull = swims(plan(said, sessions=1, pool_m=33.3))[-3]
    assert (scull.drill, scull.reps, scull.distance_m, scull.rest_s) == ("scull", 6, 33.3, 20)
    assert scull.note == "Only the number was said: 33.3 m each added. Rest not said: 20 s added."


@pytest.mark.parametrize(
    ("said", "reps", "distance", "duration"),
    [
        (drill_set("vertical_kick", 4), 4, None, 30),
        (drill_set("vertical_kick", 3, duration_s=45), 3, None, 45),
        (drill_set("single_arm", None, 25), 6, 25, None),
        (drill_set("single_arm", None, 200), 1, 200, None),
        (drill_set("single_arm"), 6, 25, None),
        (drill_set("snorkel_swim"), 6, 50, None),
        (drill_set("bobs", 10), 10, None, None),
        (drill_set("unknown", 4, 50, name="house drill"), 4, 50, None),
    ],
)
def test_sets_said_in_part(
    said: DrillSet, reps: int, distance: float | None, duration: int | None
) -> None:
    own = next(s for s in swims(plan(notes(drills=[said]), sessions=1)) if not s.added)
    assert (own.reps, own.distance_m, own.duration_s) == (reps, distance, duration)


def test_a_send_off_is_no_rest_and_is_kept() -> None:
    said = notes(drills=[drill_set("build_swim", 4, 50, interval_s=75)])
    own = next(s for s in swims(plan(said, pace_s=100)) if s.drill == "build_swim")
    assert (own.interval_s, own.rest_s) == (75, 27)
    assert own.seconds == 300


def test_a_send_off_too_short_for_the_pace_is_remarked_on() -> None:
    made = plan(notes(drills=[drill_set("single_arm", 4, 50, interval_s=60)]), pace_s=120)
    assert any("1:24" in remark and "1:00" in remark for remark in made.remarks)


def test_easy_swimming_without_an_aim_is_the_cool_down() -> None:
    for session in plan(notes(drills=[drill_set("easy_swim", None, 300)])).sessions:
        assert [(s.metres, s.added) for s in parts(session, "cool_down")] == [(300, False)]


def test_easy_swimming_with_an_aim_carries_the_focus_over() -> None:
    said = notes(drills=[drill_set("easy_swim", 4, 50, 15, trains=("head_lifts",))])
    own = next(s for s in swims(plan(said)) if not s.added)
    assert (own.part, own.focus) == ("carry_over", "head_lifts")


def test_a_set_for_the_warm_up_is_the_warm_up() -> None:
    said = notes(
        drills=[
            drill_set("side_kick", 4, 25, 10, quote="four 25s of side kick in the warm-up"),
            drill_set("scull", 4, 25, 10, quote="after the warm-up four 25s of sculling", start=70),
        ]
    )
    made = plan(said, sessions=1)
    assert [s.drill for s in parts(made.sessions[0], "warm_up")] == ["side_kick"]
    assert [s.drill for s in parts(made.sessions[0], "drills")] == ["scull"]


def test_dry_land_work_comes_before_the_water() -> None:
    said = notes(drills=[drill_set("band_pull", 15), drill_set("scull", 4, 25)])
    assert plan(said).sessions[0].swims[0].drill == "band_pull"


def test_the_coach_s_sets_come_in_by_their_stages_and_are_repeated_where_they_fit() -> None:
    said = notes(
        drills=[
            drill_set("fist", 4, 25, 15, start=60),
            drill_set("side_kick", 4, 25, 15, start=70),
            drill_set("scull", 4, 25, 15, start=80),
        ]
    )
    made = plan(said)
    own = [[s.drill for s in session.swims if not s.added] for session in made.sessions]
    assert own == [["side_kick"], ["side_kick", "scull"], ["side_kick", "scull", "fist"]]
    again = parts(made.sessions[1], "drills")[0]
    assert again.note == "Again, as in session 1."


def test_added_drills_need_only_what_is_at_hand() -> None:
    said = notes(findings=[fault("legs_sink"), fault("finish_short"), fault("head_lifts")])
    without = plan(said)
    assert {s.drill for s in swims(without) if s.added} & {"board_kick", "paddles"} == set()
    assert any("legs low" in remark and "equipment" in remark for remark in without.remarks)
    with_board = plan(said, equipment=["kickboard"], minutes=60)
    assert "board_kick" in {s.drill for s in swims(with_board)}


def test_the_coach_s_sets_stay_in_without_their_equipment_and_a_remark_says_so() -> None:
    said = notes(drills=[drill_set("paddles", 4, 50, 20)])
    made = plan(said, equipment=["snorkel"])
    assert "paddles" in {s.drill for s in swims(made)}
    assert "Needs equipment that is not at hand, kept as said: paddles (paddles)." in made.remarks
    assert any("No equipment was listed" in remark for remark in plan(said).remarks)
    assert not any("equipment" in r for r in plan(said, equipment=["paddles"]).remarks)


def test_a_distance_that_is_no_whole_number_of_lengths_is_kept_and_remarked_on() -> None:
    made = plan(notes(drills=[drill_set("single_arm", 4, 25, 20)]), pool_m=50)
    own = next(s for s in swims(made) if not s.added)
    assert own.distance_m == 25
    assert any("25 m" in remark and "50 m" in remark for remark in made.remarks)


def test_a_rounded_pool_length_still_makes_whole_lengths() -> None:
    made = plan(notes(drills=[drill_set("single_arm", 2, 100, 20)]), pool_m=33.3)
    assert not any("whole number" in remark for remark in made.remarks)


def test_a_session_too_short_for_the_coach_s_sets_says_by_how_much() -> None:
    said = notes(drills=[drill_set("single_arm", 20, 50, 30)])
    made = plan(said, sessions=1, minutes=30, pace_s=120)
    assert not made.sessions[0].fits
    over = round(made.sessions[0].minutes - 30, 1)
    assert any(f"{over:g} more than the 30 given" in remark for remark in made.remarks)


def test_an_assumed_pace_is_owned_up_to() -> None:
    assert any("2:00 per 100 m" in remark for remark in plan(THREE_FAULTS).remarks)
    assert not any("pace" in remark for remark in plan(THREE_FAULTS, pace_s=110).remarks)


def test_a_drill_that_the_vocabulary_lacks_is_kept_as_said() -> None:
    made = plan(notes(drills=[drill_set("unknown", 4, 50, 20, name="house drill")]))
    assert "house drill" in {s.name for s in swims(made)}
    assert any("house drill" in remark for remark in made.remarks)


def test_nothing_to_work_on_still_gives_sessions_and_says_so() -> None:
    made = plan(notes(), sessions=2)
    assert [session.fits for session in made.sessions] == [True, True]
    assert any("No fault" in remark for remark in made.remarks)


SETS = st.builds(
    drill_set,
    st.sampled_from([*DRILLS, "unknown"]),
    st.none() | st.integers(1, 12),
    st.none() | st.sampled_from([25, 50, 100, 200]),
    st.none() | st.integers(0, 60),
    interval_s=st.none() | st.integers(30, 150),
    trains=st.sampled_from([(), *((code,) for code in FAULTS)]),
    start=st.integers(0, 500).map(float),
)
BRIEFS = st.builds(
    Brief,
    level=st.sampled_from(["learner", "club", "competitive"]),
    pace_s=st.none() | st.floats(50, 300).map(round),
    pool_m=st.sampled_from([10, 16.67, 20, 22.86, 25, 33.33, 50, 100]),
    sessions=st.integers(1, 8),
    minutes=st.integers(10, 180),
    equipment=st.sampled_from([(), ("paddles",), ("kickboard", "snorkel", "band")]),
)


def _whole(metres: float, pool_m: float) -> bool:
    return abs(metres / pool_m - round(metres / pool_m)) < 1e-6


def _firsts(sessions: Sequence[Session]) -> list[int]:
    """The stages of drills by the session that they first come up in."""
    seen, stages = set[str](), list[int]()
    for session in sessions:
        new = {s.drill for s in session.swims if s.part == "drills" and s.drill} - seen
        stages.append(max((STAGES.index(DRILLS[code].stage) for code in new), default=-1))
        seen |= new
    return [stage for stage in stages if stage >= 0]


@settings(max_examples=150, deadline=None)
@given(
    found=st.lists(st.sampled_from([*FAULTS]), max_size=5, unique=True),
    sets=st.lists(SETS, max_size=7, unique_by=lambda said: said.mentions),
    brief=BRIEFS,
)
def test_every_plan_holds_what_it_promises(
    found: list[str], sets: list[DrillSet], brief: Brief
) -> None:
    said = notes(findings=[fault(code) for code in found], drills=sets)
    made = judge(said, VOCABULARY, brief).plan
    assert judge(said, VOCABULARY, brief).plan == made
    assert len(made.sessions) == brief.sessions
    lines = swims(made)
    own_mentions = {line.mentions for line in lines if not line.added}
    assert own_mentions == {one.mentions for one in sets}
    for one in sets:
        line = next(line for line in lines if line.mentions == one.mentions)
        assert one.reps in (None, line.reps)
        assert one.distance_m in (None, line.distance_m)
        assert one.interval_s == line.interval_s
        assert one.interval_s is not None or one.rest_s in (None, line.rest_s)
    for line in lines:
        if line.added:
            assert line.distance_m is None or _whole(line.distance_m, brief.pool_m)
            assert set(line.equipment) <= set(brief.equipment)
        assert line.reps >= 1
        assert line.metres == pytest.approx(line.reps * (line.distance_m or 0), abs=0.01)
        assert line.seconds >= line.reps * (line.interval_s or line.rest_s)
    for session in made.sessions:
        assert session.metres == pytest.approx(sum(s.metres for s in session.swims), abs=0.01)
        assert session.minutes == pytest.approx(
            sum(s.seconds for s in session.swims) / 60, abs=0.006
        )
        assert session.fits == (session.minutes <= brief.minutes)
        assert parts(session, "warm_up")
        assert parts(session, "carry_over")
        assert parts(session, "cool_down")
    late = [session for session in made.sessions if not session.fits]
    for session in late:
        assert any(f"Session {session.number} takes" in remark for remark in made.remarks)
    stages = [STAGES.index(session.stage) for session in made.sessions]
    assert stages == sorted(stages)
    firsts = _firsts(made.sessions)
    assert firsts == sorted(firsts)


@given(
    pace_s=st.floats(60, 200).map(round),
    pool_m=st.sampled_from([22.86, 25, 33.33, 50]),
    minutes=st.integers(30, 120),
    level=st.sampled_from(["learner", "club", "competitive"]),
)
def test_added_swims_alone_always_fit_in_half_an_hour_or_more(
    pace_s: float, pool_m: float, minutes: int, level: Level
) -> None:
    brief = Brief(pace_s=pace_s, pool_m=pool_m, minutes=minutes, level=level)
    made = judge(THREE_FAULTS, VOCABULARY, brief).plan
    assert all(session.fits for session in made.sessions)
    assert all(parts(session, "drills") for session in made.sessions)
