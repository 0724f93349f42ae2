"""Size and limit agree with assess: zero where they say zero, nothing smaller holds."""

import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets import delivered, repaired, trade_sheet

from bladehold.study import assess, limit, loads_of, size
from bladehold.study.change import MisfitError, with_pivot_screw
from bladehold.study.size import TOUCHED
from bladehold.tables import UnknownName, property_class, thread_names


def at_thrust(build, thrust):
    ratio = thrust / build.flying.used_thrust
    cases = tuple(replace(case, thrust=case.thrust * ratio) for case in build.flying.cases)
    return replace(build, flying=replace(build.flying, used_thrust=thrust, cases=cases))


@pytest.mark.parametrize("make", [delivered, repaired])
def test_margin_is_zero_at_every_limit(make):
    build = make()
    for part in limit(build).parts:
        if np.isfinite(part.thrust) and part.thrust > 0:
            changed = at_thrust(build, part.thrust)
            mine = [c for c in assess(changed).checks if c.part == part.part and c.level != "fatigue"]
            margin = min(c.margin for c in mine)
            assert margin == pytest.approx(0.0, abs=1e-3)
            assert changed.flying.used_thrust == pytest.approx(part.thrust)


def test_limit_is_the_lowest_part_and_is_compared_with_the_claim():
    found = limit(delivered())
    thrusts = [part.thrust for part in found.parts]
    assert thrusts == sorted(thrusts)
    assert found.lowest.part == "pivot screw"
    assert found.share_of_claim == pytest.approx(found.lowest.peak_thrust / found.claimed_thrust)


def test_part_that_fails_unloaded_has_limit_zero():
    build = repaired()
    tight = replace(build.mounting.screw.tightening, torque=20.0)
    screw = replace(build.mounting.screw, tightening=tight)
    overtight = replace(build, mounting=replace(build.mounting, screw=screw))
    assert limit(overtight).lowest.thrust == 0.0


@pytest.mark.parametrize("make", [delivered, repaired])
@pytest.mark.parametrize("name", ["A2-70", "8.8", "12.9"])
def test_smallest_holds_and_the_next_smaller_does_not(make, name):
    build = make()
    sizing = size(build, classes=[name])
    smallest = sizing.smallest
    if smallest is None:
        assert not any(candidate.holds for candidate in sizing.candidates)
        return
    assert smallest.margin >= 0.0
    place = thread_names().index(smallest.thread)
    smaller = [c for c in sizing.candidates if c.thread in thread_names()[:place]]
    assert all(not candidate.holds for candidate in smaller)
    changed = with_pivot_screw(build, smallest.thread, property_class(name))
    again = min(c.margin for c in assess(changed).checks if c.key in {rule.key for rule in TOUCHED})
    assert again == pytest.approx(smallest.margin, rel=1e-12)


def test_a_screw_that_leaves_nothing_of_the_lug_is_refused_with_the_reason():
    build = trade_sheet(22, "24 g", "92 mm", "28 mm", ("8 mm", "10 mm"), "M4", 8.0)
    candidate = next(c for c in size(build).candidates if c.thread == "M10")
    assert candidate.margin is None and "lug" in candidate.reason
    with pytest.raises(MisfitError, match="nothing of the lug"):
        with_pivot_screw(build, "M10", property_class("8.8"))


def test_a_screw_whose_hole_takes_all_the_contact_is_refused_with_the_reason():
    build = repaired()
    narrow = replace(build, hub=replace(build.hub, contact_length=build.hub.plate_hole + 0.5e-3))
    with pytest.raises(MisfitError, match="nothing to bear on"):
        with_pivot_screw(narrow, "M6", property_class("8.8"))


def test_unknown_class_is_named():
    with pytest.raises(UnknownName, match=r"8\.8"):
        size(repaired(), classes=["8.9"])


@settings(max_examples=12, deadline=None)
@given(st.floats(0.3, 2.0), st.floats(1.02, 1.5))
def test_more_thrust_never_helps(ratio, more):
    build = delivered()
    less, greater = loads_of(build, ratio), loads_of(build, ratio * more)
    before = {c.key: c.margin for c in assess(build, less).checks}
    after = {c.key: c.margin for c in assess(build, greater).checks}
    for key, margin in after.items():
        if "friction" not in key:
            assert margin <= before[key] + 1e-9, key


@settings(max_examples=10, deadline=None)
@given(st.floats(1.0, 2.5), st.floats(1.05, 1.5))
def test_heavier_blades_never_help(mass, more):
    build = delivered()

    def weakest(factor):
        propeller = replace(build.propeller, blade_mass=build.propeller.blade_mass * factor)
        return assess(replace(build, propeller=propeller)).margin

    assert weakest(mass * more) <= weakest(mass) + 1e-9


def test_same_clamp_in_another_screw():
    build = repaired()
    changed = with_pivot_screw(build, "M6", property_class("8.8"))
    torque = build.pivot.tightening.torque * 6 / 5
    assert changed.pivot.tightening.torque == pytest.approx(torque)
    assert changed.hub.lug_hole - build.hub.lug_hole == pytest.approx(1e-3)
    assert changed.hub.bush_diameter - build.hub.bush_diameter == pytest.approx(1e-3)
    assert changed.pivot.shear_diameter == pytest.approx(6e-3)


@pytest.mark.parametrize("make", [delivered, repaired])
def test_flying_that_is_left_out_of_the_search_changes_no_limit(make, monkeypatch):
    module = sys.modules["bladehold.study.limit"]
    few = limit(make())
    monkeypatch.setattr(module, "_that_matter", lambda *_: None)
    for one, other in zip(few.parts, limit(make()).parts, strict=True):
        assert one.part == other.part
        assert one.thrust == pytest.approx(other.thrust, rel=1e-4)
        assert one.peak_thrust == pytest.approx(other.peak_thrust, rel=1e-4, nan_ok=True)
