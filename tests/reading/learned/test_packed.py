import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from voicenotes.reading.learned.packed import GROUP, LEVELS, pack, unpack


@given(st.integers(0, 2**32 - 1), st.integers(1, 5), st.floats(1e-3, 1e3))
def test_packing_keeps_weights_to_half_a_level(seed: int, rows: int, size: float) -> None:
    weights = np.random.default_rng(seed).normal(0, size, (rows, 2 * GROUP)).astype(np.float32)
    again = unpack(*pack(weights))
    widest = np.diff(LEVELS).max() / 2
    largest = np.abs(weights.reshape(rows, -1, GROUP)).max(2).repeat(GROUP, 1)
    assert again.shape == weights.shape
    assert (np.abs(again - weights) <= largest * (widest + 2e-3)).all()


def test_packed_weights_take_four_bits_and_a_scale_a_group() -> None:
    packed, scales = pack(np.ones((3, 4 * GROUP), np.float32))
    assert packed.nbytes == 3 * 4 * GROUP // 2
    assert scales.shape == (3, 4)


def test_packing_twice_changes_nothing_more() -> None:
    weights = np.random.default_rng(0).normal(0, 1, (4, GROUP)).astype(np.float32)
    once = unpack(*pack(weights))
    assert np.array_equal(once, unpack(*pack(once)))
