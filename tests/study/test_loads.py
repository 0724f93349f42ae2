"""Conditions and loads: by hand where they can be, and in the right direction where they cannot."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.air import GRAVITY
from bladehold.blade import centrifugal_force
from bladehold.rotor import blade_moments, greatest_departure
from bladehold.study.air_loads import AZIMUTHS, rotor_air, solve_windy, solved_rotors
from bladehold.study.conditions import conditions_of
from bladehold.study.loads import PROOF, loads_of
from bladehold.study.shape import blade_of


def place(loads, name):
    return loads.names.index(name)


def test_conditions_are_those_of_a_first_look_at_a_rotorcraft():
    names = conditions_of(delivered()).names
    for label in ("warm", "cold"):
        for kind in ("hover", "climb", "pull-up in hover", "top speed", "manoeuvre at top speed"):
            assert f"{kind}, {label}" in names
    assert loads_of(delivered()).names[-1] == PROOF


def test_level_flight_carries_weight_and_overcomes_drag():
    build = delivered()
    conditions = conditions_of(build)
    at = conditions.names.index("top speed, warm")
    thrust, edge, axial = (
        float(v[at]) for v in (conditions.thrust, conditions.edge_speed, conditions.axial_speed)
    )
    speed = build.flying.top_speed
    assert np.hypot(edge, axial) == pytest.approx(speed)
    density = float(conditions.air.density[at])
    over_weight = 0.5 * density * speed**2 * build.aircraft.drag_area / (build.aircraft.mass * GRAVITY)
    # The rotors' own drag tilts the aircraft further than its frame's would, and the rear rotors lift more.
    assert over_weight < axial / edge < 1.4 * over_weight
    share = thrust / build.flying.used_thrust
    assert np.hypot(1.0, over_weight) < share < 1.15 * np.hypot(1.0, over_weight)


def test_one_temperature_is_not_checked_twice():
    build = delivered()
    flying = replace(build.flying, temperature_min=300.0, temperature_max=300.0)
    assert not any("cold" in name for name in conditions_of(replace(build, flying=flying)).names)


def test_proof_is_twice_the_greatest_centrifugal_force_and_nothing_else():
    build = delivered()
    loads = loads_of(build)
    assert loads.root.centrifugal[-1] == pytest.approx(2.0 * loads.root.centrifugal[:-1].max())
    assert loads.root.flap_peak[-1] == loads.root.lift[-1] == loads.hub_moment[-1] == 0.0
    hub, propeller = build.hub, build.propeller
    by_hand = centrifugal_force(
        propeller.blade_mass, hub.pivot_radius, propeller.balance_point, loads.speed[:-1]
    )
    np.testing.assert_allclose(loads.root.centrifugal[:-1], by_hand, rtol=1e-12)


def test_two_blades_swing_the_hub_with_their_full_sum_three_with_half():
    two = delivered()
    three = replace(two, propeller=replace(two.propeller, blades=3))
    at = place(loads_of(two), "top speed, warm")
    for build, share in ((two, 2.0), (three, 1.5)):
        loads = loads_of(build)
        root = loads.root
        # Each blade's own once-per-turn moment about the rotor axis: at the pivot, and lift times its radius.
        about_axis = root.flap_cyclic[at] + build.hub.pivot_radius * lift_amplitude(
            root.lift[at], loads, build
        )
        assert loads.hub_moment[at] == pytest.approx(share * about_axis, rel=1e-6)


def lift_amplitude(peak, loads, build):
    """Amplitude of the lift from its peak: the mean is a blade's share of the thrust."""
    at = place(loads, "top speed, warm")
    return peak - loads.thrust[at] / build.propeller.blades


def test_own_cyclic_share_is_used_and_hover_has_none():
    build = delivered()
    loads = loads_of(replace(build, flying=replace(build.flying, cyclic_share=0.5, pitch_rate=0.0)))
    at = place(loads, "manoeuvre at top speed, cold")
    assert loads.root.flap_cyclic[at] == pytest.approx(0.5 * loads.root.flap_mean[at])
    assert loads.root.flap_cyclic[place(loads, "hover, warm")] == 0.0


def test_faster_flight_makes_a_larger_share():
    build = delivered()

    def share(speed):
        loads = loads_of(replace(build, flying=replace(build.flying, top_speed=speed)))
        at = place(loads, "manoeuvre at top speed, warm")
        return loads.root.flap_cyclic[at] / loads.root.flap_mean[at]

    assert 0.0 < share(5.0) < share(10.0) < share(18.0)


def test_thin_warm_air_turns_the_rotor_faster():
    loads = loads_of(delivered())
    assert loads.speed[place(loads, "hover, warm")] > loads.speed[place(loads, "hover, cold")]


def test_a_tap_test_takes_the_benefit_of_bending():
    stiff = repaired()
    tapped = replace(stiff, propeller=replace(stiff.propeller, tap_frequency=60.0))
    before, after = loads_of(stiff), loads_of(tapped)
    assert np.all(after.root.flap_mean[:-1] < 0.8 * before.root.flap_mean[:-1])
    assert np.all(after.root.flap_mean[:-1] > 0.3 * before.root.flap_mean[:-1])
    # twelve azimuths for the rigid blade, 24 for the elastic one
    np.testing.assert_allclose(after.root.centrifugal, before.root.centrifugal, rtol=1e-4)
    np.testing.assert_allclose(after.speed, before.speed, rtol=1e-4)


def test_a_very_stiff_blade_is_a_rigid_one():
    stiff = repaired()
    still = replace(stiff.flying, pitch_rate=0.0)
    rigid, elastic = (
        loads_of(replace(stiff, flying=still, propeller=replace(stiff.propeller, tap_frequency=hertz)))
        for hertz in (np.inf, 20000.0)
    )
    for name in ("flap_mean", "flap_cyclic", "flap_peak", "lift", "lift_swing", "centrifugal"):
        # the rigid blade's swing is that of the curve through 12 azimuths, the elastic one's at 24 steps
        np.testing.assert_allclose(
            getattr(elastic.root, name)[:-1],
            getattr(rigid.root, name)[:-1],
            rtol=0.02,
            atol=1e-9,
            err_msg=name,
        )


def test_a_tapped_blade_whose_balance_cannot_be_is_taken_as_rigid_and_told():
    build = repaired()
    odd = replace(build.propeller, tap_frequency=60.0, balance_point=0.06)
    found = loads_of(replace(build, propeller=odd))
    assert any("taken as rigid" in text and "0.06" in text for text in found.breaches)


def test_own_share_stands_against_an_elastic_blade():
    build = repaired()
    flying = replace(build.flying, cyclic_share=0.5, pitch_rate=0.0)
    tapped = replace(build, flying=flying, propeller=replace(build.propeller, tap_frequency=60.0))
    at = place(loads_of(tapped), "top speed, warm")
    untapped = loads_of(replace(build, flying=flying)).root.flap_cyclic[at]
    assert loads_of(tapped).root.flap_cyclic[at] == pytest.approx(untapped, rel=1e-5)


def test_pitching_counts_in_manoeuvres_only():
    build = delivered()
    still, turning = (
        loads_of(replace(build, flying=replace(build.flying, pitch_rate=rate))).root.flap_cyclic
        for rate in (0.0, 2.0)
    )
    names = loads_of(build).names
    for at, name in enumerate(names):
        hard = name.startswith(("pull-up", "manoeuvre", "tilting"))
        assert (turning[at] > still[at] + 0.5) if hard else (turning[at] == still[at])


def test_scale_becomes_a_leading_axis_and_equals_one_at_a_time():
    build = delivered()
    together = loads_of(build, np.array([0.5, 1.0, 1.5]))
    assert together.thrust.shape == (3, len(together.names))
    for row, ratio in enumerate([0.5, 1.0, 1.5]):
        alone = loads_of(build, ratio)
        np.testing.assert_allclose(together.speed[row], alone.speed, rtol=1e-5)
        np.testing.assert_allclose(together.root.flap_peak[row], alone.root.flap_peak, rtol=1e-4)


def test_thrust_beyond_the_rotor_is_refused_in_words():
    with pytest.raises(ValueError, match="cannot be reached"):
        loads_of(delivered(), 40.0)


def test_twelve_azimuths_know_the_swing_of_many():
    build = delivered()
    conditions = conditions_of(build)
    geometry, polar = blade_of(build)
    windy = conditions.of(np.flatnonzero((conditions.edge_speed > 0.0) & (conditions.gust == 0.0)))
    few = rotor_air(build, windy, solved_rotors(build, windy, geometry, polar, AZIMUTHS))
    fine = solve_windy(build, windy, geometry, polar, 72)
    flap = blade_moments(fine, build.hub.pivot_radius).flap
    assert few.speed == pytest.approx(fine.rotation_speed, rel=1e-4)
    assert few.blade.flap == pytest.approx(flap.mean(axis=-1), rel=1e-3)
    assert few.blade.flap_swing == pytest.approx(greatest_departure(flap), rel=3e-3)


def test_the_lower_rotor_of_a_pair_turns_faster_the_farther_it_stands_below():
    def speeds(layout, spacing):
        build = delivered()
        aircraft = replace(build.aircraft, layout=layout, coaxial_spacing=spacing)
        return loads_of(replace(build, aircraft=aircraft)).speed[:-1]

    flat, near, far = (speeds(*case) for case in (("flat", 0.1), ("coaxial", 0.1), ("coaxial", np.inf)))
    names = loads_of(delivered()).names[:-1]
    rising = np.array([not name.startswith("descent") for name in names])
    assert np.all(near[rising] > flat[rising]) and np.all(far[rising] >= 0.999 * near[rising])
    assert near[~rising] == pytest.approx(flat[~rising], rel=1e-6)
    hover = names.index("hover, warm")
    assert far[hover] > 1.001 * near[hover]


def test_the_contracted_wake_moves_the_lower_rotors_load_outward():
    alone, below = delivered(), delivered()
    below = replace(below, aircraft=replace(below.aircraft, layout="coaxial"))
    hover = place(loads_of(alone), "hover, warm")
    assert loads_of(below).root.flap_mean[hover] > loads_of(alone).root.flap_mean[hover]
