"""Single numbers in speech, as words or digits: cardinals, decimals, fractions, clock times.

``text_to_num`` reads plain cardinals and decimals ("a hundred and fifty-five", "one point two").
What speech adds to them is put together here: "one fifty-five", "thirty-seven two", "two and a
half", "half a second", "a minute thirty-five".
"""

from collections.abc import Callable
from dataclasses import replace

from spacy.tokens import Doc

from voicenotes.reading.numbers.pieces import HYPHENS, Atom, cardinals, digits, is_cardinal

_FRACTIONS = {"half": 0.5, "quarter": 0.25, "quarters": 0.25, "tenth": 0.1, "tenths": 0.1}
_SHARED = frozenset({"second", "seconds", "metre", "metres", "meter", "meters"})
"""Units that are said with fractions and articles: "half a second", "a metre twenty"."""
_FULL = frozenset({"full", "whole", "good", "solid", "clear"})
_MINUTES = frozenset({"minute", "minutes", "min", "mins"})
_FLAT = frozenset({"flat", "dead", "exactly", "even"})
_BEFORE_PRONOUN = frozenset(
    "this that which other another last next each every left right good bad first second third "
    "no any same big fly kick old new either".split()
)
"""Words after which "one" stands for a thing."""
_COUNTS_ON = frozenset(
    "metres meters metre meter strokes stroke frames kicks kick beats beat cycles cycle times "
    "by x breaths way side arm hand".split()
)
"""Words that make of the number beside them a count or a rate of its own."""
_COUNTED_AFTER_ONE = frozenset(
    "second seconds metre meter degree centimetre centimeter cm beat kick breath cycle "
    "tenth hundred per".split()
)
_DISTANCES = frozenset({25.0, 50.0, 75.0, 100.0, 200.0, 400.0})


def find_atoms(doc: Doc) -> list[Atom]:
    """All single numbers of a text, in order, none overlapping another."""
    out: list[Atom] = []
    for sentence in doc.sents:
        words = [token.lower_ for token in sentence]
        covered, start = 0, sentence.start
        for atom in _atoms_of(words):
            if atom.first >= covered and _is_number(atom, words):
                out.append(replace(atom, first=atom.first + start, last=atom.last + start))
                covered = atom.last
    return out


def _atoms_of(words: list[str]) -> list[Atom]:
    """The numbers of one sentence, given in lower case; indexes count from its start."""
    found = cardinals(words) + digits(words)
    atoms = sorted(found, key=lambda atom: atom.first)
    for step in (_small_zero, _hundreds, _decimal_tail, _clocks, _fractions, _halves):
        atoms = step(atoms, words)
    return atoms


def _beside(one: Atom, two: Atom, words: list[str]) -> bool:
    """Whether two numbers stand with nothing but a hyphen between them."""
    return all(word in HYPHENS for word in words[one.last : two.first])


def _join(atoms: list[Atom], make: Callable[[Atom, Atom], Atom | None]) -> list[Atom]:
    """Puts neighbours together from left to right wherever ``make`` gives one number."""
    out: list[Atom] = []
    for atom in atoms:
        both = make(out[-1], atom) if out else None
        if both is None:
            out.append(atom)
        else:
            out[-1] = both
    return out


def _minutes_and_seconds(one: Atom, two: Atom, value: float, clock: float | None) -> Atom:
    return Atom(one.first, two.last, value, value, clock, joined=True, plural=two.plural)


def _small(atom: Atom) -> bool:
    """Whether a number can be the "one" of "one fifty-five"."""
    return 1 <= atom.value <= 9 and atom.value == int(atom.value) and not atom.pure


def _small_zero(atoms: list[Atom], words: list[str]) -> list[Atom]:
    """ "One oh five": 105, or 1:05."""

    def make(one: Atom, two: Atom) -> Atom | None:
        between = [word for word in words[one.last : two.first] if word not in HYPHENS]
        zero = between in (["oh"], ["o"]) or (not between and words[two.first][0] == "0")
        if not (zero and _small(one) and _small(two)):
            return None
        return _minutes_and_seconds(
            one, two, one.value * 100 + two.value, one.value * 60 + two.value
        )

    return _join(atoms, make)


def _hundreds(atoms: list[Atom], words: list[str]) -> list[Atom]:
    """ "One fifty-five": 155, or 1:55; "fourteen ten": 14:10."""

    def make(one: Atom, two: Atom) -> Atom | None:
        if one.joined or two.joined or two.pure or not _beside(one, two, words):
            return None
        if two.plural and one.value >= 2 and two.value in _DISTANCES:
            return None  # a set: "eight twenty-fives"
        if one.last != two.first and words[one.first].isdigit():
            return None  # a range: "2-10"
        if not 10 <= two.value < 100 or one.value != int(one.value) or one.pure:
            return None
        if one.value >= 10:
            apart = two.value < one.value or two.value > 1.4 * one.value
            if one.value > 30 or two.value >= 60 or not apart or one.last != two.first:
                return None
        elif not _small(one) or (one.first and words[one.first - 1] in _BEFORE_PRONOUN):
            return None
        clock = one.value * 60 + two.value if two.value < 60 else None
        return _minutes_and_seconds(one, two, one.value * 100 + two.value, clock)

    return _join(atoms, make)


def _decimal_tail(atoms: list[Atom], words: list[str]) -> list[Atom]:
    """ "Thirty-seven two" by the watch: 37.2."""
    starts = {atom.first for atom in atoms}

    def make(one: Atom, two: Atom) -> Atom | None:
        whole = one.value >= 10 and one.value == int(one.value) and not one.pure
        digit = 0 <= two.value <= 9 and two.value == int(two.value) and not two.plural
        after = words[two.last] if two.last < len(words) else ""
        ranges = after in {"to", "or", "and"} and two.last + 1 in starts
        if not (whole and digit) or one.last != two.first or after in _COUNTS_ON or ranges:
            return None
        if two.joined or two.last - two.first > 1 or one.plural:
            return None
        clock = None if one.clock is None else one.clock + two.value / 10
        return _minutes_and_seconds(one, two, round(one.value + two.value / 10, 3), clock)

    return _join(atoms, make)


def _halves(atoms: list[Atom], words: list[str]) -> list[Atom]:
    """ "Two and a half", "a second and a quarter", "a metre twenty"; and "a second" alone."""
    starts = {atom.first: atom for atom in atoms}
    ends = {atom.last for atom in atoms}
    out = list(atoms)
    for at, word in enumerate(words):
        if word in _SHARED and (first := _article(words, at, ends)) is not None:
            tail = starts.get(at + 1 + (words[at + 1 : at + 2] == ["and"]))
            if tail and word.startswith("met") and 1 <= tail.value < 100 and not tail.pure:
                out.remove(tail)
                value = round(1 + tail.value / 100, 3)
                out.append(Atom(first, tail.last, value, value, pure="fraction"))
            else:
                out.append(Atom(first, at + 1, 1, 1, pure="article"))
    out.sort(key=lambda atom: atom.first)
    return [_with_half(atom, words) for atom in out]


def _with_half(atom: Atom, words: list[str]) -> Atom:
    rest = [(at, word) for at, word in enumerate(words[atom.last : atom.last + 7], atom.last)]
    rest = [(at, word) for at, word in rest if word not in HYPHENS]
    said = [word for _, word in rest[:3]]
    if atom.high != atom.value or len(said) < 3 or said[0] != "and":
        return atom
    share = _FRACTIONS.get(said[2], 0) * {"a": 1, "three": 3, "one": 1}.get(said[1], 0)
    if not share:
        return atom
    value = atom.value + share
    clock = None if atom.clock is None else atom.clock + share
    pure = "fraction" if atom.pure == "article" else atom.pure
    return replace(atom, last=rest[2][0] + 1, value=value, high=value, clock=clock, pure=pure)


def _article(words: list[str], at: int, ends: set[int]) -> int | None:
    """Where "a (full) second" starts; None where the unit is not one of its kind."""
    first = at - 2 if at > 1 and words[at - 1] in _FULL else at - 1
    if first < 0 or words[first] != "a" or words[at].endswith("s"):
        return None
    before = words[first - 1] if first else ""
    if before in _COUNTS_ON or before in {"of", "half", "quarter", "per"} or first in ends:
        return None
    return first


def _fractions(atoms: list[Atom], words: list[str]) -> list[Atom]:
    """ "Half a second", "three quarters of a second", "six tenths"."""
    by_end = {atom.last: atom for atom in atoms}
    out = list(atoms)
    for at, word in enumerate(words):
        if word not in _FRACTIONS or words[max(0, at - 2) : at] == ["and", "a"]:
            continue
        count = by_end.get(at)
        rest = [w for w in words[at + 1 : at + 5] if w not in HYPHENS and w not in {"of", "a"}]
        if not word.startswith("tenth") and not (rest and rest[0] in _SHARED):
            continue
        if count is not None:
            out.remove(count)
        elif word.endswith("s") or (at and words[at - 1] in HYPHENS):
            continue
        share = _FRACTIONS[word]
        value = round(share * (count.value if count else 1), 4)
        first = count.first if count else at
        out.append(Atom(first, at + 1, value, value, pure="fraction", scale=share))
    return sorted(out, key=lambda atom: atom.first)


def _clocks(atoms: list[Atom], words: list[str]) -> list[Atom]:
    """ "A minute thirty-five", "two minutes flat", "thirteen flat"."""
    starts = {atom.first: atom for atom in atoms}
    ends = {atom.last: atom for atom in atoms}
    out = list(atoms)
    for at, word in enumerate(words):
        if word not in _MINUTES:
            continue
        minutes = ends.get(at)
        first = minutes.first if minutes else at - 1
        before = words[first - 1] if first > 0 else ""
        if minutes is None and (words[first] != "a" or before in _COUNTS_ON or first in ends):
            continue
        after = at + 1 + (words[at + 1 : at + 2] == ["and"])
        seconds = starts.get(after)
        if seconds and (seconds.value >= 60 or seconds.pure in {"clock", "article"}):
            seconds = None
        flat = words[at + 1 : at + 2] and words[at + 1] in _FLAT
        if not (seconds or flat or minutes) or (not seconds and before in {"in", "per", "every"}):
            continue
        total = 60 * (minutes.value if minutes else 1) + (seconds.value if seconds else 0)
        last = seconds.last if seconds else at + 1 + bool(flat)
        out = [atom for atom in out if atom not in (minutes, seconds)]
        out.append(Atom(first, last, total, total, total, "clock"))
    out.sort(key=lambda atom: atom.first)
    return [_flat_minutes(atom, words) for atom in out]


def _flat_minutes(atom: Atom, words: list[str]) -> Atom:
    """ "Two flat" may be two minutes."""
    flat = atom.last < len(words) and words[atom.last] in _FLAT - {"exactly", "even"}
    if not flat or atom.pure or atom.clock is not None or atom.value > 30:
        return atom
    return replace(atom, last=atom.last + 1, clock=atom.value * 60)


def _is_number(atom: Atom, words: list[str]) -> bool:
    """False for the pronoun "one" and for zeros that are an exclamation."""
    said = words[atom.first : atom.last]
    if said == ["o"]:
        return False
    if said != ["one"]:
        return True
    after = [word for word in words[atom.last : atom.last + 3] if word not in HYPHENS]
    before = words[max(0, atom.first - 2) : atom.first]
    if before and before[-1] in _BEFORE_PRONOUN:
        return False
    if before and before[-1] in {"under", "over", "below", "above"}:
        return not after or not after[0].isalpha()
    after = after[1:] if after and after[0] in _FULL | {"a", "single"} else after
    if after and (after[0] in _COUNTED_AFTER_ONE or after[0] in {"to", "or"}):
        return True
    return len(before) == 2 and before[1] in {"to", "or", "and"} and is_cardinal(before[0])
