"""A sharp-edged gust: inflow held, against plain sums over elements, slopes, and the quasi-steady rotor."""

import numpy as np
import pytest
from _rotors import AIR, PLATE, measured
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    AnalyticPolar,
    round_the_turn,
    section_polar,
    sharp_gust,
    solve_axial,
    solve_tilted,
    span_weights,
    taken,
)

BLADE = measured()
POLAR = section_polar("clark-y")


def hover(speed=400.0, polar=POLAR):
    return solve_axial(BLADE, 2, speed, 0.0, polar=polar, **AIR)


def fast(speed=400.0, polar=POLAR):
    return solve_tilted(BLADE, 2, speed, 2.0, 14.0, azimuths=12, polar=polar, **AIR)


@pytest.mark.parametrize("solution", [hover(), fast()])
def test_no_gust_changes_nothing(solution):
    same = sharp_gust(solution, 0.0, POLAR)
    for name in ("thrust", "torque", "normal_load", "tangential_load", "alpha", "axial_velocity"):
        assert getattr(same, name) == pytest.approx(getattr(solution, name), rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("gust", [-6.0, 3.0, 9.144])
def test_the_loads_are_those_of_plain_elements_in_the_old_inflow(gust):
    old = hover()
    new = sharp_gust(old, gust, POLAR)
    total = 0.0
    for at, r in enumerate(BLADE.r):
        along = 400.0 * r - old.swirl_velocity[at]
        through = old.induced_velocity[at] - gust
        phi = np.arctan2(through, along)
        one = POLAR.at(old.reynolds[at : at + 1], old.mach[at : at + 1])
        lift, drag = (float(value[0]) for value in one(np.array([BLADE.twist[at] - phi])))
        square = along**2 + through**2
        normal = 0.5 * 1.225 * BLADE.chord[at] * square * (lift * np.cos(phi) - drag * np.sin(phi))
        assert new.normal_load[at] == pytest.approx(normal, rel=2e-3)
        total += 2 * span_weights(BLADE)[at] * normal
    assert new.thrust == pytest.approx(total, rel=1e-3)


def test_the_slope_of_a_thin_section_is_the_closed_form():
    """dT/dw = B rho/2 a sum(c Omega r dr) for small angles of a section of slope a without drag."""
    slope = 5.7
    thin = AnalyticPolar(cl=lambda a: slope * a, cd=lambda a: 0.0 * a)
    old = solve_axial(BLADE, 2, 400.0, 0.0, polar=thin, **AIR)
    step = 1e-3
    ours = float(sharp_gust(old, step, thin).thrust - sharp_gust(old, -step, thin).thrust) / (2 * step)
    along = 400.0 * BLADE.r - old.swirl_velocity
    plain = 2 * 0.5 * 1.225 * slope * float(np.sum(span_weights(BLADE) * BLADE.chord * along))
    assert ours == pytest.approx(plain, rel=0.03)  # second order in the inflow angle, at the root 0.2 rad


@settings(deadline=None, max_examples=20)
@given(st.floats(300.0, 500.0), st.floats(0.5, 4.0))
def test_a_gust_from_below_lifts_at_once_more_than_in_the_end(speed, gust):
    old = solve_axial(BLADE, 2, speed, 3.0, polar=PLATE, **AIR)
    new = sharp_gust(old, gust, PLATE)
    settled = solve_axial(BLADE, 2, speed, 3.0 - gust, polar=PLATE, **AIR)
    assert new.thrust > settled.thrust > old.thrust > sharp_gust(old, -gust, PLATE).thrust


def test_in_wind_the_sums_at_the_hub_follow():
    old, new = fast(), sharp_gust(fast(), 5.0, POLAR)
    assert new.thrust > old.thrust
    assert new.thrust == pytest.approx(2 * float((new.normal_load @ span_weights(BLADE)).mean()))
    assert new.pitching_moment != old.pitching_moment and new.power == pytest.approx(
        float(new.torque) * 400.0
    )


def turned(speed=400.0, azimuths=12):
    """The hovering rotor with azimuths."""
    return solve_tilted(BLADE, 2, speed, 0.0, 0.0, azimuths=azimuths, polar=POLAR, **AIR)


@pytest.mark.parametrize(("old", "u", "w"), [(turned(), 9.144, 0.0), (fast(), 6.0, -2.0)])
def test_a_gust_along_the_disc_is_that_of_plain_elements(old, u, w):
    new = sharp_gust(old, w, POLAR, u)
    for place, psi in enumerate(old.azimuth):
        for at in (20, -5):
            before = 400.0 * BLADE.r[at] - old.swirl_velocity[at] + old.edge_velocity * np.sin(psi)
            phi = BLADE.twist[at] - old.alpha[place, at]
            along, through = before + u * np.sin(psi), before * np.tan(phi) - w
            one = POLAR.at(*(value[place, at : at + 1] for value in (old.reynolds, old.mach)))

            def normal(along, through, one=one, at=at):
                angle = np.arctan2(through, along)
                lift, drag = (float(value[0]) for value in one(np.array([BLADE.twist[at] - angle])))
                force = 0.5 * 1.225 * BLADE.chord[at] * (along**2 + through**2)
                return force * (lift * np.cos(angle) - drag * np.sin(angle))

            change = normal(along, through) - normal(before, before * np.tan(phi))
            assert new.normal_load[place, at] - old.normal_load[place, at] == pytest.approx(
                change, rel=1e-6, abs=1e-9
            )


def test_a_level_gust_in_hover_is_felt_once_per_turn_and_hardly_on_the_mean():
    old, new = turned(), sharp_gust(turned(), 0.0, POLAR, 9.144)
    root = new.normal_load @ span_weights(BLADE)
    assert np.argmax(root) in (2, 3, 4)  # where the blade goes against the wind
    assert 1.0 < new.thrust / old.thrust < 1.1
    assert new.edge_velocity == pytest.approx(9.144)


def test_a_hovering_rotor_round_the_turn_is_the_same_rotor():
    flat, turning = hover(), round_the_turn(hover(), 12)
    assert turning.thrust == pytest.approx(float(flat.thrust)) and turning.azimuth.size == 12
    assert turning.torque == pytest.approx(float(flat.torque))
    assert abs(float(turning.pitching_moment)) < 1e-9 * float(flat.thrust)
    up = sharp_gust(flat, 5.0, POLAR).normal_load
    assert sharp_gust(turning, 5.0, POLAR).normal_load == pytest.approx(np.tile(up, (12, 1)))
    solved = sharp_gust(turned(), 0.0, POLAR, 9.144).normal_load
    assert sharp_gust(turning, 0.0, POLAR, 9.144).normal_load == pytest.approx(solved, rel=1e-3, abs=0.05)
    with pytest.raises(ValueError, match="azimuths"):
        round_the_turn(flat, 1)


def test_a_gust_along_the_disc_needs_azimuths():
    with pytest.raises(ValueError, match="azimuths"):
        sharp_gust(hover(), 0.0, POLAR, 1.0)


def test_a_hard_gust_is_told():
    assert not any("gust over" in text for text in sharp_gust(hover(), 9.0, POLAR).breaches)
    told = sharp_gust(hover(200.0), -9.0, POLAR).breaches
    assert any(text.startswith("gust over blade speed") for text in told)


def test_some_conditions_are_taken_whole():
    both = solve_axial(BLADE, 2, [300.0, 400.0, 500.0], 0.0, polar=POLAR, **AIR)
    some = taken(both, np.array([2, 0]), 0)
    assert some.rotation_speed.tolist() == [500.0, 300.0]
    assert some.normal_load.shape == (2, BLADE.r.size) and some.geometry is BLADE
    rows = taken(solve_axial(BLADE, 2, [[300.0, 400.0]] * 3, 0.0, polar=POLAR, **AIR), np.array([1]), 1)
    assert rows.thrust.shape == (3, 1)
