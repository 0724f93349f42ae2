"""Block elimination against a general solver."""

import numpy as np
import pytest

from bladehold.blade.chain import chain_of, factor_chain, node_coordinates, solve_chain

RNG = np.random.default_rng(7)


def chain_matrix(nodes, conditions):
    """A symmetric complex matrix whose nodes know their neighbours only."""
    size = 4 * nodes
    full = RNG.normal(size=(*conditions, size, size)) + 1j * RNG.normal(size=(*conditions, size, size))
    full = full + np.swapaxes(full, -1, -2) + 20.0 * np.eye(size)
    node = np.empty(size, dtype=int)
    node[node_coordinates(nodes)] = np.arange(nodes)[:, np.newaxis]
    return np.where(np.abs(node[:, np.newaxis] - node) <= 1, full, 0.0)


@pytest.mark.parametrize(("nodes", "conditions"), [(2, ()), (5, (3,)), (7, (2, 3))])
def test_solution_of_a_chain(nodes, conditions):
    matrix = chain_matrix(nodes, conditions)
    right = RNG.normal(size=(*conditions, 4 * nodes))
    found = solve_chain(factor_chain(chain_of(matrix)), right)
    wanted = np.linalg.solve(matrix, right[..., np.newaxis])[..., 0]
    assert np.abs(found - wanted).max() < 1e-10 * np.abs(wanted).max()


def test_one_matrix_serves_many_right_hand_sides():
    matrix, right = chain_matrix(4, ()), RNG.normal(size=(5, 3, 16))
    found = solve_chain(factor_chain(chain_of(matrix)), right)
    assert found.shape == (5, 3, 16)
    assert np.abs(found @ matrix.T - right).max() < 1e-10
