"""A plan that goes on from the one before: a drill a stage on, or one back."""

from voicenotes.judging.cautions import cautions_for
from voicenotes.judging.corrections import MOST_DRILLS, drills_for, fitting_drills
from voicenotes.judging.plan import make_plan
from voicenotes.notes import Notes
from voicenotes.review import Correction, Review
from voicenotes.vocabulary.model import STAGES, Vocabulary


def step_on(review: Review, vocabulary: Vocabulary) -> Review:
    """The review with drills at the stages that ``since`` names, and the plan made with them.

    Of the drills that are added for a fault, the last gives way to the one nearest to its stage;
    the most usual stays, to lead in. What the coach prescribed or chose is left alone.
    """
    corrections = tuple(_stepped(found, review, vocabulary) for found in review.corrections)
    if corrections == review.corrections:
        return review
    plan = make_plan(Notes(drills=review.drills), corrections, vocabulary, review.brief)
    changed = {"corrections": corrections, "plan": plan, "cautions": cautions_for(plan, vocabulary)}
    return review.model_copy(update=changed)


def _stepped(correction: Correction, review: Review, vocabulary: Vocabulary) -> Correction:
    code = correction.code
    named = [one.stage for one in review.since if one.code == code and one.stage is not None]
    own = {said.code for said in review.drills if code in said.trains}
    usual = drills_for(code, Notes(drills=review.drills), vocabulary, review.brief)
    added = [drill for drill in usual if drill not in own]
    if not named or len(added) < MOST_DRILLS or correction.drills != usual:
        return correction
    wanted = min(map(STAGES.index, named))
    known = fitting_drills(code, vocabulary, review.brief)

    def away(drill: str) -> int:
        return abs(STAGES.index(vocabulary.drills[drill].stage) - wanted)

    nearest = min((drill for drill in known if drill not in (*own, added[0])), key=away)
    return correction.model_copy(update={"drills": (*usual[:-1], nearest)})
