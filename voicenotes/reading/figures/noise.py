"""Numbers that are plainly no figures: lanes, years, ages, differences, counts of others."""

from spacy.tokens import Doc, Token

from voicenotes.reading.figures.words import Unit
from voicenotes.reading.numbers.pieces import HYPHENS
from voicenotes.reading.numbers.quantities import Quantity

LABELS = frozenset(
    "lane lanes clip clips camera video frame frames number no. page heat row room part step day "
    "level grade size week chapter rep set film year age aged channel gate question exercise item "
    "block tier $ £ € #".split()
)
"""Words and signs that a number after them only labels."""
COUNTED_OFF = frozenset("breath length lap stroke hundred fifty number".split())
"""Words that open a sentence with a label: "Breath two, the same again"."""
COUNTED_OTHERS = frozenset(
    "week weeks day days month months year years hour hours people times thing things euro euros "
    "pound pounds quid dollar dollars rand percent per cent % kilo kilos kg lane lanes clip clips "
    "frame frames lengths laps widths session sessions swimmer swimmers minutes kilometre "
    "kilometres k km foot feet inch inches yard yards mile miles points p.m. am pm o'clock".split()
)
"""What is counted or measured besides the swimmer's own figures."""
PARTS_OF = frozenset("another extra first last next few other opening final middle".split())
DIFFERENCES = frozenset(
    "more fewer less quicker slower better faster longer shorter worse drop gap difference".split()
)
CHANGES = frozenset("lose save gain waste cost shave knock steal".split())
WAITS = frozenset("hang wait give me just bear same".split())
"""Words before a second or two that ask for patience."""
WATERS = frozenset("water lake sea pool river temperature loch ocean".split())
_SPEAKING_AGE = range(10, 20)


def is_noise(doc: Doc, quantity: Quantity, unit: Unit | None) -> bool:
    """Whether a number plainly counts or names something that is not measured on the swimmer."""
    if unit is None and (_is_label(doc, quantity) or _is_year_or_age(doc, quantity)):
        return True
    if _is_difference(doc, quantity, unit) or _is_share(doc, quantity) or _is_scale(doc, quantity):
        return True
    if unit is not None and unit.words[0] == "degree":
        return _is_temperature(doc, quantity)
    if unit is not None and unit.words[0] == "second":
        return _asks_to_wait(doc, quantity)
    return unit is None and _counts_other(doc, quantity)


def _counts_other(doc: Doc, quantity: Quantity) -> bool:
    """ "Three clips", "eleven of them", "eleven for eleven"."""
    after = _after(doc, quantity)
    if not after:
        return False
    following = after[1].lower_ if len(after) > 1 else ""
    counted = after[0].lower_ in COUNTED_OTHERS
    of_them = after[0].lower_ == "of" and following in {"them", "those", "these", "us", "you"}
    number = doc[quantity.anchor - 1].lower_
    return counted or of_them or (after[0].lower_ == "for" and following == number)


def _after(doc: Doc, quantity: Quantity) -> list[Token]:
    end = min(doc[quantity.first].sent.end, quantity.anchor + 6)
    return [token for token in doc[quantity.anchor : end] if token.text not in HYPHENS]


def _before(doc: Doc, quantity: Quantity, words: int) -> list[str]:
    start = max(doc[quantity.first].sent.start, quantity.first - words)
    return [token.lower_ for token in doc[start : quantity.first]]


def _is_label(doc: Doc, quantity: Quantity) -> bool:
    before = doc[quantity.first - 1] if quantity.first else None
    if before is None:
        return False
    if before.lower_ in COUNTED_OFF and not quantity.limit:
        return not quantity.joined and before.i == before.sent.start
    at_second = before.lower_ == "second" and _before(doc, quantity, 2)[:1] in (["at"], ["to"])
    return before.lower_ in LABELS or at_second


def _is_year_or_age(doc: Doc, quantity: Quantity) -> bool:
    value = quantity.low if quantity.low is not None else quantity.high
    if value is None:
        return False
    age = value in _SPEAKING_AGE and _before(doc, quantity, 1) == ["for"]  # "good for thirteen"
    return 1900 <= value <= 2100 or age


def _is_difference(doc: Doc, quantity: Quantity, unit: Unit | None) -> bool:
    """ "Nine seconds quicker", "another ten centimetres", "the last three strokes"."""
    last = unit.last if unit else quantity.last
    after = doc[last].lower_ if last < len(doc) else ""
    if after in DIFFERENCES and (unit is not None or quantity.low == quantity.high):
        return quantity.limit is None
    if unit is None:
        return False
    lead = {token.lemma_.lower() for token in doc[max(0, quantity.first - 3) : quantity.first]}
    return bool(lead & CHANGES) or bool(PARTS_OF & set(_before(doc, quantity, 1)))


def _is_share(doc: Doc, quantity: Quantity) -> bool:
    """ "Five out of eight", "nine out of ten breaths", "nine times out of ten"."""
    words = [token.lower_ for token in doc[quantity.anchor : quantity.anchor + 5]]
    if words[:2] == ["out", "of"] and len(words) > 2:
        if not doc[quantity.anchor + 2].like_num:
            return False
        of_things = len(words) > 3 and doc[quantity.anchor + 3].tag_ == "NNS"
        return words[2] not in {"ten", "10"} or of_things
    before = _before(doc, quantity, 3)
    return before[-2:] == ["out", "of"] or before[-3:-1] == ["times", "out"]


def _is_scale(doc: Doc, quantity: Quantity) -> bool:
    """The 180 of a straight limb, which explains a scale."""
    near = doc[max(0, quantity.first - 5) : quantity.last + 4]
    says = {token.lower_ for token in near} & {"straight", "flat", "out", "being"}
    return quantity.low == 180 and bool(says)


def _is_temperature(doc: Doc, quantity: Quantity) -> bool:
    lead = set(_before(doc, quantity, 4))
    return bool(lead & WATERS) and not lead & {"to", "with", "against"}


def _asks_to_wait(doc: Doc, quantity: Quantity) -> bool:
    """ "Give me a second", "hang on two seconds"; not "give it a second for me"."""
    before = _before(doc, quantity, 3)
    return (quantity.low or 0) <= 2 and bool(set(before) & WAITS) and before[-1:] != ["for"]
