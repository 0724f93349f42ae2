"""Mass of the retention hardware: published weights of screws and nuts, exact volumes, what is left out."""

from dataclasses import replace
from math import pi, sqrt

import pytest
from sheets import delivered
from sheets import repaired as repaired_build

from bladehold.study import mass
from bladehold.study.change import with_pivot_screw, with_washers
from bladehold.tables import head, property_class, thread

# Weights of DIN 912 (ISO 4762) steel screws in a fastener supplier's chart, g, given to 0.1 g. Read. Its M5
# heads come out a fifth lighter than the cylinder of the standard without its socket; all others agree.
SCREWS = [
    ("M3", 20, 1.4, 0.05),
    ("M4", 20, 2.7, 0.05),
    ("M5", 20, 4.0, 0.12),
    ("M5", 25, 4.8, 0.12),
    ("M6", 20, 6.5, 0.05),
    ("M8", 25, 15.0, 0.05),
]
# Weights of DIN 934 steel nuts of the same height as ISO 4032, g. Tables of fasteners, from memory.
NUTS = [("M3", 0.38), ("M4", 0.81)]


@pytest.fixture(scope="module")
def tarn6():
    return delivered()


@pytest.fixture(scope="module")
def repaired():
    return repaired_build()


def steel(build, size, **changes):
    profile = thread(size)
    return replace(
        build.pivot,
        thread=profile,
        shear_plane="thread",
        shear_diameter=profile.profile.root_diameter,
        head="socket",
        strength=property_class("8.8"),
        **changes,
    )


@pytest.mark.parametrize(("size", "length", "grams", "within"), SCREWS)
def test_socket_screws_weigh_what_is_published(tarn6, size, length, grams, within):
    found = 1e3 * mass.screw_mass(steel(tarn6, size), 1e-3 * length)
    assert found == pytest.approx(grams, rel=within, abs=0.05)


def test_a_longer_shank_weighs_what_the_chart_adds(tarn6):
    shouldered = replace(steel(tarn6, "M5"), shear_plane="shank", shear_diameter=5e-3)
    longer = mass.screw_mass(shouldered, 50e-3) - mass.screw_mass(shouldered, 30e-3)
    assert 1e3 * longer == pytest.approx(8.6 - 5.6, abs=0.1)


@pytest.mark.parametrize(("size", "grams"), NUTS)
def test_hexagon_nuts_weigh_what_is_published(tarn6, size, grams):
    found = 1e3 * mass.nut_mass(steel(tarn6, size, nut="hexagon"))
    assert found == pytest.approx(grams, rel=0.12)


def test_a_plain_shank_is_a_cylinder_up_to_the_thread(tarn6):
    screw = replace(steel(tarn6, "M5"), shear_plane="shank", shear_diameter=6e-3)
    longer = mass.screw_mass(screw, 40e-3) - mass.screw_mass(screw, 30e-3)
    assert longer == pytest.approx(7850 * pi / 4 * 6e-3**2 * 10e-3)


def test_a_hexagon_head_is_a_prism(tarn6):
    screw = replace(steel(tarn6, "M5"), head="hexagon")
    size = head("M5", "hexagon")
    assert mass.screw_mass(screw, 0.0) == pytest.approx(7850 * sqrt(3) / 2 * size.width**2 * size.height)


@pytest.mark.parametrize(("blades", "solid"), [(2, 2 * 18 * 39), (4, 4 * 18 * 39 - 18 * 18)])
def test_plates_are_crossed_bars_without_their_holes(tarn6, blades, solid):
    build = replace(tarn6, propeller=replace(tarn6.propeller, blades=blades))
    area = solid - blades * pi / 4 * 3.2**2
    assert mass.plate_mass(build) == pytest.approx(2810 * 3e-3 * area * 1e-6)


def test_three_arms_overlap_in_a_triangle(tarn6):
    build = replace(tarn6, propeller=replace(tarn6.propeller, blades=3))
    width, length = 18.0, 39.0
    alone = length - width / 2 / sqrt(3)  # of an arm outside the triangle about the axis
    area = 3 * width * alone + sqrt(3) / 4 * width**2 - 3 * pi / 4 * 3.2**2
    assert mass.plate_mass(build) == pytest.approx(2810 * 3e-3 * area * 1e-6)


def test_parts_that_are_not_there_are_left_out(tarn6, repaired):
    assert set(mass.retention_mass(tarn6)) == {"pivot screw", "pivot nuts", "hub plates", "mounting screws"}
    assert set(mass.retention_mass(repaired)) > {"tie screws", "tie spacers", "bush", "pivot washers"}
    bare = replace(tarn6, pivot=replace(tarn6.pivot, nut="tapped"))
    assert "pivot nuts" not in mass.retention_mass(bare)


def test_two_washers_to_a_pivot(tarn6):
    pieces = mass.retention_pieces(with_washers(tarn6))["pivot washers"]
    assert pieces.count == 4
    assert pieces.each == pytest.approx(8000 * pi / 4 * (7e-3**2 - 3.2e-3**2) * 0.5e-3)


def test_a_thicker_screw_weighs_more_and_its_hole_lightens_the_plates(tarn6):
    grown = mass.retention_mass(with_pivot_screw(tarn6, "M5", tarn6.pivot.strength))
    was = mass.retention_mass(tarn6)
    assert grown["pivot screw"] > was["pivot screw"]
    assert grown["hub plates"] < was["hub plates"]


def test_a_length_that_is_not_given_is_told(tarn6):
    open_length = replace(tarn6, pivot=replace(tarn6.pivot, length=None))
    assert any("length is not given" in text for text in mass.mass_remarks(open_length))
    assert not any("length is not given" in text for text in mass.mass_remarks(tarn6))
    # 3 + 8 + 3 mm of grip and the whole locking nut.
    assert 17e-3 < mass.pivot_length(open_length) < 20e-3
