"""What thrusts can give: the set against a linear programme, and how it must change with its rotors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from bladehold.aircraft import (
    attainable_index,
    attainable_reach,
    coaxial_frame,
    commanded,
    custom_frame,
    effectiveness,
    flat_frame,
    hover_thrusts,
    without_yaw,
)

RATIO = 0.025


def matrix_of(frame):
    return commanded(effectiveness(frame, RATIO))


FRAMES = {
    "quad": flat_frame(4, 0.5, 0.8),
    "hexa": flat_frame(6, 0.78, 0.5),
    "octo": flat_frame(8, 0.9, 0.4),
    "octo on four arms": coaxial_frame(4, 0.6, 0.8, 0.15),
    "canted": custom_frame(
        [(0.6, 0.5, 0.0), (0.6, -0.5, 0.0), (-0.6, -0.5, 0.0), (-0.6, 0.5, 0.0)],
        [1, -1, 1, -1],
        [0.1, 0.1, 0.1, 0.1],
        [0.5, -0.5, -2.5, 2.5],
    ),
}


def within(matrix, ceiling, wanted):
    """Whether any thrusts give it, by a linear programme of its own."""
    found = linprog(
        np.zeros(matrix.shape[-1]),
        A_eq=matrix,
        b_eq=wanted,
        bounds=[(0.0, top) for top in ceiling],
        method="highs",
    )
    return found.status == 0


@pytest.mark.parametrize("name", FRAMES)
@pytest.mark.parametrize("lost", [None, 0, 1])
def test_the_sign_tells_what_a_linear_programme_tells(name, lost):
    matrix, rng = matrix_of(FRAMES[name]), np.random.default_rng(7)
    ceiling = np.full(matrix.shape[-1], 40.0)
    if lost is not None:
        ceiling[lost] = 0.0
    scale = np.abs(matrix).sum(axis=-1) * 20.0
    for rows, factor in ((matrix, scale), (without_yaw(matrix), scale[:3])):
        inside = 0
        for _ in range(40):
            wanted = factor * rng.normal(size=len(rows)) * 0.3
            wanted[0] = rng.uniform(0.0, 2.0) * factor[0]
            index = attainable_index(rows, 0.0, ceiling, wanted)
            assert (index > 0.0) == within(rows, ceiling, wanted)
            inside += index > 0.0
        flat = lost is not None and len(rows) == matrix.shape[-1]  # three rotors fill no space of four
        assert inside == 0 if flat else 0 < inside < 40


@pytest.mark.parametrize("name", FRAMES)
def test_reach_ends_on_the_boundary(name):
    matrix, rng = matrix_of(FRAMES[name]), np.random.default_rng(3)
    ceiling = np.full(matrix.shape[-1], 40.0)
    start = np.array([0.45 * ceiling.sum() * np.abs(matrix[0]).max(), 0.0, 0.0, 0.0])
    ways = rng.normal(size=(12, 4))
    far = attainable_reach(matrix, 0.0, ceiling, start, ways)
    for length, way in zip(far, ways, strict=True):
        assert attainable_index(matrix, 0.0, ceiling, start + 0.999 * length * way) > 0.0
        assert attainable_index(matrix, 0.0, ceiling, start + 1.001 * length * way) < 0.0
    assert not attainable_reach(matrix, 0.0, ceiling, 10.0 * start, ways).any()


@pytest.mark.parametrize("name", ["quad", "hexa", "octo", "octo on four arms"])
def test_of_a_symmetric_layout_every_rotor_is_missed_alike(name):
    matrix = matrix_of(FRAMES[name])
    count = matrix.shape[-1]
    found = []
    for rotor in range(count):
        ceiling = np.full(count, 40.0)
        ceiling[rotor] = 0.0
        found.append(attainable_index(matrix, 0.0, ceiling, [0.5 * 40.0 * count, 0.0, 0.0, 0.0]))
    alike = np.array(found).reshape(2, -1) if name == "octo on four arms" else np.array([found])
    assert np.allclose(alike, alike[:, :1], atol=1e-9)


@given(grown=st.floats(1.0, 3.0), at=st.integers(0, 5), share=st.floats(0.1, 0.9))
def test_more_thrust_never_takes_and_the_unit_of_force_is_free(grown, at, share):
    matrix = matrix_of(FRAMES["hexa"])
    ceiling = np.full(6, 40.0)
    wanted = np.array([share * 240.0, 0.0, 0.0, 0.0])
    index = attainable_index(matrix, 0.0, ceiling, wanted)
    more = ceiling.copy()
    more[at] *= grown
    assert attainable_index(matrix, 0.0, more, wanted) >= index - 1e-9
    scaled = attainable_index(matrix, 0.0, grown * ceiling, grown * wanted)
    assert scaled == pytest.approx(grown * index, rel=1e-9)


@given(left=st.floats(0.0, 1.0), at=st.integers(0, 7))
def test_giving_up_yaw_never_takes(left, at):
    matrix = matrix_of(FRAMES["octo"])
    ceiling = np.full(8, 40.0)
    ceiling[at] *= left
    wanted = np.array([160.0, 0.0, 0.0, 0.0])
    free = attainable_index(without_yaw(matrix), 0.0, ceiling, wanted[:3])
    held = attainable_index(matrix, 0.0, ceiling, wanted)
    assert free > 0.0 or held <= 0.0


def test_thrusts_that_hold_hover_spare_the_hardest():
    matrix = matrix_of(FRAMES["octo"])
    ceiling = np.full(8, 40.0)
    ceiling[2] = 0.0
    found = hover_thrusts(matrix, ceiling, 150.0)
    assert matrix @ found.thrust == pytest.approx([150.0, 0.0, 0.0, 0.0], abs=1e-6)
    assert found.thrust[2] == 0.0
    assert found.share == pytest.approx(found.thrust.max() / 40.0)
    assert (attainable_index(matrix, 0.0, found.share * 1.001 * ceiling, [150.0, 0, 0, 0])) > 0.0
    assert (attainable_index(matrix, 0.0, found.share * 0.999 * ceiling, [150.0, 0, 0, 0])) < 0.0


def test_a_quad_without_a_rotor_hovers_by_no_thrusts_unless_it_spins():
    matrix = matrix_of(FRAMES["quad"])
    ceiling = np.array([0.0, 40.0, 40.0, 40.0])
    assert hover_thrusts(matrix, ceiling, 50.0) is None
    spinning = hover_thrusts(without_yaw(matrix), ceiling, 50.0)
    assert spinning.thrust == pytest.approx([0.0, 25.0, 0.0, 25.0], abs=1e-6)
    assert hover_thrusts(matrix, np.zeros(4), 50.0) is None
    assert hover_thrusts(matrix, np.full(4, 10.0), 50.0).share == pytest.approx(1.25)


def test_flat_sets_have_no_inside():
    line = np.array([[1.0, 1.0], [1.0, 1.0]])
    assert attainable_index(line, 0.0, 1.0, [1.0, 1.0]) == 0.0
    assert attainable_index(line, 0.0, 1.0, [1.0, 2.0]) == pytest.approx(-np.sqrt(0.5))
    assert attainable_index(line, 0.0, 1.0, [3.0, 3.0]) == pytest.approx(-np.sqrt(2.0))
    assert attainable_index(line, 0.0, 0.0, [0.0, 0.0]) == 0.0
    assert attainable_index(line, 0.0, 0.0, [0.0, 2.0]) == pytest.approx(-2.0)


def test_ceilings_below_the_floor_are_refused():
    with pytest.raises(ValueError, match="least thrust"):
        attainable_index(np.eye(2), 2.0, 1.0, [0.0, 0.0])
