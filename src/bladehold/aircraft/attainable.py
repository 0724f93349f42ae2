"""What thrusts can give: the set of lift and moments within the rotors' reach, and how far hover lies in it.

Each rotor gives from nothing to its ceiling, so the set is a zonotope: the image of a box. A lost rotor has
the ceiling 0, a damaged one less than it had.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

_FLAT = 1e-9  # of the greatest generator, below which a direction is none
_WITHOUT_YAW = 3  # rows of `commanded` that are left when yaw is given up


def attainable_index(matrix: ArrayLike, least: ArrayLike, greatest: ArrayLike, wanted: ArrayLike) -> float:
    """How far a wanted lift and moments lie inside the set that thrusts can give; below 0 outside it.

    index = min over facets n of sum |n . g_i| - |n . (w - c)|, with the generators g_i = B_i (f_max - f_min)
    / 2, the middle c = B (f_max + f_min) / 2, and n the unit normals of all d - 1 generators. Where the
    generators fill no more than a flat part of space the set has no inside: the index is 0 on it, and the
    distance from it, negative, else. Inside it is the distance to the boundary in N and N*m together;
    outside, the greatest distance from any one facet, of which the true distance is no less.

    Arguments: matrix - B, of `commanded` or rows of it, [D, N]; least, greatest - thrust of each rotor, N,
    [N] or one for all; wanted - lift N and moments N*m, [D]. Returns the index.
    Errors: ValueError when a least thrust is above the greatest.
    Source: Du, Quan, Yang and Cai, Journal of Guidance, Control, and Dynamics (2015), arXiv 1403.5986,
    theorem 2 and eq. 14 (mark: read in part); flat sets own.

    >>> import numpy as np
    >>> square = np.array([[1.0, 1.0], [1.0, -1.0]])  # lift and one moment of two rotors
    >>> [round(attainable_index(square, 0.0, 1.0, [lift, 0.0]), 4) for lift in (1.0, 2.0, 2.5)]
    [0.7071, 0.0, -0.3536]
    """
    rows = np.asarray(matrix, dtype=float)
    low, high = (np.broadcast_to(np.asarray(one, dtype=float), rows.shape[1:]) for one in (least, greatest))
    if np.any(low > high):
        raise ValueError("the least thrust of a rotor must not be above its greatest")
    generators = rows * (high - low) / 2.0
    off = np.asarray(wanted, dtype=float) - rows @ ((high + low) / 2.0)
    return _index(generators, off)


def _index(generators: FloatArray, off: FloatArray) -> float:
    """The index of a point `off` the middle of a zonotope."""
    size = max(float(np.linalg.norm(generators, axis=0).max(initial=0.0)), float(np.linalg.norm(off)), 1e-300)
    basis, strength, _ = np.linalg.svd(generators, full_matrices=False)
    rank = int(np.count_nonzero(strength > _FLAT * size))
    if rank == len(off):
        least = float(_slack(generators, off).min())
        return least if abs(least) > _FLAT * size else 0.0
    within = basis[:, :rank]
    aside = float(np.linalg.norm(off - within @ (within.T @ off)))
    inside = float(_slack(within.T @ generators, within.T @ off).min()) if rank else 0.0
    beyond = float(np.hypot(aside, min(inside, 0.0)))
    return -beyond if beyond > _FLAT * size else 0.0


def _slack(generators: FloatArray, off: FloatArray) -> FloatArray:
    """Distance of each pair of facets from a point `off` the middle, below 0 beyond it, [F]."""
    normals = _normals(generators)
    return np.asarray(np.abs(normals @ generators).sum(axis=-1) - np.abs(normals @ off))


def _normals(generators: FloatArray) -> FloatArray:
    """Unit vectors square to every d - 1 generators, [F, D]; those of dependent generators left out."""
    space, count = generators.shape
    if space == 1:
        return np.ones((1, 1))
    chosen = generators.T[_choices(count, space - 1)]  # [C, D - 1, D]
    found = np.empty((len(chosen), space))
    for at in range(space):
        found[:, at] = (-1.0) ** at * np.linalg.det(np.delete(chosen, at, axis=-1))
    length = np.linalg.norm(found, axis=-1)
    spanned = np.linalg.norm(chosen, axis=-1).prod(axis=-1)
    kept = length > _FLAT * np.maximum(spanned.max(), 1e-300)
    return np.asarray(found[kept] / length[kept, np.newaxis])


@lru_cache(maxsize=32)
def _choices(count: int, size: int) -> NDArray[np.intp]:
    return np.array(list(combinations(range(count), size)), dtype=np.intp)


@dataclass(frozen=True, eq=False)
class HoverThrusts:
    """Thrusts that hold a lift without any moment that is held: thrust - N, [N]; share - the greatest one of
    a ceiling, above 1 where it is more than the rotors can.
    """

    thrust: FloatArray
    share: float


def hover_thrusts(matrix: ArrayLike, greatest: ArrayLike, lift: float) -> HoverThrusts | None:
    """Return the thrusts that hold a lift and no moment with the least share of any rotor's ceiling.

    min t with B f = (lift, 0, ...), 0 <= f <= t f_max. A share above 1 says by how much the ceilings fall
    short.
    Arguments: matrix - B, rows of `commanded` that are to be held, lift first, [D, N]; greatest - ceilings,
    N, [N], 0 of a lost rotor; lift - N. Returns None where no thrusts whatever hold it.
    Source: linear programme, own; solved by HiGHS in SciPy.
    """
    from scipy.optimize import linprog

    rows, ceiling = np.asarray(matrix, dtype=float), np.asarray(greatest, dtype=float)
    working = np.flatnonzero(ceiling > 0.0)
    if not working.size:
        return None
    count = working.size
    # Thrusts as shares of the ceiling and lift as 1: the numbers of the programme are all near 1.
    scaled = rows[:, working] * ceiling[working] / lift
    bound = np.hstack([np.eye(count), -np.ones((count, 1))])
    wanted = np.zeros(len(rows))
    wanted[0] = 1.0
    found = linprog(
        np.append(np.zeros(count), 1.0),
        A_ub=bound,
        b_ub=np.zeros(count),
        A_eq=np.hstack([scaled, np.zeros((len(rows), 1))]),
        b_eq=wanted,
        bounds=[(0.0, None)] * (count + 1),
        method="highs",
    )
    if found.status != 0:
        return None
    thrust = np.zeros(len(ceiling))
    thrust[working] = found.x[:count] * ceiling[working]
    return HoverThrusts(thrust, float(found.x[-1]))


def without_yaw(matrix: ArrayLike) -> FloatArray:
    """Rows of lift, roll and pitch of a matrix of `commanded`: the aircraft may turn about its upright axis.

    Arguments: matrix - [..., 4, N]. Source: own; e.g. Mueller and D'Andrea, ICRA (2014), held on with fewer
    rotors by giving up yaw (mark: memory).
    """
    return np.asarray(np.asarray(matrix, dtype=float)[..., :_WITHOUT_YAW, :])


def attainable_reach(
    matrix: ArrayLike, least: ArrayLike, greatest: ArrayLike, start: ArrayLike, directions: ArrayLike
) -> FloatArray:
    """How far the set that thrusts can give goes on from a point within it, along straight ways, [K].

    Along e: min over facets n with n . e > 0 of (sum |n . g_i| - n . (start - c)) / (n . e).
    Arguments: matrix, least, greatest - as of `attainable_index`; start - lift N and moments N*m, [D];
    directions - [K, D]. Returns lengths in the unit of the directions, 0 for a point that is not within the
    set or where the set is flat. Source: as `attainable_index`; geometry.
    """
    rows = np.asarray(matrix, dtype=float)
    low, high = (np.broadcast_to(np.asarray(one, dtype=float), rows.shape[1:]) for one in (least, greatest))
    ways = np.asarray(directions, dtype=float)
    if attainable_index(rows, low, high, start) <= 0.0:
        return np.zeros(len(ways))
    generators = rows * (high - low) / 2.0
    off = np.asarray(start, dtype=float) - rows @ ((high + low) / 2.0)
    normals = _normals(generators)
    normals = np.concatenate([normals, -normals])
    room = np.abs(normals @ generators).sum(axis=-1) - normals @ off
    along = ways @ normals.T
    with np.errstate(divide="ignore"):
        return np.asarray(np.where(along > _FLAT, room / along, np.inf).min(axis=-1))
