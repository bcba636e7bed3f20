"""Segments: sentences, or parts of them that speak of one set, with the amounts said in each."""

from dataclasses import dataclass
from itertools import pairwise

from spacy.tokens import Doc, Token

from voicenotes.reading.sets.cues import DESCRIBED, AidCue, DrillCue, DrillFinder
from voicenotes.reading.sets.doses import Said, find_said
from voicenotes.reading.sets.text import set_text
from voicenotes.reading.sets.words import (
    ASKS,
    BACK,
    CALLS,
    DONE,
    FINITE,
    HAVING,
    HEDGES,
    JOINS,
    LOOKS,
    MARKS,
    MEASURES,
    MENDS,
    OF_BOTH,
    OPENS,
    PUTS,
    SAME,
    SUPPOSES,
    TELLS,
)
from voicenotes.reading.text import Narration

DOSES = frozenset({"set", "reps", "distance", "span"})
"""Kinds that say how much."""


@dataclass
class Segment:
    """A sentence, or a part of it that speaks of one set; token indexes, last exclusive."""

    sentence: int
    tokens: list[Token]
    text: str
    said: list[Said]
    cues: tuple[DrillCue, ...]
    aids: tuple[AidCue, ...]
    swum: DrillCue | None

    @property
    def first(self) -> int:
        """Its first token."""
        return self.tokens[0].i

    @property
    def last(self) -> int:
        """The token after its last."""
        return self.tokens[-1].i + 1

    @property
    def whole(self) -> bool:
        """Whether a whole set is said ("8 x 25")."""
        return any(said.kind == "set" for said in self.said)

    @property
    def loose(self) -> bool:
        """Whether only repetitions or only a distance is said."""
        if self.whole:
            return False
        if any(said.kind in DOSES and not said.weak for said in self.said):
            return True
        tier = self.swum.tier if self.swum else DESCRIBED
        return tier != DESCRIBED and any(said.kind in {"bare", "distance"} for said in self.said)

    @property
    def dosed(self) -> bool:
        """Whether an amount is said at all."""
        return self.whole or self.loose

    @property
    def supposes(self) -> bool:
        """Whether it speaks of what might be, or asks back ("six fifties of fist?")."""
        asks_back = self.tokens[-1].text == "?" and self.starts_with_dose
        return asks_back or SUPPOSES.search(self.text) is not None

    @property
    def opens(self) -> bool:
        """Whether it starts the next item of a list."""
        return OPENS.search(self.text) is not None

    @property
    def asks(self) -> bool:
        """Whether it asks the swimmer to do something, or leaves out the verb as lists do."""
        if self.opens or ASKS.search(self.text) or PUTS.search(self.text):
            return True
        start = next((token for token in self.tokens if token.is_alpha), None)
        if start is None or (start.tag_ == "VB" and start.lemma_.lower() not in LOOKS):
            return True
        return not any(t.tag_ in FINITE for t in self._outside_names())

    def _outside_names(self) -> list[Token]:
        """Its words but for drills' names: "band pulls" has no verb."""
        names = {
            i for cue in self.cues if cue.tier != DESCRIBED for i in range(cue.first, cue.last)
        }
        return [token for token in self.tokens if token.i not in names]

    @property
    def tells(self) -> bool:
        """Whether it prescribes in so many words."""
        return not HEDGES.search(self.text) and TELLS.search(self.text) is not None

    @property
    def dismisses(self) -> bool:
        """Whether it turns down any drill or equipment."""
        return any(cue.dismissed for cue in self.cues)

    @property
    def same(self) -> bool:
        """Whether its amount is that of the set before ("same again with fists")."""
        return SAME.search(self.text) is not None

    @property
    def calls(self) -> bool:
        """Whether it calls something a drill, which the vocabulary need not know."""
        return CALLS.search(self.text) is not None

    @property
    def of_both(self) -> bool:
        """Whether it speaks of the last two sets ("those two are for the left hand")."""
        return OF_BOTH.search(self.text) is not None

    @property
    def terse(self) -> bool:
        """Whether its dose stands between marks without a verb, as in a list."""
        dose = next((s for s in self.said if s.kind in DOSES or s.kind == "bare"), None)
        if dose is None:
            return False
        marks = [t.i for t in self.tokens if t.text in MARKS]
        first = max((mark for mark in marks if mark < dose.first), default=self.first - 1) + 1
        last = min((mark for mark in marks if mark >= dose.last), default=self.last)
        piece = range(first, last)
        inside = range(dose.first, dose.last)
        outside = [t for t in self._outside_names() if t.i in piece and t.i not in inside]
        return self.starts_with_dose or not any(t.tag_ in FINITE for t in outside)

    @property
    def starts_with_dose(self) -> bool:
        """Whether its dose is the first thing said."""
        return bool(self.said) and self.said[0].first - self.first <= 1

    @property
    def reports(self) -> bool:
        """Whether it tells what was done: "you took two breaths", "I counted"."""
        return any(
            _tells_done(token, subject)
            for token in self.tokens
            for subject in token.children
            if subject.dep_ == "nsubj"
        )

    @property
    def refers_back(self) -> bool:
        """Whether it speaks of something named before ("six of those")."""
        return BACK.search(self.text) is not None


def _tells_done(verb: Token, subject: Token) -> bool:
    helpers = {child.lower_ for child in verb.children if child.dep_ == "aux"}
    if helpers:
        return verb.lower_ in {"done", "swum"} and bool(helpers & HAVING)
    return verb.lower_ in DONE or (verb.lower_ in MEASURES and subject.lower_ == "i")


def segments_of(narration: Narration, finder: DrillFinder) -> list[Segment]:
    """The narration in segments, each with the amounts, drills and equipment said in it."""
    doc = narration.doc
    said = find_said(set_text(doc, 0, len(doc)))
    breaks = _breaks(narration)
    out = []
    for sentence in narration.sentences:
        first, last = sentence.span.start, sentence.span.end
        inside = _mended(doc, [s for s in said if first <= s.first < last])
        cuts = [first, *_cuts(doc, finder, first, last, inside, breaks), last]
        for start, end in pairwise(cuts):
            here = [s for s in inside if start <= s.first < end]
            if start < end:
                out.append(_segment(doc, finder, sentence.index, start, end, here))
    return out


def _breaks(narration: Narration) -> set[int]:
    """Tokens at which a cue of the transcript starts."""
    starts = {cue.start for cue in narration.transcript.cues}
    doc = narration.doc
    return {t.i for t in doc if narration.moment(doc[t.i : t.i + 1])[0] in starts}


def _segment(
    doc: Doc, finder: DrillFinder, sentence: int, first: int, last: int, said: list[Said]
) -> Segment:
    found = finder.find(doc, first, last)
    over_distance = any(s.kind == "set" and (s.distance_m or 0) >= 20 for s in said)
    swum = finder.swum(found.drills, over_distance=over_distance)
    text = set_text(doc, first, last).text
    return Segment(sentence, list(doc[first:last]), text, said, found.drills, found.aids, swum)


def _mended(doc: Doc, said: list[Said]) -> list[Said]:
    """Without sets that the speaker corrected at once ("18 25s, no, I mean eight")."""
    kept: list[Said] = []
    for one in said:
        for before in reversed(kept):
            between = {token.lower_ for token in doc[before.last : one.first]}
            near = one.first - before.last <= 8
            if near and between & MENDS and _corrects(before.kind, one.kind):
                kept = kept[: kept.index(before)]
                break
        kept.append(one)
    return kept


def _corrects(before: str, after: str) -> bool:
    pauses = {"rest", "time"}
    return before == after == "set" or (before in pauses and after in pauses)


def _cuts(
    doc: Doc, finder: DrillFinder, first: int, last: int, said: list[Said], breaks: set[int]
) -> list[int]:
    """Where a sentence goes over from one set to the next."""
    doses = [one for one in said if one.kind in DOSES and not one.weak]
    cuts = []
    if doses:
        tail = [s for s in said if s.kind in {"rest", "time"} and s.first < doses[0].first]
        join = _join_between(doc, tail[-1].last, doses[0].first, breaks) if tail else None
        if join and finder.swum(finder.find(doc, first, join).drills, over_distance=False) is None:
            cuts.append(join)
            first = join
    for one, two in pairwise(doses):
        cut = _join_between(doc, one.last, two.first, breaks)
        both_sets = one.kind == two.kind == "set" and differ(one, two)
        if cut is None and both_sets:
            cut = _comma_between(doc, one.last, two.first)
        if cut is not None and (
            both_sets or _goes_over(doc, finder, first, cut, last, whole=one.kind == "set")
        ):
            cuts.append(cut)
            first = cut
    return cuts


def differ(one: Said, two: Said) -> bool:
    """Whether two doses are not the same."""
    return (one.reps, one.distance_m) != (two.reps, two.distance_m)


def _goes_over(
    doc: Doc, finder: DrillFinder, first: int, cut: int, last: int, *, whole: bool
) -> bool:
    """Whether another drill starts at ``cut``; ``whole``: a whole set was said before it."""
    before = finder.swum(finder.find(doc, first, cut).drills, over_distance=False)
    after = finder.swum(finder.find(doc, cut, last).drills, over_distance=False)
    if before is None or after is None:
        return whole and after is not None
    return before.code != after.code


def _join_between(doc: Doc, first: int, last: int, breaks: set[int]) -> int | None:
    """Where "then", "after that" and their like, or a cue, start between two tokens."""
    if first >= last:
        return None
    match = JOINS.search(doc[first:last].text.lower())
    if match is not None:
        at = doc[first].idx + match.start()
        return next(token.i for token in doc[first:last] if token.idx + len(token) > at)
    return next((token.i for token in doc[first:last] if token.i in breaks), None)


def _comma_between(doc: Doc, first: int, last: int) -> int:
    marks = [token.i + 1 for token in doc[first:last] if token.text in {",", ";", "and", ":"}]
    return marks[0] if marks else last
