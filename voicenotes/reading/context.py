"""Context: of whom, of when and how seriously each clause of a narration speaks."""

from bisect import bisect_right
from collections import defaultdict
from functools import lru_cache

from spacy.tokens import Doc, Span, Token

from voicenotes.notes import Status
from voicenotes.reading import cues
from voicenotes.reading.clauses import VERBS, Clause, clauses_of
from voicenotes.reading.groups import Groups
from voicenotes.reading.hearsay import is_bare_question, is_hearsay, opens_with_question
from voicenotes.reading.text import Narration, Sentence

THIRD = frozenset("he his him she her hers they their them".split())
SECOND = frozenset("you your yours yourself ya yer ye".split())
LOOKING = frozenset("look watch see pause notice freeze stop compare play count".split())
"""Verbs after "if you" that ask for a look and suppose nothing."""


KINDS = frozenset("age class level lane sport event height build".split())
"""Words that make "your" one of many: "swimmers your age"."""

CROWD_WORDS = frozenset("they their them".split())
CROWD_ROLES = frozenset({"nsubj", "nsubjpass", "pobj", "dobj", "poss", "attr"})
DATE_LEADS = frozenset("in the last since until back that this your early late mid of".split())
FILLERS = frozenset("and so now well but okay right um uh er or then".split())


class Context:
    """What every clause of one narration is worth as an observation of the swimmer."""

    def __init__(self, narration: Narration) -> None:
        self._doc = narration.doc
        self._clauses = [c for s in narration.sentences for c in clauses_of(s.span, s.index)]
        self._firsts = [clause.first for clause in self._clauses]
        self._groups = _found_groups(narration.doc)
        self._speaks_to_swimmer = _speaks_to_swimmer(narration.doc)
        self._others = _other_names(narration)
        self._settings = self._set_all(narration)

    def clause(self, token: int) -> Clause:
        """The clause a token stands in."""
        return self._clauses[max(0, bisect_right(self._firsts, token) - 1)]

    def clauses(self, sentence: int) -> list[Clause]:
        """The clauses of a sentence."""
        return [clause for clause in self._clauses if clause.sentence == sentence]

    def setting(self, token: int) -> Status:
        """Whom and when the clause of a token speaks of; never "denied"."""
        return self._settings[self.clause(token).first]

    def denies(self, first: int, last: int) -> bool:
        """Whether the clause of a token range denies it (last exclusive)."""
        clause = self.clause(first)
        return any(
            first - token >= 0 or token >= last or token in range(first, last)
            for token in self.negations(clause)
        )

    def status(self, first: int, last: int) -> Status:
        """What a token range (last exclusive) is worth: "true" or why it does not count."""
        setting = self.setting(first)
        if setting != "true":
            return setting
        return "denied" if self.denies(first, last) else "true"

    def negations(self, clause: Clause) -> list[int]:
        """Tokens of a clause that deny something."""
        spared = {
            token for first, last in self._groups["no_negation"] for token in range(first, last)
        }
        return [
            token.i
            for token in self._doc[clause.first : clause.last]
            if token.lower_ in cues.NEGATIONS and token.i not in spared and not _is_answer(token)
        ]

    def wishes(self, clause: Clause) -> bool:
        """Whether a clause asks the swimmer for something."""
        tokens = self._doc[clause.first : clause.last]
        return any(_asks(token) for token in tokens)

    def stops(self, clause: Clause) -> bool:
        """Whether a clause asks for the end of something."""
        return any(t.lemma_.lower() in cues.STOPS for t in self._doc[clause.first : clause.last])

    def _set_all(self, narration: Narration) -> dict[int, Status]:
        """Every clause's setting, by its first token."""
        settings: dict[int, Status] = {}
        about_other = crowd = False
        for sentence in narration.sentences:
            about_other = self._about_other(sentence.span, about_other)
            supposed = opens_with_question(sentence.span)
            crowd = crowd and any(token.lower_ == "they" for token in sentence.span[:2])
            named = False
            for clause in self.clauses(sentence.index):
                supposed = self._supposes(clause) or (supposed and not self._turns(clause))
                crowd = self._about_crowd(clause) or (crowd and not self._of_swimmer(clause))
                named = self._names_other(clause) or (named and not self._of_swimmer(clause))
                setting = self._set(sentence, clause, about_other or named, supposed)
                settings[clause.first] = "general" if crowd and setting == "true" else setting
        self._take_back(settings)
        return settings

    def _set(self, sentence: Sentence, clause: Clause, other: bool, supposed: bool) -> Status:
        span = sentence.span
        if other:
            return "other"
        if self._has("habit", clause.first, clause.last):
            return "general"
        if _asks_yes_or_no(span) or is_bare_question(span):
            return "supposed"
        if self._earlier(span, clause):
            return "past"
        if self._keeps(clause):
            return "keep"
        if self._has("explains", span.start, span.end) or _explains_set(self._doc, clause):
            return "explains"
        if self._has("warns", span.start, span.end):
            return "supposed"
        return "supposed" if supposed else "true"

    def _keeps(self, clause: Clause) -> bool:
        """Whether a clause opens by telling the swimmer to go on as now."""
        return any(
            clause.first <= first < clause.first + 4
            and not any(child.dep_ == "nsubj" for child in self._doc[first].children)
            for first, _ in self._groups["keeps"]
        )

    def _has(self, name: str, first: int, last: int) -> bool:
        return any(first <= start and end <= last for start, end in self._groups[name])

    def _about_other(self, span: Span, before: bool) -> bool:
        """Whether a sentence speaks of another swimmer; such a passage goes on by pronouns."""
        words = {token.lower_ for token in span}
        if any(_brings_up_other(token) for token in span):
            return not (words & SECOND and self._speaks_to_swimmer and self._mixed(span))
        if self._speaks_to_swimmer and not words & SECOND:
            named = any(
                token.dep_ == "nsubj" and token.lower_ in self._others and token.head.tag_ == "VBZ"
                for token in span
            )
            return named or (before and bool(words & THIRD))
        return False

    @staticmethod
    def _mixed(span: Span) -> bool:
        """Whether the swimmer is the subject of the sentence all the same."""
        return any(
            t.lower_ == "you"
            and t.dep_ == "nsubj"
            and t.head.dep_ == "ROOT"
            and t.head.lemma_.lower() not in LOOKING
            for t in span
        )

    def _about_crowd(self, clause: Clause) -> bool:
        """Whether swimmers at large are the subject, and this one is not spoken of."""
        tokens = self._doc[clause.first : clause.last]
        crowd = any(_is_crowd(t) and t.dep_ in CROWD_ROLES for t in tokens)
        return crowd and not self._of_swimmer(clause)

    def _of_swimmer(self, clause: Clause) -> bool:
        """Whether a clause speaks of the swimmer by "you", or by "he" or "she"."""
        swimmer = SECOND if self._speaks_to_swimmer else THIRD - CROWD_WORDS
        tokens = self._doc[clause.first : clause.last]
        return any(t.lower_ in swimmer and t.head.lemma_.lower() not in KINDS for t in tokens)

    def _names_other(self, clause: Clause) -> bool:
        """Whether somebody near the swimmer, or of another name, is a clause's subject."""
        tokens = self._doc[clause.first : clause.last]
        spoken_to = any(t.lower_ == "you" and t.dep_ == "nsubj" for t in tokens)
        if spoken_to or not self._speaks_to_swimmer:
            return False
        near = self._has("nearby", self._sentence_first(clause), clause.last)
        return any(
            (token.lower_ in self._others and token.dep_ in {"nsubj", "dobj"})
            or (near and token.lemma_.lower() in cues.OTHERS)
            for token in tokens
        )

    def _sentence_first(self, clause: Clause) -> int:
        return self._doc[clause.first].sent.start

    def _earlier(self, span: Span, clause: Clause) -> bool:
        if self._has("earlier", clause.first, clause.last):
            return True
        dated = self._has("earlier", span.start, span.end) or any(
            token.lower_ in cues.DATES
            and (token.dep_ == "nsubj" or (token.i and token.nbor(-1).lower_ in DATE_LEADS))
            for token in span
        )
        verbs = [t for t in self._doc[clause.first : clause.last] if t.pos_ in VERBS]
        return (
            dated
            and any(v.tag_ == "VBD" for v in verbs)
            and not any(v.tag_ in {"VBZ", "VBP"} for v in verbs)
        )

    def _supposes(self, clause: Clause) -> bool:
        """Whether a clause is conditional, or tells what somebody thought or said."""
        tokens = self._doc[clause.first : clause.last]
        if is_hearsay(tokens):
            return True
        for token in tokens:
            if token.lower_ in cues.REPORTS and any(
                child.lower_ in {"you", "i", "she", "he", "they"} and child.dep_ == "nsubj"
                for child in token.children
            ):
                return True
            if token.lower_ in {"if", "unless", "otherwise"} and not _is_figure_of_speech(token):
                return not any(t.lemma_.lower() in LOOKING for t in tokens[1:5])
            if _may_come(token):
                return True
            if token.lower_ in {"would", "'d", "might"} and token.tag_ == "MD":
                speaker = any(t.lower_ == "i" and t.dep_ == "nsubj" for t in tokens)
                wish = any(t.lemma_.lower() in cues.DESIRES for t in tokens)
                return not (speaker or wish)
        return False

    def _turns(self, clause: Clause) -> bool:
        return self._doc[clause.first].lower_ in {"but", "so", "because"}

    def _take_back(self, settings: dict[int, Status]) -> None:
        """What stood in the clause before "forget that" does not count."""
        for first, _ in self._groups["takes_back"]:
            here = self.clause(first)
            place = self._clauses.index(here)
            back = max(0, place - 1)
            while back and self._clauses[back - 1].sentence == here.sentence:
                back -= 1
            for clause in self._clauses[back : place + 1]:
                settings[clause.first] = "taken_back"


@lru_cache(maxsize=1)
def _cue_groups() -> Groups:
    return Groups(
        {
            "habit": cues.HABIT,
            "earlier": cues.EARLIER,
            "nearby": cues.NEARBY,
            "warns": cues.WARNS,
            "keeps": cues.KEEPS,
            "explains": cues.EXPLAINS,
            "takes_back": cues.TAKES_BACK,
            "no_negation": cues.NO_NEGATIONS,
        },
        by_lemma=False,
    )


def _found_groups(doc: Doc) -> dict[str, list[tuple[int, int]]]:
    found: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for name, first, last in _cue_groups().find(doc):
        found[name].append((first, last))
    return found


def _speaks_to_swimmer(doc: Doc) -> bool:
    """Whether the coach says "you" to the swimmer rather than "he" or "she" of them."""
    second = sum(token.lower_ in SECOND for token in doc)
    third = sum(token.lower_ in {"he", "his", "she", "her"} for token in doc)
    return second >= third


def _other_names(narration: Narration) -> set[str]:
    """People named other than in the first sentences, where swimmer and coach are greeted.

    A capital at the start of a sentence makes no name.
    """
    greeted = {t.lower_ for s in narration.sentences[:4] for t in s.span if t.pos_ == "PROPN"}
    return {
        token.lower_
        for token in narration.doc
        if token.pos_ == "PROPN" and token.is_title and not token.is_sent_start
    } - greeted


def _brings_up_other(token: Token) -> bool:
    """ "a bloke last week", "my other swimmer", "your brother", "one of the lads"."""
    lemma = token.lemma_.lower()
    if lemma not in cues.OTHERS and lemma not in cues.RELATIVES:
        return False
    if token.dep_ == "pobj" and token.head.lower_ in {"for", "like", "as"}:
        return False
    owners = {child.lower_ for child in token.children if child.dep_ in {"det", "poss", "nummod"}}
    if lemma in cues.RELATIVES and "your" in owners:
        return True
    chosen = token.dep_ == "pobj" and token.head.lower_ == "of" and token.head.head.lower_ == "one"
    return chosen or bool(owners & {"a", "an", "my", "another", "one", "some", "our"})


def _explains_set(doc: Doc, clause: Clause) -> bool:
    """ "four 25s where one hand waits for the other": how a drill is done."""
    if doc[clause.first].lower_ != "where":
        return False
    sentence = doc[clause.first].sent
    before = doc[sentence.start : clause.first]
    return any(token.lower_ in cues.SET_DISTANCES for token in before)


def _may_come(token: Token) -> bool:
    """ "the elbow could fall": possible of a part, not "you could drive a bus through"."""
    if token.lower_ not in {"could", "may"} or token.tag_ != "MD":
        return False
    subjects = [child for child in token.head.children if child.dep_ == "nsubj"]
    return any(subject.pos_ == "NOUN" for subject in subjects)


def _is_crowd(token: Token) -> bool:
    """ "most people", "rowers", "many of the two-beaters": swimmers at large."""
    word = token.lower_
    doer = token.tag_ == "NNS" and word.endswith("ers") and word not in cues.NO_DOERS
    return word in cues.CROWDS or doer


def _asks_yes_or_no(span: Span) -> bool:
    """Whether a sentence asks if something is so ("Is the head coming up?")."""
    words = [token for token in span if not token.is_punct and token.lower_ not in FILLERS]
    asks = str(span.text).rstrip().endswith("?")
    return asks and bool(words) and words[0].pos_ == "AUX"


def _is_figure_of_speech(token: Token) -> bool:
    """ "if anything", "as if", "see if"."""
    after = token.nbor().lower_ if token.i + 1 < len(token.doc) else ""
    before = token.nbor(-1).lower_ if token.i else ""
    return (
        after in {"anything", "you", "i"}
        and (after == "anything" or token.nbor(2).lower_ in {"like", "ask", "will"})
    ) or before in {"as", "like", "see", "even", "wonder"}


def _is_answer(token: Token) -> bool:
    """A "no" that answers or corrects, and denies nothing that follows."""
    if token.lower_ != "no" or token.i + 1 >= len(token.doc):
        return False
    return token.nbor().text in {",", ".", "!"} or token.nbor().lower_ in {"sorry", "wait", "hang"}


def _asks(token: Token) -> bool:
    lemma = token.lemma_.lower()
    if lemma in cues.DESIRES and token.pos_ in VERBS:
        return True
    subjects = [child for child in token.children if child.dep_ in {"nsubj", "nsubjpass", "aux"}]
    return token.tag_ == "VB" and not subjects and lemma in cues.WISHES and token.dep_ in {
        "ROOT", "conj", "ccomp", "advcl", "parataxis", "dep"}  # fmt: skip
