"""Whether a number is what the coach saw or what the coach wants, and what was said of it."""

from typing import Literal

from spacy.tokens import Doc, Token

from voicenotes.reading.numbers import Quantity

Role = Literal["observed", "target"]
Remark = Literal["good", "too_much", "too_little"]

_WANTS = frozenset(
    "want need like love prefer aim target goal should ought must rather sooner ideal ideally "
    "wish fancy saying let shooting aiming nearer closer limit ceiling cap agree plan brief belong "
    "anything supposed supposedly meant please kindly gotta search".split()
)
_I_WANT = frozenset(
    "ask expect hope try shoot look say talk believe write give allow accept".split()
)
"""Verbs by which a coach asks when "I" or "we" is their subject, and only with a little more."""
_IMPERATIVES = frozenset(
    "get keep aim bring take hold make try give go drop hit stay swim breathe turn put tip "
    "shoot do work use raise lift lower increase pop slide push reach settle build stick limit "
    "park ease calm come set be have roll point bend".split()
)
_GUESSES = frozenset(
    "say call put guess reckon estimate think swear bet imagine describe redo see".split()
)
_MORE_THAN_ENOUGH = frozenset("plenty ample loads heaps sufficient enough lashings".split())
_GOALS = frozenset("aim goal target want limit ideal ceiling compulsory brief plan dream".split())
_BOUNDS = frozenset(
    "and but where while which because so though although whereas when until till as if with "
    "against".split()
)
_STOPS = frozenset("and but where while which because so when if as with against than".split())
_ASIDES = frozenset(
    "i do n't know think mean see let me what is 's well maybe about like around something say 'd in "
    "forties fifties thirties sixties twenties".split()
)
_GOOD = frozenset("good better ideal decent qualifying usual normal right".split())
_ORDERS = frozenset("bring get keep make take aim give".split())
_VERBS = frozenset({"VERB", "AUX"})
_FORBIDS = frozenset({"not", "n't", "never", "no"})
_I = frozenset({"i", "we"})
_SEASONS = frozenset("summer autumn winter spring fall christmas easter term season champs".split())


class Roles:
    """Tells observations from targets in one narration."""

    def __init__(self, doc: Doc) -> None:
        self._doc = doc

    def role(self, quantity: Quantity, before: int, after: int) -> Role | None:
        """The role of a quantity; None where its own words do not say.

        ``before`` is where the words before it start that belong to no other number, ``after``
        where those behind it end (token indexes).
        """
        ahead = self._local(before, quantity.first)
        opening = [t.lower_ for t in self._doc[quantity.first : quantity.first + 2]]
        if quantity.limit is not None and opening[0] in _FORBIDS and opening != ["not", "even"]:
            return "target"
        if quantity.limit is not None and any(t.lower_ == "say" for t in ahead):
            return "target"
        if self._asks(ahead, quantity) or self._asked_after(quantity, after):
            return "target"
        if any(token.pos_ in _VERBS for token in ahead):
            return "observed"
        if quantity.limit is not None:
            return "target"
        return None

    def leads_its_clause(self, quantity: Quantity, before: int) -> bool:
        """Whether a number is what its clause is about ("and sixty is where I'd have it")."""
        ahead = [t for t in self._doc[before : quantity.first] if t.pos_ != "ADV"]
        opens = not ahead or ahead[-1].lower_ in {
            "and",
            "but",
            ",",
            ";",
            "anything",
            "from",
            "think",
            "believe",
        }
        following = self._doc[quantity.last : quantity.last + 4]
        for token in following:
            if token.tag_ in {"VBZ", "VBP", "VBD", "MD"} or token.lower_ in {"'s", "is"}:
                return opens
            if token.pos_ not in {"NOUN", "ADP", "ADV"}:
                return False
        return False

    def for_both(self, before: int, after: int) -> bool:
        """Whether words around a number say that it is for both sides."""
        return bool(
            {t.lower_ for t in self._doc[before:after]} & {"both", "pair", "each", "either"}
        )

    def content_with(self, quantity: Quantity, before: int) -> bool:
        """Whether the coach is "happy with" a number, which is then a target beside what was seen."""
        words = {token.lower_ for token in self._doc[before : quantity.first]}
        return (bool(words & {"happy", "content", "fine"}) and "with" in words) or "said" in words

    def _local(self, first: int, last: int) -> list[Token]:
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

    def _asks(self, tokens: list[Token], quantity: Quantity) -> bool:
        subjects = {token.lower_ for token in tokens}
        for token in tokens:
            lemma = token.lemma_.lower()
            if self._wants(token, lemma, tokens, quantity):
                return True
            if (
                lemma == "after"
                and token.i
                and token.nbor(-1).lower_ in {"be", "'m", "'re", "am", "are", "was", "were"}
            ):
                return True
            if (
                lemma == "ask"
                and "for" in subjects
                and token.pos_ in _VERBS
                and not _is_passive(token)
            ):
                return True
            if lemma == "down" and token.i + 1 < len(self._doc) and token.nbor().lower_ == "for":
                return True
            if lemma in _I_WANT and subjects & _I and token.pos_ in _VERBS:
                if lemma == "say" and not subjects & {"we"}:
                    continue
                if lemma in {"look", "talk", "ask", "shoot", "try"} or lemma in {
                    "say",
                    "expect",
                    "hope",
                    "believe",
                    "allow",
                    "accept",
                }:
                    return not (lemma == "look" and "for" not in subjects)
        if any(_is_modal(token) and not _guesses_next(token) for token in tokens):
            return True
        if any(
            t.lower_ in {"one", "number", "time"} and t.nbor(-1).lower_ in _GOOD
            for t in tokens
            if t.i
        ):
            return True
        return self._happy(tokens) or self._imperative(tokens)

    def _wants(self, token: Token, lemma: str, tokens: list[Token], quantity: Quantity) -> bool:
        if lemma not in _WANTS and token.lower_ not in _WANTS:
            return False
        if lemma == "like" and token.pos_ not in _VERBS:
            return False
        if lemma == "let":
            return (
                token.i + 1 < len(self._doc)
                and self._doc[token.i + 1].lower_ in {"'s", "us"}
                and not {t.lemma_.lower() for t in tokens} & _GUESSES
            )
        if lemma == "need" and token.tag_ != "VB" and not {t.lower_ for t in tokens} & _I:
            counted = {t.lower_ for t in self._doc[quantity.anchor : quantity.anchor + 2]}
            return token.tag_ not in {"VBD", "VBN"} and not counted & {
                "strokes",
                "stroke",
                "seconds",
            }
        if lemma in {"like", "want"} and token.tag_ == "VBD" and lemma == "like":
            return False
        return not (lemma == "closer" and token.pos_ == "NOUN")

    def _happy(self, tokens: list[Token]) -> bool:
        words = [token.lower_ for token in tokens]
        return bool(
            {"happy", "content", "delighted", "thrilled", "pleased", "stoked", "satisfied"}
            & set(words)
        ) and bool({"would", "'d"} & set(words))

    def _imperative(self, tokens: list[Token]) -> bool:
        for at, token in enumerate(tokens):
            if token.pos_ == "PUNCT" or token.lower_ in {
                "so",
                "and",
                "then",
                "now",
                "just",
                "right",
                "but",
                "please",
                "kindly",
                "also",
                "again",
                "try",
            }:
                continue
            base = token.tag_ in {"VB", "VBP"} and token.lemma_.lower() in _IMPERATIVES
            after = tokens[at + 1] if at + 1 < len(tokens) else None
            if token.lower_ == "take" and any(t.lower_ == "as" for t in tokens[at + 1 :]):
                return False
            if token.lower_ in _ORDERS and after is not None and after.pos_ in {"PRON", "DET"}:
                return not _has_subject(token)
            told = any(t.tag_ in {"VBZ", "VBD"} for t in tokens[at + 1 :])
            if (
                base
                and not told
                and token.lower_ not in {"are", "'re", "am", "'m", "have", "do", "'ve"}
                and not _has_subject(token)
            ):
                return True
            if token.pos_ in _VERBS or token.pos_ == "PRON" or at > 4:
                return False
        return False

    def _asked_after(self, quantity: Quantity, after: int) -> bool:
        """ "Forty would be plenty", "nine is the goal", "sixty, please", "fifty by June"."""
        tokens = list(self._doc[quantity.last : min(after, quantity.last + 12)])
        seen_verb = False
        for at, token in enumerate(tokens):
            lemma = token.lemma_.lower()
            following = tokens[at + 1] if at + 1 < len(tokens) else None
            if lemma == "please":
                return following is None or following.pos_ not in _VERBS
            if (
                lemma == "by"
                and following is not None
                and (following.pos_ in {"PROPN", "NOUN"} or _is_date(tokens[at + 1 : at + 4]))
            ):
                return True
            if (
                lemma == "in"
                and following is not None
                and following.lower_ in {"you", "there"}
                and self._doc[quantity.first - 1].lower_ in {"'s", "is", "believe", "think", "even"}
            ):
                return True
            if (
                lemma == "for"
                and following is not None
                and following.lower_ in {"you", "him", "her"}
                and any(
                    t.lower_ == "say"
                    for t in self._doc[max(0, quantity.first - 3) : quantity.first]
                )
            ):
                return True
            if token.lower_ == "as" and {t.lemma_.lower() for t in tokens[at + 1 : at + 4]} & (
                _GOALS | {"number"}
            ):
                return True
            if token.lower_ in _STOPS or token.text in ",;:.!?":
                if token.lower_ == "where" or lemma in {"what"}:
                    return False
                if token.text == "," and following is not None and following.lower_ == "please":
                    continue
                return False
            if _is_modal(token):
                guess = following is not None and following.lemma_.lower() in _GUESSES
                return not guess and not (seen_verb and at > 4)
            if token.lower_ in _MORE_THAN_ENOUGH or lemma in _GOALS:
                return not (token.lower_ == "enough" and tokens[at - 1].pos_ in {"ADJ", "ADV"})
            if lemma == "after" and seen_verb:
                return True
            seen_verb = seen_verb or token.pos_ in _VERBS
        return False


def _is_passive(token: Token) -> bool:
    return any(child.dep_ in {"nsubjpass", "auxpass"} for child in token.children)


def _guesses_next(token: Token) -> bool:
    """The "I'd" of "I'd say": an estimate, no wish."""
    return any(t.lemma_.lower() in _GUESSES for t in token.doc[token.i + 1 : token.i + 3])


def _clause_start(tokens: list[Token]) -> int:
    seen_verb = False
    for at in range(len(tokens) - 1, -1, -1):
        token = tokens[at]
        if seen_verb and (token.lower_ in _BOUNDS or token.text in ",;:-"):
            return at + 1
        seen_verb = seen_verb or token.pos_ in _VERBS
    return 0


def _is_modal(token: Token) -> bool:
    """Would, should and their like; not the "had" of "you'd told me"."""
    if token.tag_ != "MD" or token.lower_ in {"can", "ca"}:
        return False
    if token.lower_ != "'d":
        return True
    following = [t for t in token.doc[token.i + 1 : token.i + 4] if t.pos_ not in {"ADV", "PART"}]
    return not (following and following[0].tag_ in {"VBN", "VBD"})


def _has_subject(token: Token) -> bool:
    if any(
        child.dep_ in {"nsubj", "aux", "nsubjpass"} and child.lower_ != "try"
        for child in token.children
    ):
        return True
    return token.dep_ == "conj" and any(child.dep_ == "nsubj" for child in token.head.children)


def _is_date(tokens: list[Token]) -> bool:
    return any(token.lower_ in _SEASONS or token.lower_ == "next" for token in tokens)
