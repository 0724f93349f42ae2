"""Campbell diagram: crossings found where closed forms put them, warnings only where due."""

import numpy as np
import pytest

from bladehold.blade import BladeModes, beam_matrices, blade_modes, campbell_diagram

SPEEDS = np.linspace(0.0, 500.0, 101)


def modes_of(*laws, share=1.0):
    """Modes with frequencies (rad/s) given as functions of speed."""
    frequency = np.stack([law(SPEEDS) for law in laws], axis=-1) / (2 * np.pi)
    none = np.zeros((SPEEDS.size, len(laws), 2))
    return BladeModes(SPEEDS, frequency, np.array([0.0, 1.0]), none, none, np.full(frequency.shape, share))


def southwell(standing, rise):
    """Southwell: omega^2 = standing^2 + rise Omega^2."""
    return lambda speed: np.sqrt(standing**2 + rise * speed**2)


def test_crossings_are_where_southwell_puts_them():
    found = campbell_diagram(modes_of(southwell(400.0, 1.2)), 2, (290.0, 350.0))
    assert list(found.orders) == [1, 2, 3, 4]
    wanted = {k: 400.0 / np.sqrt(k**2 - 1.2) for k in (2, 3, 4)}  # 1 per turn is never met
    assert {one.order for one in found.crossings} == set(wanted)
    for one in found.crossings:
        assert one.speed == pytest.approx(wanted[one.order], rel=1e-4)
        assert one.frequency == pytest.approx(one.order * one.speed / (2 * np.pi), rel=1e-9)
        assert one.flap and one.mode == 1 and not one.inside
    by_order = {one.order: one for one in found.crossings}
    assert by_order[3].distance == pytest.approx(wanted[3] / 290.0 - 1, abs=1e-4)
    assert by_order[2].speed < 290.0 and by_order[2].distance < 0.0
    assert found.order_frequency[-1, 2] == pytest.approx(3 * 500.0 / (2 * np.pi))


def test_a_crossing_inside_is_warned_of_once():
    found = campbell_diagram(modes_of(southwell(500.0, 1.0), share=0.1), 2, (250.0, 350.0))
    (inside,) = [one for one in found.crossings if one.inside]
    assert inside.order == 2 and inside.distance == 0.0
    assert inside.speed == pytest.approx(500.0 / np.sqrt(3.0), rel=1e-4)
    assert found.approaches == ()
    (text,) = found.warnings()
    assert "mode 1 (lag" in text and "meets 2 per turn at 2757 rpm" in text


@pytest.mark.parametrize(("margin", "count"), [(0.05, 0), (0.10, 1)])
def test_an_approach_is_kept_within_the_margin_only(margin, count):
    law = lambda speed: 3.0 * 300.0 * 1.08 + 0.0 * speed  # noqa: E731
    found = campbell_diagram(modes_of(law), 2, (200.0, 300.0), margin)
    near = [one for one in found.approaches if one.order == 3]
    assert len(near) == count
    for one in near:
        assert one.gap == pytest.approx(0.08, rel=1e-9) and one.speed == 300.0
        assert any("within 8.0 % of 3 per turn" in text for text in found.warnings())


def test_a_hinged_mode_meets_nothing_at_rest():
    found = campbell_diagram(modes_of(lambda speed: 0.4 * speed), 2, (200.0, 300.0))
    assert found.crossings == () and found.approaches == ()


def test_beam_and_diagram_together(uniform_beam):
    beam = uniform_beam(length=0.3, line_mass=0.15, flat=3.0, edge=120.0, angle=0.2, pivot_radius=0.03)
    modes = blade_modes(beam_matrices(beam), np.linspace(0.0, 600.0, 61))
    found = campbell_diagram(modes, 2, (200.0, 500.0))
    assert found.crossings
    for one in found.crossings:
        exact = blade_modes(beam_matrices(beam), one.speed).frequency[one.mode - 1]
        assert one.frequency == pytest.approx(float(exact), rel=1e-3)


@pytest.mark.parametrize("running", [(0.0, 100.0), (300.0, 200.0), (100.0, 600.0)])
def test_a_running_range_beyond_the_speeds_is_refused(running):
    with pytest.raises(ValueError, match="must lie in the speeds of the modes"):
        campbell_diagram(modes_of(southwell(400.0, 1.2)), 2, running)


def test_one_speed_is_no_diagram(uniform_beam):
    modes = blade_modes(beam_matrices(uniform_beam()), 10.0)
    with pytest.raises(ValueError, match="two or more increasing speeds"):
        campbell_diagram(modes, 2, (5.0, 10.0))


def test_a_hinge_at_rest_meets_no_order_by_rounding():
    modes = modes_of(southwell(1e-6, 0.2), southwell(4000.0, 1.2))
    assert 0.0 < modes.frequency[0, 0] < 1e-6
    assert not [one for one in campbell_diagram(modes, 2, (290.0, 350.0)).crossings if one.mode == 1]
