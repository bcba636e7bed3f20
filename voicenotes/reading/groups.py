"""Finds word groups in a text by spaCy's phrase matcher."""

from collections.abc import Iterable, Mapping

from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc, Span

from voicenotes.reading.text import language_model


class Groups:
    """Named lists of word groups, found letter for letter (any case) or by lemma.

    ``lists`` maps a name to its groups. By lemma, "come across" also finds "coming across";
    a group in double quotes is always found letter for letter.
    """

    def __init__(self, lists: Mapping[str, Iterable[str]], *, by_lemma: bool) -> None:
        nlp = language_model()
        self._matchers = [PhraseMatcher(nlp.vocab, attr="LOWER")]
        if by_lemma:
            self._matchers.append(PhraseMatcher(nlp.vocab, attr="LEMMA"))
        for name, groups in lists.items():
            literal, lemmas = [], []
            for group in groups:
                words = [token.text.lower() for token in nlp.make_doc(group.strip('"'))]
                literal.append(Doc(nlp.vocab, words=words))
                if not group.startswith('"'):
                    lemmas.append(Doc(nlp.vocab, words=words, lemmas=words))
            self._matchers[0].add(name, literal)
            if by_lemma and lemmas:
                self._matchers[1].add(name, lemmas)
        self._names = nlp.vocab.strings

    def find(self, text: Doc | Span) -> list[tuple[str, int, int]]:
        """Name, first and last token (exclusive) of every group found, in order, each once.

        Tokens are counted in the whole text, for a span too.
        """
        found = {
            (self._names[name], first, last)
            for matcher in self._matchers
            for name, first, last in matcher(text)
        }
        return sorted(found, key=lambda hit: (hit[1], hit[2], hit[0]))
