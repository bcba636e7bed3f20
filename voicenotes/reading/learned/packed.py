"""Weights in four bits: sixteen levels, and one scale for each group of neighbours.

The levels are the quantiles of a normal distribution that QLoRA uses (Dettmers and others, 2023,
"QLoRA: Efficient Finetuning of Quantized LLMs", NF4): trained weights are close to normal, so
these lose less than even steps do.
"""

import numpy as np
from numpy.typing import NDArray

LEVELS = np.array(
    [
        -1.0, -0.6961928009986877, -0.5250730514526367, -0.39491748809814453,
        -0.28444138169288635, -0.18477343022823334, -0.09105003625154495, 0.0,
        0.07958029955625534, 0.16093020141124725, 0.24611230194568634, 0.33791524171829224,
        0.44070982933044434, 0.5626170039176941, 0.7229568362236023, 1.0,
    ],
    dtype=np.float32,
)  # fmt: skip
GROUP = 64
"""Neighbours along the last axis that share a scale."""


def pack(weights: NDArray[np.float32]) -> tuple[NDArray[np.uint8], NDArray[np.float16]]:
    """Two weights a byte, and the scales. The last axis must be a multiple of GROUP."""
    groups = weights.reshape(-1, GROUP)
    scales = np.maximum(np.abs(groups).max(1, keepdims=True), 1e-8).astype(np.float16)
    middles = (LEVELS[1:] + LEVELS[:-1]) / 2
    codes = np.searchsorted(middles, groups / scales.astype(np.float32)).astype(np.uint8)
    pairs = codes.reshape((*weights.shape[:-1], -1, 2))
    halves = (*weights.shape[:-1], -1)
    return pairs[..., 0] << 4 | pairs[..., 1], scales.reshape(halves)


_PAIRS = np.stack([np.repeat(LEVELS, 16), np.tile(LEVELS, 16)], axis=1).view(np.complex64).ravel()
"""Both weights of every byte, held as one number of eight bytes: far quicker to look up."""


def unpack(packed: NDArray[np.uint8], scales: NDArray[np.float16]) -> NDArray[np.float32]:
    """The weights that ``pack`` took, to four bits."""
    values = np.take(_PAIRS, packed).view(np.float32)
    groups = values.reshape((*scales.shape, GROUP))
    groups *= scales.astype(np.float32)[..., None]
    unpacked: NDArray[np.float32] = groups.reshape((*packed.shape[:-1], -1))
    return unpacked
