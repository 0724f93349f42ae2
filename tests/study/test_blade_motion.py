"""The moving blade of a sheet: limits, sums and directions that must be right whatever the figures."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.blade import BalanceError, span_moments
from bladehold.study.blade_cases import blade_cases
from bladehold.study.blade_folding import folding
from bladehold.study.blade_model import LUG_END, blade_model
from bladehold.study.blade_motion import blade_motion, departure
from bladehold.study.clevis import joint_stiffness
from bladehold.study.loads import loads_of


def built(build, **changes):
    """The build with other ways of building its blade."""
    propeller = build.propeller
    return replace(build, propeller=replace(propeller, structure=replace(propeller.structure, **changes)))


def stiff(build):
    return replace(build, propeller=replace(build.propeller, tap_frequency=20000.0))


@pytest.fixture(scope="module")
def motion():
    return blade_motion(repaired())


def test_the_beam_weighs_and_balances_as_measured():
    build = repaired()
    model = blade_model(build)
    mass, first, inertia = span_moments(model.stations, model.matrices.beam.line_mass)
    assert mass == pytest.approx(build.propeller.blade_mass)
    assert first / mass == pytest.approx(build.propeller.balance_point)
    assert inertia == pytest.approx(model.spread.flap_inertia)


def test_a_balance_point_that_no_such_blade_has_is_refused_with_both_numbers():
    build = repaired()
    far = replace(build, propeller=replace(build.propeller, balance_point=0.2))
    with pytest.raises(BalanceError, match=r"balance point 0\.2 m.*no nearer than"):
        blade_model(far)


def test_a_skinned_blade_is_lighter_outboard_and_solid_at_its_lug():
    skin = {"skin_thickness": 0.4e-3, "core": None}
    solid, hollow = (blade_model(b).sections for b in (repaired(), built(repaired(), **skin)))
    model = blade_model(repaired())
    outer = model.stations > LUG_END * repaired().propeller.diameter / 2
    assert np.all(hollow.line_mass[outer] < 0.9 * solid.line_mass[outer])
    assert hollow.line_mass[0] == pytest.approx(solid.line_mass[0])


def test_a_thin_tip_is_softer_there_and_a_stated_lug_angle_is_kept():
    build = repaired()
    thin = blade_model(built(build, tip_thickness=1e-3))
    plain = blade_model(build)
    assert thin.sections.flatwise_stiffness[-1] < 0.3 * plain.sections.flatwise_stiffness[-1]
    assert thin.sections.flatwise_stiffness[0] == pytest.approx(
        plain.sections.flatwise_stiffness[0], rel=0.01
    )
    turned = blade_model(built(build, lug_angle=0.2)).matrices.beam.structural_angle
    assert turned[0] - plain.matrices.beam.structural_angle[0] == pytest.approx(0.2)
    assert turned[-1] == pytest.approx(plain.matrices.beam.structural_angle[-1])


def test_a_tap_test_sets_the_first_flap_frequency():
    build = repaired()
    tapped = replace(build, propeller=replace(build.propeller, tap_frequency=60.0))
    modes = blade_motion(tapped).modes
    flap = modes.frequency[0, modes.flap_energy[0] > 0.5][0]
    # coupled with the plane of turning by twist, and hinged there, it is not quite the clamped one
    assert flap == pytest.approx(60.0, rel=0.06)


def test_a_soft_clevis_lowers_the_flap_frequency_and_the_root_moment():
    build = repaired()
    soft = replace(build, hub=replace(build.hub, flap_stiffness=150.0))
    held, sprung = blade_motion(build), blade_motion(soft)
    first = [m.modes.frequency[0, m.modes.flap_energy[0] > 0.5][0] for m in (held, sprung)]
    assert first[1] < 0.9 * first[0]
    assert np.all(departure(sprung.components)["flap"][0] < departure(held.components)["flap"][0])


def test_the_clevis_is_the_root_spring_unless_one_was_measured_and_takes_nothing_off_a_check():
    build = repaired()
    assert blade_model(build).matrices.support.flap_spring == joint_stiffness(build) < 1e4
    assert np.isinf(blade_model(build, checked=True).matrices.support.flap_spring)
    measured = replace(build, hub=replace(build.hub, flap_stiffness=900.0))
    for checked in (False, True):
        assert blade_model(measured, checked=checked).matrices.support.flap_spring == 900.0


def test_an_untwisted_stiff_elastic_blade_has_the_rigid_ones_loads():
    build = stiff(repaired())
    fast = replace(build.hub, flap_stiffness=1e9)
    still = replace(build, hub=fast, flying=replace(build.flying, pitch_rate=0.0))
    motion = blade_motion(still)
    for name in ("centrifugal", "normal_shear", "flap"):
        elastic, rigid = getattr(motion.components, name), getattr(motion.rigid, name)
        largest = np.abs(rigid).max(axis=-1, keepdims=True)
        assert np.all(np.abs(elastic - rigid) < 0.02 * largest), name


def test_the_rigid_blade_is_the_one_of_the_checks(motion):
    build = repaired()
    loads, found = loads_of(build), departure(motion.rigid)
    still = motion.conditions.pitch_rate == 0.0
    np.testing.assert_allclose(found["flap"][0], loads.root.flap_mean[:-1], rtol=2e-3)
    np.testing.assert_allclose(
        found["flap"][1][still], loads.root.flap_cyclic[:-1][still], rtol=0.02, atol=1e-6
    )
    np.testing.assert_allclose(motion.rigid.centrifugal[:, 0], loads.root.centrifugal[:-1], rtol=1e-9)


def test_bending_takes_from_the_mean_flap_moment(motion):
    elastic, rigid = departure(motion.components), departure(motion.rigid)
    assert np.all(elastic["flap"][0] < rigid["flap"][0])
    # but not from the lift: the whole blade's balance
    np.testing.assert_allclose(elastic["normal_shear"][0], rigid["normal_shear"][0], rtol=0.01)


def test_a_hinge_carries_no_lag_moment_and_a_clamped_root_does(motion):
    fixed = repaired()
    fixed = replace(fixed, propeller=replace(fixed.propeller, folding=False))
    assert np.abs(motion.components.lag).max() < 1e-6
    found = departure(blade_motion(fixed).components)["lag"][0]
    slow = np.array([name.startswith(("gust", "push-over")) for name in motion.names])
    assert np.all(found[~slow] > 0.1)
    assert folding(fixed, blade_motion(fixed)) is None


def test_time_of_the_conditions_is_the_flight(motion):
    assert motion.conditions.time_share.sum() == pytest.approx(1.0)
    build = repaired()
    cases = {case.name: case for case in blade_cases(build, motion, folding(build, motion))}
    turns = sum(
        float(cases[name].repeats) * 2.0 * np.pi / motion.speed[at] for at, name in enumerate(motion.names)
    )
    assert turns == pytest.approx(build.flying.flight_time)


def test_events_of_a_flight():
    build = built(repaired(), pivot_friction=0.1, leading_stop=np.radians(5.0))
    motion = blade_motion(build)
    folds = folding(build, motion)
    cases = {case.name: case for case in blade_cases(build, motion, folds)}
    hover = motion.speed[motion.names.index("hover, warm")]
    model = motion.model
    # gyroscopic: 2 (I + e S) Omega q, by the beam's own inertia
    spread, pivot = model.spread, build.hub.pivot_radius
    lever = spread.flap_inertia + pivot * build.propeller.blade_mass * spread.balance_point
    assert float(cases["pitching and rolling"].span.flap) == pytest.approx(
        4.0 * lever * hover * build.flying.pitch_rate, rel=1e-3
    )
    # a throttle step reaches the lag moment only as far as friction holds
    most = folds.blade.friction_moment(hover)[1]
    assert float(cases["throttle step"].peak.lag) <= most + 1e-9
    # braking throws the blade onto its stop ahead: a lag moment forwards, more than friction holds
    assert float(cases["blow on a stop"].peak.lag) < -most
    greatest = np.abs(motion.components.flap).max()
    assert float(cases["start and stop"].span.flap) == pytest.approx(greatest)
    gust = cases["vertical gust"].history.flap
    steady = motion.components.flap[motion.names.index("hover, warm")].mean()
    assert gust.max() - steady == pytest.approx(steady - gust.min()) and gust.max() > 1.5 * steady


def test_more_friction_widens_the_band_and_needs_more_speed():
    build = repaired()
    loose, tight = (
        folding(b, blade_motion(b)) for b in (built(build, pivot_friction=f) for f in (0.05, 0.5))
    )
    assert np.all(tight.hover_band.half_width > loose.hover_band.half_width)
    assert np.all(tight.straightens_at > loose.straightens_at)
    assert np.all(tight.unbalance > loose.unbalance)
    assert loose.measured
    assert loose.friction_allowed == pytest.approx(tight.friction_allowed)


def test_untightened_delivery_comes_out_of_the_fold():
    build = built(delivered(), pivot_friction=0.02)
    folds = folding(build, blade_motion(build))
    assert bool(folds.start.straightened[0])
    assert np.all(folds.start.settled_time[:1] < build.flying.spin_up + 1.0)
