"""Six reviews of an invented swimmer, made by hand from typed notes, and a way to make more."""

from datetime import date

from tests.judging.small import VOCABULARY, at, fault, figure, notes, praise
from voicenotes.history.kept import Kept, kept_of
from voicenotes.judging import judge
from voicenotes.notes import Finding, Notes, SetAside, Side, Status
from voicenotes.review import Brief, Made, Review
from voicenotes.transcript import Cue, Transcript

SWIMMER = "Tamsin Wexcombe"


def review_of(said: Notes, day: date, swimmer: str | None = SWIMMER, **brief: object) -> Review:
    """The review of some notes, judged by the small vocabulary, approved."""
    told = Brief.model_validate({"swimmer": swimmer, "sessions": 1, **brief})
    judged = judge(said, VOCABULARY, told)
    return Review(
        name=f"clip-{day.isoformat()}",
        duration=120,
        brief=told,
        findings=said.findings,
        figures=said.figures,
        drills=said.drills,
        causes=(),
        links=(),
        priorities=said.priorities,
        set_aside=said.set_aside,
        repairs=(),
        doubts=(),
        made=Made(tool="voicenotes", vocabulary=VOCABULARY.digest, on=day),
        approved=True,
        **{name: getattr(judged, name) for name in type(judged).model_fields},
    )


def transcript_of(day: date, words: str = "Your elbow drops.") -> Transcript:
    cues = (Cue(start=1, end=4, text=words), Cue(start=5, end=8, text=f"Swum on {day}."))
    return Transcript(name="clip", cues=cues, duration=120)


def kept(said: Notes, day: date, swimmer: str = SWIMMER, **brief: object) -> Kept:
    made = review_of(said, day, swimmer, **brief)
    words = transcript_of(day, f"{swimmer} says so.")
    return kept_of(made, words, f"/reviews/{swimmer}/{day}", day)


def aside(code: str, reason: Status, side: Side | None = None) -> SetAside:
    return SetAside(kind="fault", code=code, side=side, reason=reason, mention=at(20))


def sided_praise(code: str, side: Side | None) -> Finding:
    return praise(code).model_copy(update={"side": side})


SEASON: tuple[tuple[date, Notes], ...] = (
    (
        date(2027, 1, 4),
        notes(
            findings=(
                fault("elbow_drops", side="left", severity="marked"),
                fault("head_lifts", severity="moderate"),
                fault("knee_bends"),
            ),
            figures=(figure("elbow_angle", (155, 155), (90, 120), side="left"),),
        ),
    ),
    (
        date(2027, 1, 18),
        notes(
            findings=(
                fault("elbow_drops", side="left"),
                fault("head_lifts", severity="marked"),
                fault("finish_short", side="right"),
            ),
            figures=(figure("elbow_angle", (140, 145), (90, 120), side="left"),),
        ),
    ),
    (
        date(2027, 2, 1),
        notes(
            findings=(fault("elbow_drops", side="left"), praise("kick")),
            figures=(figure("elbow_angle", (135, 142), (90, 120), side="left"),),
            set_aside=(aside("finish_short", "general"),),
        ),
    ),
    (
        date(2027, 2, 15),
        notes(
            findings=(fault("head_lifts", severity="slight"), fault("finish_short", side="left")),
            figures=(figure("elbow_angle", (105, 115), (90, 120), side="left"),),
        ),
    ),
    (
        date(2027, 3, 1),
        notes(
            findings=(fault("elbow_drops", side="left"),),
            figures=(figure("elbow_angle", (130, 130), (90, 120), side="left"),),
            set_aside=(aside("head_lifts", "denied"), aside("finish_short", "past", "right")),
        ),
    ),
    (
        date(2027, 3, 15),
        notes(
            findings=(sided_praise("finish", "left"), fault("knee_bends")),
            figures=(figure("elbow_angle", (150, 150), (90, 120), side="left"),),
        ),
    ),
)


def season() -> list[Kept]:
    return [kept(said, day) for day, said in SEASON]
