"""What is flown: kinds, their time, the balance behind them, the course of a flight, gusts, layouts."""

import re
from dataclasses import replace

import numpy as np
import pytest
from sheets import EXAMPLES, repaired

from bladehold.air import GRAVITY, air_at
from bladehold.aircraft import Demand, trimmed_flight
from bladehold.rotor import solve_tilted_for_thrust
from bladehold.sheet import parse_sheet, resolve
from bladehold.sheet.build_flying import Events, OwnCase, Segment
from bladehold.study import aircraft_answer, envelope_map
from bladehold.study.conditions import conditions_of, courses_of
from bladehold.study.course import REST
from bladehold.study.kinds import STANDING_MIX, USUAL_MIX, kinds_of, weathers
from bladehold.study.loads import loads_of
from bladehold.study.remembered import forget
from bladehold.study.rotor_law import tabled_law
from bladehold.study.shape import blade_of
from bladehold.study.trimmed import frame_of, trimmed


def flown(build, **changed):
    return replace(build, flying=replace(build.flying, **changed))


def by_name(build):
    return {kind.name: kind for kind in kinds_of(build)}


def test_the_time_of_all_that_is_flown_is_the_flight():
    for build in (repaired(), flown(repaired(), segments=()), flown(repaired(), segments=(), top_speed=0.0)):
        conditions = conditions_of(build)
        assert conditions.time_share.sum() == pytest.approx(1.0)
        steady = sum(kind.share for kind in kinds_of(build))
        brief = sum(kind.times * kind.lasts for kind in kinds_of(build)) / build.flying.flight_time
        assert steady + brief == pytest.approx(1.0) and brief > 0.05


def test_without_a_mission_the_usual_mix_is_flown():
    for top, mix in ((16.0, USUAL_MIX), (0.0, STANDING_MIX)):
        kinds = by_name(flown(repaired(), segments=(), top_speed=top))
        shares = {name: kind.share for name, kind in kinds.items() if kind.share}
        total = sum(shares.values())
        assert {name: share / total for name, share in shares.items()} == pytest.approx(mix)
    assert not {"cruise", "turn at cruise", "gust from below at top speed"} & set(kinds)


def test_a_mission_takes_its_place_and_the_limits_stay():
    kinds = by_name(repaired())
    assert kinds["hover"].share == 0.0 and kinds["mission: transit"].share > 0.25
    assert kinds["mission: transit"].speed == pytest.approx(15.0)  # 10 m/s over ground into 5 m/s of wind
    assert kinds["mission: holding for a picture"].speed == pytest.approx(5.0)


def test_what_takes_longer_than_the_flight_is_refused_in_words():
    with pytest.raises(ValueError, match=r"flying\.manoeuvres"):
        kinds_of(flown(repaired(), flight_time=60.0))


def test_warm_air_is_met_high_and_cold_air_low():
    warm, cold = weathers(flown(repaired(), altitude_max=2000.0))
    assert (warm.altitude, cold.altitude) == (2000.0, 600.0)
    assert warm.temperature > cold.temperature and warm.share + cold.share == 1.0
    one = weathers(flown(repaired(), temperature_min=290.0, temperature_max=290.0))
    assert len(one) == 1 and one[0].share == 1.0


def test_thrusts_follow_the_balance_of_the_aircraft():
    build = repaired()
    even = build.aircraft.mass * GRAVITY / 6
    kinds, air = kinds_of(build), weathers(build)
    for at, found in enumerate(trimmed(build, kinds, air)):
        assert found.trim.converged.all()
        assert max(found.trim.force_residual.max(), found.trim.moment_residual.max()) < 1e-9
        conditions = conditions_of(build)
        rows = slice(at * len(kinds), (at + 1) * len(kinds))
        assert conditions.thrust[rows] == pytest.approx(
            build.flying.used_thrust * found.trim.thrust.max(axis=1) / even
        )
    assert found.ratio[[kind.name for kind in kinds].index("pull-up in hover")] == pytest.approx(
        1.6, rel=1e-6
    )


def test_the_tabled_rotor_is_the_real_one_at_the_balance():
    """Hub loads of the rotor solved at the trimmed thrust, tilt and speed, against those of the balance."""
    build = repaired()
    kinds, air = kinds_of(build), weathers(build)
    for weather, found in zip(air, trimmed(build, kinds, air), strict=True):
        at = [kind.name for kind in kinds].index("top speed")
        geometry, polar = blade_of(build)
        state = air_at(weather.altitude, weather.temperature, build.air.humidity)
        real = solve_tilted_for_thrust(
            geometry,
            2,
            found.trim.thrust[at],
            found.trim.axial[at],
            found.trim.edge[at],
            density=state.density,
            viscosity=state.viscosity,
            speed_of_sound=state.speed_of_sound,
            polar=polar,
            azimuths=36,
        )
        # Ahead, the thrust's share carries the drag of the frame and of the rotors.
        drag = 0.5 * state.density * build.flying.top_speed**2 * build.aircraft.drag_area
        pitch = -float(found.trim.pitch[at])
        hub_drag = (float(found.trim.thrust[at].sum()) * np.sin(pitch) - drag) / np.cos(pitch)
        # The table's tilt is that of the first guess, without the rotors' own drag: a tenth of this drag is
        # 0.3 % of the weight.
        assert float(real.drag_force.sum()) == pytest.approx(hub_drag, rel=0.12)
        # The power T dV of the air that comes faster than in the table is taken at the table's speed.
        assert real.torque == pytest.approx(found.trim.torque[at], rel=0.03)
        # The front is lightened by what wind and drag above the centre of mass do to the nose.
        nose = float(real.pitching_moment.sum()) + 0.12 * float(real.drag_force.sum())
        arms = frame_of(build).position[:, 0]
        assert float(found.trim.thrust[at] @ arms) == pytest.approx(-nose, rel=0.05)


def test_a_table_at_the_balance_itself_changes_the_hardest_rotor_by_a_quarter_per_cent_at_most():
    """Cold and warm, high and fast: the law tabled anew at the attitude found, then the balance again."""
    build = flown(repaired(), altitude_max=3000.0, temperature_min=253.0, top_speed=25.0, cruise_speed=18.0)
    kinds, air = kinds_of(build), weathers(build)
    state = air_at(*np.array([(one.altitude, one.temperature) for one in air]).T, build.air.humidity)
    first = trimmed(build, kinds, air)
    steady = [at for at, kind in enumerate(kinds) if not kind.tilting and not kind.turning]
    mean = {
        name: np.array([getattr(one.trim, name)[steady].mean(axis=-1) for one in first])
        for name in ("thrust", "axial", "edge")
    }
    mean["edge"] = np.where(mean["edge"] < 1e-6, 0.0, mean["edge"])
    law = tabled_law(build, state, *mean.values())
    asked = [kinds[at] for at in steady]
    demand = Demand.of(
        mass=build.aircraft.mass + np.array([kind.payload for kind in asked]),
        density=state.density[:, np.newaxis],
        ahead=[kind.speed for kind in asked],
        climb=[kind.climb for kind in asked],
        sideways=GRAVITY * np.array([kind.sideways for kind in asked]),
        upward=GRAVITY * (np.array([kind.load_factor for kind in asked]) - 1.0),
    )
    craft = build.aircraft
    again = trimmed_flight(frame_of(build), demand, craft.drag_area, law, craft.drag_height)
    hardest = np.array([one.trim.thrust[steady].max(axis=-1) for one in first])
    assert hardest == pytest.approx(again.thrust.max(axis=-1), rel=0.0025)


def test_trims_are_remembered_and_forgotten():
    build = repaired()
    first = trimmed(build, kinds_of(build), weathers(build))
    assert trimmed(build, kinds_of(build), weathers(build)) is first
    forget()
    again = trimmed(build, kinds_of(build), weathers(build))
    assert again is not first and again[0].ratio == pytest.approx(first[0].ratio, rel=1e-12)
    heavier = replace(build, aircraft=replace(build.aircraft, mass=30.0))
    assert trimmed(heavier, kinds_of(heavier), weathers(heavier)) is not again


def test_gusts_keep_speed_and_change_thrust():
    loads = loads_of(repaired())
    at = {name: place for place, name in enumerate(loads.names)}
    base = at["hover, warm"]
    up, down = at["gust from below in hover, warm"], at["gust from above in hover, warm"]
    assert loads.speed[up] == loads.speed[down] == loads.speed[base]
    assert loads.root.centrifugal[up] == loads.root.centrifugal[base]
    assert loads.thrust[down] < loads.thrust[base] < loads.thrust[up]
    kinds = kinds_of(flown(repaired(), gust=0.0))
    assert all(not kind.sudden for kind in kinds)


def test_a_level_gust_comes_the_way_the_wind_does():
    build = repaired()
    conditions = conditions_of(build)
    at = {name: place for place, name in enumerate(conditions.names)}
    hover, fast = at["level gust in hover, warm"], at["level gust at top speed, warm"]
    assert conditions.gust[hover] == 0.0 and conditions.gust_along[hover] == build.flying.gust
    # Air through and along the disc grow as the air speed does.
    speed = build.flying.top_speed
    axial, edge = conditions.axial_speed[fast], conditions.edge_speed[fast]
    assert np.hypot(axial, edge) == pytest.approx(speed)
    met = np.hypot(axial - conditions.gust[fast], edge + conditions.gust_along[fast])
    assert met == pytest.approx(speed + build.flying.gust)


@pytest.mark.parametrize("layout", ["flat", "coaxial"])
def test_a_level_gust_bends_blades_once_per_turn_and_keeps_their_speed(layout):
    craft = replace(repaired().aircraft, layout=layout, coaxial_spacing=0.15)
    loads = loads_of(replace(repaired(), aircraft=craft))
    at = {name: place for place, name in enumerate(loads.names)}
    for base in ("in hover", "at top speed"):
        gust = at[f"level gust {base}, cold"]
        held = at[f"{base.split(maxsplit=1)[1]}, cold"]
        assert loads.speed[gust] == pytest.approx(loads.speed[held])
        assert loads.root.flap_cyclic[gust] > loads.root.flap_cyclic[held] + 0.5
        # In hover advancing blades win a little more than retreating ones lose; at speed the nose is down,
        # and a part of the gust comes from above.
        gained = loads.thrust[gust] / loads.thrust[held]
        assert 1.0 < gained < 1.05 if base == "in hover" else 0.8 < gained < 1.0


def test_a_step_of_the_throttle_adds_inertia_in_the_plane():
    slow, quick = (loads_of(flown(repaired(), throttle_step=time)) for time in (5.0, 0.1))
    at = slow.names.index("pull-up in hover, warm")
    body = 0.034 * (0.030 + 0.102)
    wanted = body * slow.speed[at] * (1 / 0.1 - 1 / 5.0)
    assert quick.root.drag[at] - slow.root.drag[at] == pytest.approx(wanted, rel=1e-9)
    hover = slow.names.index("hover, warm")
    assert quick.root.drag[hover] == slow.root.drag[hover]


def test_the_course_of_a_flight_passes_everything_and_ends_at_rest():
    build = repaired()
    kinds, courses = kinds_of(build), courses_of(build)
    assert [course.share for course in courses] == [0.5, 0.5]
    names = conditions_of(build).names
    for course, label in zip(courses, ("warm", "cold"), strict=True):
        assert course.places[0] == course.places[-1] == REST
        passed = {names[place] for place in course.places[1:-1]}
        assert passed == {f"{k.name}, {label}" for k in kinds if k.share or k.times}
        loops = {names[loop.second]: loop for loop in course.loops if loop.second != REST}
        assert loops[f"manoeuvre at top speed, {label}"].times == 10.0
        assert names[loops[f"manoeuvre at top speed, {label}"].first] == f"top speed, {label}"
        assert sum(loop.group == "throttle" for loop in course.loops) == 2


def test_own_cases_count_as_often_as_they_are_said_to():
    case = OwnCase("snatch", 90.0, 0.0, 0.0, None, None, times=3, lasts=2.0, source="a log")
    build = flown(repaired(), cases=(case, replace(case, name="once in a lifetime", times=0)))
    conditions = conditions_of(build)
    at = conditions.names.index("snatch")
    assert conditions.time_share[at] == pytest.approx(6.0 / build.flying.flight_time)
    assert conditions.bases[at] == "flying.case: a log"
    assert conditions.time_share.sum() == pytest.approx(1.0)
    for course in courses_of(build):
        assert at in course.places and at + 1 not in course.places


def test_every_condition_says_where_it_comes_from():
    assert all(conditions_of(repaired()).bases) and len(loads_of(repaired()).bases) == len(
        loads_of(repaired()).names
    )


LAYOUTS = {
    "4": ("flat", 4), "3": ("flat", 3), "8": ("flat", 8), "4x2": ("coaxial", 8), "3x2": ("coaxial", 6),
    "6x2": ("coaxial", 12),
}  # fmt: skip


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_layout_is_balanced_and_checked(name):
    layout, rotors = LAYOUTS[name]
    base = repaired()
    craft = replace(base.aircraft, layout=layout, rotors=rotors, mass=26.0 * rotors / 6, coaxial_spacing=0.15)
    craft = replace(craft, rotor_distance=1.1, first_arm=0.4)
    build = replace(base, aircraft=craft)
    found = aircraft_answer(build)
    assert found.trims[0].frame.count == rotors
    assert all(trim.trim.converged.all() for trim in found.trims)
    assert np.isfinite(found.assessment.margin)


def test_a_custom_layout_with_canted_rotors():
    text = (EXAMPLES / "tarn6_as_delivered.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^rotor_(distance|height) = .*\n", "", text)
    text = text.replace('layout = "flat"', 'layout = "custom"')
    rotors = ""
    for at in range(6):
        bearing = np.radians(30.0 + 60.0 * at)
        rotors += f"""[[aircraft.rotor]]
x = "{0.8 * np.cos(bearing):.4f} m"
y = "{0.8 * np.sin(bearing):.4f} m"
z = "-100 mm"
spin = "{"ccw" if at % 2 else "cw"}"
cant = "4 deg"
cant_direction = "{np.degrees(bearing):.0f} deg"
"""
    build = resolve(parse_sheet(text.replace("[air]", rotors + "[air]", 1)))
    found = aircraft_answer(build)
    hover = found.trims[0].trim.thrust[0]
    assert hover.sum() * np.cos(np.radians(4.0)) == pytest.approx(26.0 * GRAVITY)


def test_rotors_that_cannot_balance_share_evenly_and_say_so():
    base = repaired()
    build = replace(base, aircraft=replace(base.aircraft, rotors=2, mass=26.0 / 3))
    assert frame_of(build) is None
    found = aircraft_answer(build)
    assert "even share" in found.notes[0] and found.left is None
    hover = loads_of(build).thrust[0]
    assert hover == pytest.approx(build.flying.used_thrust)


def test_steering_harder_than_rotors_can_is_refused_in_words():
    with pytest.raises(ValueError, match=r"cannot balance the aircraft in: .*yaw rate"):
        aircraft_answer(flown(repaired(), yaw_time=0.2))


def test_discs_that_overlap_are_told():
    base = repaired()
    close = replace(base, aircraft=replace(base.aircraft, rotor_distance=0.55))
    assert any("overlap" in note for note in aircraft_answer(close).notes)


def test_used_thrust_may_be_left_to_the_mass():
    text = (EXAMPLES / "tarn6_as_delivered.toml").read_text(encoding="utf-8")
    build = resolve(parse_sheet(text.replace('used_thrust = "4.6 kgf"\n', "")))
    assert build.flying.used_thrust == pytest.approx(26.0 * GRAVITY / 6)
    assert any(item.key == "flying.used_thrust" for item in build.assumptions)


def test_the_map_has_the_margins_of_its_conditions():
    build = repaired()
    found = envelope_map(build)
    assert found.margin.shape == (found.speed.size, found.load_factor.size)
    assert not found.shortened and np.all(np.isfinite(found.margin))
    # The sheet's own point and level flight are on it.
    assert build.flying.top_speed in found.speed and {1.0, build.flying.load_factor} <= set(found.load_factor)
    # more load never helps, whatever the speed
    assert np.all(np.diff(found.margin[:, 1:], axis=1) < 0.0)
    answer = aircraft_answer(build)
    at = next(
        c for c in answer.assessment.checks if c.condition.startswith("manoeuvre at top speed") and c.governs
    )
    speed, factor = found.asked
    i, j = int(np.searchsorted(found.speed, speed)), int(np.searchsorted(found.load_factor, factor))
    assert found.margin[i, j] == pytest.approx(at.margin, rel=1e-6)
    assert {name for row in found.part for name in row} <= {check.part for check in answer.assessment.checks}


def test_a_map_beyond_the_rotor_is_shortened():
    build = flown(repaired(), load_factor=5.0, used_thrust=90.0)
    found = envelope_map(build)
    assert found.shortened and found.load_factor[-1] < 1.25 * 5.0


def test_events_that_never_come_leave_the_turns_alone():
    none = Events(gusts=0, throttle_steps=0, throttle_chops=0, manoeuvres=0, manoeuvre_time=2.0)
    build = flown(repaired(), events=none)
    assert all(not course.loops for course in courses_of(build))
    assert conditions_of(build).time_share.sum() == pytest.approx(1.0)


def test_a_payload_is_carried():
    light, heavy = (
        flown(repaired(), segments=(Segment("haul", 1.0, 5.0, 0.0, 1.0, load),)) for load in (0.0, 5.2)
    )
    at = [kind.name for kind in kinds_of(light)].index("mission: haul")
    ratio = [trimmed(b, kinds_of(b), weathers(b))[0].trim.thrust[at].sum() for b in (light, heavy)]
    assert ratio[1] / ratio[0] == pytest.approx(31.2 / 26.0, rel=2e-3)
