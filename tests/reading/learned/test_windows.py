from hypothesis import given
from hypothesis import strategies as st

from voicenotes.reading.learned.windows import Plan, Window, tokens_of, windows_of

lengths = st.lists(st.integers(0, 120), max_size=60)
plans = st.builds(Plan, st.integers(0, 200), st.integers(0, 5), st.integers(0, 3))


@given(lengths, plans)
def test_every_sentence_is_asked_about_once_and_in_order(said: list[int], plan: Plan) -> None:
    windows = windows_of(said, plan)
    assert [i for w in windows for i in range(w.start, w.end)] == list(range(len(said)))
    assert all(w.start - w.first <= plan.before for w in windows)
    assert all(w.last - w.end <= plan.after for w in windows)


def test_one_sentence_at_a_time_with_those_around_it() -> None:
    windows = windows_of([10, 10, 10, 10], Plan(width=0, before=2, after=1))
    assert windows[2] == Window(first=0, start=2, end=3, last=4)


def test_spans_hold_the_words_of_the_sentences_asked_about() -> None:
    sentences = [[11, 12], [21], [31, 32, 33]]
    tokens = tokens_of(sentences, Window(0, 1, 3, 3), 1, 2)
    assert tokens.ids == (1, 11, 12, 2, 21, 2, 31, 32, 33, 2)
    assert [tokens.ids[a:b] for a, b in tokens.spans] == [(21,), (31, 32, 33)]
