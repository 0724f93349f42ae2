"""The joint for many draws against the joint one by one; the worst case; tables of scatter."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.study.assess import assess, outcomes
from bladehold.study.chance import BREAKS, chance
from bladehold.study.change import with_pivot_screw
from bladehold.study.joint_stage import joint_stage, tabled
from bladehold.study.loads import loads_of
from bladehold.study.scatter import GEOMETRY, drawn_for, variables_of, with_departure
from bladehold.study.situation import Situation
from bladehold.study.worst import worst_case
from bladehold.tables import property_class, scatter, scatter_names

DRAWS = np.random.default_rng(11)


@pytest.fixture(scope="module", params=[repaired, delivered], ids=["repaired", "delivered"])
def stage(request):
    build = request.param()
    return joint_stage(build, variables_of(build), factors=False)


def one_by_one(stage, u):
    """Margins of one draw by the whole way: sheet changed, loads solved, every condition, exact geometry."""
    draws = drawn_for(stage.build, stage.variables, u[np.newaxis])
    build = stage.build
    for name, metres in zip(GEOMETRY, draws.geometry[:, 0], strict=True):
        build = with_departure(build, name, float(metres))
    blade = replace(build.propeller, blade_mass=float(draws.mass[0]) * build.propeller.blade_mass)
    build = replace(build, propeller=blade)
    loads = loads_of(build, float(draws.thrust[0]))
    now = Situation(build, loads, preloads=(draws.preload[:1], draws.tie_preload[:1]), turns=False)
    found = {rule.key: outcome.margin[..., :-1].min() for rule, outcome in outcomes(now, stage.rules)}
    return np.array(
        [
            np.log1p(found[rule.key])
            + np.log(draws.strength[rule.held_by or rule.part][0])
            - np.log(draws.stress[0])
            for rule in stage.rules
        ]
    )


def test_many_draws_are_as_one_by_one(stage):
    u = DRAWS.standard_normal((5, len(stage.variables)))
    together = stage.log_margins(u)
    alone = np.array([one_by_one(stage, one) for one in u])
    # Conditions left out may ask 0.5 % more; geometry by its slopes and loads between nodes add little.
    assert np.abs(together - alone).max() < 0.01


def test_the_table_stays_by_the_stage(stage):
    assert tabled(stage).departure(100) < 0.03


def test_means_of_strengths_put_the_tables_figures_at_their_quantiles():
    for name in scatter_names():
        if not name.endswith("strength"):
            continue
        row = scatter(name)
        spread = np.sqrt(np.log1p((row.deviation / row.mean) ** 2))
        beyond = 1.2816 if name == "laminate strength" else 2.3263
        assert np.log(row.mean) - spread**2 / 2 - beyond * spread == pytest.approx(0.0, abs=1e-3)


def test_the_answer_and_its_order():
    found = chance(delivered(), samples=20_000)
    breaking = [part for part in found.parts if part.event == BREAKS]
    each = [part.found.estimate.probability for part in breaking]
    assert each == sorted(each, reverse=True)
    # Any part is no less likely than each, and no more than all together.
    whole = found.any_breaks.estimate
    assert max(each) <= whole.high and whole.low <= sum(each)
    assert found.doubt[0] < whole.probability < found.doubt[1]


def test_stronger_screws_fail_less():
    build = delivered()
    weak = chance(build, samples=5_000)
    better = replace(
        build.pivot.strength,
        tensile_strength=1.3 * build.pivot.strength.tensile_strength,
        yield_strength=1.3 * build.pivot.strength.yield_strength,
    )
    strong = chance(replace(build, pivot=replace(build.pivot, strength=better)), samples=5_000)

    def index(found):
        return next(p.found.index for p in found.parts if p.part == "pivot screw" and p.event == BREAKS)

    assert index(strong) > index(weak) + 1.0


@pytest.mark.parametrize("make", [repaired, delivered])
def test_the_worst_case_is_no_better_than_the_sheet(make):
    found = worst_case(make())
    for part in found.parts:
        assert part.worst < part.margin
        assert all(fall > 0.0 and end in {"high", "low"} for _, end, fall in part.ends)
    assert [part.worst for part in found.parts] == sorted(part.worst for part in found.parts)


def test_the_worst_case_is_never_milder_than_the_sheet():
    """With next to no scatter of what the sheet does not bound itself, the bands of the sheet must remain."""
    own = [
        replace(scatter(name), deviation=1e-6) for name in ("stress model", "thrust", "blade mass", "wrench")
    ]
    found = worst_case(repaired(), own)
    for part in found.parts:
        assert part.worst <= part.margin + 1e-12, part.part


def test_a_hub_that_fails_in_its_proof_does_not_hold_in_the_worst_case():
    build = with_pivot_screw(repaired(), "M4", property_class("8.8"))
    whole = assess(build)
    assert whole.margin < 0.0 < whole.flight_margin  # the centrifugal proof alone
    found = worst_case(build)
    assert not found.holds and found.sheet_margin == whole.margin
    assert found.sheet.startswith(whole.governing.key)


def test_parts_that_nothing_brings_near_failure_are_named():
    worst, likely = worst_case(repaired()), chance(repaired(), samples=2_000)
    shown = {part.part for part in worst.parts}
    assert not shown & set(worst.left_out)
    told = {f"{part.part}, {part.event}" for part in likely.parts} | set(likely.left_out)
    checked = {check.part for check in assess(repaired()).checks if check.level == "rupture"}
    assert {f"{part}, breaks" for part in checked} <= told
