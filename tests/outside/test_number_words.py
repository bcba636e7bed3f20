"""Every number that a coach may speak, against two independent libraries of number words.

num2words writes the words, text2num (text_to_num) reads them back; both are published on the
Python package index and know nothing of this project.
"""

import pytest
from num2words import num2words
from text_to_num import text2num

from voicenotes.reading.numbers.find import find_quantities
from voicenotes.reading.text import language_model


@pytest.mark.parametrize("first", range(2, 402, 50))
def test_whole_numbers_read_as_the_libraries_read_them(first: int) -> None:
    numbers = range(first, first + 50)
    said = [str(num2words(number)) for number in numbers]
    docs = language_model().pipe(f"I measured {words} degrees." for words in said)
    read = [[q.interval for q in find_quantities(doc)] for doc in docs]
    assert [text2num(words, "en") for words in said] == [*numbers]
    assert read == [[(number, number)] for number in numbers]
