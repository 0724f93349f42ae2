"""The elastic clevis: limits known in closed form, statics, energy, and the same energy written again."""

import sys
from dataclasses import fields, replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bladehold.joint import clevis, stiffness
from bladehold.joint.contact import ClevisState, rotational_stiffness, solve_clevis
from bladehold.joint.contact_model import (
    clevis_model,
    foundation_modulus,
    plate_bending_stiffness,
    plate_shear_stiffness,
)

sys.path.insert(0, str(Path(__file__).parent))
from plain_contact import PlainClevis

A, WIDTH, ROOT = 9e-3, 18e-3, 17.5e-3  # m
PLATE = float(plate_bending_stiffness(71e9, 20e-3, 4e-3))
BED = float(foundation_modulus(9e9, 8e-3, 71e9, 4e-3))
TYPICAL = {
    "half_length": A,
    "contact_width": WIDTH,
    "foundation": BED,
    "screw_stiffness": 1.5e8,
    "upper_bending": PLATE,
    "lower_bending": PLATE,
    "root_distance": ROOT,
}
# stiff plates: the upper one is pressed on evenly, its root gives a couple but no force, as in joint.clevis
RIGID = TYPICAL | {"upper_bending": 1e4 * PLATE, "lower_bending": 1e4 * PLATE, "contact": "strip"}
RIGID |= {"upper_root": "guided"}
FULL = TYPICAL | {"hole_diameter": 5e-3, "head_diameter": 8.5e-3, "gap": 5e-5, "upper_root": "guided"}
FULL |= {"tie_distance": 13e-3, "tie_stiffness": 6e7, "spacer_stiffness": 4e8, "tie_preload": 800.0}
FULL |= {"core_stiffness": 5e8, "lug_bending": 43.0, "lug_shear": 4.7e5}


@pytest.mark.parametrize(("contact", "arm"), [("strip", 2 / 3), ("round", 1 / 2)])
def test_first_gap_of_rigid_plates(contact, arm):
    """At 2 P a / 3 on strips and P a / 2 on discs: just below nothing opens, just above it does."""
    model = clevis_model(**(RIGID | {"contact": contact}))
    gap = 1500.0 * A * arm
    state = solve_clevis(model, [0.99 * gap, 1.01 * gap], 0.0, 1500.0)
    assert state.converged.all()
    assert state.upper_opening[0] == 0.0 and state.lower_opening[0] == 0.0
    assert state.upper_opening[1] > 0.0 and state.lower_opening[1] > 0.0


@given(st.floats(-0.98, 0.98), st.floats(100, 6000))
def test_screw_feels_nothing_before_the_first_gap(share, preload):
    moment = share * float(clevis.first_gap_moment(preload, A))
    assert solve_clevis(clevis_model(**RIGID), moment, 0.0, preload).screw_tension == pytest.approx(
        preload, rel=1e-6
    )


@pytest.mark.parametrize("lift", [0.0, 300.0])
def test_open_clevis_under_a_soft_screw_bears_on_its_edges(lift):
    """Beds stiff against the screw, the upper plate held by it alone: T = (M/a + L)/2."""
    model = clevis_model(**(RIGID | {"screw_stiffness": 1e-5 * BED * WIDTH * A}))
    state = solve_clevis(model, 20.0, lift, 0.0)
    expected = clevis.contact_forces(20.0, lift, A, "edge").greatest
    assert state.screw_tension == pytest.approx(float(expected), rel=0.01)
    assert state.upper_root_force == pytest.approx(0.0, abs=0.01)  # rounding: the soft screw gives by 30 mm


@settings(max_examples=60)
@given(
    st.floats(1.0, 60.0), st.floats(0.0, 400.0), st.floats(0.0, 5000.0), st.floats(-5.0, 4.0), st.booleans()
)
def test_loose_rigid_plate_keeps_within_the_closed_forms(moment, lift, preload, size, disc):
    method = "round" if disc else "strip"
    screw = 10**size * BED * WIDTH * A
    model = clevis_model(**(RIGID | {"contact": method, "screw_stiffness": screw}))
    state = solve_clevis(model, moment, lift, preload)
    bounds = clevis.screw_tension_clamped(moment, lift, A, preload, method)
    slack = 0.005 * bounds.greatest + 0.1  # the points of the disc; the disc's lift term is of second order
    assert state.converged
    assert bounds.least - slack <= state.screw_tension <= bounds.greatest + slack


def test_spread_of_a_clamped_clevis_is_shared_by_stiffness():
    """VDI 2230: the screw takes kb/(kb + kc) while clamped, all of it once the faces are open."""
    model = clevis_model(**(RIGID | dict.fromkeys(("upper_bending", "lower_bending"), 1e8 * PLATE)))
    forces = np.array([0.0, 100.0, 200.0, 5000.0])
    tension = solve_clevis(model, 0.0, 0.0, 2000.0, forces).screw_tension
    both_faces = 2 * A * WIDTH * BED / 2
    share = stiffness.load_factor(1.5e8, both_faces)
    assert np.diff(tension[:3]) / 100.0 == pytest.approx(float(share), rel=1e-6)
    assert tension[3] == pytest.approx(5000.0, rel=1e-6)


def test_plate_that_levers_on_its_heel():
    """Stiff plate on a spacer at b without any clamping moment: T = N (1 + c/b)."""
    heel = 14e-3
    model = clevis_model(**(RIGID | {"upper_root": "free", "tie_distance": heel, "spacer_stiffness": 1e12}))
    state = solve_clevis(model, 20.0, 0.0, 0.0)
    open_lug = clevis.ContactForces(state.upper_force, state.lower_force, state.upper_centre)
    lever = open_lug.upper * (1 + state.upper_centre / heel)
    assert state.screw_tension == pytest.approx(float(lever), rel=1e-6)
    assert state.screw_tension <= clevis.screw_tension_lever(
        clevis.contact_forces(20.0, 0.0, A, "strip"), heel
    )
    assert state.screw_tension > 1.3 * state.upper_force


cases = st.tuples(
    st.floats(-60.0, 60.0), st.floats(-500.0, 500.0), st.floats(0.0, 6000.0), st.floats(0.0, 1000.0)
)
roots = st.sampled_from(["clamped", "guided", "free"])
gaps = st.sampled_from([0.0, 2e-5, 2e-4])


@settings(max_examples=80, deadline=None)
@given(cases, roots, gaps, st.booleans(), st.booleans(), st.booleans(), st.booleans())
def test_same_energy_written_again(case, root, gap, ties, core, head, lug):
    assume(case[2] > 1.0 or root == "clamped")  # a loose plate lies anywhere until the screw is tightened
    given_ = TYPICAL | {"upper_root": root, "gap": gap, "hole_diameter": 4e-3, "lower_bending": 2 * PLATE}
    given_ |= {"head_diameter": 9e-3} if head else {}
    given_ |= {"core_stiffness": 3e8} if core else {}
    given_ |= {"lug_bending": 40.0} if lug else {}
    if ties:
        given_ |= {"tie_distance": 12e-3, "tie_stiffness": 5e7, "tie_preload": 500.0, "spacer_stiffness": 2e8}
    state = solve_clevis(clevis_model(**given_), *case)
    assert state.converged
    for name, value in PlainClevis(**given_).solve(*case).items():
        floor = 1e-5 if name == "lug_rotation" else 0.05  # where the plain solution stops
        # nothing says how a lug lies that is not held between both faces, before and under load
        held = gap == 0.0 and min(state.clamp, state.upper_force, state.lower_force) > 1.0
        loose = name == "lug_rotation" and not held
        if not loose:
            assert getattr(state, name) == pytest.approx(value, rel=1e-4, abs=floor), name


def test_finer_beams_change_little():
    """One cubic along each half of the contact against four: within 1.5 % for a typical clevis."""
    for bed in (BED, 5 * BED):
        given_ = TYPICAL | {
            "foundation": bed,
            "hole_diameter": 5e-3,
            "head_diameter": 10e-3,
            "lug_bending": 43.0,
        }
        for moment in (10.0, 30.0, 60.0):
            for preload in (0.0, 3000.0):
                ours = solve_clevis(clevis_model(**given_), moment, 100.0, preload).screw_tension
                fine = PlainClevis(parts=4, **given_).solve(moment, 100.0, preload)["screw_tension"]
                assert ours == pytest.approx(fine, rel=0.015)


@settings(max_examples=60)
@given(cases, st.sampled_from([TYPICAL, FULL, RIGID]))
def test_statics(case, given_):
    moment, lift, _, spread = case
    state = solve_clevis(clevis_model(**given_), *case)
    assert state.converged
    scale = state.upper_force + state.lower_force + state.screw_tension + state.tie_force + 0.1
    up = state.lower_force - state.upper_force + lift
    assert abs(up) <= 1e-9 * scale
    turning = moment - state.upper_force * state.upper_centre + state.lower_force * state.lower_centre
    assert abs(turning) <= 1e-9 * scale * A
    held = state.tie_force - state.spacer_force
    root = state.screw_tension - spread + held - state.upper_force
    assert state.upper_root_force == pytest.approx(float(root), abs=1e-9 * scale)
    if given_ is FULL:  # guided: only the core holds the root up
        assert state.core_force == pytest.approx(float(state.upper_root_force), abs=1e-7 * scale)
    if given_ is RIGID:
        assert abs(state.upper_root_force) <= 1e-7 * scale


def test_plate_moments_by_hand():
    """Stiff guided plate: screw and contact make a couple, the same from the contact's end to the root."""
    state = solve_clevis(clevis_model(**RIGID), 20.0, 0.0, 0.0)
    couple = float(state.upper_force * state.upper_centre)
    assert couple == pytest.approx(10.0, rel=1e-4)  # half of the flap moment
    assert state.upper_hole_moment == pytest.approx(couple)
    assert state.upper_inboard_moment == pytest.approx(couple, rel=1e-3)
    assert state.lower_hole_moment == pytest.approx(0.0, abs=1e-3)
    assert state.lower_inboard_moment == pytest.approx(-couple, rel=1e-3)


def test_moment_at_the_hole_is_that_of_the_bent_plate():
    """E I times the curvature of the cubic that the plain solution finds just outboard of the axis."""
    given_ = TYPICAL | {"head_diameter": 11e-3, "hole_diameter": 5e-3, "lug_bending": 43.0}
    plain = PlainClevis(parts=12, **given_)
    dead = -4000.0 * plain.head
    bent = plain.least(dead, plain.rows, plain.stiffness, plain.gaps)
    h = 1e-5
    values = [plain.deflection(0, x) @ bent for x in (-h, 0.0, h)]
    curvature = (values[0] - 2 * values[1] + values[2]) / h**2
    state = solve_clevis(clevis_model(**given_), 0.0, 0.0, 4000.0)
    assert state.upper_hole_moment == pytest.approx(PLATE * curvature, rel=0.1)


@settings(max_examples=40)
@given(st.floats(2.0, 60.0), st.floats(0.0, 400.0), st.floats(0.0, 6000.0), st.sampled_from([TYPICAL, FULL]))
def test_work_of_the_moment_is_stored(moment, lift, preload, given_):
    model = clevis_model(**given_)
    point, weight = np.polynomial.legendre.leggauss(5)
    low, high = moment, moment * 1.0005
    middle = low + (high - low) * (1 + point) / 2
    ends = solve_clevis(model, [low, high], lift, preload)
    between = rotational_stiffness(model, middle, lift, preload)
    states = solve_clevis(model, middle, lift, preload)
    turned = float(weight @ states.lug_rotation) / 2
    # complementary energy: d(M turn + L rise - stored) = turn dM
    saved = [low, high] * ends.lug_rotation + lift * ends.lug_rise - ends.stored_energy
    assert np.diff(saved)[0] == pytest.approx(turned * (high - low), rel=2e-5, abs=1e-10)
    assert between.converged.all() and (between.tangent > 0).all()


@given(cases, st.floats(0.5, 20.0))
def test_without_play_all_grows_with_the_loads(case, factor):
    model = clevis_model(**(TYPICAL | {"hole_diameter": 5e-3}))
    one, more = solve_clevis(model, *case), solve_clevis(model, *(factor * load for load in case))
    for name in ("screw_tension", "upper_force", "lower_pressure", "upper_inboard_moment", "lug_rotation"):
        size = 1e-6 * (abs(float(getattr(more, name))) + 1.0)
        assert getattr(more, name) == pytest.approx(factor * float(getattr(one, name)), abs=size)


@given(cases)
def test_mirrored_top_to_bottom(case):
    moment, lift, preload, spread = case
    model = clevis_model(**(TYPICAL | {"upper_bending": PLATE, "lower_bending": 3 * PLATE}))
    turned = replace(model, upper_bending=model.lower_bending, lower_bending=model.upper_bending)
    one, other = (
        solve_clevis(model, moment, lift, preload, spread),
        solve_clevis(turned, -moment, -lift, preload, spread),
    )
    size = 1e-7 * float(one.screw_tension + one.upper_force + 1.0)
    assert one.screw_tension == pytest.approx(float(other.screw_tension), abs=size)
    assert one.upper_force == pytest.approx(float(other.lower_force), abs=size)
    assert one.lower_inboard_moment == pytest.approx(float(other.upper_inboard_moment), abs=size)
    assert one.lug_rotation == pytest.approx(-float(other.lug_rotation), abs=1e-9)


@given(st.floats(0.0, 500.0), st.floats(0.0, 6000.0), st.sampled_from([RIGID, FULL]))
def test_tension_and_turn_rise_with_the_moment(lift, preload, given_):
    moments = np.linspace(0.0, 80.0, 33)
    state = solve_clevis(clevis_model(**given_), moments, lift, preload)
    assert (np.diff(state.lug_rotation) > 0).all()
    if given_ is RIGID:
        assert (np.diff(state.screw_tension) > -1e-6 * state.screw_tension[1:] - 1e-6).all()


def test_a_gap_eats_preload():
    """Stiffer plates and a wider gap leave less on the faces, in the end nothing."""
    clamps = solve_clevis(
        clevis_model(**(TYPICAL | {"gap": np.array([0.0, 2e-5, 5e-5, 2e-3])})), 0, 0, 3000.0
    ).clamp
    assert (np.diff(clamps) < 0).all() and clamps[-1] == 0.0


def test_stiffness_against_flapping():
    """Clamped rigid plates: both faces' beds turn, 2 k w (2 a^3/3)."""
    model = clevis_model(**RIGID)
    moments = np.array([0.0, 1.0, 5.0, 60.0])
    found = rotational_stiffness(model, moments, 0.0, 3000.0)
    beds = 2 * BED * WIDTH * 2 * A**3 / 3
    assert found.tangent[:3] == pytest.approx(np.full(3, beds), rel=0.01)
    assert found.secant[:3] == pytest.approx(np.full(3, beds), rel=0.01)
    assert found.tangent[3] < found.secant[3] < beds
    step = solve_clevis(model, [60.0, 60.001], 0.0, 3000.0).lug_rotation
    assert found.tangent[3] == pytest.approx(1e-3 / np.diff(step)[0], rel=1e-4)


def test_arrays_of_clevises_and_cases():
    """A model of shape (3, 1) under (4,) cases gives what one at a time gives."""
    beds = BED * np.array([[0.5], [1.0], [3.0]])
    moments, preloads = np.array([-20.0, 0.0, 15.0, 60.0]), np.array([0.0, 500.0, 3000.0, 1000.0])
    for given_ in (TYPICAL, FULL):
        whole = solve_clevis(clevis_model(**(given_ | {"foundation": beds})), moments, 200.0, preloads)
        for i in range(3):
            for j in range(4):
                one = clevis_model(**(given_ | {"foundation": beds[i, 0]}))
                single = solve_clevis(one, moments[j], 200.0, preloads[j])
                for part in fields(ClevisState):
                    if "lug" in part.name and preloads[j] == 0 and given_ is FULL:
                        continue  # a lug with play lies anywhere
                    found = getattr(whole, part.name)
                    assert found.shape == (3, 4)
                    expected = float(getattr(single, part.name))
                    assert found[i, j] == pytest.approx(expected, rel=1e-6, abs=1e-5), part.name


@pytest.mark.parametrize("root", ["clamped", "guided", "free"])
def test_nothing_breaks_it(root):
    """No preload, no load, gaps, plates that nothing holds: solved, finite, and forces of the right size."""
    values = np.array([0.0, 1e-3, 30.0])
    moments, lifts, preloads = np.meshgrid(values, [0.0, 1e-2, 300.0], [0.0, 1.0, 5000.0])
    for gap in (0.0, 1e-6, 1e-3):
        for part in ({}, {"core_stiffness": 1e8}, {"spacer_stiffness": 1e8}, {"screw_stiffness": 1e4}):
            model = clevis_model(**(TYPICAL | {"upper_root": root, "gap": gap} | part))
            state = solve_clevis(model, moments, lifts, preloads)
            assert state.converged.all()
            assert all(np.isfinite(getattr(state, one.name)).all() for one in fields(state))
            still = (moments == 0) & (lifts == 0) & (preloads == 0)
            assert state.screw_tension[still] == pytest.approx(0.0, abs=1e-4)


def test_what_cannot_be_in_balance_is_told():
    """Ties that pull a loose plate which nothing holds up: no balance, and the flag says so."""
    model = clevis_model(**TYPICAL, upper_root="free", tie_stiffness=5e7, tie_preload=np.array([0.0, 500.0]))
    assert solve_clevis(model, 5.0, 100.0, 0.0).converged.tolist() == [True, False]


def test_helpers_by_hand():
    assert foundation_modulus(9e9, 8e-3, 71e9, 4e-3) == pytest.approx(1 / (4e-3 / 9e9 + 2e-3 / 71e9))
    assert plate_bending_stiffness(71e9, 20e-3, 4e-3) == pytest.approx(71e9 * 20e-3 * 64e-9 / 12)
    assert plate_shear_stiffness(27e9, 20e-3, 4e-3) == pytest.approx(27e9 * 8e-5 * 5 / 6)


def test_a_very_stiff_lug_is_the_rigid_one():
    moments = np.array([5.0, 20.0, 60.0])
    rigid = solve_clevis(clevis_model(**TYPICAL), moments, 200.0, 2000.0)
    stiff = solve_clevis(clevis_model(**TYPICAL, lug_bending=1e4 * 43.0), moments, 200.0, 2000.0)
    for name in ("screw_tension", "upper_force", "lug_rotation", "lug_rise", "lower_inboard_moment"):
        assert getattr(stiff, name) == pytest.approx(getattr(rigid, name), rel=1e-3), name
    bent = solve_clevis(clevis_model(**TYPICAL, lug_bending=43.0), moments, 200.0, 2000.0)
    assert (bent.lug_rotation > 1.05 * rigid.lug_rotation).all()


def test_shear_makes_plates_softer():
    soft = TYPICAL | dict.fromkeys(("upper_shear", "lower_shear"), plate_shear_stiffness(27e9, 20e-3, 4e-3))
    turns = [solve_clevis(clevis_model(**one), 30.0, 0.0, 3000.0).lug_rotation for one in (TYPICAL, soft)]
    assert turns[0] < turns[1] < 1.1 * turns[0]


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"contact": "oval"}, "round, strip"),
        ({"upper_root": "held"}, "clamped, guided, free"),
        ({"root_distance": 5e-3}, "root distance"),
        ({"tie_distance": 20e-3}, "tie distance"),
        ({"tie_preload": 5.0}, "tie stiffness"),
        ({"hole_diameter": 20e-3}, "hole diameter"),
        ({"head_diameter": 20e-3}, "head diameter"),
        ({"gap": -1e-6}, "gap"),
    ],
)
def test_refusals(wrong, words):
    with pytest.raises(ValueError, match=words):
        clevis_model(**(TYPICAL | wrong))


def test_negative_preload_is_refused():
    with pytest.raises(ValueError, match="preload"):
        solve_clevis(clevis_model(**TYPICAL), 1.0, 0.0, -1.0)
