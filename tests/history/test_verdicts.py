"""What became of corrections: a table of pairs, then a season, decided by hand."""

from datetime import date

import pytest

from tests.history.season import aside, kept, season, sided_praise
from tests.judging.small import VOCABULARY, fault, figure, notes, praise
from voicenotes.history.kept import Kept
from voicenotes.history.verdicts import since_last
from voicenotes.notes import Figure, Interval, Notes, Side

FIRST, SECOND = date(2027, 1, 4), date(2027, 1, 18)


def elbow(seen: Interval, aim: Interval | None = (90, 120), side: Side | None = "left") -> Figure:
    return figure("elbow_angle", seen, aim, side=side)


def drops(*figures: Figure, severity: str | None = None, side: Side | None = "left") -> Notes:
    found = fault("elbow_drops", side=side).model_copy(update={"severity": severity})
    return notes(findings=(found,), figures=figures)


def silent(*figures: Figure, **entries: object) -> Notes:
    """Nothing is said of the elbow, but for its figures."""
    return notes(figures=figures, **entries)


THEN = drops(elbow((150, 160)))
CASES: dict[str, tuple[Notes, Notes, str]] = {
    # figures, the fault named again
    "nearer": (THEN, drops(elbow((130, 140))), "better"),
    "farther": (THEN, drops(elbow((165, 170))), "worse"),
    "the same value": (THEN, drops(elbow((150, 160))), "same"),
    "ends touch": (THEN, drops(elbow((140, 150))), "same"),
    "one value within": (THEN, drops(elbow((155, 155))), "same"),
    "inside, yet named": (THEN, drops(elbow((100, 110))), "better"),
    "beyond the aim, nearer": (THEN, drops(elbow((70, 80))), "better"),
    "beyond the aim, as far": (THEN, drops(elbow((50, 65))), "same"),
    "figures before words": (
        drops(elbow((150, 160)), severity="marked"),
        drops(elbow((152, 158)), severity="slight"),
        "same",
    ),
    "inside a new aim all along": (THEN, drops(elbow((130, 140), (130, 160))), "same"),
    "inside a new aim only now": (THEN, drops(elbow((130, 140), (130, 145))), "better"),
    "binary dust": (drops(elbow((150.3, 150.3))), drops(elbow((150.1 + 0.2, 150.1 + 0.2))), "same"),
    "at least": (drops(elbow((150, None))), drops(elbow((160, 160))), "same"),
    "other side's figure": (THEN, drops(elbow((130, 140), side="right"), side="both"), "same"),
    # figures, the fault not named again
    "measured inside": (THEN, silent(elbow((100, 110))), "gone"),
    "measured nearer": (THEN, silent(elbow((130, 140))), "better"),
    "measured alike": (THEN, silent(elbow((155, 158))), "same"),
    "measured farther": (THEN, silent(elbow((170, 175))), "worse"),
    "praised, measured farther": (
        THEN,
        silent(elbow((170, 175)), findings=(praise("catch"),)),
        "worse",
    ),
    "praised, measured nearer": (
        THEN,
        silent(elbow((130, 140)), findings=(praise("catch"),)),
        "gone",
    ),
    # words alone
    "weaker word": (drops(severity="marked"), drops(severity="slight"), "better"),
    "stronger word": (drops(severity="slight"), drops(severity="moderate"), "worse"),
    "same word": (drops(severity="marked"), drops(severity="marked"), "same"),
    "no word then": (drops(), drops(severity="slight"), "same"),
    "no word now": (drops(severity="marked"), drops(), "same"),
    "figure only then": (THEN, drops(), "same"),
    "the part praised": (drops(), silent(findings=(praise("catch"),)), "gone"),
    "its side praised": (drops(), silent(findings=(sided_praise("catch", "left"),)), "gone"),
    "the other side praised": (
        drops(),
        silent(findings=(sided_praise("catch", "right"),)),
        "not looked at",
    ),
    "both had it, one praised": (
        drops(side="both"),
        silent(findings=(sided_praise("catch", "left"),)),
        "not looked at",
    ),
    "both had it, each praised": (
        drops(side="both"),
        silent(findings=(sided_praise("catch", "left"), sided_praise("catch", "right"))),
        "gone",
    ),
    "another part praised": (drops(), silent(findings=(praise("kick"),)), "not looked at"),
    "denied": (drops(), silent(set_aside=(aside("elbow_drops", "denied"),)), "gone"),
    "of an earlier clip": (drops(), silent(set_aside=(aside("elbow_drops", "past"),)), "gone"),
    "supposed": (drops(), silent(set_aside=(aside("elbow_drops", "supposed"),)), "not looked at"),
    "of another": (drops(), silent(set_aside=(aside("elbow_drops", "other"),)), "not looked at"),
    "denied of the other side": (
        drops(),
        silent(set_aside=(aside("elbow_drops", "denied", "right"),)),
        "not looked at",
    ),
    "named and praised": (
        drops(),
        notes(findings=(fault("elbow_drops", side="left"), praise("catch"))),
        "same",
    ),
    "nothing said": (THEN, silent(), "not looked at"),
    "only the other side": (
        THEN,
        drops(elbow((100, 110), side="right"), side="right"),
        "not looked at",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("then", "now", "wanted"), CASES.values(), ids=CASES)
def test_what_became_of_a_correction(then: Notes, now: Notes, wanted: str) -> None:
    told = since_last([kept(then, FIRST)], kept(now, SECOND), VOCABULARY)
    assert (told[0].code, told[0].became, told[0].seen_on) == ("elbow_drops", wanted, FIRST)


def unaimed(degrees: float, day: date) -> Kept:
    said = notes(
        findings=(fault("knee_bends"),), figures=(figure("knee_bend", (degrees, degrees)),)
    )
    made = kept(said, day)
    bare = tuple(one.model_copy(update={"aim": None}) for one in made.figures)
    return made.model_copy(update={"figures": bare})


def test_without_any_aim_the_faults_sign_tells_which_way_is_better() -> None:
    (less,) = since_last([unaimed(90, FIRST)], unaimed(70, SECOND), VOCABULARY)
    (more,) = since_last([unaimed(70, FIRST)], unaimed(90, SECOND), VOCABULARY)
    assert (less.became, more.became) == ("better", "worse")


def test_a_first_review_has_nothing_to_look_back_on() -> None:
    assert since_last([], kept(THEN, FIRST), VOCABULARY) == ()


def test_another_stroke_is_another_matter() -> None:
    backstroke = kept(THEN, FIRST, stroke="backstroke")
    assert since_last([backstroke], kept(drops(), SECOND), VOCABULARY) == ()


def test_the_other_side_is_new() -> None:
    told = since_last([kept(drops(), FIRST)], kept(drops(side="right"), SECOND), VOCABULARY)
    assert [(one.side, one.became) for one in told] == [("left", "not looked at"), ("right", "new")]


def test_what_was_compared_is_told() -> None:
    (told,) = since_last([kept(THEN, FIRST)], kept(drops(elbow((130, 140))), SECOND), VOCABULARY)
    (pair,) = told.compared
    assert (pair.measure, pair.side, pair.unit) == ("elbow_angle", "left", "deg")
    assert (pair.was, pair.now, pair.aim) == ((150, 160), (130, 140), (90, 120))


WANTED = [
    {},
    {
        ("elbow_drops", "left"): "better",  # 155 to 140-145
        ("head_lifts", None): "worse",  # moderate to marked
        ("knee_bends", None): "not looked at",
        ("finish_short", "right"): "new",
    },
    {
        ("elbow_drops", "left"): "same",  # 140-145 to 135-142: they overlap
        ("head_lifts", None): "not looked at",
        ("finish_short", "right"): "not looked at",  # said of swimmers in general
        ("knee_bends", None): "gone",  # the kick is praised
    },
    {
        ("elbow_drops", "left"): "gone",  # 105-115 inside 90-120, and not named
        ("head_lifts", None): "better",  # marked, two reviews ago, to slight
        ("finish_short", "right"): "not looked at",
        ("finish_short", "left"): "new",
    },
    {
        ("head_lifts", None): "gone",  # denied
        ("finish_short", "left"): "not looked at",  # only the right one is past
        ("finish_short", "right"): "gone",
        ("elbow_drops", "left"): "new",  # back again
    },
    {
        ("elbow_drops", "left"): "worse",  # 130 to 150, not named
        ("finish_short", "left"): "gone",  # the finish is praised on that side
        ("knee_bends", None): "new",
    },
]


def test_a_season() -> None:
    reviews = season()
    told = [
        {(one.code, one.side): one.became for one in since_last(reviews[:n], now, VOCABULARY)}
        for n, now in enumerate(reviews)
    ]
    assert told == WANTED


def test_what_was_not_looked_at_keeps_its_day_until_it_is() -> None:
    reviews = season()
    days = {one.code: one.seen_on for one in since_last(reviews[:3], reviews[3], VOCABULARY)}
    assert days["head_lifts"] == date(2027, 1, 18)
    assert days["elbow_drops"] == date(2027, 2, 1)
