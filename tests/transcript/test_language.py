import re

import pytest

from tests.sounds import spoken_text
from voicenotes.transcript.language import LEAST_WORDS, language_of

OTHERS = {
    "German": "Das ist die zweite Bahn, und die Kamera steht an der Seite. Dein linker Ellbogen "
    "sinkt ab, sobald der Zug beginnt. Der Kopf liegt ruhig, das gefällt mir gut.",
    "French": "Voici la deuxième longueur, et la caméra est sur le côté. Ton coude gauche tombe "
    "dès le début de la traction. La tête est stable, et cela me plaît.",
    "Spanish": "Este es el segundo largo, y la cámara está al lado. Tu codo izquierdo cae en "
    "cuanto empieza la tracción. La cabeza está firme, y eso me gusta.",
    "Dutch": "Dit is de tweede baan, en de camera staat aan de zijkant. Je linkerelleboog zakt "
    "zodra de trek begint. Het hoofd ligt stil, en dat vind ik mooi.",
}


@pytest.mark.parametrize("text", OTHERS.values(), ids=list(OTHERS))
def test_other_languages_are_not_english(text: str) -> None:
    assert language_of([text]) == "und"


@pytest.mark.parametrize("name", ["spoken.txt", "voices.txt"])
def test_english_is(name: str) -> None:
    assert language_of(re.split(r"(?<=[.?!])", spoken_text(name))) == "en"


def test_a_few_words_tell_nothing() -> None:
    assert language_of(["Kopf", "runter"]) == "en"
    assert language_of(["Kopf"] * LEAST_WORDS) == "und"
