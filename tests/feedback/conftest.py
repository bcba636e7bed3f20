import pytest

from tests.feedback.sample import sample_review, sample_transcript, sample_vocabulary
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary


@pytest.fixture
def review() -> Review:
    return sample_review()


@pytest.fixture
def transcript() -> Transcript:
    return sample_transcript()


@pytest.fixture
def vocabulary() -> Vocabulary:
    return sample_vocabulary()
