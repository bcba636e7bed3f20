"""One quantity taken as a figure, before it is joined with others."""

from dataclasses import dataclass

from voicenotes.notes import Side, Status
from voicenotes.reading.figures_remarks import Remark
from voicenotes.reading.figures_values import Value
from voicenotes.reading.quantities import Quantity
from voicenotes.reading.roles import Role
from voicenotes.vocabulary.model import Measure


@dataclass(frozen=True)
class Said:
    """One quantity taken as a figure; ``sentence`` counts the narration's sentences.

    ``distance_m`` is the distance that a time or count was taken over, where it was said.
    """

    quantity: Quantity
    sentence: int
    measure: Measure
    value: Value
    role: Role
    side: Side | None
    status: Status
    remark: Remark | None = None
    distance_m: float | None = None
