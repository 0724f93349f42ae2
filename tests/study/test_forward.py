"""The rotor in fast flight: the thrusts of the conditions, and a map of them that adds up."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladehold.sheet import load_sheet, resolve
from bladehold.study.conditions import conditions_of
from bladehold.study.forward import DRAWN, forward_flight

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def build():
    return resolve(load_sheet(EXAMPLES / "tarn6_repaired.toml"))


def test_each_condition_gives_its_thrust(build):
    found, conditions = forward_flight(build), conditions_of(build)
    assert found.names == DRAWN
    for place, name in enumerate(DRAWN):
        at = conditions.names.index(name)
        assert found.solution.thrust[place] == pytest.approx(conditions.thrust[at], rel=1e-5)
        assert found.solution.edge_velocity[place] == conditions.edge_speed[at]
        assert found.solution.density[place] == conditions.air.density[at]


def test_the_advancing_side_carries_more(build):
    solution = forward_flight(build).solution
    inner = np.abs(solution.geometry.r / solution.geometry.radius - 0.5).argmin()
    load = solution.normal_load[..., inner]
    advancing = np.sin(solution.azimuth) > 0.5
    retreating = np.sin(solution.azimuth) < -0.5
    assert np.all(load[:, advancing].mean(axis=1) > 1.5 * load[:, retreating].mean(axis=1))


def test_a_coaxial_rotor_is_asked_in_the_others_wake(build):
    pair = replace(build, aircraft=replace(build.aircraft, layout="coaxial"))
    assert np.all(
        forward_flight(pair).solution.axial_velocity > forward_flight(build).solution.axial_velocity
    )


def test_without_fast_flight_there_is_nothing_to_look_at(build):
    still = replace(build, flying=replace(build.flying, top_speed=0.0))
    with pytest.raises(ValueError, match=r"flying\.top_speed is 0"):
        forward_flight(still)
