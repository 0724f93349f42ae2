"""Through flow and descent."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    VORTEX_RING_RANGE,
    WINDMILL_RANGE,
    descent_state,
    ideal_induced_velocity,
    mean_induced_velocity,
    through_flow,
)

SPEED = st.floats(-50.0, 50.0)


@given(induced=SPEED, axial=SPEED, edge=st.floats(0.0, 50.0))
def test_the_stream_that_helps_carries_the_resultant_velocity(induced, axial, edge):
    flow = through_flow(induced, axial, edge)
    assert np.isfinite(flow)
    if induced * axial >= 0.0:
        assert flow == pytest.approx(np.hypot(edge, axial + induced))
    assert through_flow(-induced, -axial, edge) == flow  # upside down


def test_the_fit_meets_momentum_theory_at_both_ends():
    # |V| = v_h and 2 v_h: v/|V| = (1 + sqrt 5)/2 and 1/2, where momentum theory gives v M = v_h^2
    golden = 0.5 * (1.0 + np.sqrt(5.0))
    for share, hover in ((golden, 1.0), (0.5, 0.5)):
        fitted = 1.991 - 0.373 / hover**2
        assert fitted == pytest.approx(share, rel=3e-3)
        assert share * through_flow(share, -1.0) == pytest.approx(hover**2, rel=5e-3)
    for share in (0.1, 0.4, 1.7, 3.0):
        assert through_flow(share, -1.0) == pytest.approx(abs(share - 1.0))


def test_the_loading_of_a_descending_disc_grows_with_its_induced_velocity():
    share = np.linspace(0.01, 4.0, 2000)
    assert np.all(np.diff(share * through_flow(share, -1.0)) > -2e-3)


@given(share=st.floats(0.0, 3.0), edge=st.floats(0.0, 3.0))
def test_nothing_jumps(share, edge):
    step = 1e-7
    here, there = through_flow(share, -1.0, edge), through_flow(share + step, -1.0, edge + step)
    assert abs(there - here) < 1e-3


def test_strong_wind_across_the_axis_leaves_momentum_theory_alone():
    share = np.linspace(0.1, 3.0, 50)
    assert through_flow(share, -1.0, 2.5) == pytest.approx(np.hypot(2.5, share - 1.0))


@settings(max_examples=200)
@given(thrust=st.floats(-200.0, 200.0), axial=SPEED, edge=st.floats(0.0, 50.0))
def test_the_mean_induced_velocity_meets_its_thrust(thrust, axial, edge):
    v = mean_induced_velocity(thrust, axial, edge, 1.225, 0.35)
    loading = thrust / (2.0 * 1.225 * np.pi * 0.35**2)
    assert v * through_flow(v, axial, edge) == pytest.approx(loading, rel=1e-6, abs=1e-6)


def test_it_agrees_with_hover_and_climb_and_solves_glauerts_equation_in_wind():
    thrust, climb = 60.0, np.array([0.0, 3.0, 9.0])
    assert mean_induced_velocity(thrust, climb, 0.0, 1.2, 0.35) == pytest.approx(
        ideal_induced_velocity(thrust, climb, 1.2, 0.35)
    )
    # lambda = mu tan(i) + CT / (2 sqrt(mu^2 + lambda^2)), written for a tip speed of 100 m/s
    tip_speed, advance, tilt = 100.0, 0.15, 0.2
    axial = advance * np.tan(tilt) * tip_speed
    coefficient = thrust / (1.2 * np.pi * 0.35**2 * tip_speed**2)
    inflow = (axial + mean_induced_velocity(thrust, axial, 15.0, 1.2, 0.35)) / tip_speed
    by_glauert = advance * np.tan(tilt) + coefficient / (2.0 * np.hypot(advance, inflow))
    assert inflow == pytest.approx(by_glauert, rel=1e-12)


def test_the_states_of_descent_in_their_order():
    hover = np.sqrt(50.0 / (2.0 * 1.225 * np.pi * 0.35**2))
    down = hover * np.array([-0.5, 0.0, 0.3, 0.6, 1.4, 1.7, 2.3])
    state = descent_state(50.0, -down, 0.0, 1.225, 0.35)
    assert state.ratio == pytest.approx(down / hover)
    assert state.vortex_ring.tolist() == [False, False, False, True, True, False, False]
    assert state.turbulent_wake.tolist() == [False] * 5 + [True, False]
    told = state.breaches()
    assert VORTEX_RING_RANGE.consequence in told[0]
    assert WINDMILL_RANGE.consequence in told[1]
    assert not descent_state(50.0, -down[:3], 0.0, 1.225, 0.35).breaches()
    # thrust down the stream: climb is the descent
    assert descent_state(-50.0, down, 0.0, 1.225, 0.35).vortex_ring.sum() == 2
    # wind blows the ring away
    assert not descent_state(50.0, -down, 0.96 * hover, 1.225, 0.35).vortex_ring.any()


def test_a_rotor_without_thrust_is_in_no_such_state():
    state = descent_state(0.0, [-5.0, 0.0, 5.0], [0.0, 3.0, 3.0], 1.225, 0.35)
    assert not (state.vortex_ring | state.turbulent_wake).any()
    assert np.all(np.isfinite(state.ratio))
