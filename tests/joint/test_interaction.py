import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import pin
from bladehold.joint.interaction import (
    CRITERIA,
    criteria_for,
    equivalent_stress,
    interaction,
    load_multiplier,
    margin_tm106943,
)

names = st.sampled_from(sorted(CRITERIA))
ratios = st.floats(0, 5).map(lambda x: x if x > 1e-6 else 0.0)
triples = st.tuples(ratios, ratios, ratios).filter(lambda t: max(t) > 0)


@given(names, triples)
def test_scaled_by_its_multiplier_a_load_just_fails(name, loads):
    criterion = CRITERIA[name]
    multiplier = load_multiplier(criterion, *loads)
    assert interaction(criterion, *(multiplier * x for x in loads)) == pytest.approx(1.0, rel=1e-12)


@given(names, triples, st.floats(0.01, 100))
def test_multiplier_falls_as_loads_rise(name, loads, factor):
    criterion = CRITERIA[name]
    scaled = load_multiplier(criterion, *(factor * x for x in loads))
    assert scaled * factor == pytest.approx(float(load_multiplier(criterion, *loads)), rel=1e-12)


@given(names, triples)
def test_verdict_of_value_and_multiplier_agree(name, loads):
    criterion = CRITERIA[name]
    value, multiplier = interaction(criterion, *loads), load_multiplier(criterion, *loads)
    assert abs(value - 1) < 1e-9 or (value < 1) == (multiplier > 1)


@given(names, triples, st.integers(0, 2), st.floats(0.01, 1))
def test_more_of_any_ratio_never_helps(name, loads, which, extra):
    criterion = CRITERIA[name]
    more = [x + extra * (i == which) for i, x in enumerate(loads)]
    assert load_multiplier(criterion, *more) <= load_multiplier(criterion, *loads) * (1 + 1e-12)


def test_unloaded_screw_has_no_limit():
    for criterion in CRITERIA.values():
        assert load_multiplier(criterion, [0.0, 0.5], 0.0)[0] == np.inf
    assert margin_tm106943(0.0, 0.0) == np.inf


def test_forms_by_hand():
    loads = (0.6, 0.5, 0.2)
    expected = {
        "5020b-shank": 0.6**2.5 + 0.7**1.5,
        "5020b-shank-plastic": 0.6**2.5 + 0.5**1.5 + 0.2,
        "5020b-thread": 0.6**1.2 + 0.7**2,
        "5020b-thread-plastic": 0.6**1.2 + 0.5**2 + 0.2,
        "5020b-theory": 0.6**2 + 0.7**2,
        "tm106943": 0.6**3 + 0.7**2,
        "nsts08307": 0.6**3 + 0.7**2,
        "nsts08307-plastic": 0.6**3 + 0.5**2 + 0.2,
        "extreme-fibre": 0.6**2 + 0.7**2,
    }
    assert set(expected) == set(CRITERIA)
    for name, value in expected.items():
        assert interaction(CRITERIA[name], *loads) == pytest.approx(value)


def test_shank_exponents_must_not_be_used_for_a_thread():
    """Trap: 0.7 of shear and tension holds by the shank's exponents and fails by the thread's."""
    assert (
        interaction(CRITERIA["5020b-shank"], 0.7, 0.7) < 1 < interaction(CRITERIA["5020b-thread"], 0.7, 0.7)
    )
    assert {c.name for c in criteria_for("thread", "ultimate")} & {
        "5020b-shank",
        "5020b-shank-plastic",
    } == set()
    assert {c.name for c in criteria_for("shank", "ultimate")} & {
        "5020b-thread",
        "5020b-thread-plastic",
    } == set()
    assert all(not c.counts_preload for c in CRITERIA.values() if c.name.startswith("5020b"))


def test_plastic_bending_factor_of_nsts08307():
    eased = dataclasses.replace(CRITERIA["nsts08307"], bending_factor=1.5)
    assert interaction(eased, 0.0, 0.2, 0.6) == pytest.approx((0.2 + 0.4) ** 2)


def test_printed_tm106943_margin_promises_too_much():
    """Trap: the printed margin is not the growth of the loads."""
    assert margin_tm106943(0.5, 0.0) == pytest.approx(1.828, abs=0.0005)
    assert load_multiplier(CRITERIA["tm106943"], 0.5, 0.0) - 1 == pytest.approx(1.0)


@given(st.floats(0, 900e6), st.floats(0, 900e6), st.floats(0, 500e6))
def test_extreme_fibre_form_is_von_mises(tension, bending, shear):
    strength = 640e6
    value = interaction(
        CRITERIA["extreme-fibre"],
        shear / pin.shear_strength_from_tensile(strength),
        tension / strength,
        bending / strength,
    )
    assert np.sqrt(value) * strength == pytest.approx(float(equivalent_stress(tension, bending, shear)))


@pytest.mark.parametrize("bad", [-0.1, np.nan])
def test_refuses_a_ratio_that_is_none(bad):
    with pytest.raises(ValueError, match="tension ratio"):
        interaction(CRITERIA["5020b-shank"], 0.1, bad)
