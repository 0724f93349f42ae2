"""The rotor with wind across its axis."""

import numpy as np
import pytest
from _rotors import AIR, PLATE, measured, wild_blades
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    DREES,
    SKEW_MODELS,
    UNIFORM,
    AnalyticPolar,
    LossModel,
    mean_induced_velocity,
    prandtl_loss,
    solve_axial,
    solve_tilted,
    span_weights,
    through_flow,
)
from bladehold.rotor.azimuth import State, Turn, bracketed
from bladehold.rotor.slices import AnalyticSlice

FLIGHT = {
    "speed": st.floats(150.0, 450.0),
    "axial": st.floats(-1.0, 10.0),
    "edge": st.floats(0.0, 25.0),
    "pitch": st.floats(0.15, 0.3),
}
BOTH = LossModel()
THIN = AnalyticPolar(cl=lambda a: np.pi * np.sin(2 * a), cd=lambda a: 0.0 * a + 0.012)
SIZES = st.just(0.0) | st.floats(0.01, 200.0)


def loss_factor(found, losses=BOTH):
    """Prandtl's loss factor [S] of the annuli of one condition."""
    blade, none = found.geometry, np.full(found.geometry.r.shape, np.inf)
    through = found.axial_velocity + found.induced_velocity
    sine = np.abs(through) / np.maximum(
        np.hypot(through, found.rotation_speed * blade.r - found.swirl_velocity), 1e-12
    )
    tip = 0.5 * found.blades * (blade.radius - blade.r) / blade.r if losses.tip else none
    lossy_hub = losses.hub and blade.hub_radius > 1e-12
    hub = 0.5 * found.blades * (blade.r - blade.hub_radius) / blade.hub_radius if lossy_hub else none
    return prandtl_loss(sine, tip, hub)


def local_velocity(found):
    """Induced velocity (m/s) [A, S] where the blade stands."""
    x, psi = found.geometry.r / found.geometry.radius, found.azimuth[:, None]
    uneven = found.skew_cosine * np.cos(psi) + found.skew_sine * np.sin(psi)
    return found.induced_velocity * (1.0 + loss_factor(found) * x * uneven)


@settings(max_examples=100, deadline=None)
@given(
    blade=wild_blades(),
    blades=st.integers(1, 8),
    speed=st.just(0.0) | st.floats(0.01, 2000.0),
    axial=SIZES | st.floats(-200.0, -0.01),
    edge=SIZES,
    density=st.floats(1e-3, 10.0),
    losses=st.builds(LossModel, st.booleans(), st.booleans()),
    skew=st.sampled_from(SKEW_MODELS),
    azimuths=st.integers(6, 13),
)
def test_no_input_gives_a_hole_in_the_result(
    blade, blades, speed, axial, edge, density, losses, skew, azimuths
):
    air = AIR | {"density": density}
    choice = {"losses": losses, "skew": skew, "azimuths": azimuths}
    found = solve_tilted(blade, blades, speed, axial, edge, **choice, **air)
    for name, value in vars(found).items():
        if isinstance(value, np.ndarray):
            assert np.all(np.isfinite(value)), name
    assert found.unbalanced.any() == any("could not be balanced" in told for told in found.breaches)
    # the mean over the turn of a balanced annulus obeys both momentum equations
    mass = 4.0 * np.pi * density * blade.r * loss_factor(found, losses)
    flow = mass * through_flow(found.induced_velocity, axial, edge)
    square = np.square(speed * blade.r) + axial**2 + edge**2
    scale = 0.5 * blades * density * blade.chord * np.maximum(square, 1e-12)
    state = ~found.unbalanced
    for load, velocity in (
        (found.normal_load, found.induced_velocity),
        (found.tangential_load, found.swirl_velocity),
    ):
        excess = (blades * load.mean(axis=0) - flow * velocity) / scale
        assert np.abs(excess[state]).max(initial=0.0) < 1.01e-7


@settings(max_examples=30, deadline=None)
@given(speed=st.floats(150.0, 500.0), axial=st.floats(-12.0, 15.0), pitch=st.floats(0.1, 0.4))
def test_without_wind_across_the_axis_it_is_the_axial_rotor(speed, axial, pitch):
    blade = measured(pitch=pitch)
    straight = solve_axial(blade, 2, speed, axial, **AIR)
    still, breeze = (solve_tilted(blade, 2, speed, axial, e, azimuths=12, **AIR) for e in (0.0, 1e-5))
    same = ~straight.unbracketed
    # the balances hold to 1e-8 of sigma cl there and to 1e-7 of cl here
    solidity = 2 * blade.chord / (2.0 * np.pi * blade.r)
    pressure = 0.5 * AIR["density"] * (np.square(speed * blade.r) + axial**2)
    tolerance = 3.0 * pressure * blade.chord * (1e-8 / solidity + 1e-7)
    for name in ("normal_load", "tangential_load"):
        load = getattr(straight, name)
        assert np.all((np.abs(getattr(still, name) - load) < tolerance)[:, same])
        assert np.all((np.abs(getattr(breeze, name).mean(axis=0) - load) < tolerance)[same])
    for tilted in (still, breeze):
        if same.all():
            assert tilted.thrust == pytest.approx(straight.thrust, rel=3e-6, abs=1e-5)
            assert tilted.torque == pytest.approx(straight.torque, rel=3e-6, abs=1e-6)
        for name in ("drag_force", "side_force", "pitching_moment", "rolling_moment"):
            assert abs(getattr(tilted, name)) < 1e-5 * max(abs(straight.thrust), 1.0)


@settings(max_examples=30, deadline=None)
@given(skew=st.sampled_from(SKEW_MODELS), **FLIGHT)
def test_energy_is_kept(skew, speed, axial, edge, pitch):
    # power and towing power go into lifting, induced velocity, swirl and section drag
    blade = measured(pitch=pitch)
    found = solve_tilted(blade, 3, speed, axial, edge, polar=PLATE, skew=skew, **AIR)
    weights = span_weights(blade)
    psi = found.azimuth[:, None]
    along = axial + local_velocity(found)
    across = speed * blade.r - found.swirl_velocity + edge * np.sin(psi)
    relative = np.hypot(along, across)
    drag = 0.5 * AIR["density"] * blade.chord * relative**3 * PLATE.cd(found.alpha)
    spent = found.normal_load * local_velocity(found) + found.tangential_load * found.swirl_velocity + drag
    total = found.thrust * axial + 3 * (spent @ weights).mean(axis=-1)
    assert found.power + found.drag_force * edge == pytest.approx(total, rel=1e-9, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(speed=FLIGHT["speed"], axial=st.floats(0.0, 10.0), edge=FLIGHT["edge"], pitch=FLIGHT["pitch"])
def test_power_is_at_least_that_of_the_ideal_disc(speed, axial, edge, pitch):
    blade = measured(pitch=pitch)
    found = solve_tilted(blade, 2, speed, axial, edge, skew=UNIFORM, **AIR)
    if found.thrust > 0.0 and not found.unbalanced.any():
        ideal = axial + mean_induced_velocity(found.thrust, axial, edge, AIR["density"], blade.radius)
        assert found.power + found.drag_force * edge >= found.thrust * ideal


@settings(max_examples=20, deadline=None)
@given(factor=st.floats(0.1, 3.0), **FLIGHT)
def test_loads_grow_with_density_when_the_section_does_not_depend_on_it(factor, speed, axial, edge, pitch):
    blade = measured(pitch=pitch)
    one = solve_tilted(blade, 2, speed, axial, edge, polar=PLATE, azimuths=12, **AIR)
    air = AIR | {"density": factor * AIR["density"]}
    other = solve_tilted(blade, 2, speed, axial, edge, polar=PLATE, azimuths=12, **air)
    for name in ("thrust", "torque", "drag_force", "side_force", "pitching_moment", "rolling_moment"):
        here, there = getattr(one, name), getattr(other, name)
        assert there == pytest.approx(factor * here, rel=1e-5, abs=1e-6 * factor)


def test_turning_the_other_way_is_the_mirror_image():
    one, other = (solve_tilted(measured(), 2, 300.0, 1.0, [0.0, 8.0, 16.0], spin=s, **AIR) for s in (1, -1))
    for name in ("thrust", "torque", "drag_force", "pitching_moment", "normal_load"):
        assert getattr(one, name) == pytest.approx(getattr(other, name))
    for name in ("side_force", "rolling_moment"):
        assert getattr(one, name) == pytest.approx(-getattr(other, name))
        assert np.all(np.abs(getattr(one, name)[1:]) > 0.05)


def test_what_wind_across_the_axis_does():
    edge = np.linspace(0.0, 24.0, 7)
    found = solve_tilted(measured(), 2, 300.0, 0.0, edge, **AIR)
    assert np.all(np.diff(found.thrust) > 0.0)  # more air to work on
    assert np.all(np.diff(found.induced_velocity[:, 15]) < 0.0)
    assert np.all(np.diff(found.drag_force) > 0.0)
    assert np.all(found.rolling_moment[1:] < 0.0)  # the advancing right side lifts more
    assert np.all(found.pitching_moment[1:] > 0.0)  # less inflow at the front
    assert np.all(np.diff(found.reverse_share) >= 0.0)
    assert found.reverse_share[-1] > 0.0
    assert found.advance_ratio == pytest.approx(edge / (300.0 * 0.3556))
    assert found.tip_mach[-1] == pytest.approx((300.0 * 0.3556 + 24.0) / 340.3)
    level = solve_tilted(measured(), 2, 300.0, [0.0, 2.0, 4.0], 15.0, **AIR)
    assert np.all(np.diff(level.thrust) < 0.0)  # nose down, the stream comes from above


def test_the_laws_of_uneven_inflow_order_the_pitching_moments():
    found = [solve_tilted(measured(), 2, 300.0, 0.0, 12.0, skew=model, **AIR) for model in SKEW_MODELS]
    slopes = np.array([float(solution.skew_cosine) for solution in found])
    nose_up = np.array([float(solution.pitching_moment) for solution in found])
    assert np.all(np.diff(nose_up[np.argsort(slopes)]) > 0.0)
    assert slopes[-1] == 0.0
    assert nose_up[-1] == pytest.approx(0.0, abs=0.02)


def test_the_reverse_flow_region_is_the_circle_of_the_books():
    # u_T < 0 where r < -mu R sin(psi): a circle of diameter mu R, its area mu^2 / 4 of the disc's
    blade = measured(hub_radius=0.0)
    found = solve_tilted(blade, 2, 200.0, 0.0, 0.34 * 200.0 * blade.radius, azimuths=72, skew=UNIFORM, **AIR)
    assert found.reverse_share == pytest.approx(0.34**2 / 4.0, rel=0.1)
    assert found.reverse_flow.any(axis=-1)[found.azimuth < np.pi - 0.1].sum() == 0
    assert found.reverse_flow.any(axis=-1)[np.abs(found.azimuth - 1.5 * np.pi) < 1.0].all()


def test_the_stalled_share_counts_retreating_elements_beyond_the_greatest_lift():
    peak = np.radians(12.0)
    tent = AnalyticPolar(cl=lambda a: 1.2 - 4.0 * np.abs(a - peak), cd=lambda a: 0.0 * a + 0.02)
    found = solve_tilted(measured(pitch=0.4), 2, 250.0, 0.0, [0.0, 12.0, 24.0], polar=tent, **AIR)
    retreating = np.sin(found.azimuth) < -1e-9
    beyond = (found.alpha > peak) & ~found.reverse_flow
    weights = span_weights(found.geometry)
    share = beyond[:, retreating].mean(axis=1) @ weights / weights.sum()
    assert found.stalled_share == pytest.approx(share)
    assert 0.0 < share[0] < 1.0
    descending = solve_tilted(measured(), 2, 250.0, [4.0, 0.0, -4.0], 20.0, **AIR)
    assert np.all(np.diff(descending.stalled_share) > 0.0)


def test_ranges_left_are_told():
    fast = solve_tilted(measured(), 2, 150.0, 0.0, 25.0, **AIR)
    assert any("advance ratio" in told for told in fast.breaches)
    ring = solve_tilted(measured(), 2, 300.0, [-4.0, -4.0], [0.0, 15.0], **AIR)
    assert ring.vortex_ring.tolist() == [True, False]
    assert any("vortex-ring" in told for told in ring.breaches)
    assert ring.turbulent[0].any()
    assert not ring.turbulent[1].any()
    still = solve_tilted(measured(), 2, 0.0, 0.0, 10.0, **AIR)
    assert np.isfinite(still.thrust)
    assert any("advance ratio" in told for told in still.breaches)
    assert solve_tilted(measured(), 2, 300.0, 1.0, 12.0, **AIR).breaches == ()


def test_conditions_broadcast_and_agree_with_single_ones():
    blade = measured()
    speed, edge = np.array([[200.0], [400.0]]), np.linspace(0.0, 20.0, 9)
    together = solve_tilted(blade, 3, speed, 1.0, edge, **AIR)
    assert together.normal_load.shape == (2, 9, 36, blade.r.size)
    assert together.thrust.shape == (2, 9)
    single = solve_tilted(blade, 3, 400.0, 1.0, 12.5, **AIR)
    assert single.normal_load.shape == (36, blade.r.size)
    assert together.thrust[1, 5] == pytest.approx(single.thrust, rel=1e-6)
    assert together.rolling_moment[1, 5] == pytest.approx(single.rolling_moment, rel=1e-5)


def test_a_neighbouring_solution_changes_nothing_but_the_time():
    blade, edge = measured(), np.array([2.0, 8.0, 16.0])
    start = solve_tilted(blade, 2, 280.0, 0.0, edge, azimuths=12, **AIR)
    fresh = solve_tilted(blade, 2, 300.0, 0.5, edge, **AIR)
    followed = solve_tilted(blade, 2, 300.0, 0.5, edge, near=start, **AIR)
    assert followed.thrust == pytest.approx(fresh.thrust, rel=1e-6)
    with pytest.raises(ValueError, match="near"):
        solve_tilted(blade, 2, 300.0, 0.0, 8.0, near=start, **AIR)


def test_the_load_fades_at_the_tip_all_round_the_turn():
    # the swing must die with the mean: else the load of the last station would turn negative half the time
    found = solve_tilted(measured(), 2, 300.0, [2.0, 0.0], [15.0, 30.0], **AIR)
    mean = found.normal_load.mean(axis=1)
    swing = np.ptp(found.normal_load, axis=1) / mean
    outer = found.geometry.r > 0.85 * found.geometry.radius
    assert np.all(found.normal_load[:, :, outer] > 0.0)
    assert np.all(np.diff(mean[:, outer], axis=1) < 0.0)
    assert np.all(np.diff(swing[:, outer], axis=1) < 0.0)
    assert np.all(mean[:, -1] < 0.4 * mean[:, -5])


def own_part_followed(found, losses, place):
    """Loads (N/m) [A] of a station, the blade's own part of v solved with its lift at every azimuth."""
    blade, k, air = found.geometry, place, AIR["density"]
    loss, v = loss_factor(found, losses)[k], found.induced_velocity[k]
    blade_speed, psi = found.rotation_speed * blade.r[k] - found.swirl_velocity[k], found.azimuth
    flow = 4.0 * loss * through_flow(v, found.axial_velocity, found.edge_velocity)
    flow = flow * 2.0 * np.pi * blade.r[k] / (found.blades * blade.chord[k])
    across = blade_speed + found.edge_velocity * np.sin(psi)
    uneven = found.skew_cosine * np.cos(psi) + found.skew_sine * np.sin(psi)
    steady = found.axial_velocity + loss * v * (1.0 + blade.r[k] / blade.radius * uneven)
    speed = np.hypot(found.axial_velocity + v, blade_speed)

    def element(own):
        along = steady + (1.0 - loss) * own
        alpha = blade.twist[k] - np.arctan2(along, across)
        return np.hypot(along, across), along, THIN.cl(alpha), THIN.cd(alpha)

    low, high = np.full(psi.shape, -60.0), np.full(psi.shape, 60.0)
    for _ in range(60):  # halved: lift falls as the own part grows
        own = 0.5 * (low + high)
        relative, _, cl, _ = element(own)
        short = flow * own < relative * cl * speed
        low, high = np.where(short, own, low), np.where(short, high, own)
    relative, along, cl, cd = element(0.5 * (low + high))
    return 0.5 * air * blade.chord[k] * relative * (cl * across - cd * along)


@pytest.mark.parametrize("edge", [1.0, 5.0, 15.0, 30.0])
def test_near_the_tip_the_linear_treatment_is_that_of_a_velocity_that_follows_the_lift(edge):
    losses = LossModel(hub=False)
    found = solve_tilted(measured(), 2, 300.0, 2.0, edge, polar=THIN, losses=losses, **AIR)
    for place in (22, 25, 28, 29):
        exact = own_part_followed(found, losses, place)
        miss = found.normal_load[:, place] - exact
        assert np.ptp(miss) < 0.015 * np.ptp(exact)


def test_a_rotor_that_hardly_turns_in_a_fast_stream_stays_within_what_the_stream_can_do():
    # the slope of the uneven inflow would have no bound with mu in units of the tip speed
    blade, edge = measured(), np.array([1e-6, 1e-3, 0.1, 1.0, 10.0])
    for speed in (0.0, 1e-3, 1.0):
        found = solve_tilted(blade, 2, speed, 30.0, edge, azimuths=12, **AIR)
        pressure = 0.5 * 1.225 * (30.0**2 + (edge[:, None, None] + speed * blade.r) ** 2)
        assert np.all(np.abs(found.normal_load) < 2.5 * pressure * blade.chord)
        assert np.all(np.abs(found.skew_cosine) < 1.5)
    still = solve_tilted(blade, 2, 0.0, 30.0, 1e-6, azimuths=12, **AIR)
    assert np.ptp(still.normal_load, axis=0) == pytest.approx(np.zeros(blade.r.size), abs=1e-4)


def test_an_annulus_that_runs_away_is_taken_without_induction():
    # lift that jumps, and a swirl to start from that lies many times the stream's speed away
    psi, one, far = np.arange(6.0)[:, None] * np.pi / 3.0, np.ones(2), np.full(2, np.inf)
    jump = AnalyticSlice(cl=lambda a: np.where(a > 0.05, 1.0, -1.0), cd=lambda a: 0.0 * a + 0.01)
    turn = Turn(
        solidity=0.1 * one,
        twist=0.1 * one,
        tip=far,
        hub=far,
        x=0.75 * one,
        blade_speed=10.0 * one,
        axial=0.0 * one,
        edge=2.0 * one,
        cosine=np.cos(psi),
        sine=np.sin(psi),
        section=jump,
        skew=lambda induced, loss: (0.0 * one, 0.0 * one),
    )
    state, loads = bracketed(turn, State(0.0 * one, np.array([0.0, 200.0]), ()))
    assert loads.worst[1] > 1e-3
    assert state.induced[1] == state.swirl[1] == 0.0
    assert np.all(np.abs(state.induced) < turn.speed)
    assert np.all(np.abs(loads.normal) < 2.0 * turn.speed * np.hypot(12.0, 2.0))


def test_more_azimuths_change_little():
    few, many = (solve_tilted(measured(), 2, 300.0, 0.0, 15.0, azimuths=n, **AIR) for n in (12, 144))
    default = solve_tilted(measured(), 2, 300.0, 0.0, 15.0, **AIR)
    assert few.thrust == pytest.approx(many.thrust, rel=2e-3)
    assert default.thrust == pytest.approx(many.thrust, rel=2e-4)
    assert default.rolling_moment == pytest.approx(many.rolling_moment, rel=2e-3)


def test_inflow_can_be_prescribed():
    blade = measured()
    found = solve_tilted(blade, 2, 300.0, 2.0, 10.0, inflow_ratio=0.05, **AIR)
    assert found.induced_velocity == pytest.approx(np.full(blade.r.shape, 0.05 * 300.0 * blade.radius - 2.0))
    assert np.all(found.swirl_velocity == 0.0)
    assert found.skew_cosine == found.skew_sine == 0.0
    assert not found.unbalanced.any()


def test_a_section_that_jumps_is_flagged_or_balanced():
    # lift changes its sign at once: balance may lie inside the jump, where no root finder gets it
    jump = AnalyticPolar(cl=lambda a: np.where(a > 0.05, 1.0, -1.0), cd=lambda a: 0.0 * a + 0.01)
    found = solve_tilted(measured(), 2, 300.0, 0.0, [0.0, 5.0], polar=jump, azimuths=8, **AIR)
    assert np.all(np.isfinite(found.normal_load))
    assert found.unbalanced.any()
    assert any("could not be balanced" in told for told in found.breaches)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"rotation_speed": -1.0}, "rotation_speed"),
        ({"axial_velocity": np.nan}, "axial_velocity"),
        ({"edge_velocity": -1.0}, "edge_velocity"),
        ({"density": 0.0}, "density"),
        ({"viscosity": np.inf}, "viscosity"),
        ({"speed_of_sound": -1.0}, "speed_of_sound"),
        ({"blades": 0}, "blades"),
        ({"spin": 0}, "spin"),
        ({"azimuths": 5}, "azimuths"),
        ({"inflow_ratio": np.nan}, "inflow_ratio"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change, word):
    flight = {"blades": 2, "rotation_speed": 100.0, "axial_velocity": 0.0, "edge_velocity": 5.0}
    with pytest.raises(ValueError, match=word):
        solve_tilted(measured(), **(flight | AIR | change))


def test_the_default_law_is_drees():
    one = solve_tilted(measured(), 2, 300.0, 0.0, 10.0, **AIR)
    other = solve_tilted(measured(), 2, 300.0, 0.0, 10.0, skew=DREES, **AIR)
    assert one.rolling_moment == other.rolling_moment
