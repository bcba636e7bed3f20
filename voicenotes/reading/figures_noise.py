"""Numbers that are no figures: lanes, dates, moments of the clip, distances, counts of other things."""

from spacy.tokens import Doc, Token

from voicenotes.reading.figures_measures import Unit
from voicenotes.reading.number_words import HYPHENS
from voicenotes.reading.numbers import Quantity

DISTANCES = frozenset(
    {15.0, 20.0, 25.0, 33.0, 50.0, 75.0, 100.0, 150.0, 200.0, 300.0, 400.0, 500.0, 750.0, 800.0}
    | {1000.0, 1500.0, 1650.0, 1800.0, 2000.0, 3000.0, 3800.0, 5000.0, 10000.0}
)
"""Distances that are swum and timed, in metres or yards."""
_LABELS = frozenset(
    "lane clip camera video frame number no. page heat row room part step day level grade "
    "size week chapter rep set film year age aged channel gate lanes clips frames "
    "question exercise item block tier".split()
)
_DISTANCE_OWNERS = frozenset(
    "the a first second third fourth last next final each every per your that this for of opening "
    "closing back middle another one in whole my on over same his her any".split()
)
_SWUM = frozenset(
    "free freestyle fly butterfly back backstroke breast breaststroke race time swim split warm "
    "trial metre metres meter meters m yard yards pool medley im kick final repeat effort test "
    "easy".split()
)
_COUNTED_OFF = frozenset("breath length lap stroke hundred fifty number".split())
_CLIP_WORDS = frozenset(
    "clip video film footage recording frame frames tape timer counter file rewind scrub".split()
)
_SEEKING = frozenset("jump skip rewind forward scrub pause freeze go back start stop".split())
_COUNTED_OTHERS = frozenset(
    "week weeks day days month months year years hour hours people times thing things euro euros "
    "pound pounds quid dollar dollars rand percent per cent % kilo kilos kg lane lanes clip clips "
    "frame frames lengths laps widths session sessions swimmer swimmers minutes kilometre "
    "foot feet inch inches yard yards kilometres k km mile miles points p.m. am pm o'clock".split()
)


def _after(doc: Doc, quantity: Quantity) -> list[Token]:
    end = doc[quantity.first].sent.end
    return [
        token
        for token in doc[quantity.anchor : min(end, quantity.anchor + 6)]
        if token.text not in HYPHENS
    ]


def is_noise(doc: Doc, quantity: Quantity, unit: Unit | None) -> bool:
    """Whether a number plainly counts or names something that is not measured on the swimmer."""
    low = quantity.low if quantity.low is not None else quantity.high
    before = doc[quantity.first - 1] if quantity.first else None
    if before is not None and before.lower_ in _LABELS and not unit:
        return True
    if before is not None and before.lower_ in _COUNTED_OFF and unit is None and not quantity.limit:
        return quantity.joined is False and before.i == before.sent.start
    if (
        before is not None
        and before.lower_ == "second"
        and before.i
        and before.nbor(-1).lower_ in {"at", "to"}
    ):
        return True
    if before is not None and before.text in {"$", "£", "€", "#"}:
        return True
    if low is not None and 1900 <= low <= 2100 and not unit:
        return True
    if _is_difference(doc, quantity, unit):
        return True
    if _is_share(doc, quantity) or _is_scale(doc, quantity):
        return True
    if quantity.pure == "clock" and _is_moment(doc, quantity):
        return True
    if unit and unit.words[0] == "second" and _is_clip_second(doc, quantity, unit):
        return True
    after = _after(doc, quantity)
    return unit is None and bool(after) and after[0].lower_ in _COUNTED_OTHERS


_PARTS_OF = frozenset("another extra first last next few other opening final middle".split())
_DIFFERENCES = frozenset(
    "more fewer less quicker slower better faster longer shorter worse drop gap difference".split()
)
_CHANGES = frozenset("lose save gain waste cost shave knock steal give away".split())


def _is_difference(doc: Doc, quantity: Quantity, unit: Unit | None) -> bool:
    """ "Nine seconds quicker", "another ten centimetres", "the last three strokes"."""
    last = unit.last if unit else quantity.last
    after = doc[last].lower_ if last < len(doc) else ""
    before = doc[quantity.first - 1].lower_ if quantity.first else ""
    if unit is not None and before in _PARTS_OF:
        return True
    if after in _DIFFERENCES and (unit is not None or quantity.interval[0] == quantity.interval[1]):
        return quantity.limit is None
    lead = {t.lemma_.lower() for t in doc[max(0, quantity.first - 3) : quantity.first]}
    return unit is not None and bool(lead & _CHANGES - {"give", "away"})


def _is_share(doc: Doc, quantity: Quantity) -> bool:
    """ "Five out of eight", "nine out of ten breaths", "eight swings in ten strokes"."""
    words = [token.lower_ for token in doc[quantity.anchor : quantity.anchor + 5]]
    if words[:2] == ["out", "of"] and len(words) > 2:
        whole = words[2] in {"ten", "10"}
        if not doc[quantity.anchor + 2].like_num:
            return False
        noun = doc[quantity.anchor + 3].tag_ == "NNS" if len(words) > 3 else False
        return not whole or noun
    before = [token.lower_ for token in doc[max(0, quantity.first - 3) : quantity.first]]
    return before[-2:] == ["out", "of"] or before[-3:-1] == ["times", "out"]


def _is_scale(doc: Doc, quantity: Quantity) -> bool:
    """The 180 of a straight limb, which explains a scale."""
    if quantity.low != 180:
        return False
    near = doc[max(0, quantity.first - 5) : quantity.last + 4]
    return bool({t.lower_ for t in near} & {"straight", "flat", "out", "being"})


def _is_moment(doc: Doc, quantity: Quantity) -> bool:
    seconds = quantity.low or quantity.high or 0
    return doc[quantity.first].text.startswith("0:") or (
        seconds < 30
        and quantity.first > 0
        and doc[quantity.first - 1].lower_ in {"at", "to", "from"}
    )


_WAITS = frozenset("hang wait give me just bear hold-on same".split())


def _is_clip_second(doc: Doc, quantity: Quantity, unit: Unit) -> bool:
    """ "At six seconds", "twelve seconds in"."""
    after = [token.lower_ for token in doc[unit.last : unit.last + 2]]
    if after[:1] == ["in"] and (
        len(after) < 2 or after[1] in {",", ".", "to", "the", "there", "you"}
    ):
        return after[1:2] != ["the"] or doc[unit.last + 2].lower_ in _CLIP_WORDS
    if after[:1] == ["into"]:
        return True
    before = [
        t.lower_
        for t in doc[max(doc[quantity.first].sent.start, quantity.first - 4) : quantity.first]
    ]
    if (quantity.low or 0) <= 2 and set(before[-3:]) & _WAITS and "for" not in before[-1:]:
        return True
    if before[-1:] == ["same"] or (
        before[-1:] == ["to"] and set(before) & {"back", "go", "jump", "forward", "skip"}
    ):
        return True
    return (
        quantity.first > 0
        and doc[quantity.first - 1].lower_ == "at"
        and (quantity.low or 0) >= 3
        and quantity.first - doc[quantity.first].sent.start <= 2
    )


def counts_other(doc: Doc, quantity: Quantity, terms: set[int]) -> bool:
    after = _after(doc, quantity)
    if not after:
        return False
    if after[0].pos_ == "ADJ" and len(after) > 1:
        after = after[1:]
    head = after[0]
    large = (quantity.high or quantity.low or 0) > 10
    if (head.i in terms and large) or head.lower_ in {
        "left",
        "right",
        "mark",
        "zone",
        "bracket",
        "something",
        "flat",
        "region",
    }:
        return False
    number = doc[quantity.anchor - 1]
    return (
        head.pos_ == "NOUN"
        and head.tag_ == "NNS"
        and (number.dep_ == "nummod" or number.head.i == head.i)
    )
