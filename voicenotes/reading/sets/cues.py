"""Where drills and equipment are named or described, and whether they are turned down there."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from spacy.tokens import Doc

from voicenotes.reading.sets.words import (
    MARKS,
    MEANT_ONCE,
    OFF,
    PULLS,
    REFUSALS,
    REFUSED_BEFORE,
    REFUSED_LATER,
    RESUMES,
    TILL,
)
from voicenotes.vocabulary.model import Vocabulary

EASY = "easy_swim"
"""Plain swimming: any other drill named beside it is what is swum."""
PLAIN, AID, DESCRIBED, NAMED = range(4)
"""Tiers of cues: of two in one passage the higher one says what is swum."""

PASSED_OVER = frozenset(
    "the a an your his her their our my its that this those these some um uh er erm".split()
)
"""Words that names are read across ("kick on your back" is "kick on back")."""
_AID = "aid "


@dataclass(frozen=True)
class DrillCue:
    """A drill named or described, or an aid that it cannot be done without.

    ``first`` and ``last`` are token indexes, last exclusive. ``weight`` counts the words or parts
    that were said; ``dismissed`` is True where the words before it turn it down.
    """

    code: str
    first: int
    last: int
    tier: int
    weight: int
    dismissed: bool = False


@dataclass(frozen=True)
class AidCue:
    """A piece of equipment named; token indexes as in DrillCue."""

    code: str
    first: int
    last: int
    dismissed: bool


@dataclass(frozen=True)
class _Word:
    token: int
    text: str
    forms: frozenset[str]


@lru_cache(maxsize=8192)
def _forms(word: str, lemma: str) -> frozenset[str]:
    """A word as said, its lemma, and without a plain ending."""
    forms = {word, lemma}
    for ending in ("ing", "ed", "s"):
        stem = word.removesuffix(ending)
        if stem != word and len(stem) >= 3:
            forms |= {stem} if ending == "s" else {stem, stem + "e"}
            if len(stem) > 3 and stem[-1] == stem[-2] and stem[-1] not in "ls":
                forms.add(stem[:-1])
    return frozenset(forms)


class _Phrase:
    """One way to say something: words in order, each in any form of the text that holds it
    ("kick" reads "kicking", "fists" reads only "fists"); in double quotes, only as written.
    """

    def __init__(self, said: str) -> None:
        self.literal = said.startswith('"')
        words = said.strip('"').replace("-", " ").lower().split()
        self.words = tuple(word for word in words if word not in PASSED_OVER)

    def at(self, words: list[_Word], place: int) -> bool:
        """Whether the phrase stands at a place."""
        if place + len(self.words) > len(words):
            return False
        here = words[place : place + len(self.words)]
        return all(
            mine == word.text or (not self.literal and mine in word.forms)
            for mine, word in zip(self.words, here, strict=True)
        )


class _Places:
    """The words of a passage and where each form stands."""

    def __init__(self, words: list[_Word]) -> None:
        self.words = words
        self._by_form: dict[str, list[int]] = defaultdict(list)
        for place, word in enumerate(words):
            for form in word.forms:
                self._by_form[form].append(place)

    def find(self, phrase: _Phrase) -> Iterator[int]:
        """Places where a phrase starts, in order."""
        starts = self._by_form.get(phrase.words[0], ()) if phrase.words else ()
        return (place for place in starts if phrase.at(self.words, place))


class _Description:
    """Parts that must all be said in one passage, each by words of its own."""

    def __init__(self, described: str) -> None:
        parts = [part.strip() for part in described.split(" + ")]
        self.wanted = [_alternatives(part) for part in parts if not part.startswith("!")]
        self.barred = [_alternatives(part[1:]) for part in parts if part.startswith("!")]

    def find(self, places: _Places) -> tuple[int, int] | None:
        """First and last place (exclusive) of the words that fill the parts."""
        if any(
            next(places.find(phrase), None) is not None for bar in self.barred for phrase in bar
        ):
            return None
        taken: set[int] = set()
        for part in self.wanted:
            filled = next(_free(places, part, taken), None)
            if filled is None:
                return None
            taken |= filled
        return min(taken), max(taken) + 1


def _alternatives(part: str) -> list[_Phrase]:
    """The ways to say a part, longest first."""
    ways = [_Phrase(said.strip()) for said in part.split("|")]
    return sorted(ways, key=lambda way: -len(way.words))


def _free(places: _Places, part: list[_Phrase], taken: set[int]) -> Iterator[set[int]]:
    """Words that fill a part and fill no other."""
    for phrase in part:
        for place in places.find(phrase):
            filled = set(range(place, place + len(phrase.words)))
            if not filled & taken:
                yield filled


@dataclass(frozen=True)
class Found:
    """All cues of one stretch of words, in order."""

    drills: tuple[DrillCue, ...]
    aids: tuple[AidCue, ...]


class DrillFinder:
    """Finds drills and equipment of a vocabulary in stretches of a text."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        drills = vocabulary.drills.values()
        self._needs = {aid: drill.code for drill in drills for aid in drill.equipment}
        self._tiers = {
            drill.code: PLAIN if drill.code == EASY else AID if drill.equipment else NAMED
            for drill in drills
        }
        self._names = [(d.code, _Phrase(name)) for d in drills for name in d.names]
        self._names += [
            (_AID + aid.code, _Phrase(name))
            for aid in vocabulary.aids.values()
            for name in aid.names
        ]
        self._described = [(d.code, _Description(way)) for d in drills for way in d.described]
        self._refines = {d.code: frozenset(d.refines) for d in drills}
        self._standing = {d.code for d in drills if d.dose.duration_s is not None}

    def find(self, doc: Doc, first: int, last: int) -> Found:
        """Drills and equipment between two tokens (last exclusive)."""
        words = _words(doc, first, last)
        named = _longest(_spans(self._names, _Places(words)))
        aids = [
            AidCue(code.removeprefix(_AID), f, t, is_left_out(doc, f, t, first, last))
            for code, f, t, _ in named
            if code.startswith(_AID)
        ]
        drills = [
            DrillCue(code, f, t, self._tiers[code], weight)
            for code, f, t, weight in named
            if not code.startswith(_AID)
        ]
        drills += [
            DrillCue(self._needs[aid.code], aid.first, aid.last, AID, 1)
            for aid in aids
            if aid.code in self._needs
        ]
        gear = {i for code, f, t, weight in named if weight > 1 and code.startswith(_AID)
                for i in range(f, t)}  # fmt: skip
        drills += self._descriptions(_Places([word for word in words if word.token not in gear]))
        marked = (
            replace(cue, dismissed=is_dismissed(doc, cue.first, cue.last, first, last))
            for cue in drills
        )
        return Found(tuple(sorted(marked, key=lambda cue: (cue.first, -cue.last))), tuple(aids))

    def _descriptions(self, places: _Places) -> Iterator[DrillCue]:
        for code, way in self._described:
            span = way.find(places)
            if span:
                first, last = places.words[span[0]].token, places.words[span[1] - 1].token + 1
                tier = min(DESCRIBED, self._tiers[code])
                yield DrillCue(code, first, last, tier, len(way.wanted))

    def swum(self, found: Iterable[DrillCue], *, over_distance: bool) -> DrillCue | None:
        """What is swum where several drills are cued: the fullest cue of the special form.

        ``over_distance`` is True where lengths are told: drills done on the spot are then out,
        unless they are named.
        """
        left = [cue for cue in found if not cue.dismissed]
        if over_distance:
            left = [c for c in left if c.tier == NAMED or c.code not in self._standing]
        plainer = {code for cue in left for code in self._refines[cue.code]}
        best = [cue for cue in left if cue.code not in plainer] or left
        return max(best, key=lambda cue: (cue.tier, cue.weight, -cue.first), default=None)


def _words(doc: Doc, first: int, last: int) -> list[_Word]:
    words = []
    for token in doc[first:last]:
        parts = token.lower_.split("-")
        for part in parts:
            if part and part not in PASSED_OVER and not token.is_space:
                lemma = token.lemma_ if len(parts) == 1 else part
                words.append(_Word(token.i, part, _forms(part, lemma.lower())))
    return words


def _spans(
    phrases: list[tuple[str, _Phrase]], places: _Places
) -> Iterator[tuple[str, int, int, int]]:
    for code, phrase in phrases:
        for place in places.find(phrase):
            end = place + len(phrase.words) - 1
            yield code, places.words[place].token, places.words[end].token + 1, len(phrase.words)


def _longest(spans: Iterable[tuple[str, int, int, int]]) -> list[tuple[str, int, int, int]]:
    """Spans that lie in no longer one, in order."""
    kept: list[tuple[str, int, int, int]] = []
    for span in sorted(spans, key=lambda span: (-span[3], span[1])):
        if not any(span[1] < other[2] and other[1] < span[2] for other in kept):
            kept.append(span)
    return sorted(kept, key=lambda span: span[1])


def is_dismissed(doc: Doc, first: int, last: int, start: int, end: int) -> bool:
    """Whether words around it turn down the drill that stands at ``first`` to ``last``.

    ``start`` and ``end`` bound the sentence. "No sculling", "leave the zipper", "fists, no",
    "catch-up? I wouldn't".
    """
    after = f" {' '.join(token.lower_ for token in doc[last:end])} "
    conditional = any(token.lower_ in TILL for token in doc[first:last])
    return (
        (not conditional and _refused_before(doc, first, start))
        or _refused_after(doc, last, end)
        or (REFUSED_LATER.search(after) is not None)
    )


def is_left_out(doc: Doc, first: int, last: int, start: int, end: int) -> bool:
    """Whether equipment is told to be left out: "no fins", "without the snorkel", "fins off"."""
    if last < end and doc[last].lower_ in OFF:
        beyond = doc[last + 1].lower_ if last + 1 < end else "."
        if beyond in MARKS or beyond in {"for", "and", "this"}:
            return True
    for token in reversed(doc[max(start, first - 3) : first]):
        if token.text in MARKS or token.lower_ in RESUMES or token.lower_ in {"in", "with"}:
            break
        if token.lower_ in REFUSALS:
            return True
    return _refused_after(doc, last, end)


def _refused_before(doc: Doc, first: int, start: int) -> bool:
    said = f" {' '.join(token.lower_ for token in doc[start:first])} "
    if REFUSED_BEFORE.search(said):
        return True
    refused = MEANT_ONCE.search(said) is not None
    for token in doc[start:first]:
        word = token.lower_
        before = doc[token.i - 1].lower_ if token.i > start else ""
        if token.text in MARKS or word in RESUMES or (word == "do" and before not in PULLS):
            refused = False
        elif word in REFUSALS:
            refused = not (before in {"n't", "not"} and word == "forget")
        elif before in {"no", "not"} and (token.like_num or word in {"only", "just"}):
            refused = False  # "no, eight 25s": a correction
    return refused


def _refused_after(doc: Doc, last: int, end: int) -> bool:
    after = [token.lower_ for token in doc[last : min(end, last + 3)]]
    if after[:1] and after[0] in {",", "?", ":"}:
        after = after[1:]
    return after[:1] in (["no"], ["nah"], ["nae"]) and (len(after) < 2 or after[1] in MARKS)
