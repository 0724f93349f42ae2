"""How fast, how hard and in what air: limits are where margins are zero; the sheet's own air is a cell."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheets import delivered, repaired

from bladehold.study import limit
from bladehold.study.by_kind import margins_by_kind, pulled
from bladehold.study.change import with_pivot_screw
from bladehold.study.derate import derating, in_air
from bladehold.study.envelope import envelope_map
from bladehold.study.flight_limit import flight_limits
from bladehold.study.loads import model_speed, speed_ratio
from bladehold.tables import property_class


def weaker():
    """The repaired hub with plates that give out in fast flight."""
    build = repaired()
    return replace(build, hub=replace(build.hub, plate_thickness=3.4e-3))


@pytest.mark.parametrize("make", [repaired, weaker])
def test_margins_are_zero_at_the_limits_and_negative_beyond(make):
    build = make()
    found = flight_limits(build)
    finite = [part for part in found.parts if 0.0 < part.speed < np.inf]
    assert finite
    for part in finite:
        kinds = tuple(pulled(k * part.speed, build.flying.load_factor) for k in (1.0, 1.02))
        at, beyond = margins_by_kind(build, kinds)[part.part]
        assert at == pytest.approx(0.0, abs=1e-3) and beyond < 0.0
    for part in found.parts:
        if 0.0 < part.load_factor < np.inf:
            kinds = tuple(pulled(build.flying.top_speed, k * part.load_factor) for k in (1.0, 1.02))
            at, beyond = margins_by_kind(build, kinds)[part.part]
            assert at == pytest.approx(0.0, abs=1e-3) and beyond < 0.0


def test_limits_agree_with_the_map():
    build = weaker()
    found, drawn = flight_limits(build), envelope_map(build)
    own = int(np.flatnonzero(drawn.load_factor == build.flying.load_factor)[0])
    row = drawn.margin[:, own]
    holds = drawn.speed <= found.speed.speed
    assert np.all(row[holds] >= 0.0) and np.all(row[~holds] < 0.0) and 0 < holds.sum() < holds.size


def test_a_hub_that_fails_in_hover_has_no_speed_and_no_load_factor():
    found = flight_limits(delivered())
    assert found.speed.speed == 0.0 and found.load_factor.load_factor == 0.0
    assert any(np.isinf(part.speed) for part in found.parts)
    assert found.asked == (16.0, 1.6) and found.greatest == (32.0, 3.2)


def test_what_the_rotor_cannot_give_is_not_looked_at():
    build = repaired()
    hard = replace(build, flying=replace(build.flying, load_factor=3.4))
    found = flight_limits(hard)
    assert found.greatest[1] < 2 * 3.4


@settings(max_examples=4, deadline=None)
@given(st.floats(3.3e-3, 3.9e-3), st.floats(1.02, 1.2))
def test_thicker_plates_never_lower_their_limit(thickness, more):
    def of(t):
        build = repaired()
        found = flight_limits(replace(build, hub=replace(build.hub, plate_thickness=t)))
        return next(part for part in found.parts if part.part == "hub plates")

    thin, thick = of(thickness), of(more * thickness)
    assert thick.speed >= thin.speed and thick.load_factor >= thin.load_factor


def test_the_cell_of_the_sheets_own_air_is_its_limit():
    build = in_air(repaired(), 291.15, 600.0)
    found = derating(build, [291.15], [600.0])
    cell, alone = found.cells[0][0], limit(build)
    assert (cell.thrust, cell.part, cell.speed) == (
        alone.lowest.thrust,
        alone.lowest.part,
        alone.lowest.speed,
    )
    assert cell.share == alone.share_of_claim and not cell.why
    assert found.holds == (cell.thrust >= build.flying.used_thrust)


def test_thin_air_takes_from_what_the_pull_limits():
    """The pivot screw's limit is one of speed: in thin air it is met at less thrust, as density is."""
    build = with_pivot_screw(repaired(), "M3", property_class("12.9"))
    cells = derating(build, [293.15], [0.0, 2000.0]).cells[0]
    assert all(cell.part == "pivot screw" for cell in cells)
    low, high = cells
    density = (1 - 2000 / 44330.77) ** 5.2559  # of the pressure, at one temperature
    assert high.thrust / low.thrust == pytest.approx(density, rel=0.12)
    assert high.speed == pytest.approx(low.speed, rel=0.03)


def test_a_measured_rotor_is_off_its_model_as_much_in_any_air():
    build = repaired()
    measured = replace(build, flying=replace(build.flying, used_speed=1.08 * model_speed(build)))
    thin = in_air(measured, 308.15, 3000.0)
    assert speed_ratio(thin)[0] == pytest.approx(speed_ratio(measured)[0], rel=1e-9)
    assert thin.flying.used_speed > measured.flying.used_speed
    held = derating(measured, [308.15], [3000.0]).cells[0][0]
    assert held.thrust < derating(build, [308.15], [3000.0]).cells[0][0].thrust


def test_a_rotor_that_gives_no_more_is_told_in_the_cell():
    small = replace(repaired(), flying=replace(repaired().flying, used_thrust=130.0))
    cell = derating(small, [313.15], [9000.0]).cells[0][0]
    assert "cannot be reached" in cell.why and np.isnan(cell.thrust) and cell.part == ""
    assert not derating(small, [313.15], [9000.0]).holds


def test_too_many_cells_are_refused():
    with pytest.raises(ValueError, match="more than 200 cells"):
        derating(repaired(), list(np.linspace(250.0, 310.0, 15)), list(np.linspace(0.0, 3000.0, 15)))
