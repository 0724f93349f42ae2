"""A blade of known shape, written as a mesh, is found again; what is no closed blade is refused in words."""

import builtins
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from blade_mesh import LUG_END, PIVOT, TIP, KnownBlade, write_stl

from bladehold.quantity import to_si
from bladehold.rotor import ScanError, blade_from_table, scan_blade

EXAMPLE = Path(__file__).parents[2] / "examples" / "ow24f_blade.stl"
MM = 1e-3
AIRFOIL = np.linspace(0.25, 0.97, 10)  # stations outboard of the neck, where the shape is a law
BLADE = KnownBlade()
VERTICES, FACES = BLADE.mesh(rings=32, count=60)
STATED = {"unit": "mm", "radius": TIP * MM, "pivot_radius": PIVOT * MM}


def turned_about_thrust(points, angle):
    turn = np.array(
        [[np.cos(angle), np.sin(angle), 0.0], [-np.sin(angle), np.cos(angle), 0.0], [0.0, 0.0, 1.0]]
    )
    return points @ turn


def scan(tmp_path, vertices=VERTICES, faces=FACES, **changes):
    path = write_stl(tmp_path / "blade.stl", vertices, faces)
    return scan_blade(path, **(STATED | {"stations": AIRFOIL} | changes))


def is_found(found, blade=BLADE):
    """The gates: 1 % of chord and thickness, 0.3 deg of twist, 1 % of volume, 0.5 % of the balance point."""
    r = found.r / MM
    assert found.chord / MM == pytest.approx(blade.chord(r), rel=0.01)
    assert found.thickness / MM == pytest.approx(blade.thickness(r), rel=0.01)
    assert np.degrees(found.twist) == pytest.approx(np.degrees(blade.twist(r)), abs=0.3)
    volume, centre = blade.volume_and_balance()
    assert found.volume / MM**3 == pytest.approx(volume, rel=0.01)
    assert found.balance_point / MM == pytest.approx(centre - PIVOT, rel=0.005)
    assert found.breaches == ()


@pytest.mark.parametrize("camber", [0.0, 0.03, 0.06])
@pytest.mark.parametrize("thickness_ratio", [0.06, 0.18])
def test_a_known_blade_is_found_again(tmp_path, camber, thickness_ratio):
    blade = KnownBlade(thickness_ratio=thickness_ratio, camber=camber)
    is_found(scan(tmp_path, *blade.mesh(rings=32, count=60)), blade)


def test_the_example_is_the_known_blade():
    """Made by tools/make_example_scan.py."""
    is_found(scan_blade(EXAMPLE, **STATED, stations=AIRFOIL))


def test_a_blunt_trailing_edge_does_not_turn_the_chord_line(tmp_path):
    blade = KnownBlade(edge=1.0)
    found = scan(tmp_path, *blade.mesh(rings=32, count=60))
    assert np.degrees(found.twist) == pytest.approx(np.degrees(blade.twist(found.r / MM)), abs=0.3)
    assert found.chord / MM == pytest.approx(blade.chord(found.r / MM), rel=0.01)


@pytest.mark.parametrize("angle", [0.4, 2.0, -2.7])
def test_the_scanners_origin_and_heading_do_not_matter(tmp_path, angle):
    moved = turned_about_thrust(VERTICES, angle) + np.array([400.0, -900.0, 55.0])
    is_found(scan(tmp_path, moved))


@pytest.mark.parametrize("unit", ["m", "cm", "in"])
def test_the_unit_is_the_one_stated(tmp_path, unit):
    is_found(scan(tmp_path, VERTICES * MM / to_si(1.0, "length", unit), unit=unit))


def test_a_blade_that_turns_the_other_way(tmp_path):
    assert scan(tmp_path).turning == "counterclockwise"
    found = scan(tmp_path, VERTICES * [1.0, -1.0, 1.0])  # faces inside out, as a mirrored mesh has them
    is_found(found)
    assert found.turning == "clockwise"


@pytest.mark.parametrize(("hub_axis", "order"), [("y", [0, 2, 1]), ("x", [1, 2, 0]), ("x", [2, 1, 0])])
def test_the_hub_axis_is_the_one_stated(tmp_path, hub_axis, order):
    vertices = np.empty_like(VERTICES)
    vertices[:, "xyz".index(hub_axis)] = VERTICES[:, 2]
    rest = [k for k in range(3) if k != "xyz".index(hub_axis)]
    vertices[:, rest] = VERTICES[:, [k for k in order if k != 2]]
    is_found(scan(tmp_path, vertices, hub_axis=hub_axis))


def test_thrust_along_the_negative_axis(tmp_path):
    under = VERTICES * [1.0, -1.0, -1.0]
    is_found(scan(tmp_path, under, hub_axis="-z"))
    with pytest.raises(ScanError, match="is the thrust along -z"):
        scan(tmp_path, under)


def test_with_a_pivot_the_span_runs_from_there_to_the_balance_point(tmp_path):
    is_found(scan(tmp_path, pivot_point=[PIVOT, 0.0, 3.0]))
    # however the blade hangs on its pivot in the mesh, and wherever that stands
    along = [np.cos(0.1), np.sin(0.1), 0.0]
    hung = (VERTICES - [PIVOT, 0.0, 0.0]) @ [along, [-along[1], along[0], 0.0], [0.0, 0.0, 1.0]]
    is_found(scan(tmp_path, hung + np.array([7.0, 5.0, 0.0]), pivot_point=[7.0, 5.0, 0.0]))


def test_rows_are_the_sheets_and_the_geometry_is_the_blades(tmp_path):
    found = scan(tmp_path)
    rows = found.rows()
    assert [set(row) for row in rows] == [{"at", "chord", "twist", "thickness"}] * AIRFOIL.size
    assert [row["at"] for row in rows] == pytest.approx(AIRFOIL)
    blade = found.geometry("naca4412", stations=found.r)
    table = blade_from_table(
        radius=TIP * MM,
        hub_radius=PIVOT * MM,
        r=[row["at"] * TIP * MM for row in rows],
        sections=("naca4412",),
        stations=found.r,
        **{name: [row[name] for row in rows] for name in ("chord", "twist", "thickness")},
    )
    assert blade.chord == pytest.approx(table.chord)
    assert blade.twist == pytest.approx(found.twist)


def test_area_over_the_span_sums_to_volume_and_balance_point(tmp_path):
    found = scan(tmp_path)
    step = np.diff(found.span_r)
    assert step == pytest.approx(step[0])
    assert found.span_area.sum() * step[0] == pytest.approx(found.volume, rel=0.01)
    balance = (found.span_area @ found.span_r) / found.span_area.sum() - found.pivot_radius
    assert balance == pytest.approx(found.balance_point, rel=0.005)
    assert found.span_r[0] == pytest.approx(LUG_END * MM, abs=step[0])
    exact = 0.5 * np.abs(
        [
            np.sum(p[:, 0] * np.roll(p[:, 1], -1) - np.roll(p[:, 0], -1) * p[:, 1])
            for p in (BLADE.outline(r / MM) for r in found.r)
        ]
    )
    assert found.area / MM**2 == pytest.approx(exact, rel=0.01)


def test_default_stations_run_from_neck_to_tip(tmp_path):
    found = scan(tmp_path, stations=9)
    assert found.r.size == 9
    assert PIVOT * MM < found.r[0] < 0.25 * TIP * MM
    assert 0.95 * TIP * MM < found.r[-1] < TIP * MM


# A kite about its own centre, fuller ahead, mm: nose, top, tail, bottom.
KITE = np.array([[20.0, 0.0], [10.0, 2.5], [-30.0, 0.0], [10.0, -2.5]])
KITE_AREA, KITE_CHORD, KITE_THICKNESS = 125.0, 50.0, 5.0  # the area is half the product of the diagonals


def kites(places, sizes, angle):
    """Kites of these sizes at these places of the span (mm), joined by flat faces; chord at an angle."""
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    rings = [np.column_stack([np.full(4, x), k * KITE @ turn]) for x, k in zip(places, sizes, strict=True)]
    sides = [
        4 * ring + np.array(face)
        for ring in range(len(rings) - 1)
        for a, b in ((0, 1), (1, 2), (2, 3), (3, 0))
        for face in ([a, b, b + 4], [a, b + 4, a + 4])
    ]
    last = 4 * (len(rings) - 1)
    ends = [[0, 2, 1], [0, 3, 2], [last, last + 1, last + 2], [last, last + 2, last + 3]]
    return np.concatenate(rings), np.array([*sides, *ends])


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
def test_a_frustum_has_the_areas_volume_and_balance_point_of_the_closed_forms(tmp_path, share):
    """Areas go with the square of the size, which is linear in the span. Of a frustum of height h, area A at
    its large end and size k at its small one, the volume is A h (1 + k + k^2)/3 and the centre lies
    h (1 + 2 k + 3 k^2) / (4 (1 + k + k^2)) from the large end."""
    root, angle = 25.0, np.radians(14.0)
    found = scan(tmp_path, *kites([root, TIP], [1.0, share], angle), stations=[0.2, 0.5, 0.8])
    height, squares = TIP - root, 1.0 + share + share**2
    size = 1.0 - (1.0 - share) * (found.r / MM - root) / height
    digits = {"rel": 2e-6}  # the file holds numbers of seven digits
    assert found.area / MM**2 == pytest.approx(KITE_AREA * size**2, **digits)
    assert found.chord / MM == pytest.approx(KITE_CHORD * size, **digits)
    assert found.twist == pytest.approx(angle, **digits)
    assert found.thickness / MM == pytest.approx(KITE_THICKNESS * size, rel=0.01)  # found on a grid
    assert found.volume / MM**3 == pytest.approx(KITE_AREA * height * squares / 3.0, **digits)
    centre = root + height * (1.0 + 2.0 * share + 3.0 * share**2) / (4.0 * squares)
    assert found.balance_point / MM == pytest.approx(centre - PIVOT, **digits)
    assert found.root_end / MM == pytest.approx(root, **digits)
    assert found.breaches == ()


def test_another_axis_along_the_thrust_is_seen_from_the_steep_chords(tmp_path):
    refused(tmp_path, "along another axis than y", VERTICES, FACES, hub_axis="y")


def test_a_pivot_too_far_out_is_to_be_doubted(tmp_path):
    assert scan(tmp_path).breaches == ()
    (doubt,) = scan(tmp_path, pivot_radius=0.07).breaches
    assert "pivot radius or diameter may be wrong" in doubt


def test_a_plate_that_the_cuts_miss_is_to_be_doubted(tmp_path):
    mesh = kites([25.0, 100.0, 100.5, 103.0, 103.5, TIP], [1.0, 0.8, 3.0, 3.0, 0.8, 0.5], np.radians(14.0))
    (doubt,) = scan(tmp_path, *mesh, stations=[0.2, 0.5, 0.8]).breaches
    assert "volume of the slices over volume of the mesh" in doubt and "spikes and plates" in doubt


def refused(tmp_path, word, *mesh, **changes):
    with pytest.raises(ScanError, match=word):
        scan(tmp_path, *mesh, **changes)


def test_open_meshes_are_refused(tmp_path):
    refused(tmp_path, r"not closed: 3 of \d+ edges", VERTICES, FACES[:-1])


def test_several_bodies_are_refused(tmp_path):
    other = VERTICES * 0.01 + [400.0, 0.0, 0.0]
    both = np.concatenate([VERTICES, other]), np.concatenate([FACES, FACES + len(VERTICES)])
    refused(tmp_path, "2 separate bodies", *both)


def test_faces_inside_out_are_refused(tmp_path):
    faces = FACES.copy()
    faces[100] = faces[100, ::-1]
    refused(tmp_path, "inside out", VERTICES, faces)


def test_a_hollow_blade_is_one_body(tmp_path):
    core = replace(BLADE, thickness_ratio=0.12)
    inner, _ = core.mesh(rings=32, count=60)
    shrunk = inner * [0.6, 0.4, 0.4] + [80.0, 0.0, 3.0]
    vertices = np.concatenate([VERTICES, shrunk])
    faces = np.concatenate([FACES, FACES[:, ::-1] + len(VERTICES)])
    found, whole = scan(tmp_path, vertices, faces), scan(tmp_path)
    assert found.volume == pytest.approx(whole.volume * (1.0 - 0.6 * 0.4 * 0.4), rel=1e-3)
    assert found.chord == pytest.approx(whole.chord, rel=1e-3)  # the principal axis has moved a little


@pytest.mark.parametrize("unit", ["cm", "in", "m", "um"])
def test_a_wrong_unit_is_seen_from_the_length(tmp_path, unit):
    refused(tmp_path, "in mm it would fit", unit=unit)


def test_what_is_not_one_whole_blade_is_refused(tmp_path):
    refused(tmp_path, "whole root", VERTICES, FACES, pivot_radius=0.02)
    refused(tmp_path, "to the rotor's axis", VERTICES * [1.2, 1.0, 1.0], FACES)
    refused(tmp_path, "longest along z", VERTICES[:, [1, 2, 0]], FACES)
    refused(tmp_path, "not long and narrow", VERTICES * [1.0, 5.0, 1.0], FACES)


def test_a_wrong_pivot_is_seen_from_the_tip(tmp_path):
    refused(tmp_path, "from the pivot the tip", pivot_point=[60.0, 0.0, 0.0])


def test_shapes_that_leave_a_question_are_refused(tmp_path):
    bar, faces = block(280.0, 30.0, 6.0)
    refused(tmp_path, "root and tip", bar, faces)
    wedge = bar * np.where(bar[:, :1] > 0.0, [1.0, 0.5, 0.5], [1.0, 1.0, 1.0])
    refused(tmp_path, "which edge leads", wedge, faces)


def block(length, width, height):
    corners = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)]) * 0.5
    faces = [[0, 1, 3], [0, 3, 2], [4, 6, 7], [4, 7, 5], [0, 4, 5], [0, 5, 1]]
    faces += [[2, 3, 7], [2, 7, 6], [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]]
    return corners * [length, width, height], np.array(faces)


@pytest.mark.parametrize("content", [b"", b"garbage", b"solid x\nendsolid x\n", bytes(84), b"x" * 400])
@pytest.mark.parametrize("ending", ["stl", "ply", "obj", "off"])
def test_files_without_a_surface_are_refused(tmp_path, content, ending):
    path = tmp_path / f"blade.{ending}"
    path.write_bytes(content)
    with pytest.raises(ScanError, match=r"no surface|not a readable"):
        scan_blade(path, **STATED)


def test_other_endings_are_refused(tmp_path):
    path = tmp_path / "blade.step"
    path.write_bytes(b"ISO-10303-21;")
    with pytest.raises(ScanError, match=r"\.step"):
        scan_blade(path, **STATED)
    with pytest.raises(OSError, match="nowhere"):
        scan_blade(tmp_path / "nowhere.stl", **STATED)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"stations": [0.4, 0.6]}, "2 stations are asked for: 3 to 200"),
        ({"stations": 2}, "2 stations"),
        ({"stations": 201}, "201 stations"),
        ({"stations": [0.4, 0.3, 0.6]}, "stations must increase"),
        ({"stations": [0.05, 0.3, 0.6]}, "outboard of the pivot"),
        ({"stations": [0.4, 0.6, 1.0]}, "inboard of the tip"),
        ({"unit": "furlong"}, "furlong"),
        ({"hub_axis": "w"}, "hub_axis"),
        ({"pivot_radius": 0.4}, "pivot_radius"),
    ],
)
def test_arguments_that_cannot_be_are_refused_by_name(tmp_path, change, word):
    with pytest.raises(ValueError, match=word):
        scan(tmp_path, **change)


def test_without_the_library_the_extra_is_named(tmp_path, monkeypatch):
    path = write_stl(tmp_path / "blade.stl", VERTICES, FACES)
    real = builtins.__import__

    def without(name, *arguments, **more):
        if name.partition(".")[0] == "trimesh":
            raise ImportError(name)
        return real(name, *arguments, **more)

    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(ScanError, match=r"bladehold\[scan\]"):
        scan_blade(path, **STATED)
