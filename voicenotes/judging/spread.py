"""Which session each of the coach's sets comes in for the first time."""

from collections.abc import Sequence
from functools import cache


def spread(seconds: Sequence[float], sessions: int) -> list[int]:
    """The session (from 0) of each set, for sets given in the order of their stages.

    The order is kept: a later set never comes in before an earlier one. Where there are at
    least as many sets as sessions, each session gets some and their times are as even as can
    be; where there are fewer, they start with the first session and are set evenly apart.
    """
    count = len(seconds)
    if count < sessions:
        return [index * sessions // count for index in range(count)]
    groups = _even_groups(tuple(seconds), sessions)
    return [session for session, size in enumerate(groups) for _ in range(size)]


def _even_groups(seconds: tuple[float, ...], sessions: int) -> tuple[int, ...]:
    """Sizes of consecutive groups, none empty, with the least sum of squared times."""
    sums = [0.0]
    for each in seconds:
        sums.append(sums[-1] + each)

    @cache
    def best(start: int, groups: int) -> tuple[float, tuple[int, ...]]:
        if groups == 1:
            return (sums[-1] - sums[start]) ** 2, (len(seconds) - start,)
        options = []
        for end in range(start + 1, len(seconds) - groups + 2):
            rest, sizes = best(end, groups - 1)
            options.append(((sums[end] - sums[start]) ** 2 + rest, (end - start, *sizes)))
        return min(options)

    return best(0, sessions)[1]
