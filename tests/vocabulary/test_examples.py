import pytest

from voicenotes.reading.faults.examples import sentence_reader
from voicenotes.vocabulary.check import check_examples
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return load_vocabulary()


def test_every_example_of_the_packaged_vocabulary_is_read_as_its_entry_says(
    vocabulary: Vocabulary,
) -> None:
    failures = check_examples(vocabulary, sentence_reader(vocabulary))
    assert not failures, "\n".join(failure.line for failure in failures)


def test_a_reader_that_sees_nothing_fails_every_says_and_no_never(vocabulary: Vocabulary) -> None:
    failures = check_examples(vocabulary, lambda sentence: set())
    says = [s for fault in vocabulary.faults.values() for s in fault.says]
    says += [s for strength in vocabulary.strengths.values() for s in strength.says]
    assert [failure.sentence for failure in failures] == says


def test_a_reader_that_sees_one_code_everywhere_fails_the_nevers_of_that_code(
    vocabulary: Vocabulary,
) -> None:
    failures = check_examples(vocabulary, lambda sentence: {("fault", "elbow_drops")})
    wrongly_read = {failure.sentence for failure in failures if not failure.expected}
    assert wrongly_read == set(vocabulary.faults["elbow_drops"].never)
    assert not any(failure.code == "elbow_drops" and failure.expected for failure in failures)


def test_a_failure_says_which_entry_which_sentence_and_what_was_read(
    vocabulary: Vocabulary,
) -> None:
    failure = next(
        f
        for f in check_examples(vocabulary, lambda sentence: {("fault", "wrist_bends")})
        if f.code == "elbow_drops"
    )
    assert failure.line.startswith("fault elbow_drops: ")
    assert failure.sentence in failure.line
    assert "(read: fault:wrist_bends)" in failure.line
