from pathlib import Path

from voicenotes.speech.bias import MOST_TERMS, hint_of
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Misheard, Vocabulary

VOCABULARY = load_vocabulary()


def marking(*terms: str) -> Vocabulary:
    """A vocabulary that marks just these terms for the hint."""
    marked = {
        term: Misheard(code=term, term=term, heard=(f"{term}s",), hint=True) for term in terms
    }
    return VOCABULARY.model_copy(update={"misheard": marked})


def test_the_hint_is_sentences_with_terms_and_sets_in_words() -> None:
    assert hint_of(marking("scull", "body roll", "zipper")) == (
        "Look at the scull, body roll and zipper. "
        "Do eight twenty-fives, then six fifties and two two-hundreds."
    )


def test_one_term_and_no_term_still_give_whole_sentences() -> None:
    assert hint_of(marking("scull")).startswith("Look at the scull. Do eight")
    assert hint_of(marking()).startswith("Do eight")


def test_the_packaged_vocabulary_marks_what_is_often_misheard() -> None:
    assert "sculling, " in hint_of(VOCABULARY)
    assert "waist" not in hint_of(VOCABULARY)


def test_a_coach_can_add_a_term(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text(
        "misheard:\n"
        "  salute: {term: salute drill, heard: [solute drill], hint: true}\n"
        "  skim: {term: skim drill, heard: [skin drill]}\n",
        encoding="utf-8",
    )
    hint = hint_of(load_vocabulary(tmp_path))
    assert "salute drill" in hint
    assert "skim drill" not in hint


def test_the_hint_stays_short_and_a_coachs_own_terms_stay_in_it() -> None:
    hint = hint_of(marking(*(f"word{number}" for number in range(2000))))
    assert "and word1999." in hint
    assert f"word{2000 - MOST_TERMS}," in hint
    assert f"word{1999 - MOST_TERMS}," not in hint
