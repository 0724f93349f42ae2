"""Motor and battery in the flying of the example: energy, monotony, limits, endurance, refusals."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import repaired

from bladehold.air import air_at
from bladehold.power import ENDS, drive_state, slow_resistance
from bladehold.sheet.build_flying import OwnCase, Segment
from bladehold.study import NoDriveError, drive_answer
from bladehold.study.kinds import kinds_of, weathers
from bladehold.study.loads import loads_of
from bladehold.study.power_train import hover_curve, pack_of, power_train

MANOEUVRES = (
    "pull-up in hover",
    "tilting in hover",
    "turning on the spot",
    "turn at cruise",
    "manoeuvre at top speed",
)


@pytest.fixture(scope="module")
def found():
    return drive_answer(repaired())


def driven(build, motor=None, battery=None):
    drive = build.drive
    return replace(
        build,
        drive=replace(
            drive, motor=replace(drive.motor, **motor or {}), battery=replace(drive.battery, **battery or {})
        ),
    )


def test_energy_is_balanced_in_every_condition(found):
    for state in (found.flown.full, found.flown.low):
        motor = state.motor
        spent = (
            state.internal
            + state.other
            + sum(
                part.sum(axis=-1)
                for part in (state.controller, state.wiring, motor.copper, motor.iron, motor.shaft)
            )
        )
        assert spent == pytest.approx(state.chemical, rel=1e-9)


def test_shaft_power_is_that_of_the_rotor(found):
    flown = found.flown
    assert flown.names[found.hover] == "hover, warm"
    loads = loads_of(found.build)
    for at, name in enumerate(flown.names):
        of_loads = loads.names.index(name)
        hardest = int(flown.thrust[at].argmax())
        shaft = loads.speed[of_loads] * loads.torque[of_loads]
        assert flown.full.motor.shaft[at, hardest] == pytest.approx(float(shaft))
    # The figure of merit says the same: T sqrt(T / (2 rho A)) over the shaft's power.
    air = weathers(found.build)[0]
    density = float(air_at(air.altitude, air.temperature, found.build.air.humidity).density)
    disc = np.pi * (found.build.propeller.diameter / 2) ** 2
    ideal = found.build.flying.used_thrust**1.5 / np.sqrt(2 * density * disc)
    assert found.hover_merit == pytest.approx(ideal / flown.full.motor.shaft[found.hover].max(), rel=1e-6)


def test_the_hardest_rotor_turns_fastest_and_draws_most(found):
    at = found.flown.names.index("top speed, warm")
    order = found.flown.thrust[at].argsort()
    for values in (found.flown.speed[at], found.flown.torque[at], found.flown.full.motor.current[at]):
        assert np.all(np.diff(values[order]) >= -1e-9)


def test_greatest_thrust_falls_with_the_charge_and_lasting_is_no_more(found):
    thrusts = [one.thrust for one in found.greatest]
    assert thrusts == sorted(thrusts, reverse=True)
    assert all(one.lasting <= one.thrust for one in found.greatest)
    assert (
        found.greatest[0].stop == "full throttle"
        and found.greatest[0].lasting_stop == "temperature of the winding"
    )
    assert found.greatest[0].over_weight == pytest.approx(6 * thrusts[0] / (26 * 9.80665))


def test_a_heavier_aircraft_hovers_shorter_until_it_cannot(found):
    flies = found.endurance > 0.0
    assert np.all(np.diff(found.endurance[flies]) < 0.0)
    assert flies[0] and not flies[-1] and np.all(np.diff(flies.astype(int)) <= 0)


def test_the_mission_spends_its_energy_in_order(found):
    mission, flying = found.mission, found.build.flying
    cruise_ground, top_ground = flying.cruise_speed - flying.wind, flying.top_speed - flying.wind
    steady = ("climb to height", "transit", "survey lines", "holding for a picture", "descent")
    assert (*mission.names[:4], mission.names[-1]) == steady
    assert mission.names[4:-1] == MANOEUVRES
    assert np.all(np.diff(mission.flight.charge) < 0.0) and np.isinf(mission.flight.ends)
    # Five manoeuvres of 2 s, ten times each, and six gusts of 1 s leave this much to the segments.
    flown = 18 * 60 - 6
    alone = (0.30 * 10 + 0.40 * 6) * (flown - 100) + (cruise_ground + top_ground) * 20
    assert mission.distance == pytest.approx(alone * 18 * 60 / flown)
    assert mission.longest.ends > repaired().flying.flight_time
    assert mission.flight.energy == pytest.approx(
        float(np.sum(mission.flight.power * np.diff(mission.flight.time)))
    )


def test_a_small_battery_ends_the_flight_and_says_where():
    found = drive_answer(driven(repaired(), battery={"capacity": 16 * 3600.0}))
    assert not found.serves and 0.0 < found.mission.flight.ends < 18 * 60
    assert ENDS[int(found.mission.flight.why)] == "charge at its reserve"


def test_a_case_of_the_sheet_is_asked_of_the_motor_too(found):
    build = repaired()
    own = OwnCase("winch jams", 1.4 * found.needed, 0.0, 0.0, None, None)
    with_own = drive_answer(replace(build, flying=replace(build.flying, cases=(own,))))
    assert with_own.needed_in == "winch jams" and with_own.needed == pytest.approx(1.4 * found.needed)
    assert with_own.throttle_left < found.throttle_left
    lasting = replace(own, times=1, lasts=3.0)
    short = drive_answer(replace(build, flying=replace(build.flying, cases=(lasting,))))
    assert short.flown.full.temperature[-1].max() < with_own.flown.full.temperature[-1].max()


def test_at_the_reserve_the_slow_branch_has_settled(found):
    build = repaired()
    pack = pack_of(build.drive.battery)
    share = np.array([kind.share for kind in kinds_of(build) if not kind.sudden])
    current = found.flown.full.pack_current.reshape(2, -1).mean(axis=0)
    mean = float(np.sum(share * current) / share.sum())
    assert found.flown.slow_voltage == pytest.approx(slow_resistance(pack) * mean)
    rested = drive_state(
        power_train(build, build.drive),
        found.flown.speed,
        found.flown.torque,
        np.full(len(found.flown.names), build.drive.battery.reserve),
        air_temperature=293.15,
        temperature=found.flown.low.temperature,
    )
    assert np.all(found.flown.low.throttle > rested.throttle)


def test_a_slow_motor_saturates():
    found = drive_answer(driven(repaired(), motor={"speed_constant": 9.0}))
    assert found.throttle_left < 0.0 and not found.serves


def test_manoeuvres_start_from_warm_windings_and_do_not_reach_their_own_end(found):
    at = {name: place for place, name in enumerate(found.flown.names)}
    hover, pull = (
        found.flown.full.temperature[at[name], 0] for name in ("hover, warm", "pull-up in hover, warm")
    )
    assert hover < pull < hover + 5.0


def test_a_full_voltage_of_the_sheet_shifts_the_curve():
    battery = repaired().drive.battery
    plain, high = pack_of(battery), pack_of(replace(battery, voltage=52.0))
    assert high.voltage[-1] == pytest.approx(52.0)
    assert high.voltage - plain.voltage == pytest.approx(52.0 - plain.voltage[-1])


def test_without_a_mission_the_usual_mix_is_flown():
    build = repaired()
    found = drive_answer(replace(build, flying=replace(build.flying, segments=())))
    steady = ("hover", "climb", "descent", "cruise", "top speed")
    assert (*found.mission.names[:4], found.mission.names[-1]) == steady
    winching = (Segment("winching", 1.0, 0.0, 0.0, 1.0, 4.0),)
    heavy = drive_answer(replace(build, flying=replace(build.flying, segments=winching)))
    # Into the same wind as holding for a picture, with 4 kg more on 26 kg: thrust to the power 3/2.
    holding = drive_answer(build).mission.power[3]
    assert heavy.mission.power[-1] / holding == pytest.approx((30 / 26) ** 1.5, rel=0.03)


def test_without_motor_or_battery_nothing_is_guessed():
    with pytest.raises(NoDriveError, match=r"\[motor\] or \[battery\]"):
        drive_answer(replace(repaired(), drive=None))


def flown_with(**changed):
    build = repaired()
    return replace(build, flying=replace(build.flying, **changed))


def test_the_curve_of_hover_is_that_of_the_conditions():
    """A pair's lower rotor, and one measured to turn faster, need more wherever they are asked."""
    build = repaired()
    faster = flown_with(used_speed=1.1 * 423.0)
    pair = replace(build, aircraft=replace(build.aircraft, layout="coaxial", coaxial_spacing=0.12))
    plain = drive_answer(build)
    for other in (faster, pair):
        found = drive_answer(other)
        air = weathers(other)[0]
        curve = hover_curve(other, air_at(air.altitude, air.temperature, other.air.humidity))
        wanted = float(np.max(found.flown.speed[found.hover]))
        assert float(curve.speed_for(np.array(other.flying.used_thrust))) == pytest.approx(wanted, rel=0.01)
        assert found.greatest[0].thrust < plain.greatest[0].thrust


def test_a_segment_of_no_time_is_left_out():
    build = repaired()
    none = replace(build.flying.segments[0], name="none", share=0.0)
    with_none = flown_with(segments=(*build.flying.segments, none))
    assert drive_answer(with_none).mission.distance == pytest.approx(drive_answer(build).mission.distance)
