"""The checks as records, and the traps that each must catch."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.study import assess
from bladehold.study.checks import RULES
from bladehold.study.checks.parts import LUG, PIVOT, ROOT
from bladehold.study.loads import PROOF, loads_of
from bladehold.study.situation import Situation
from bladehold.tables import material


def with_pivot(build, **changes):
    return replace(build, pivot=replace(build.pivot, **changes))


def with_torque(build, torque, **changes):
    tightening = replace(build.pivot.tightening, torque=torque, prevailing_torque=0.0, **changes)
    return with_pivot(build, tightening=tightening)


def record(build, part, mode, level):
    return next(c for c in assess(build).checks if (c.part, c.mode, c.level) == (part, mode, level))


def test_every_record_can_be_recomputed_from_its_own_numbers():
    for build in (delivered(), repaired()):
        for check in assess(build).checks:
            assert check.formula and check.source and check.advice and check.inputs and check.condition
            if check.factor * abs(check.demand) > 0:
                assert check.margin == pytest.approx(check.capacity / (check.factor * abs(check.demand)) - 1)


def test_double_shear_by_hand():
    build = repaired()
    check = record(build, PIVOT, "double shear", "rupture")
    pull = next(i.value for i in check.inputs if i.name.startswith("P,"))
    assert check.demand == pytest.approx(pull / 2)
    assert check.capacity == pytest.approx(np.pi / 4 * 0.005**2 * 800e6 / np.sqrt(3))
    assert check.factor == pytest.approx(1.5 * 1.15)


def test_threads_in_the_shear_plane_cost_root_area_over_shank_area():
    shank = repaired()
    root = shank.pivot.thread.profile.root_diameter
    threaded = with_pivot(shank, shear_plane="thread", shear_diameter=root)
    for level in ("yield", "rupture"):
        whole = record(shank, PIVOT, "double shear", level).capacity
        cut = record(threaded, PIVOT, "double shear", level).capacity
        assert cut / whole == pytest.approx((root / 0.005) ** 2)


def test_preload_counts_at_yield_and_at_rupture_only_where_the_screw_breaks_before_the_joint_opens():
    """NASA-STD-5020B (2021) eq. 10-11: 6 kN in a joint that gives it two thirds: it breaks closed."""
    none, light, tight = (with_torque(repaired(), torque) for torque in (0.0, 0.6, 3.0))
    closed = [Situation(build, loads_of(build)).breaks_closed for build in (none, light, tight)]
    assert closed == [False, False, True]
    for mode in ("tension from prying", "shear, tension and bending together"):
        at_yield, at_rupture = (
            [record(build, PIVOT, mode, level).margin for build in (none, light, tight)]
            for level in ("yield", "rupture")
        )
        assert at_yield[0] > at_yield[1] > at_yield[2]
        assert at_rupture[0] == at_rupture[1] > at_rupture[2]


def test_friction_lifts_no_margin_at_rupture():
    grippy = repaired()
    slick = replace(grippy, policy=replace(grippy.policy, grip_friction=0.01))
    at_rupture = {c.key: c.margin for c in assess(grippy).checks if c.level == "rupture"}
    again = {c.key: c.margin for c in assess(slick).checks if c.level == "rupture"}
    assert at_rupture == again


def test_fully_tightened_screw_without_washer_crushes_soft_aluminium():
    build = repaired()
    soft = replace(build.hub, plate_material=material("6061-T6"), plate_hole=5.5e-3)
    tight = with_torque(
        replace(build, hub=soft), 6.1, nut_factor_low=0.15, nut_factor_high=0.15, scatter_up=0.25
    )
    bare = record(with_pivot(tight, washers=False), PIVOT, "pressure under the head", "yield")
    washed = record(with_pivot(tight, washers=True), PIVOT, "pressure under the head", "yield")
    assert bare.margin < 0.0 < washed.margin
    assert any("no permissible pressure known" in text for text in bare.breaches)


def test_threads_on_a_laminate_are_flagged_and_a_bush_mends_it():
    assert any("threads bear" in text for text in record(delivered(), LUG, "bearing", "rupture").breaches)
    assert not any("threads bear" in text for text in record(repaired(), LUG, "bearing", "rupture").breaches)


def test_unconfirmed_strengths_show_where_they_decide():
    check = record(delivered(), LUG, "bearing", "rupture")
    assert check.unconfirmed
    assert "some strengths are unconfirmed" in assess(delivered()).reservations
    assert not record(repaired(), PIVOT, "double shear", "rupture").unconfirmed


def test_a_screw_without_nut_carries_no_tension():
    check = record(with_pivot(repaired(), nut="none", engagement=0.0), PIVOT, "thread stripping", "rupture")
    assert check.margin == -1.0
    assert any("nothing carries the tension" in text for text in check.breaches)


def tapped_into(name, **changes):
    """Thread stripping of the pivot screw with 3 mm of thread in a plate of that material."""
    build = with_pivot(repaired(), nut="tapped", engagement=3e-3)
    plate = replace(material(name), **changes)
    build = replace(build, hub=replace(build.hub, plate_material=plate))
    return build, record(build, PIVOT, "thread stripping", "rupture")


def test_a_thread_cut_in_a_laminate_holds_by_shear_between_its_plies():
    build, check = tapped_into("carbon-woven")
    area = 0.75 * np.pi * 3e-3 * build.pivot.thread.nominal_diameter
    assert check.capacity == pytest.approx(area * 60e6)
    assert "Fis" in check.formula and "106943" in check.source
    assert any("no fastening" in text for text in check.breaches)
    _, blind = tapped_into("carbon-woven", interlaminar_shear=None)
    assert blind.capacity == pytest.approx(area * 140e6)
    assert any("shear-out strength is used" in text for text in blind.breaches)
    _, plastic = tapped_into("PA66-GF30")
    assert plastic.capacity == pytest.approx(area * material("PA66-GF30").shear_ultimate)
    assert not any("laminate" in text for text in plastic.breaches)
    _, metal = tapped_into("6061-T6")
    assert "C1" in metal.formula and not any("no fastening" in text for text in metal.breaches)


def test_a_blade_that_does_not_fold_needs_grip_against_its_drag():
    build = repaired()
    clamped = replace(build, propeller=replace(build.propeller, folding=False))
    assert record(clamped, ROOT, "drag moment by friction", "service").demand > 0.0
    assert all(check.part != ROOT for check in assess(build).checks)


def test_proof_asks_for_no_permanent_set_but_not_for_rupture_strength():
    checks = assess(delivered()).checks
    assert any(check.condition == PROOF and check.level == "yield" for check in checks)
    metal = [c for c in checks if c.part in {PIVOT, "hub plates"} and c.level == "rupture"]
    assert metal and all(check.condition != PROOF for check in metal)


def test_factors_come_from_the_policy():
    build = repaired()
    strict = replace(build, policy=replace(build.policy, limit_to_ultimate=2.0, fitting=1.25))
    before, after = (record(b, PIVOT, "double shear", "rupture") for b in (build, strict))
    assert after.factor == pytest.approx(2.5)
    assert after.margin < before.margin


def test_tightening_is_met_or_not_and_does_not_govern_when_met():
    build = repaired()
    check = record(build, "mounting screws", "tightening", "service")
    assert check.service and 0.0 <= check.margin < 0.3
    assert assess(build).governing.key != check.key
    screw = build.mounting.screw
    overtight = replace(screw, tightening=replace(screw.tightening, torque=6.0))
    found = assess(replace(build, mounting=replace(build.mounting, screw=overtight)))
    assert found.governing.key == "mounting screws: tightening (service)"
    assert found.verdict == "does not hold"


def test_tie_screws_are_checked_only_where_there_are_some():
    assert "tie screws" in assess(repaired()).by_part()
    assert "tie screws" not in assess(delivered()).by_part()


def test_rules_have_distinct_names_and_cover_the_path():
    keys = [rule.key for rule in RULES]
    assert len(set(keys)) == len(keys)
    parts = {rule.part for rule in RULES}
    assert {"pivot screw", "blade lug", "bush", "hub plates", "tie screws", "mounting screws"} <= parts


def test_verdict_words():
    build = repaired()
    found = assess(build)
    assert found.verdict == "holds" and found.holds
    band = replace(build, policy=replace(build.policy, marginal=0.9))
    assert assess(band).verdict == "marginal" and assess(band).holds
    assert assess(delivered()).verdict == "does not hold"
    assert found.governing.margin == min(c.margin for c in found.checks if c.governs)
    assert [c.margin for c in found.checks] == sorted(c.margin for c in found.checks)
