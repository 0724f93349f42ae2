"""The fuller lug checks: oblique load on metal eyes, Ekvall, delamination of a laminate lug."""

from dataclasses import dataclass, replace

import numpy as np
import pytest
from sheets import delivered, repaired

from bladehold.joint import lug
from bladehold.study.checks import lug_full, lug_plates
from bladehold.study.loads import loads_of
from bladehold.study.situation import Situation
from bladehold.tables import lug_curves, material


@dataclass(frozen=True)
class Pressed(Situation):
    """A situation whose plates press on the lug's edge with one pressure in every condition."""

    pressure: float = 100e6

    @property
    def edge_pressure(self):
        return np.full(self.loads.flight.shape, self.pressure)


def situation(build, kind=Situation, **more):
    return kind(build, loads_of(build), **more)


def with_lug(build, name, **changes):
    return replace(build, hub=replace(build.hub, lug_material=material(name), **changes))


def value(outcome, start):
    return next(np.asarray(v) for name, v, _ in outcome.inputs if name.startswith(start))


METAL = situation(with_lug(repaired(), "7075-T6"))
LAMINATE = situation(delivered())


def test_a_tenth_of_the_pull_is_always_across():
    found = lug_full.lug_oblique(METAL)
    assert value(found, "Ptr,") == pytest.approx(np.maximum(0.1 * value(found, "P, "), METAL.loads.root.drag))


def test_oblique_lug_by_hand():
    """Bush of 7 mm in a lug 18 x 8 mm, e 9 mm, 7075-T6: curves at w/D 2.571, e/D 1.286, D/t 0.875."""
    found = lug_full.lug_oblique(METAL)
    strength, hub = material("7075-T6").tensile_ultimate, METAL.build.hub
    points, row = lug_curves("net tension").points, lug_curves("net tension").row(3.0)[0]
    net = 0.95 * np.interp(hub.lug_width / 7e-3, points, row)
    bearing_points = lug_curves("shear-bearing").points
    bearing = 0.92 * np.interp(9 / 7, bearing_points, lug_curves("shear-bearing").factors[0])
    along = min(bearing * 7e-3 * 8e-3 * strength, net * (hub.lug_width - 7e-3) * 8e-3 * strength)
    assert float(value(found, "P' along")) == pytest.approx(along)
    ratios = value(found, "P, ") / along, value(found, "Ptr,") / value(found, "P'tr")
    assert found.demand == pytest.approx((ratios[0] ** 1.6 + ratios[1] ** 1.6) ** 0.625)


def test_side_force_costs_margin():
    drag = METAL.loads.root.drag + 3000.0
    pushed = Situation(METAL.build, replace(METAL.loads, root=replace(METAL.loads.root, drag=drag)))
    for check in (lug_full.lug_oblique, lug_full.plate_oblique, lug_full.lug_oblique_at_yield):
        assert check(pushed).margin.min() < check(METAL).margin.min()


def test_oblique_is_stricter_than_each_of_its_parts():
    found = lug_full.lug_oblique(METAL)
    flight = found.factor > 0
    alone = float(value(found, "P' along")) / (found.factor * value(found, "P, "))[flight] - 1
    assert np.all(found.margin[flight] < alone)


def test_the_hole_wall_never_bears_more_than_at_two_diameters():
    roomy = with_lug(repaired(), "7075-T6", lug_edge_distance=25e-3, lug_width=60e-3)
    found = lug_full.lug_oblique(situation(roomy))
    limit = material("7075-T6").bearing_ultimate_2d * 7e-3 * 8e-3
    assert float(value(found, "P' along")) == pytest.approx(limit)


def test_short_ends_and_narrow_sides_are_told():
    short = with_lug(repaired(), "7075-T6", lug_edge_distance=5e-3)
    narrow = with_lug(repaired(), "7075-T6", lug_width=7.5e-3)
    assert any("e/D" in text for text in lug_full.lug_oblique(situation(short)).breaches if text)
    assert any("w/D" in text for text in lug_full.lug_oblique(situation(narrow)).breaches if text)
    assert not any(lug_full.lug_oblique(METAL).breaches)


def test_metal_checks_leave_laminates_alone_and_the_other_way_round():
    assert lug_full.lug_oblique(LAMINATE) is None
    assert lug_full.lug_oblique_at_yield(LAMINATE) is None
    assert lug_full.lug_ekvall(LAMINATE) is None
    assert lug_full.plate_oblique(LAMINATE) is not None
    assert lug_full.plate_oblique_at_yield(LAMINATE) is not None
    assert lug_full.lug_delamination(METAL) is None


def test_ekvall_speaks_only_where_he_tested():
    found = lug_full.lug_ekvall(METAL)
    factor = 0.837 * float(lug.ekvall_transverse_factor(18 / 7))
    assert float(found.capacity) == pytest.approx(factor * 7e-3 * 8e-3 * material("7075-T6").tensile_ultimate)
    bare = with_lug(delivered(), "7075-T6")  # hole of 3.2 mm: none so small was tested
    assert lug_full.lug_ekvall(situation(bare)) is None


def test_metal_of_the_users_own_takes_a_low_curve():
    own = replace(material("7075-T6"), name="billet")
    build = replace(repaired(), hub=replace(repaired().hub, lug_material=own))
    found = lug_full.lug_oblique(situation(build))
    assert float(value(found, "Kt,")) < float(value(lug_full.lug_oblique(METAL), "Kt,"))
    assert any(provenance.unconfirmed for provenance in found.strengths)


def test_delamination_by_hand():
    """Cloth: 200 MPa through, 60 MPa between plies, so pi x 60 = 188 MPa decides."""
    found = lug_full.lug_delamination(situation(delivered(), Pressed, pressure=100e6))
    assert float(found.capacity) == pytest.approx(np.pi * 60e6)
    assert found.margin.min() == pytest.approx(np.pi * 60 / (100 * found.factor.max()) - 1)
    assert np.all(found.factor > 0)  # the proof counts too
    assert all(provenance.unconfirmed for provenance in found.strengths)
    assert any("w/D" in text or "D/t" in text for text in found.breaches if text)


def test_delamination_without_a_shear_strength_says_so():
    blind = replace(material("carbon-woven"), interlaminar_shear=None)
    build = replace(delivered(), hub=replace(delivered().hub, lug_material=blind))
    found = lug_full.lug_delamination(situation(build, Pressed))
    assert float(found.capacity) == 200e6
    assert any("crushing alone" in text for text in found.breaches if text)


def proud(plate="7075-T6", **changes):
    """The repaired build, its bush a tenth of a millimetre longer than its laminate lug is thick."""
    build = with_lug(repaired(), "carbon-woven", **changes)
    length = build.hub.lug_thickness + 0.1e-3
    return replace(build, hub=replace(build.hub, bush_length=length, plate_material=material(plate)))


def test_a_proud_bush_presses_on_the_plates_and_leaves_the_laminate_alone():
    now = situation(proud(), Pressed, pressure=150e6)
    assert lug_full.lug_delamination(now) is None
    found = lug_full.plate_under_bush(now)
    allowed = material("7075-T6").surface_pressure
    assert float(found.capacity) == allowed
    assert found.factor == pytest.approx(now.at_yield)
    assert found.margin.min() == pytest.approx(allowed / (150e6 * found.factor.max()) - 1)
    assert float(value(found, "D,")) == now.build.hub.bush_diameter


def test_a_plate_of_unknown_pressure_under_a_bush_goes_by_its_yield():
    found = lug_full.plate_under_bush(situation(proud("6061-T6"), Pressed))
    assert float(found.capacity) == material("6061-T6").tensile_yield
    assert any("no permissible pressure known" in text for text in found.breaches if text)


def test_a_bush_no_longer_than_the_lug_leaves_the_laminate_under_the_plates():
    flush = with_lug(repaired(), "carbon-woven", bush_length=repaired().hub.lug_thickness)
    assert lug_full.plate_under_bush(situation(flush, Pressed)) is None
    assert lug_full.lug_delamination(situation(flush, Pressed)) is not None


def test_the_pressure_of_a_proud_bush_comes_from_the_contact_model():
    """Not less than the clamp spread evenly over the bush's end, in the condition where it is greatest."""
    now = situation(proud())
    hub = now.build.hub
    area = np.pi / 4 * (hub.bush_diameter**2 - hub.lug_hole**2)
    assert lug_full.plate_under_bush(now).demand.max() > now.pivot_preload.maximum.max() / area / 2


def test_threads_on_the_laminate_are_still_told():
    assert any("threads bear" in text for text in lug_plates.lug_bearing(LAMINATE).breaches if text)
