import re

from voicenotes.record import Record
from voicenotes.speech.bias import HINT_TERMS, hint_of
from voicenotes.vocabulary.load import load_vocabulary

VOCABULARY = load_vocabulary()


def test_terms_that_are_misheard_are_in_the_hint() -> None:
    hint = hint_of(VOCABULARY)
    for misheard in [*VOCABULARY.misheard.values()][:5]:
        assert set(misheard.term.split()) <= set(re.split(r"[ ,.]+", hint))


def test_the_hint_is_sentences_and_says_sets_in_words() -> None:
    hint = hint_of(VOCABULARY)
    sentences = re.findall(r"[A-Z][^.]*\.", hint)
    assert " ".join(sentences) == hint
    assert "eight twenty-fives" in sentences[-1]


def test_the_hint_stays_short_however_large_the_vocabulary() -> None:
    entry = next(iter(VOCABULARY.misheard.values()))
    many = {
        f"m{number}": entry.model_copy(update={"term": f"word{number}"}) for number in range(2000)
    }
    hint = hint_of(VOCABULARY.model_copy(update={"misheard": many}))
    assert f"word{HINT_TERMS - 1}." in hint
    assert f"word{HINT_TERMS}" not in hint


def test_an_empty_vocabulary_still_gives_a_hint() -> None:
    nothing: dict[str, dict[str, Record]] = {
        kind: {} for kind in ("misheard", "aids", "drills", "measures")
    }
    assert hint_of(VOCABULARY.model_copy(update=nothing)).endswith(".")
