"""A blade released from the example: balances of energy, bounds in their order, published figures."""

from dataclasses import replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.air import GRAVITY
from bladehold.sheet.build_flying import Place
from bladehold.study.control import control_answer
from bladehold.study.drive import drive_answer
from bladehold.study.loads import loads_of
from bladehold.study.release import BOUNDS, FLOWN, FLYING, FULL_THROTTLE, HOVER, STAND, release_answer
from bladehold.study.trimmed import frame_of


@pytest.fixture(scope="module")
def build():
    return repaired()


@pytest.fixture(scope="module")
def loads(build):
    return loads_of(build)


@pytest.fixture(scope="module")
def found(build, loads):
    return release_answer(build, loads)


def test_speed_and_pull_are_those_of_the_centre_of_mass(found):
    assert found.centre_radius == pytest.approx(0.132)
    assert found.speed == pytest.approx(found.fastest * 0.132)
    assert found.pull == pytest.approx(found.unbalance * found.fastest**2)
    assert found.unbalance == pytest.approx(0.034 * 0.132)


def test_a_blade_takes_its_share_of_the_turning_energy_along(build, found):
    about_axis = found.inertia + found.mass * found.centre_radius**2
    assert found.barrier == pytest.approx(0.5 * about_axis * found.fastest**2)
    assert found.rotor == pytest.approx(build.propeller.blades * found.barrier)
    length = build.propeller.diameter / 2 - build.hub.pivot_radius
    assert 0.3 < found.inertia / (found.mass * length**2 / 12) < 1.2


def test_the_fastest_speed_is_that_of_the_loads(loads, found):
    assert found.fastest == loads.speed[-1] == np.nanmax(loads.speed)


def test_places_and_their_bounds(build, found):
    hover, flying, stand = found.throws
    assert [throw.place for throw in found.throws] == [HOVER, FLYING, STAND]
    for throw in found.throws:
        assert throw.distance.shape == (len(BOUNDS),)
        assert np.all(np.diff(throw.distance) < 0)
        assert np.all((throw.angle >= 0) & (throw.angle <= throw.steepest))
    assert hover.steepest == 0.0 and flying.steepest == build.flying.bank
    assert flying.speed == pytest.approx(found.speed + build.flying.top_speed)
    assert stand.height == build.release.stand_height


def test_customary_drag_is_told_as_unconfirmed(found):
    assert len(found.unconfirmed) == 2 and "customary" in found.unconfirmed[0]


def test_drag_takes_more_than_tenfold_between_the_bounds(found):
    assert found.throws[1].distance[0] > 10 * found.throws[1].distance[2]


def test_level_throws_without_air_fall_their_height(found):
    hover = found.throws[0]
    fall = np.sqrt(2 * hover.height / GRAVITY)
    assert hover.distance[0] == pytest.approx(hover.speed * fall)
    energy = 0.5 * found.mass * hover.speed**2 + found.mass * GRAVITY * hover.height
    assert hover.striking_energy[0] == pytest.approx(energy)


def test_published_figures_are_held_against_the_greatest(found):
    by_name = {one.figure.name: one for one in found.against}
    assert set(by_name) == {
        "injury_low",
        "injury_high",
        "no_fatality",
        "tip_speed_abrasion",
        "tip_speed_laceration",
    }
    hardest = max(found.translation, *(throw.striking_energy.max() for throw in found.throws))
    assert by_name["injury_low"].ours == pytest.approx(hardest)
    assert by_name["tip_speed_abrasion"].ours == pytest.approx(found.fastest * 0.3048)
    assert all(one.exceeded == (one.ours > one.figure.value) for one in found.against)


def test_the_stand_off_is_the_best_angle_whatever_way_the_stand_lies(build, loads, found):
    v = found.speed
    wanted = v / GRAVITY * np.sqrt(v**2 + 2 * GRAVITY * build.release.stand_height)
    assert found.stand_off == pytest.approx(wanted)
    lying = replace(build, release=replace(build.release, stand_level=True))
    thrown = release_answer(lying, loads)
    assert thrown.stand_off == found.stand_off
    assert thrown.throws[2].distance[0] == pytest.approx(wanted)
    assert thrown.throws[2].distance[1] > found.throws[2].distance[1]


def test_from_higher_a_blade_flies_farther(build, loads, found):
    high = release_answer(replace(build, release=replace(build.release, height=300.0)), loads)
    for at in (0, 1):
        assert np.all(high.throws[at].distance > found.throws[at].distance)


def test_a_blade_that_cannot_be_balanced_is_taken_as_a_rod(build, loads):
    odd = replace(build, propeller=replace(build.propeller, balance_point=0.22))
    found = release_answer(odd, loads)
    assert any("even rod" in text for text in found.breaches)
    length = build.propeller.diameter / 2 - build.hub.pivot_radius
    assert found.inertia == pytest.approx(found.mass * length**2 / 12)


def test_the_hub_as_delivered_is_thrown_from_assumed_heights():
    build = delivered()
    keys = {item.key for item in build.loss_assumptions}
    assert {"flying.height", "bench.stand_height", "bench.stand_axis"} <= keys
    assert release_answer(build).throws[2].steepest == pytest.approx(np.pi / 2)


def test_the_stand_turns_as_fast_as_full_throttle_lets_it(build, loads):
    """What a stand reaches is more than what is flown: distances go with the square of it."""
    flown = release_answer(build, loads, 1.0)
    full = 1.2 * float(loads.speed[-1])
    found = release_answer(build, loads, full)
    assert flown.fastest == pytest.approx(float(loads.speed[-1])) and flown.fastest_from == FLOWN
    assert found.fastest == full and found.fastest_from == FULL_THROTTLE
    assert found.speed == pytest.approx(1.2 * flown.speed)
    assert found.barrier == pytest.approx(1.44 * flown.barrier)
    assert found.stand_off == pytest.approx(1.44 * flown.stand_off, rel=0.01)
    drive = drive_answer(build)
    known = control_answer(build).full_throttle
    assert known == pytest.approx(drive.greatest[0].speed, rel=1e-6)
    unknown = release_answer(replace(build, drive=None), loads)
    assert any("full throttle is not known" in text for text in unknown.breaches)


def test_a_canted_rotor_throws_upward(build, loads, found):
    """Six rotors in the places of the flat ones, one canted by 10 degrees."""
    cant = np.radians(10.0)
    frame = frame_of(build)
    places = tuple(
        Place(
            x=float(x), y=float(y), z=float(z), spin="cw", cant=cant if at == 0 else 0.0, cant_direction=0.0
        )
        for at, (x, y, z) in enumerate(frame.position)
    )
    canted = replace(build, aircraft=replace(build.aircraft, places=places))
    thrown = release_answer(canted, loads)
    assert thrown.throws[0].steepest == pytest.approx(cant)
    assert thrown.throws[1].steepest == pytest.approx(build.flying.bank + cant)
    v, h = thrown.throws[0].speed, thrown.throws[0].height
    level = v * np.sqrt(2.0 * h / GRAVITY)
    across, up = v * np.cos(cant), v * np.sin(cant)
    raised = across * (up + np.sqrt(up**2 + 2.0 * GRAVITY * h)) / GRAVITY
    assert found.throws[0].distance[0] == pytest.approx(level)
    assert thrown.throws[0].distance[0] == pytest.approx(raised) and raised > level
