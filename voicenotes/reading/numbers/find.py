"""Spoken quantities: numbers with what speech makes of them, as intervals.

"Seventy, maybe seventy-five" is [70, 75], "sixty at most" ends at 60, "eighteen, no, nineteen" is
19, and "one forty" is 140 or, by the clock, 100 seconds: which of the two, the measure decides.
"About" and its like do not widen anything.
"""

from collections.abc import Sequence
from dataclasses import replace

from spacy.tokens import Doc

from voicenotes.reading.numbers.limits import join_limits, mark_corrections, mark_limits
from voicenotes.reading.numbers.pieces import Atom
from voicenotes.reading.numbers.quantities import HEDGES, UNITS, Quantity, gap, unit_after
from voicenotes.reading.numbers.words import find_atoms

ALTERNATIVES = frozenset("maybe perhaps possibly could might or better".split())
ORDINALS = {"other": 2, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7}
_TO = (
    ["to"],
    ["-"],
    ["–"],
    ["—"],
    ["until"],
    ["till"],
    ["through"],
    ["up", "to"],
    ["and", "up", "to"],
)
_CHANGE_VERBS = frozenset(
    "go come get drop bring push take rise move shift improve climb fall cut slip slow jump be "
    "increase reduce creep up down".split()
)


def find_quantities(doc: Doc) -> tuple[Quantity, ...]:
    """All spoken quantities of a text, in order.

    Ordinals and the pronoun "one" are none; what a number counts is not looked at.
    """
    singles = _drop_counting(doc, [_single(doc, atom) for atom in find_atoms(doc)])
    linked = _link(doc, _merge_repeats(doc, _mark_lists(doc, singles)))
    limited = join_limits(doc, mark_limits(doc, linked))
    return tuple(mark_corrections(doc, limited))


def _single(doc: Doc, atom: Atom) -> Quantity:
    return Quantity(
        atom.first,
        atom.last,
        atom.value,
        atom.high,
        doc[atom.first : atom.last].text,
        clock=None if atom.clock is None else (atom.clock, atom.clock),
        pure=atom.pure,
        joined=atom.joined,
        plural=atom.plural,
        atoms=(atom,),
    )


def find_ordinals(doc: Doc) -> tuple[Quantity, ...]:
    """Intervals counted by ordinals: "every third stroke" is 3, "every other one" 2."""
    out = []
    for token in doc[:-1]:
        following = doc[token.i + 1]
        number = ORDINALS.get(following.lower_)
        if token.lower_ in {"every", "each"} and number:
            atom = Atom(token.i + 1, token.i + 2, number, number)
            out.append(replace(_single(doc, atom), pure="ordinal"))
    return tuple(out)


def _drop_counting(doc: Doc, found: list[Quantity]) -> list[Quantity]:
    """Leaves out numbers counted aloud ("seventeen, eighteen, nineteen, so nineteen")."""
    runs: list[list[Quantity]] = []
    for quantity in found:
        last = runs[-1][-1] if runs else None
        follows = (
            last is not None
            and quantity.low is not None
            and last.high is not None
            and quantity.low - last.high == 1
            and all(word in {",", "-"} for word in gap(doc, last, quantity))
        )
        if follows:
            runs[-1].append(quantity)
        else:
            runs.append([quantity])
    return [
        quantity for run in runs if len(run) < 3 or not _said_again(run, found) for quantity in run
    ]


def _said_again(run: list[Quantity], found: list[Quantity]) -> bool:
    """Whether counting aloud ends in the count itself; from one on it is always counting."""
    later = [quantity for quantity in found if run[-1].last <= quantity.first < run[-1].last + 12]
    return run[0].low in (1, 2) or any(quantity.low == run[-1].low for quantity in later)


def _mark_lists(doc: Doc, found: list[Quantity]) -> list[Quantity]:
    """Marks three or more numbers in a row: values of their own, not guesses at one."""
    runs: list[list[Quantity]] = []
    for quantity in found:
        between = gap(doc, runs[-1][-1], quantity) if runs else []
        if between in ([","], [",", "and"], ["and"]) and quantity.pure != "article":
            runs[-1].append(quantity)
        else:
            runs.append([quantity])
    return [
        replace(quantity, listed=True) if len(run) > 2 else quantity
        for run in runs
        for quantity in run
    ]


def _merge_repeats(doc: Doc, found: list[Quantity]) -> list[Quantity]:
    """A number said twice in a row is said once."""
    out: list[Quantity] = []
    for quantity in found:
        last = out[-1] if out else None
        if (
            last
            and not last.listed
            and last.interval == quantity.interval
            and set(gap(doc, last, quantity)) <= {",", "call", "it", "say", "yeah", "then", "a"}
        ):
            out[-1] = replace(
                quantity, first=last.first, surface=doc[last.first : quantity.last].text
            )
        else:
            out.append(quantity)
    return out


def _link(doc: Doc, found: list[Quantity]) -> list[Quantity]:
    """Puts the two ends of an interval together."""
    out: list[Quantity] = []
    for quantity in found:
        if out and out[-1].change != "from" and _same_sentence(doc, out[-1], quantity):
            pair = _pair(doc, out[-1], quantity)
            if pair:
                out[-1:] = pair
                continue
        out.append(quantity)
    return out


def _same_sentence(doc: Doc, one: Quantity, two: Quantity) -> bool:
    return bool(doc[one.first].sent.end >= two.last)


def _pair(doc: Doc, one: Quantity, two: Quantity) -> list[Quantity] | None:
    """What two neighbours make: one interval, the ends of a change, or None for neither."""
    said = gap(doc, one, two)
    if len(said) > 6 or one.low is None or two.low is None or len(one.atoms) > 1:
        return None
    if (one.listed and two.listed) or (said[:1] == ["of"] and said[-1:] != ["or"]):
        return None
    core = [word for word in said if word not in HEDGES and word not in UNITS]
    units = [word for word in said if word in UNITS and word != "of"]
    before = [token.lower_ for token in doc[max(0, one.first - 6) : one.first]]
    two = _inherit(one, two)
    if core in _TO or core == ["down", "to"]:
        if _is_change(doc, one, two, before, core):
            return [replace(one, change="from"), replace(two, change="to")]
        return [_interval(doc, one, two)]
    if core == ["and"] and "between" in before[-4:]:
        return [_interval(doc, one, two)]
    if core not in ([], [","]) or _units_differ(doc, units, two):
        return None
    if ALTERNATIVES & set(said):
        return [_interval(doc, one, two)]
    return [_interval(doc, one, two)] if _adjoin(one, two, core, units) else None


def _inherit(one: Quantity, two: Quantity) -> Quantity:
    """ "One thirty to thirty-four" means 134; "two or three tenths" is settled by ``_interval``."""
    first, second = one.atoms[-1], two.atoms[0]
    if not first.joined or second.joined or second.pure or second.value >= 100:
        return two
    base = first.value - first.value % 100
    if not first.value % 100 < second.value:
        return two
    value = base + second.value
    minutes = None if first.clock is None else first.clock - first.clock % 60
    clock = None if minutes is None or second.value >= 60 else minutes + second.value
    return replace(
        two, low=value, high=value, clock=None if clock is None else (clock, clock), joined=True
    )


def _is_change(doc: Doc, one: Quantity, two: Quantity, before: list[str], core: list[str]) -> bool:
    assert one.low is not None
    assert two.low is not None
    if core == ["down", "to"] or (core == ["up", "to"] and "from" in before):
        return True
    if "from" not in before[-3:]:
        return False
    if two.low < one.low and not (one.clock and two.clock and two.clock > one.clock):
        return True
    lemmas = {token.lemma_.lower() for token in doc[max(0, one.first - 6) : one.first]}
    return bool(lemmas & _CHANGE_VERBS - {"be"}) and not lemmas & {"anything", "anywhere"}


def _interval(doc: Doc, one: Quantity, two: Quantity) -> Quantity:
    low, high = one.low, two.high
    assert low is not None
    assert high is not None
    scale = two.atoms[-1].scale
    if scale != 1 and one.atoms[0].scale == 1 and low >= 1:
        low = round(low * scale, 4)
    clock = None
    if one.clock and two.clock:
        ends = sorted(end for end in (*one.clock, *two.clock) if end is not None)
        clock = (ends[0], ends[-1])
    pure = "clock" if "clock" in (one.pure, two.pure) and clock else ""
    if pure and clock:
        low, high = clock[0] or 0.0, clock[1] or 0.0
    return Quantity(
        one.first,
        two.last,
        min(low, high),
        max(low, high),
        doc[one.first : two.last].text,
        clock,
        pure,
        joined=one.joined or two.joined,
        plural=two.plural,
        atoms=(*one.atoms, *two.atoms),
    )


def _units_differ(doc: Doc, units: Sequence[str], two: Quantity) -> bool:
    """Whether the second number counts something else than the first."""
    following = unit_after(doc, two)
    return bool(units) and following is not None and units[0].rstrip("s") != following.rstrip("s")


def _adjoin(one: Quantity, two: Quantity, core: list[str], units: list[str]) -> bool:
    """Whether two numbers side by side are two guesses at one thing ("forty, forty-two")."""
    assert one.low is not None
    assert two.low is not None
    if one.pure == "article":
        return two.pure == "fraction" and two.low <= 2
    if units or two.low <= one.low or one.plural or two.pure == "article":
        return False
    if one.clock and two.clock and one.joined:
        return two.clock[0] is not None and two.clock[0] - (one.clock[0] or 0) <= 15
    if (one.low % 1 and not two.low % 1) or (one.low == 100 and two.joined):
        return False  # "fifteen point two, eighteen strokes"; "first hundred one eleven"
    near = two.low / one.low if one.low else 9
    return near <= (1.6 if core else 1.25) or two.low - one.low <= 1
