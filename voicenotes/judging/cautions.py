"""Words of caution that go with a plan."""

from voicenotes.review import CautionNote, Plan
from voicenotes.vocabulary.model import Vocabulary


def cautions_for(plan: Plan, vocabulary: Vocabulary) -> tuple[CautionNote, ...]:
    """The general cautions, then those of the plan's drills in the order they come up."""
    general = [caution.code for caution in vocabulary.cautions.values() if caution.general]
    drills = (
        vocabulary.drills[swim.drill]
        for session in plan.sessions
        for swim in session.swims
        if swim.drill in vocabulary.drills
    )
    asked = [code for drill in drills for code in drill.cautions]
    return tuple(
        CautionNote(code=code, text=caution.text, source=caution.source)
        for code in dict.fromkeys([*general, *asked])
        if (caution := vocabulary.cautions.get(code))
    )
