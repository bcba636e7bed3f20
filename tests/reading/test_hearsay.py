import pytest

from voicenotes.reading.faults.examples import sentence_reader
from voicenotes.vocabulary.check import ExampleReader
from voicenotes.vocabulary.load import load_vocabulary

ELBOW = ("fault", "elbow_drops")


@pytest.fixture(scope="module")
def read() -> ExampleReader:
    return sentence_reader(load_vocabulary())


@pytest.mark.parametrize(
    "sentence",
    [
        "Somebody at the club told you that the elbow drops in the catch.",
        "I was worried the elbow drops in the catch.",
        "I wondered whether the elbow collapses in the catch.",
        "Most rowers drop the elbow in the catch.",
        "The lad in lane two drops the elbow in the catch.",
        "When you tire the elbow could drop in the catch.",
        "Is the elbow dropping in the catch, no.",
        "Dropped elbow?",
        "The elbow drops in the catch, no, scratch that.",
    ],
)
def test_what_is_told_feared_asked_or_of_others_is_not_read_as_seen(
    read: ExampleReader, sentence: str
) -> None:
    assert ELBOW not in read(sentence)


@pytest.mark.parametrize(
    "sentence",
    [
        "You can see the elbow drops in the catch.",
        "The elbow drops in the catch, and it costs you.",
        "You keep dropping the elbow in the catch.",
        "Stop dropping that elbow in the catch.",
        "The clock says fifty and the elbow drops in the catch.",
    ],
)
def test_what_is_seen_is_read_however_it_is_put(read: ExampleReader, sentence: str) -> None:
    assert ELBOW in read(sentence)
