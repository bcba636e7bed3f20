import hypothesis.strategies as st
from hypothesis import given

from tests.judging.small import (
    FAULTS,
    VOCABULARY,
    cause,
    drill_set,
    fault,
    figure,
    first_of_all,
    notes,
    praise,
)
from voicenotes.judging import judge
from voicenotes.judging.corrections import can_do
from voicenotes.notes import Notes
from voicenotes.review import Brief, Correction


def corrections(said: Notes, brief: Brief | None = None) -> tuple[Correction, ...]:
    return judge(said, VOCABULARY, brief or Brief()).corrections


def codes(said: Notes) -> list[str]:
    return [c.code for c in corrections(said)]


def test_left_and_right_of_one_fault_are_one_thing_to_work_on() -> None:
    found = corrections(
        notes(
            findings=[
                fault("elbow_drops", 50, side="right", severity="marked"),
                fault("elbow_drops", 10, side="left", severity="slight"),
            ]
        )
    )
    assert [(c.code, c.side, c.severity) for c in found] == [("elbow_drops", "both", "marked")]
    assert [m.start for m in found[0].mentions] == [10, 50]


def test_a_side_said_once_stands_for_the_mentions_without_one() -> None:
    found = corrections(
        notes(findings=[fault("elbow_drops", 10), fault("elbow_drops", 30, side="left")])
    )
    assert found[0].side == "left"


def test_the_coach_s_own_order_comes_before_everything_else() -> None:
    said = notes(
        findings=[
            fault("head_lifts", severity="marked"),
            fault("hips_sink"),
            fault("elbow_drops", severity="slight"),
        ],
        causes=[cause("head_lifts", "hips_sink")],
        priorities=first_of_all("elbow_drops", "hips_sink"),
    )
    assert codes(said) == ["elbow_drops", "hips_sink", "head_lifts"]
    found = corrections(said)
    assert found[0].reasons[0] == "You put it first."
    assert found[1].reasons[0] == "You put it second."


def test_a_cause_comes_before_what_it_brings_about_however_slight() -> None:
    said = notes(
        findings=[
            fault("hips_sink", severity="marked"),
            fault("knee_bends"),
            fault("head_lifts", severity="slight"),
        ],
        causes=[cause("head_lifts", "hips_sink")],
    )
    assert codes(said) == ["head_lifts", "hips_sink", "knee_bends"]
    found = corrections(said)
    assert found[0].reasons[0] == "You said it brings about: hips low."
    assert found[0].leads_to == ("hips_sink",)


def test_graver_faults_come_first_then_those_farther_out_then_those_said_oftener() -> None:
    said = notes(
        findings=[
            fault("head_lifts", 1),
            fault("legs_sink", 2, 22),
            fault("over_rotates", 3),
            fault("knee_bends", 4, severity="marked"),
        ],
        figures=[figure("shoulder_roll", (75, 75))],
    )
    assert codes(said) == ["knee_bends", "over_rotates", "legs_sink", "head_lifts"]
    reasons = {c.code: c.reasons for c in corrections(said)}
    assert reasons["over_rotates"] == (
        "The shoulder roll is 25° over the 35 to 50° that are usual.",
    )
    assert reasons["legs_sink"] == ("You said it 2 times.",)
    assert reasons["head_lifts"] == ("You said it once.",)


def test_causes_that_run_in_a_circle_still_give_a_list() -> None:
    said = notes(
        findings=[fault("head_lifts"), fault("hips_sink", severity="marked"), fault("legs_sink")],
        causes=[
            cause("head_lifts", "hips_sink"),
            cause("hips_sink", "legs_sink"),
            cause("legs_sink", "head_lifts"),
            cause("legs_sink", "legs_sink"),
        ],
    )
    assert sorted(codes(said)) == ["head_lifts", "hips_sink", "legs_sink"]


def test_three_to_work_on_now_and_the_rest_for_later() -> None:
    said = notes(findings=[fault(code) for code in [*FAULTS][:5]])
    assert [c.focus for c in corrections(said)] == ["now", "now", "now", "later", "later"]
    assert [c.rank for c in corrections(said)] == [1, 2, 3, 4, 5]


def test_figures_that_measure_a_fault_stand_with_it() -> None:
    said = notes(
        findings=[fault("elbow_drops", 10, side="left")],
        figures=[
            figure("elbow_angle", (150, 150), (90, 120), side="left", start=60),
            figure("elbow_angle", (150, 150), (90, 120), side="right", start=62),
            figure("elbow_angle", (100, 100), (90, 120), side="left", start=64),
            figure("knee_bend", (80, 80), start=10),
        ],
    )
    assert corrections(said)[0].figures == (0,)


def test_a_figure_stands_with_the_fault_that_was_said_nearest_to_it() -> None:
    said = notes(
        findings=[fault("elbow_drops", 10), fault("arm_straight", 40)],
        figures=[
            figure("elbow_angle", (170, 170), (90, 120), start=41),
            figure("elbow_angle", (160, 160), (90, 120), start=12),
        ],
    )
    assert {c.code: c.figures for c in corrections(said)} == {
        "elbow_drops": (1,),
        "arm_straight": (0,),
    }


def test_the_coach_s_own_drills_come_first_and_those_that_cannot_be_done_are_not_added() -> None:
    said = notes(
        findings=[fault("elbow_drops")],
        drills=[drill_set("single_arm", 6, 25, trains=("elbow_drops",))],
    )
    assert corrections(said)[0].drills == ("single_arm", "scull")
    assert not can_do("paddles", VOCABULARY, Brief())
    assert can_do("paddles", VOCABULARY, Brief(equipment=("paddles",)))


def test_a_fault_that_the_vocabulary_lacks_still_stands_in_the_list() -> None:
    found = corrections(notes(findings=[fault("house_fault")]))
    assert [(c.name, c.why, c.drills) for c in found] == [("house fault", "", ())]


def test_strengths_are_told_by_how_often_they_were_praised_and_the_whole_last() -> None:
    said = notes(findings=[praise("overall", 1, 2, 3), praise("kick", 50), praise("entry", 60, 70)])
    assert judge(said, VOCABULARY, Brief()).strengths == ("entry", "kick", "overall")


@given(
    found=st.lists(st.sampled_from([*FAULTS]), min_size=2, max_size=7, unique=True),
    pairs=st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), max_size=12),
    wanted=st.lists(st.sampled_from([*FAULTS]), max_size=3, unique=True),
)
def test_every_fault_stands_once_with_a_reason_and_no_cause_after_its_effect(
    found: list[str], pairs: list[tuple[int, int]], wanted: list[str]
) -> None:
    """Links run from a fault to a later one of the list, so no circle is among them."""
    links = [(found[one], found[other]) for one, other in pairs if one < other < len(found)]
    ranked = corrections(
        notes(
            findings=[fault(code) for code in found],
            causes=[cause(*link) for link in links],
            priorities=first_of_all(*wanted),
        )
    )
    order = [c.code for c in ranked]
    assert sorted(order) == sorted(found)
    assert all(c.reasons for c in ranked)
    asked = [code for code in wanted if code in found]
    assert order[: len(asked)] == asked
    for one, other in links:
        assert other in asked or order.index(one) < order.index(other)


@given(
    pairs=st.lists(st.tuples(st.sampled_from([*FAULTS]), st.sampled_from([*FAULTS])), max_size=15)
)
def test_any_links_at_all_give_a_whole_list(pairs: list[tuple[str, str]]) -> None:
    said = notes(findings=[fault(code) for code in FAULTS], causes=[cause(*pair) for pair in pairs])
    assert sorted(codes(said)) == sorted(FAULTS)
