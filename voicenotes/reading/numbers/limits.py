"""Limits and second thoughts: "sixty at most", "not past fifty", "eighteen, no, nineteen"."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from spacy.tokens import Doc

from voicenotes.reading.numbers.quantities import HEDGES, UNITS, Limit, Quantity, gap, unit_after

_OPPOSITE: dict[Limit, Limit] = {
    "at_most": "at_least",
    "at_least": "at_most",
    "no_slower": "no_faster",
    "no_faster": "no_slower",
}
_UNDER = frozenset("under below beneath within inside underneath".split())
_OVER = frozenset("over above beyond past exceeding".split())
_COMPARED: dict[str, Limit] = {
    **dict.fromkeys("more greater higher deeper longer bigger wider larger".split(), "at_least"),
    **dict.fromkeys("further farther later steeper looser straighter".split(), "at_least"),
    **dict.fromkeys("less fewer lower shallower shorter smaller".split(), "at_most"),
    **dict.fromkeys("narrower tighter earlier sooner nearer closer".split(), "at_most"),
    **dict.fromkeys("faster quicker better".split(), "no_slower"),
    **dict.fromkeys("slower worse".split(), "no_faster"),
}  # fmt: skip
"""Comparatives, and the limit that "or ADJECTIVE" after a number sets."""
_NEGATIVE = frozenset("no not n't never nothing nowhere none without".split())
_A_LITTLE = frozenset(
    "just hair bit little touch tad shade fraction whisker slightly smidge notch tick fractionally "
    "marginally barely wee".split()
)
"""Words that make "just under sixty" about sixty."""
_BEFORE_NAMES: dict[tuple[str, ...], Limit] = {
    ("at", "least"): "at_least",
    ("at", "the", "least"): "at_least",
    ("minimum",): "at_least",
    ("minimum", "of"): "at_least",
    ("at", "most"): "at_most",
    ("maximum",): "at_most",
    ("max",): "at_most",
    ("maximum", "of"): "at_most",
    ("max", "of"): "at_most",
    ("not", "even"): "at_most",
    ("anything", "up", "to"): "at_most",
    ("anywhere", "up", "to"): "at_most",
    ("cap", "it", "at"): "at_most",
    ("cap", "that", "at"): "at_most",
    ("capped", "at"): "at_most",
    ("keep", "it", "to"): "at_most",
    ("north", "of"): "at_least",
    ("upwards", "of"): "at_least",
}
_ENDS: dict[Limit, str] = {
    "at_most": "most maximum max limit ceiling cap",
    "at_least": "least minimum min floor",
}
_OWNERS = "the a my your our his her".split()
_AFTER_NAMES: tuple[tuple[str, Limit], ...] = (
    *(
        (f"{lead} {owner} {noun}", limit)
        for limit, nouns in _ENDS.items()
        for noun in (*nouns.split(), f"{'upper' if limit == 'at_most' else 'lower'} limit")
        for lead in ("is", "as")
        for owner in _OWNERS
    ),
    ("at most", "at_most"),
    ("at the most", "at_most"),
    ("at the very most", "at_most"),
    ("at the outside", "at_most"),
    ("tops", "at_most"),
    ("max", "at_most"),
    ("maximum", "at_most"),
    ("no more", "at_most"),
    ("no further", "at_most"),
    ("no higher", "at_most"),
    ("no deeper", "at_most"),
    ("no longer", "at_most"),
    ("and under", "at_most"),
    ("not a bit more", "at_most"),
    ("and no more", "at_most"),
    ("or under", "at_most"),
    ("or below", "at_most"),
    ("at least", "at_least"),
    ("at the least", "at_least"),
    ("at the very least", "at_least"),
    ("minimum", "at_least"),
    ("at minimum", "at_least"),
    ("at a minimum", "at_least"),
    ("and up", "at_least"),
    ("and over", "at_least"),
    ("and above", "at_least"),
    ("or over", "at_least"),
    ("or above", "at_least"),
    ("plus", "at_least"),
)
"""What is said after a limit: "sixty is my minimum", "forty at most"."""
_TRAILING = UNITS | frozenset(
    "- , a per minute the out ten of for in down deep under water bend flexion roll point each "
    "length hundred below surface one please and that".split()
)
"""Words that may stand between a number and its "at most"."""


def mark_limits(doc: Doc, found: Iterable[Quantity]) -> list[Quantity]:
    """Opens the end of every quantity that is said as a limit."""
    out: list[Quantity] = []
    for quantity in found:
        start = out[-1].last if out else 0
        start = max(start, doc[quantity.first].sent.start, quantity.first - 9)
        before = _before(doc, quantity, start)
        after = None if before else _after(doc, quantity)
        if before:
            out.append(_opened(doc, quantity, before[0], before[1], quantity.last))
        elif after:
            out.append(_opened(doc, quantity, after[0], quantity.first, after[1]))
        else:
            out.append(quantity)
    return out


def _opened(doc: Doc, quantity: Quantity, limit: Limit, first: int, last: int) -> Quantity:
    """A limit opens one end of a single number; an interval stays as it was said."""
    low, high = quantity.low, quantity.high
    clock = quantity.clock
    single = len(quantity.atoms) == 1 and low == high
    if single:
        to_low = limit in ("at_most", "no_faster")
        low, high = (None, high) if to_low else (low, None)
        if clock:
            fast = limit in ("at_most", "no_slower")
            clock = (None, clock[1]) if fast else (clock[0], None)
    return replace(
        quantity,
        first=first,
        last=last,
        low=low,
        high=high,
        clock=clock,
        limit=limit,
        surface=doc[first:last].text,
    )


def _before(doc: Doc, quantity: Quantity, start: int) -> tuple[Limit, int] | None:
    """The limit said before a quantity, and where its words start."""
    words = [token.lower_ for token in doc[start : quantity.first]]
    while words and words[-1] in HEDGES - {"even", "a", "the", "near", "like"}:
        words.pop()
    for names, limit in _BEFORE_NAMES.items():
        if tuple(words[-len(names) :]) == names:
            return limit, start + len(words) - len(names)
    if len(words) > 1 and words[-1] in {"than", "then"} and words[-2] in _COMPARED:
        limit = _COMPARED[words[-2]]
        at, rest = start + len(words) - 2, words[:-2]
        return _maybe_denied(limit, at, rest, start)
    if not words or words[-1] not in _UNDER | _OVER or _close_by(words[:-1]):
        return None
    if words[-1] == "over" and start + len(words) < quantity.first:
        return None  # "tips over about 45"
    if set(words[-4:]) >= {"ca", "n't"} or set(words[-4:]) >= {"can", "not"}:
        return None  # "can't get past four" tells how far it goes
    limit = "at_most" if words[-1] in _UNDER else "at_least"
    return _maybe_denied(limit, start + len(words) - 1, words[:-1], start)


def _maybe_denied(limit: Limit, at: int, rest: list[str], start: int) -> tuple[Limit, int]:
    """ "More than sixty" and "no more than sixty" are opposites."""
    for back, word in enumerate(reversed(rest[-7:])):
        if word in _NEGATIVE:
            return _OPPOSITE[limit], start + len(rest) - 1 - back
        if word in {",", ";", "but", "because", "so"}:
            break
    return limit, at


def _close_by(words: list[str]) -> bool:
    """Whether "under" or "over" is only by a little ("a hair under sixty")."""
    return bool(set(words[-2:]) & _A_LITTLE) and not set(words[-3:]) & {"not", "n't"}


def _after(doc: Doc, quantity: Quantity) -> tuple[Limit, int] | None:
    """The limit said after a quantity, and where its words end."""
    end = doc[quantity.first].sent.end
    words = [token.lower_ for token in doc[quantity.last : min(end, quantity.last + 9)]]
    words = ["is" if word == "'s" else word for word in words]
    for skipped in range(len(words)):
        rest = words[skipped:]
        for names, limit in _AFTER_NAMES:
            split = names.split()
            if rest[: len(split)] == split and not _goes_on(split, rest):
                return limit, quantity.last + skipped + len(split)
        if rest[0] == "or" and len(rest) > 1 and rest[1] in _COMPARED:
            return _COMPARED[rest[1]], quantity.last + skipped + 2
        if rest[0] not in _TRAILING:
            return None
    return None


def _goes_on(names: Sequence[str], rest: list[str]) -> bool:
    """Whether "no more than" or "at least" belongs to the number that follows."""
    following = rest[len(names) : len(names) + 2]
    return bool(following) and (
        following[0] in {"than", "of"} or following[0][:1].isdigit() or following[0] in _SMALL
    )


_SMALL = frozenset(
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety "
    "a half".split()
)


def join_limits(doc: Doc, found: Iterable[Quantity]) -> list[Quantity]:
    """ "Fifty to fifty-five, sixty at most" is one interval; "at least 90, 110 at most" too."""
    out: list[Quantity] = []
    for quantity in found:
        both = _stretched(doc, out[-1], quantity) if out else None
        if both:
            out[-1] = both
        else:
            out.append(quantity)
    return out


_FINITE = frozenset({"VB", "VBD", "VBP", "VBZ", "MD"})


def _stretched(doc: Doc, one: Quantity, two: Quantity) -> Quantity | None:
    between = doc[one.last : two.first]
    if one.limit == two.limit or one.change or len(between) > 6:
        return None
    if any(t.text in ".?!;" for t in between):
        return None
    says_more = any(t.tag_ in _FINITE or t.pos_ == "PRON" for t in between)
    if says_more and between[-1].text != ",":
        return None
    if one.limit is None and any(t.lower_ == "and" for t in between):
        return None
    two = _same_scale(doc, one, two)
    low, high = one.low, two.high
    if two.limit != "at_most" or low is None or high is None:
        return _from_two_limits(doc, one, two)
    if (
        one.limit not in (None, "at_least")
        or high < (one.high or low)
        or _counts_else(doc, one, two)
    ):
        return None
    clock = None
    if one.clock and two.clock:
        clock = (one.clock[0], two.clock[1])
    return replace(
        two,
        first=one.first,
        low=low,
        clock=clock,
        limit="at_most",
        surface=doc[one.first : two.last].text,
        atoms=(*one.atoms, *two.atoms),
    )


def _counts_else(doc: Doc, one: Quantity, two: Quantity) -> bool:
    first, second = unit_after(doc, one), unit_after(doc, two)
    return first is not None and second is not None and first.rstrip("s") != second.rstrip("s")


def _from_two_limits(doc: Doc, one: Quantity, two: Quantity) -> Quantity | None:
    """ "No more than 110 and at least 90"."""
    low, high = two.low, one.high
    if one.limit != "at_most" or two.limit != "at_least" or low is None or high is None:
        return None
    if low > high:
        return None
    return replace(
        two,
        first=one.first,
        high=high,
        clock=(two.clock[0], one.clock[1]) if one.clock and two.clock else None,
        surface=doc[one.first : two.last].text,
        atoms=(*one.atoms, *two.atoms),
    )


def _same_scale(doc: Doc, one: Quantity, two: Quantity) -> Quantity:
    """ "Two tenths, three at most": the three are tenths too."""
    scale = one.atoms[-1].scale
    if scale == 1 or two.atoms[-1].scale != 1 or unit_after(doc, two) or (two.high or 0) < 1:
        return two
    low = None if two.low is None else round(two.low * scale, 4)
    high = None if two.high is None else round(two.high * scale, 4)
    return replace(two, low=low, high=high)


_SECOND_THOUGHTS = (
    "scratch that", "i mean", "tell a lie", "my mistake", "hang on", "hold on", "correction",
    "or rather", "recount", "my bad", "i misread", "let me correct", "i beg your",
    "i stand corrected", "look again", "wrong frame", "let me recount", "on second thoughts",
)  # fmt: skip
_ANSWERS = frozenset("no nah nope naw".split())
_AFTER_NO = frozenset(
    ", sorry wait hang it that actually i make the there she he look my it's let hold scratch say "
    "call".split()
)


def mark_corrections(doc: Doc, found: Sequence[Quantity]) -> list[Quantity]:
    """Marks values that the speaker took back at once; what replaced them stays."""
    out = list(found)
    for at in range(len(out) - 1):
        one, two = out[at], out[at + 1]
        if not _corrects(doc, one, two):
            continue
        if len(one.atoms) > 1 and len(two.atoms) == 1 and (two.low or 0) > (one.low or 0):
            two = replace(two, low=one.low)
            if one.clock and two.clock:
                two = replace(two, clock=(one.clock[0], two.clock[1]))
            out[at + 1] = two
        out[at] = replace(one, taken_back=True)
    return out


def _corrects(doc: Doc, one: Quantity, two: Quantity) -> bool:
    words = gap(doc, one, two)
    if len(words) > 14 or _counts_else(doc, one, two) or _tells_next(words):
        return False
    ends = [at for at, word in enumerate(words) if word in {".", "?", "!"}]
    if len(ends) > 1:
        return False
    if ends:
        words = [*words[ends[0] + 1 :][:2], ","] if words[ends[0] + 1 :] else []
        if not words or words[0] not in _ANSWERS | {"sorry", "scratch", "correction"}:
            return False
    text = " " + " ".join(words) + " "
    if any(f" {phrase} " in text for phrase in _SECOND_THOUGHTS):
        return True
    following = [*words[1:], doc[two.first].lower_]
    for at, word in enumerate(words):
        opened = at == 0 or words[at - 1] in {",", "-", "um", "uh", "oh", "no", "er"}
        at_once = at == len(words) - 1
        if word in _ANSWERS and (at_once or following[at] in _AFTER_NO):
            return True
        if word == "sorry" and following[at] not in {"about", "for", "if", "to", "that"}:
            return True
        if word == "rather" and following[at] == "than":
            continue
        if word in {"wait", "hmm", "oops", "rather", "actually"} and opened:
            return True
    return False


def _tells_next(words: Sequence[str]) -> bool:
    """Whether the words between two numbers go on to another thing ("and the second one, ...")."""
    if "and" not in words:
        return False
    after = words[words.index("and") + 1 :]
    return "," in after and after.index(",") > 1
