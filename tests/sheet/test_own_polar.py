"""A polar of the user's own: found beside the sheet, used in place of the tables, refused in words."""

import numpy as np
import pytest
from malformed import BASE

from bladehold.rotor import section_polar
from bladehold.sheet import SheetError, load_sheet, parse_sheet, resolve
from bladehold.study import loads_of

COLUMNS = "alpha_deg,cl,cd,reynolds\n"


@pytest.fixture
def sheet(tmp_path):
    """A sheet that names mine.csv; the text of that file is given when it is resolved."""
    path = tmp_path / "own.toml"
    path.write_text(BASE.replace("[propeller]\n", '[propeller]\npolar = "mine.csv"\n'), encoding="utf-8")

    def resolved(text):
        (tmp_path / "mine.csv").write_bytes(text if isinstance(text, bytes) else text.encode())
        return resolve(load_sheet(path), tmp_path)

    return resolved


def rows_of(section, angles):
    """The table of a shipped section as a file of the user's own."""
    rows = []
    for reynolds in (5e4, 1e5, 2e5, 3e5, 5e5, 1e6):
        every = np.ones(angles.shape)
        cl, cd = section_polar(section).at(reynolds * every, 0.0 * every)(np.radians(angles))
        rows += [f"{a},{c:.5f},{d:.6f},{reynolds}" for a, c, d in zip(angles, cl, cd, strict=True)]
    return COLUMNS + "\n".join(rows) + "\n"


def test_the_tables_own_figures_give_the_tables_own_speed(sheet):
    own = sheet(rows_of("naca4412", np.arange(-30.0, 61.0)))
    named = resolve(parse_sheet(BASE))
    assert own.propeller.polar is not None and named.propeller.polar is None
    # the user's columns are taken as incompressible; the tables know Mach 0.3, worth a few parts in a hundred
    assert loads_of(own).speed[0] == pytest.approx(loads_of(named).speed[0], rel=0.02)


def test_a_weaker_section_turns_the_rotor_faster(sheet):
    angles = np.arange(-30.0, 61.0)
    weaker, own = sheet(rows_of("naca2412", angles)), sheet(rows_of("naca4412", angles))
    assert loads_of(weaker).speed[0] > 1.02 * loads_of(own).speed[0]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("alpha,cl,cd\n1,2,3\n", "column alpha_deg is missing"),
        (COLUMNS + "1,0.2,nan,1e5\n", "line 2: cd is not a number"),
        (COLUMNS + "1,0.2\n", "line 2: cd is not a number"),
        (COLUMNS + "1,0.2,0.01,1e5\n", "alpha_deg must reach"),
        (b"alpha_deg,cl,cd\n\xff\xfe,1,2\n", "utf-8"),
        ("", "column alpha_deg is missing"),
    ],
)
def test_a_file_that_cannot_be_used_is_named(sheet, text, words):
    with pytest.raises(SheetError, match=words) as refused:
        sheet(text)
    (problem,) = refused.value.problems
    assert problem.file.endswith("mine.csv") and problem.key == "propeller.polar"


def test_a_file_that_is_not_there_is_named(sheet, tmp_path):
    with pytest.raises(SheetError, match=r"mine\.csv: propeller\.polar: cannot be read: No such file"):
        resolve(load_sheet(tmp_path / "own.toml"), tmp_path)
