"""Whether a number is what the coach saw or what the coach wants."""

from collections.abc import Sequence
from typing import Literal

from spacy.tokens import Doc, Token

from voicenotes.reading.numbers.quantities import Quantity

Role = Literal["observed", "target"]

WANTS = frozenset(
    "want need like love prefer aim aiming target goal should ought must rather sooner ideal "
    "ideally wish fancy search shooting saying let nearer closer limit ceiling cap agree plan "
    "brief belong anything anywhere supposed supposedly meant please kindly gotta fridge "
    "whiteboard "
    "card".split()
)
"""Words by which a speaker asks, or names what is asked for, wherever they stand in the clause."""
SPEAKER_WANTS = frozenset("expect hope try shoot look talk say believe allow accept".split())
"""Verbs by which the speaker asks when "I" or "we" is their subject."""
ORDERS = frozenset(
    "get keep aim bring take hold make try give go drop hit stay swim breathe turn put tip "
    "shoot do "
    "work use raise lift lower increase pop slide push reach settle build stick limit park ease "
    "calm come set be have roll point bend".split()
)
"""Verbs that, told to the swimmer, ask for what follows."""
PLAIN_ORDERS = frozenset("bring get keep make take aim give".split())
"""Orders that need no more than a pronoun or article after them to be one."""
ALLOWED = frozenset("have afford carry allow keep stand use".split())
"""Verbs after "can" that allow a value."""
GUESSES = frozenset(
    "say call put guess reckon estimate think swear bet imagine describe redo see".split()
)
"""Verbs after "I'd" that estimate and ask for nothing."""
ENOUGH = frozenset("plenty ample loads heaps sufficient enough lashings".split())
GOALS = frozenset(
    "aim goal target want ask limit ideal ceiling compulsory brief plan dream".split()
)
CONTENT = frozenset("happy content delighted thrilled pleased stoked satisfied".split())
GOOD_ONES = frozenset("good better ideal decent qualifying usual normal right".split())
"""Words before "one" or "time" that make it what it should be: "a good one is 1.1"."""
_OPENERS = frozenset("so and then now just right but please kindly also again try".split())
_NO_ORDERS = frozenset({"are", "'re", "am", "'m", "have", "do", "'ve"})
_BOUNDS = frozenset(
    "and but where while which because so though although whereas when until till as if with "
    "against".split()
)
_STOPS = frozenset("and but where while which because so when if as with against than".split())
_ASIDES = frozenset(
    "i do n't know think mean see let me what is 's well maybe about like around something say 'd "
    "in a an the at on to forties fifties thirties sixties twenties".split()
)
_VERBS = frozenset({"VERB", "AUX"})
_FINITE = frozenset({"VBZ", "VBP", "VBD", "MD"})
_FORBIDS = frozenset({"not", "n't", "never", "no"})
_SEASONS = frozenset("summer autumn winter spring fall christmas easter term season next".split())
_BE = frozenset({"be", "'m", "'re", "'s", "am", "are", "is", "was", "were"})
_WOULD = frozenset("have like love want take prefer rather be settle go see".split())
"""Verbs before which "'d" is always "would"."""


class Roles:
    """Tells observations from targets in one narration."""

    def __init__(self, doc: Doc) -> None:
        self._doc = doc

    def role(self, quantity: Quantity, before: int, after: int) -> Role | None:
        """The role of a quantity; None where its own words do not say.

        ``before`` is where the words before it start that belong to no other number, ``after``
        where those behind it end (token indexes).
        """
        ahead = self._clause(before, quantity.first)
        if quantity.limit is not None and (
            self._forbids(quantity) or any(token.lower_ == "say" for token in ahead)
        ):
            return "target"
        if self._asks(ahead, quantity) or self._asked_after(quantity, after):
            return "target"
        if any(token.pos_ in _VERBS for token in ahead):
            return "observed"
        return None if quantity.limit is None else "target"

    def leads_its_clause(self, quantity: Quantity, before: int) -> bool:
        """Whether a number is what its clause is about ("and sixty is where I'd have it")."""
        ahead = [t.lower_ for t in self._doc[before : quantity.first] if t.pos_ != "ADV"]
        for token in self._doc[quantity.last : quantity.last + 4]:
            if token.tag_ in _FINITE or token.lower_ in {"'s", "is"}:
                return not ahead or ahead[-1] in {
                    "and", "but", ",", ";", "anything", "from", "think", "believe"
                }  # fmt: skip
            if token.pos_ not in {"NOUN", "ADP", "ADV"}:
                return False
        return False

    def asks_plainly(self, quantity: Quantity, before: int, after: int) -> bool:
        """Whether words around a number name a wish or a goal, more than "would do"."""
        around = (*self._doc[before : quantity.first], *self._doc[quantity.last : after])
        words = {form for token in around for form in (token.lower_, token.lemma_.lower())}
        return bool(words & (WANTS | GOALS))

    def for_both(self, before: int, after: int) -> bool:
        """Whether words around a number say that it is for both sides."""
        words = {token.lower_ for token in self._doc[before:after]}
        return bool(words & {"both", "pair", "each", "either"})

    def settles_for(self, quantity: Quantity, before: int) -> bool:
        """Whether a number said beside an observation is what the coach would be happy with."""
        words = {token.lower_ for token in self._doc[before : quantity.first]}
        return "said" in words or ("with" in words and bool(words & {"happy", "content", "fine"}))

    def _forbids(self, quantity: Quantity) -> bool:
        """ "Don't go above 36" asks; "not even forty" does not."""
        words = [token.lower_ for token in self._doc[quantity.first : quantity.first + 2]]
        return words[0] in _FORBIDS and words != ["not", "even"]

    def _clause(self, first: int, last: int) -> list[Token]:
        """The clause that leads up to a number: back to the last bound with a verb after it.

        Asides ("I don't know") and a bare "is" say nothing by themselves: the clause before
        them counts.
        """
        tokens = list(self._doc[first:last])
        start = len(tokens)
        while start:
            start = _clause_start(tokens[:start])
            if not all(token.lower_ in _ASIDES or token.is_punct for token in tokens[start:]):
                break
            start = max(0, start - 1)
        return tokens[start:]

    def _asks(self, tokens: Sequence[Token], quantity: Quantity) -> bool:
        """Whether the clause before a number asks for it."""
        words = {token.lower_ for token in tokens}
        content = bool(words & CONTENT) and bool(words & {"would", "'d"})
        return (
            content
            or any(self._wants(token, tokens, quantity) for token in tokens)
            or any(self._speaker_wants(token, words) for token in tokens)
            or any(_is_modal(token) and not _guesses_next(token) for token in tokens)
            or any(_is_good_one(token) or _allows(token) for token in tokens)
            or self._orders(tokens)
        )

    def _wants(self, token: Token, tokens: Sequence[Token], quantity: Quantity) -> bool:
        lemma = token.lemma_.lower()
        if lemma not in WANTS and token.lower_ not in WANTS:
            return False
        if lemma == "like":
            return token.pos_ in _VERBS and token.tag_ != "VBD"
        if lemma == "let":
            guesses = {t.lemma_.lower() for t in tokens} & GUESSES
            if _next(token) == "me":
                return any(t.lower_ == "have" for t in tokens)
            return _next(token) in {"'s", "us"} and not guesses
        if lemma == "need" and token.tag_ != "VB" and not {t.lower_ for t in tokens} & {"i", "we"}:
            counted = {t.lower_ for t in self._doc[quantity.anchor : quantity.anchor + 2]}
            return token.tag_ not in {"VBD", "VBN"} and not counted & {
                "strokes", "stroke", "seconds"
            }  # fmt: skip
        return True

    def _speaker_wants(self, token: Token, words: set[str]) -> bool:
        lemma = token.lemma_.lower()
        if lemma == "after":
            return token.i > 0 and token.nbor(-1).lower_ in _BE
        if lemma == "down":
            return _next(token) == "for" and "i" in words  # "I had you down for thirty"
        if token.pos_ not in _VERBS:
            return False
        if lemma == "ask":
            return bool(words & {"for", "i", "we"}) and not _is_passive(token)
        if lemma not in SPEAKER_WANTS or not words & {"i", "we"}:
            return False
        return {"say": "we" in words, "look": "for" in words}.get(lemma, True)

    def _orders(self, tokens: Sequence[Token]) -> bool:
        """Whether a clause opens with an order ("get it down to forty")."""
        for at, token in enumerate(tokens):
            if token.pos_ == "PUNCT" or token.lower_ in _OPENERS:
                continue
            after = tokens[at + 1] if at + 1 < len(tokens) else None
            if token.lower_ == "take" and any(t.lower_ == "as" for t in tokens[at + 1 :]):
                return False
            if token.lower_ in PLAIN_ORDERS and after and after.pos_ in {"PRON", "DET"}:
                return not _has_subject(token, tokens)
            orders = token.tag_ in {"VB", "VBP"} and token.lemma_.lower() in ORDERS
            told = any(t.tag_ in {"VBZ", "VBD"} for t in tokens[at + 1 :])
            if orders and not told and token.lower_ not in _NO_ORDERS:
                return not _has_subject(token, tokens)
            if token.pos_ in _VERBS or token.pos_ == "PRON" or at > 4:
                return False
        return False

    def _asked_after(self, quantity: Quantity, after: int) -> bool:
        """ "Forty would be plenty", "nine is the goal", "sixty, please", "fifty by June"."""
        tokens = list(self._doc[quantity.last : min(after, quantity.last + 12)])
        lead = {t.lower_ for t in self._doc[max(0, quantity.first - 3) : quantity.first]}
        more_follow = after < self._doc[quantity.first].sent.end
        seen_verb = False
        for at, token in enumerate(tokens):
            following = tokens[at + 1 : at + 4]
            if self._promised(token, following, lead):
                return True
            if token.lower_ == "please":
                return not following or following[0].pos_ not in _VERBS
            if token.text == "," and following and following[0].lower_ in {"please", "not"}:
                continue
            if token.lower_ == "not":
                return bool(following) and following[0].lower_ == "more"
            if token.lower_ in _STOPS or token.text in ",;:.!?":
                return False
            if token.lower_ in {"i", "we"} and more_follow:
                return False  # "at your one fifty pace I'd like sixty"
            if _is_modal(token):
                guess = bool(following) and following[0].lemma_.lower() in GUESSES
                return not guess and not (seen_verb and at > 4)
            if token.lower_ in ENOUGH or token.lemma_.lower() in GOALS:
                return not (token.lower_ == "enough" and tokens[at - 1].pos_ in {"ADJ", "ADV"})
            if token.lower_ == "after" and seen_verb:
                return True
            seen_verb = seen_verb or token.pos_ in _VERBS
        return False

    def _promised(self, token: Token, following: Sequence[Token], lead: set[str]) -> bool:
        """ "Sixty by March", "there's one thirty in you", "forty as the plan", "say 5 for you"."""
        word, after = token.lower_, following[0] if following else None
        if word == "as":
            return bool({t.lemma_.lower() for t in following} & (GOALS | {"number"}))
        if after is None:
            return False
        if word == "by":
            dated = any(t.lower_ in _SEASONS for t in following)
            return dated or after.pos_ in {"PROPN", "NOUN"}
        if word == "in":
            there = after.lower_ in {"you", "there"}
            return there and bool(lead & {"'s", "is", "believe", "think", "even"})
        return word == "for" and after.lower_ in {"you", "him", "her"} and "say" in lead


def _next(token: Token) -> str:
    return str(token.nbor().lower_) if token.i + 1 < len(token.doc) else ""


def _is_passive(token: Token) -> bool:
    return any(child.dep_ in {"nsubjpass", "auxpass"} for child in token.children)


def _is_good_one(token: Token) -> bool:
    thing = token.lower_ in {"one", "number", "time"}
    return thing and token.i > 0 and token.nbor(-1).lower_ in GOOD_ONES


def _allows(token: Token) -> bool:
    """ "You can have five", "he could carry sixty": what the swimmer may do, not what was seen."""
    return token.lower_ in {"can", "could"} and _next(token) in ALLOWED


def _guesses_next(token: Token) -> bool:
    """The "I'd" of "I'd say": an estimate, no wish."""
    return any(t.lemma_.lower() in GUESSES for t in token.doc[token.i + 1 : token.i + 3])


def _clause_start(tokens: Sequence[Token]) -> int:
    seen_verb = False
    for at in range(len(tokens) - 1, -1, -1):
        token = tokens[at]
        if seen_verb and (token.lower_ in _BOUNDS or token.text in ",;:-"):
            return at + 1
        seen_verb = seen_verb or token.pos_ in _VERBS
    return 0


def _is_modal(token: Token) -> bool:
    """Would, should and their like; not the "had" of "you'd told me"."""
    if token.lower_ == "'d" and _next(token) in _WOULD:
        return True
    if token.tag_ != "MD" or token.lower_ in {"can", "ca"}:
        return False
    if token.lower_ != "'d":
        return True
    following = [t for t in token.doc[token.i + 1 : token.i + 4] if t.pos_ not in {"ADV", "PART"}]
    return not (following and following[0].tag_ in {"VBN", "VBD"})


def _has_subject(token: Token, tokens: Sequence[Token]) -> bool:
    """Whether a verb has a subject within its clause, so that it is no order."""
    subjects = [
        child
        for child in token.children
        if child.dep_ in {"nsubj", "aux", "nsubjpass"} and child.lower_ != "try"
    ]
    if any(child.i >= tokens[0].i for child in subjects):
        return True
    return token.dep_ == "conj" and any(child.dep_ == "nsubj" for child in token.head.children)
