"""Equations of a chain of nodes, each coupled to its neighbours only, solved for many conditions at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[Any]


@dataclass(frozen=True, eq=False)
class Chain:
    """A symmetric matrix of N nodes with 4 coordinates each, as blocks: all else in it is zero.

    own - [..., N, 4, 4], of each node with itself; next - [..., N - 1, 4, 4], rows of a node, columns of the
    node after it.
    """

    own: Numbers
    next: Numbers


def node_coordinates(nodes: int) -> NDArray[np.intp]:
    """Indices [N, 4] of each node's w, w', v, v' among coordinates that hold all w, w' before all v, v'.

    Arguments: nodes - N. Source: own, the order of `bladehold.blade.beam`.

    >>> node_coordinates(2).tolist()
    [[0, 1, 4, 5], [2, 3, 6, 7]]
    """
    first = 2 * np.arange(nodes)[:, np.newaxis]
    return np.asarray(first + np.array([0, 1, 2 * nodes, 2 * nodes + 1]))


def chain_of(matrix: Numbers) -> Chain:
    """The blocks of a symmetric matrix [..., 4 N, 4 N], in the order of `node_coordinates`.

    Arguments: matrix - whose parts between nodes that are no neighbours are zero and are not looked at.
    Source: own, picks entries.
    """
    at = node_coordinates(matrix.shape[-1] // 4)
    own = matrix[..., at[:, :, np.newaxis], at[:, np.newaxis, :]]
    return Chain(own, matrix[..., at[:-1, :, np.newaxis], at[1:, np.newaxis, :]])


@dataclass(frozen=True, eq=False)
class ChainFactors:
    """A chain made ready to be solved for any right-hand side.

    inverse - [..., 4, 4] for each node, of its block after elimination of the nodes before it; ahead -
    [..., 4, 4] for each node but the last, inverse times its block `next`.
    """

    inverse: tuple[Numbers, ...]
    ahead: tuple[Numbers, ...]


def factor_chain(chain: Chain) -> ChainFactors:
    """Eliminate from node to node. Arguments: chain - Chain, of conditions [...].

    Raises LinAlgError where an eliminated block is singular.
    Source: block LU factorisation, Golub and Van Loan, Matrix Computations, 3rd ed. (1996), section 4.5.
    """
    inverse: list[Numbers] = [np.linalg.inv(chain.own[..., 0, :, :])]
    ahead: list[Numbers] = []
    for node in range(chain.next.shape[-3]):
        across = chain.next[..., node, :, :]
        ahead.append(inverse[-1] @ across)
        inverse.append(
            np.linalg.inv(chain.own[..., node + 1, :, :] - np.swapaxes(across, -1, -2) @ ahead[-1])
        )
    return ChainFactors(tuple(inverse), tuple(ahead))


def solve_chain(factors: ChainFactors, right: Numbers) -> Numbers:
    """Solution [..., 4 N] of a chain's equations.

    Arguments: factors - of the chain; right - right-hand sides, [..., 4 N], in the order of
    `node_coordinates`; both broadcast over conditions. Source: as for `factor_chain`.
    """
    at = node_coordinates(len(factors.inverse))
    sides = [right[..., at[0], np.newaxis]]
    for node, ahead in enumerate(factors.ahead):
        # The chain is symmetric: next^T inverse = (inverse next)^T.
        sides.append(right[..., at[node + 1], np.newaxis] - np.swapaxes(ahead, -1, -2) @ sides[-1])
    found = [factors.inverse[-1] @ sides[-1]]
    for inverse, ahead, side in zip(factors.inverse[-2::-1], factors.ahead[::-1], sides[-2::-1], strict=True):
        found.append(inverse @ side - ahead @ found[-1])
    whole = np.stack(found[::-1], axis=-3)[..., 0]  # [..., N, 4]
    result = np.empty((*whole.shape[:-2], right.shape[-1]), dtype=whole.dtype)
    result[..., at] = whole
    return result
