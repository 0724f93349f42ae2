"""Rainflow counting of load histories, by the places of the reversals instead of by their ranges.

Which reversals make a cycle depends on the order of the values alone, not on their size. Cycles counted on
one load can so be evaluated with every other that a part bears at the same two instants, and histories that
rise and fall alike are counted once.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint._arrays import Floats, real

Integers = NDArray[np.intp]

_KEPT = 4096  # patterns


@dataclass(frozen=True, eq=False)
class CyclePairs:
    """Cycles of histories [..., L] by the places of their ends.

    first, second - of the ends along the history, count - 1 of a whole cycle, 0.5 of a half one, 0 where this
    history has fewer cycles than others, [..., K].
    """

    first: Integers
    second: Integers
    count: Floats


def rainflow_pairs(series: ArrayLike, *, repeating: bool = False) -> CyclePairs:
    """Rainflow cycles of one or many load histories.

    Arguments:
        series: loads in order, shape (..., L), L at least 2, any unit; repeating: whether the end of the
        history is followed by its beginning, as of flights that begin and end at rest. It is then counted
        from its greatest load on, and holds whole cycles only.
    Returns: `CyclePairs`, K the number of cycles of the history that has most.
    Errors: ValueError when a load is not finite or there are fewer than two.
    Source: ASTM E1049-85 (2017), 5.4.4 and 5.4.5, by the library rainflow; that order alone matters follows
        from the rule, which compares ranges with one end in common.

    >>> pairs = rainflow_pairs([0.0, 5.0, 2.0, 4.0, 0.0], repeating=True)
    >>> sorted(zip(pairs.first.tolist(), pairs.second.tolist(), pairs.count.tolist()))
    [(1, 0, 1.0), (2, 3, 1.0)]
    """
    loads = real("load", series)
    if loads.ndim == 0 or loads.shape[-1] < 2:
        raise ValueError(f"a history needs two loads at least, got the shape {loads.shape}")
    rows = _ranks(loads.reshape(-1, loads.shape[-1]))
    counted = [_of_pattern(row.tobytes(), repeating) for row in rows]
    most = max(cycles.count.size for cycles in counted)
    shape = (len(counted), most)
    first, second, count = np.zeros(shape, np.intp), np.zeros(shape, np.intp), np.zeros(shape)
    for row, cycles in enumerate(counted):
        own = slice(cycles.count.size)
        first[row, own], second[row, own], count[row, own] = cycles.first, cycles.second, cycles.count
    wide = (*loads.shape[:-1], most)
    return CyclePairs(first.reshape(wide), second.reshape(wide), count.reshape(wide))


def _ranks(rows: Floats) -> Integers:
    """Place of every value in the order of its row, equal values alike; [rows, L]."""
    order = np.argsort(rows, axis=-1, kind="stable")
    sorted_rows = np.take_along_axis(rows, order, axis=-1)
    steps = np.concatenate(
        [np.zeros((len(rows), 1), bool), sorted_rows[:, 1:] > sorted_rows[:, :-1]], axis=-1
    )
    ranks = np.empty(rows.shape, dtype=np.intp)
    np.put_along_axis(ranks, order, np.cumsum(steps, axis=-1), axis=-1)
    return ranks


@lru_cache(maxsize=_KEPT)
def _of_pattern(pattern: bytes, repeating: bool) -> CyclePairs:
    """Cycles of one history, by the bytes of its ranks. Hubs that differ a little have histories of one
    pattern: it is remembered.
    """
    found = _cycles(np.frombuffer(pattern, dtype=np.intp).tolist(), repeating) or [(0, 0, 0.0)]
    ends = np.array([cycle[:2] for cycle in found], dtype=np.intp)
    return CyclePairs(ends[:, 0], ends[:, 1], np.array([cycle[2] for cycle in found]))


def _cycles(ranks: list[int], repeating: bool) -> list[tuple[int, int, float]]:
    """Cycles of one history, as places of their ends and their count."""
    from rainflow import extract_cycles

    length = len(ranks)
    if not repeating:
        found = [(start, end, times) for _, _, times, start, end in extract_cycles(ranks)]
        return [cycle for cycle in found if ranks[cycle[0]] != ranks[cycle[1]]]
    start = ranks.index(max(ranks))
    # Beginning and ending with the greatest load, half cycles come in pairs of one range: whole ones.
    places = [(start + at) % length for at in range(length + 1)]
    cycles: list[tuple[int, int, float]] = []
    halves: dict[tuple[int, int], tuple[int, int, float]] = {}
    for _, _, times, one, other in extract_cycles([ranks[place] for place in places]):
        ends = places[one], places[other]
        low, high = sorted((ranks[ends[0]], ranks[ends[1]]))
        if low == high:
            continue
        if times == 1.0:
            cycles.append((*ends, 1.0))
        else:
            before = halves.get((low, high), (*ends, 0.0))
            halves[low, high] = (before[0], before[1], before[2] + times)
    return [*cycles, *halves.values()]
