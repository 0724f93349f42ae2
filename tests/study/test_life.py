"""Fatigue life of the retention parts: cycles, damage, the multiple of the loads, and what is told."""

from dataclasses import replace

import numpy as np
import pytest
import rainflow
from sheets import delivered, repaired

from bladehold.joint import damage, fatigue
from bladehold.joint.contact import solve_clevis
from bladehold.study import assess, life_members
from bladehold.study.assess import outcomes
from bladehold.study.checks import FATIGUE, RULES
from bladehold.study.clevis import AS_BUILT, clevis_of
from bladehold.study.course import REST
from bladehold.study.life import case_of, judge, lives_of, scatter
from bladehold.study.loads import loads_of
from bladehold.study.situation import Situation
from bladehold.study.turns import _SOLVED, flown_in
from bladehold.tables import material

BUILDS = {"delivered": delivered, "repaired": repaired}
LOADS = {name: loads_of(make()) for name, make in BUILDS.items()}
FATIGUE_RULES = tuple(rule for rule in RULES if rule.level == FATIGUE)


def situation(name="repaired", **changes):
    build = BUILDS[name]()
    return Situation(replace(build, **changes), LOADS[name])


def scaled(loads, factor):
    """The same conditions with flap moment, lift and hub moment times a factor."""
    root = loads.root
    grown = {field: factor * getattr(root, field) for field in vars(root) if field != "lag_angle"}
    return replace(loads, root=replace(root, **grown), hub_moment=factor * loads.hub_moment)


def life_of(now, part, mode):
    return next(life for life in lives_of(now) if (life.part, life.mode) == (part, mode))


def members(now):
    found = [make(now) for make in life_members.MEMBERS]
    return [member for member in found if isinstance(member, life_members.Member)]


def grown(member, factor):
    """The member with all its stresses times a factor, its cycles read anew."""
    stress = member.cycles.stress
    amplitude, greatest = factor * stress.amplitude, factor * stress.greatest
    cycles = member.chosen.curve.cycles(greatest, greatest - 2.0 * amplitude)
    changed = replace(stress, amplitude=amplitude, greatest=greatest, cycles=cycles)
    return replace(member, cycles=replace(member.cycles, stress=changed))


def test_thread_of_the_mounting_screws_by_hand():
    """Every turn, the course of every flight and its loops, by plain rainflow; loads large enough to "
    "damage."""
    now = Situation(repaired(), scaled(LOADS["repaired"], 2.5))
    life = life_of(now, "mounting screws", "thread")
    loads, screw = now.loads, now.build.mounting.screw
    even, swing = loads.thrust / 4, 2.0 * loads.hub_moment / (4 * now.build.mounting.bolt_circle / 2)
    area = screw.thread.profile.stress_area
    endurance = 0.85 * (150 / 4 + 45) * 1e6
    done = 0.0
    for n in range(len(loads.names) - 1):
        stress = swing[n] / area
        if stress > endurance:
            turns = loads.speed[n] / (2 * np.pi) * 3600 * loads.time_share[n]
            done += turns / (2e6 * (endurance / stress) ** 3)
    turning = done

    def damage_of(swing_of_force, per_hour):
        stress = swing_of_force / 2 / area
        return per_hour / (2e6 * (endurance / stress) ** 3) if stress > endurance else 0.0

    for course in loads.courses:
        flights = course.share * 3600 / now.build.flying.flight_time
        ends = {at: (even[at] - swing[at], even[at] + swing[at]) for at in range(len(loads.names) - 1)} | {
            REST: (0.0, 0.0)
        }
        history = [value for at in course.places for value in ends[at]]
        top = history.index(max(history))
        closed = [*history[top:], *history[:top], history[top]]
        for size, count in rainflow.count_cycles(closed):
            done += damage_of(size, flights * count)
        for loop in course.loops:
            four = [*ends[loop.first], *ends[loop.second]]
            done += damage_of(max(four) - min(four), flights * loop.times)
    assert done > turning > 0.0
    assert life.hours == pytest.approx(1 / (8 * done), rel=1e-9)
    assert life.scatter == scatter() == 8.0


def test_shank_feels_start_and_stop_by_hand():
    """A steady rotor: nothing but one cycle a flight from rest to pull and tension bends the shank."""
    loads = LOADS["repaired"]
    root = replace(
        loads.root, flap_cyclic=0.0 * loads.root.flap_cyclic, lift_swing=0.0 * loads.root.lift_swing,
        centrifugal=loads.root.in_plane,
    )  # fmt: skip
    now = Situation(repaired(), replace(loads, root=root))
    member = life_members.pivot_section(now)
    d = now.build.pivot.shear_diameter
    model = clevis_of(now.build, AS_BUILT, now.tie_preload)
    clamp = float(now.pivot_preload.maximum)
    state = solve_clevis(model, np.append(0.0, root.flap_mean[:-1]), np.append(0.0, root.lift[:-1]), clamp)
    bending = 32 * now.bedded.greatest * np.append(0.0, root.in_plane[:-1]) / 2 / (np.pi * d**3)
    fibre = bending + state.screw_tension / (np.pi / 4 * d**2)
    amplitude, mean = (fibre.max() - fibre[0]) / 2, (fibre.max() + fibre[0]) / 2
    stress, cycles = member.cycles.stress, member.cycles
    largest = stress.amplitude[-1].argmax()
    assert cycles.group[largest] == "start and stop"
    assert stress.amplitude[-1, largest] == pytest.approx(amplitude, rel=1e-6)
    assert stress.greatest[-1, largest] == pytest.approx(amplitude + mean, rel=1e-6)
    assert stress.amplitude[-1, cycles.turning].max() == 0.0
    # The hardest condition is one of the warm air, flown in every second flight.
    assert cycles.rates[-1, largest] == pytest.approx(0.5 * 3600 / now.build.flying.flight_time)


@pytest.mark.parametrize("name", BUILDS)
def test_more_load_shorter_life_and_smaller_multiple(name):
    before = {(x.part, x.mode): x for x in lives_of(situation(name))}
    build = BUILDS[name]()
    for after in lives_of(Situation(build, scaled(LOADS[name], 1.3))):
        old = before[after.part, after.mode]
        assert after.hours <= old.hours
        assert after.multiplier < old.multiplier
    harder = {(x.part, x.mode): x for x in lives_of(Situation(build, loads_of(build, 1.3)))}
    assert all(harder[key].multiplier < old.multiplier for key, old in before.items())


@pytest.mark.parametrize("name", BUILDS)
def test_multiple_of_the_stresses_gives_the_service_life(name):
    """Within 0.1 % of load on both sides; where no endurance limit makes it jump, the life itself agrees."""
    now = situation(name)
    wanted = now.build.flying.service_life / 3600
    smooth = 0
    for member in members(now):
        factor = float(judge(now, member).multiplier)
        assert judge(now, grown(member, factor * 0.999)).hours >= wanted
        assert judge(now, grown(member, factor * 1.001)).hours <= wanted
        at = float(judge(now, grown(member, factor)).hours)
        if np.isfinite(at) and abs(at / wanted - 1) < 0.5:
            smooth += 1
            assert at == pytest.approx(wanted, rel=1e-3)
    assert smooth >= 3


def test_scatter_divides_the_life():
    now = situation("delivered")
    member = life_members.plate_hole(now)
    cycles = member.cycles
    rates = cycles.rates / np.where(cycles.stress.cycles > 0.0, cycles.stress.cycles, np.nan)
    assert judge(now, member).hours == pytest.approx((1 / (8 * rates.sum(axis=-1))).min(), rel=1e-9)


def test_longer_service_smaller_margin():
    short, long = (
        situation("delivered", flying=replace(delivered().flying, service_life=hours * 3600))
        for hours in (30, 3000)
    )
    for one, two in zip(members(short), members(long), strict=True):
        assert judge(long, two).multiplier <= judge(short, one).multiplier
        assert judge(long, two).hours == judge(short, one).hours


def test_a_clamped_root_whose_friction_holds_bends_no_shank():
    base, loads = repaired(), scaled(LOADS["repaired"], 0.1)
    tightening = replace(base.pivot.tightening, torque=12.0)
    held = replace(
        base,
        propeller=replace(base.propeller, folding=False),
        pivot=replace(base.pivot, tightening=tightening),
    )
    folding = replace(base, pivot=replace(base.pivot, tightening=tightening))
    assert (Situation(held, loads).pull_at_yield[:-1] == 0.0).all()
    still, bent = (
        life_members.pivot_section(Situation(build, loads)).cycles.stress for build in (held, folding)
    )
    assert still.amplitude.max() < 0.3 * bent.amplitude.max()
    loose = replace(held, pivot=replace(held.pivot, tightening=replace(tightening, torque=0.0)))
    slips = life_members.pivot_section(Situation(loose, loads)).cycles.stress
    pull = loads.root.in_plane[:-1].max()
    bending = 16 * Situation(loose, loads).pin_moment_of(pull) / (np.pi * held.pivot.shear_diameter**3)
    assert slips.amplitude.max() > bending


def test_batch_axes_agree_with_one_by_one():
    build = repaired()
    scales = np.array([0.7, 1.6])  # few enough that every state is solved and none read from a table
    whole = Situation(build, loads_of(build, scales))
    single = [Situation(build, loads_of(build, scale)) for scale in scales]
    for rule in FATIGUE_RULES:
        margins = rule.function(whole).margin
        assert margins.shape == whole.loads.thrust.shape
        one = [float(rule.function(now).margin.min()) for now in single]
        assert margins.min(axis=-1) == pytest.approx(one, rel=5e-4)
        assert (np.isfinite(margins).sum(axis=-1) <= 1).all()


def test_table_of_states_stands_for_solving_each():
    """200 conditions of different loads: every state is within 0.5 % of the range of its load."""
    build, loads = repaired(), LOADS["repaired"]
    count = len(loads.names) - 1
    index = np.append(np.arange(200) % count, count)
    vary = np.append(np.linspace(0.8, 1.2, 200), 1.0)

    def tiled(value):
        return value[index] if np.ndim(value) else value

    root = {
        name: tiled(value) * (1.0 if name == "lag_angle" else vary)
        for name, value in vars(loads.root).items()
    }
    many = replace(
        loads, names=tuple(loads.names[i] for i in index), thrust=tiled(loads.thrust), courses=(),
        speed=tiled(loads.speed), torque=tiled(loads.torque), hub_moment=tiled(loads.hub_moment) * vary,
        flight=tiled(loads.flight), time_share=tiled(loads.time_share) * count / 200,
        root=type(loads.root)(**root),
    )  # fmt: skip
    table = Situation(build, many)
    assert np.unique(table.turning.place).size > _SOLVED
    flown = np.flatnonzero(flown_in(many)[:-1])
    turning = table.turning
    model = clevis_of(build, AS_BUILT, table.tie_preload)
    lift = np.stack((many.root.lift, many.root.lift - 2 * many.root.lift_swing))
    flap = np.stack(
        (many.root.flap_mean + many.root.flap_cyclic, many.root.flap_mean - many.root.flap_cyclic)
    )
    exact = solve_clevis(model, flap[:, flown], lift[:, flown], float(table.pivot_preload.maximum))
    for name in ("screw_tension", "upper_hole_moment", "lower_inboard_moment"):
        found = getattr(turning.state, name)[-1][turning.place[:2, flown]]
        right = getattr(exact, name)
        assert np.abs(found - right).max() <= 5e-3 * np.ptp(right)


@pytest.mark.parametrize("name", BUILDS)
def test_the_case_told_is_the_most_damaging(name):
    now = situation(name)
    for member in members(now):
        life = life_of(now, member.part, member.mode)
        if not np.isfinite(life.hours):
            assert life.case_share == 0.0
            continue
        with np.errstate(divide="ignore"):
            every = member.cycles.rates / member.cycles.stress.cycles
        parts = every[every.sum(axis=-1).argmax()]
        assert life.case == case_of(now, member.cycles, int(parts.argmax()))
        assert sum(share for _, share in life.groups) == pytest.approx(1.0)
        assert life.case_share == pytest.approx(parts.max() / parts.sum(), rel=1e-9)
    for rule, outcome in outcomes(now, FATIGUE_RULES):
        assert (outcome.factor > 0.0).sum() <= 1, rule.key
        assert outcome.factor[-1] == 0.0


def test_no_time_no_damage():
    never = {"time_share": 0.0 * LOADS["repaired"].time_share, "courses": ()}
    now = Situation(repaired(), replace(LOADS["repaired"], **never))
    for life in lives_of(now):
        assert life.hours == np.inf and life.multiplier > 1e6
    # A condition without a share of the flight counts for nothing, however hard it is.
    base = replace(LOADS["repaired"], courses=())
    wild = base.root.flap_cyclic.copy()
    wild[2] *= 50.0
    share = base.time_share.copy()
    share[2] = 0.0
    calm, hard = (
        lives_of(
            Situation(repaired(), replace(base, time_share=share, root=replace(base.root, flap_cyclic=c)))
        )
        for c in (base.root.flap_cyclic, wild)
    )
    assert [x.hours for x in calm] == [x.hours for x in hard]


def test_parts_that_are_there_and_parts_that_are_not():
    with_ties = {(x.part, x.mode) for x in lives_of(situation("repaired"))}
    without = {(x.part, x.mode) for x in lives_of(situation("delivered"))}
    assert with_ties - without == {("tie screws", "thread")}
    assert ("mounting screws", "thread") in without


def test_what_is_not_checked_is_told():
    base = repaired()
    plastic = replace(
        base,
        hub=replace(base.hub, lug_material=material("PA66-GF30"), plate_material=material("carbon-woven")),
        pivot=replace(base.pivot, nut="circlip", circlip_load=1000.0),
    )
    now = Situation(plastic, LOADS["repaired"])
    silent = [x for x in lives_of(now) if x.hours is None]
    assert {(x.part, x.mode) for x in silent} == {
        ("pivot screw", "thread"), ("blade lug", "at the hole"), ("hub plates", "between lug and root"),
    }  # fmt: skip
    assert all("not checked" in x.breaches[0] for x in silent)
    told = assess(plastic, LOADS["repaired"]).breaches
    assert all(x.breaches[0] in told for x in silent)


def test_borrowed_curves_are_told():
    base = repaired()
    soft = replace(base, hub=replace(base.hub, plate_material=material("7075-T7351")))
    life = life_of(Situation(soft, LOADS["repaired"]), "hub plates", "at the hole")
    assert any("7050-T7451" in text for text in life.breaches)
    stainless = life_of(situation("delivered"), "pivot screw", "thread")
    assert any("ISO 898-1" in text for text in stainless.breaches)


def test_worse_of_least_and_greatest_preload_counts():
    now = situation("repaired")
    member = life_members.pivot_thread(now)
    cycles = member.cycles
    assert cycles.stress.amplitude.shape[0] == 4
    alone = []
    for state in range(4):
        parts = {
            name: getattr(cycles.stress, name)[state : state + 1]
            for name in ("cycles", "amplitude", "greatest")
        }
        stress = replace(cycles.stress, **parts)
        one = replace(member, cycles=replace(cycles, stress=stress, rates=cycles.rates[state : state + 1]))
        alone.append(float(judge(now, one).multiplier))
    assert float(judge(now, member).multiplier) == min(alone)
    assert len(set(alone)) > 1


def test_start_stop_rate_and_turn_rate():
    now = situation("repaired")
    rates = now.turning.rates
    assert rates[:-1] == pytest.approx(
        damage.turn_cycles_per_hour(now.loads.speed, now.loads.time_share)[:-1], rel=1e-12
    )
    assert rates[-1] == 0.0
    cycles = life_members.pivot_thread(now).cycles
    whole = cycles.rates * np.array([group == "start and stop" for group in cycles.group])
    # From rest to the hardest and back once a flight, other cycles between conditions beside it.
    hardest = cycles.stress.amplitude * (whole > 0.0)
    assert whole[0, hardest[0].argmax()] == pytest.approx(0.5 * 3600.0 / now.build.flying.flight_time)
    assert rates[:-1].max() * 300 * 8 > fatigue.VDI_KNEE
