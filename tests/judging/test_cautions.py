from tests.judging.small import VOCABULARY, drill_set, notes
from voicenotes.judging import judge
from voicenotes.review import Brief


def test_general_cautions_always_go_with_a_review() -> None:
    found = judge(notes(), VOCABULARY, Brief()).cautions
    assert [c.code for c in found] == ["pain"]
    assert (found[0].text, found[0].source) == ("Stop at pain.", "common practice")


def test_a_drill_s_cautions_stand_where_the_plan_has_the_drill_once_each() -> None:
    said = notes(
        drills=[
            drill_set("push_off", 6, start=60),
            drill_set("vertical_kick", 4, start=70),
            drill_set("vertical_kick", 2, start=80),
        ]
    )
    found = judge(said, VOCABULARY, Brief(sessions=1)).cautions
    assert sorted(c.code for c in found) == ["breath", "pain", "upright"]
    assert found[0].code == "pain"
