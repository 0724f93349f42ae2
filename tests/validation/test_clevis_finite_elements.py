"""The clevis of two 4 mm plates and an 8 mm lug by three-dimensional finite elements (CalculiX 2.20).

`tools/clevis_fe.py` makes the mesh, runs the solver and writes `clevis_fe.csv`: half of the clevis in bricks
with incompatible modes, no friction, clamped roots, the screw a spring between the means of the two rings
under its heads, moments from clamped to open, with preload and without. Three meshes; the finest is compared.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from bladehold.joint.contact import solve_clevis
from bladehold.joint.contact_model import (
    clevis_model,
    foundation_modulus,
    plate_bending_stiffness,
    plate_shear_stiffness,
)

SOURCE = "CalculiX 2.20, three-dimensional model of tools/clevis_fe.py"
WHY = "beams, a lug and beds that only press, against solid bodies"
# along the blade, through the thickness, shear between them [Pa]
LUGS = {"aluminium": (71e9, 71e9, 26.7e9), "carbon laminate": (50e9, 9e9, 3.5e9)}
ROWS = list(
    csv.DictReader(Path(__file__).with_name("clevis_fe.csv").read_text(encoding="utf-8").splitlines())
)


def clevis(lug, *, rigid=False):
    along, through, shear = LUGS[lug]
    plate = plate_bending_stiffness(71e9, 20e-3, 4e-3)
    bending = {
        "lug_bending": plate_bending_stiffness(along, 20e-3, 8e-3),
        "lug_shear": plate_shear_stiffness(shear, 20e-3, 8e-3),
    }
    return clevis_model(
        half_length=9e-3,
        contact_width=20e-3,
        contact="strip",
        foundation=foundation_modulus(through, 8e-3, 71e9, 4e-3),
        hole_diameter=5e-3,
        head_diameter=8.5e-3 + 4e-3,  # spread at 45 degrees down to the middle of the plate
        screw_stiffness=1.5e8,
        upper_bending=plate,
        lower_bending=plate,
        root_distance=17.5e-3,
        **({} if rigid else bending),
    )


MESHES = list(dict.fromkeys(row["mesh"] for row in ROWS))  # from coarse to fine


def column(lug, mesh, preload, name):
    chosen = [r for r in ROWS if (r["lug"], r["mesh"], float(r["preload_n"])) == (lug, mesh, preload)]
    return np.array([float(row[name]) for row in chosen])


@pytest.mark.parametrize("preload", [3000.0, 0.0])
@pytest.mark.parametrize("lug", LUGS)
def test_screw_tension(published, lug, preload):
    moments = column(lug, MESHES[-1], preload, "flap_moment_nm")
    tensions = column(lug, MESHES[-1], preload, "screw_tension_n")
    ours = solve_clevis(clevis(lug), moments, 0.0, preload).screw_tension
    for moment, tension, our in zip(moments[1:], tensions[1:], ours[1:], strict=True):
        case = f"{lug}, preload {preload:g} N, {moment:g} N m"
        published("joint", SOURCE, case, "screw tension, N", tension, our, rel=0.1, why=WHY)


@pytest.mark.parametrize("preload", [3000.0, 0.0])
@pytest.mark.parametrize("lug", LUGS)
def test_rotation(published, lug, preload):
    """The solid lug's turn from end to end of the contact, without its own bending: a rigid lug's."""
    moments = column(lug, MESHES[-1], preload, "flap_moment_nm")
    turns = column(lug, MESHES[-1], preload, "lug_rotation_rad")
    ours = solve_clevis(clevis(lug, rigid=True), moments, 0.0, preload).lug_rotation
    for moment, turn, our in zip(moments[1:], turns[1:], ours[1:], strict=True):
        case = f"{lug}, preload {preload:g} N, {moment:g} N m"
        published("joint", SOURCE, case, "rotation of a rigid lug, rad", turn, our, rel=0.1, why=WHY)


@pytest.mark.parametrize("preload", [3000.0, 0.0])
@pytest.mark.parametrize("lug", LUGS)
def test_meshes_converge(lug, preload):
    """From the last mesh but one to the finest the tension moves by no more than 2 %."""
    coarser, finest = (column(lug, mesh, preload, "screw_tension_n")[1:] for mesh in MESHES[-2:])
    assert coarser == pytest.approx(finest, rel=0.02)
