"""ISO metric coarse threads against printed tables of diameters and areas.

Sources:
BS 3692 (2001/2014), table of stress areas and proof loads, read in a reproduction;
Budynas and Nisbett, Shigley's Mechanical Engineering Design, chapter 8, stress areas of problems
8-2, 8-22, 8-29 and 8-37, and the closed form of the stress area;
University of Stavanger, "Standard metric bolt dimensions", lecture table (2018), pitch diameters and
minor-diameter areas, and the closed form of the minor diameter.
"""

from math import pi, sqrt

import pytest

from bladehold.tables import basic_profile, thread, thread_names

SHIGLEY = "Shigley's Mechanical Engineering Design, chapter 8"
STAVANGER = "University of Stavanger, standard metric bolt dimensions (2018)"

# Size: printed As in mm2 and half a unit of its last digit.
BS_3692 = {
    "M2": (2.07, 0.005),
    "M2.5": (3.39, 0.005),
    "M3": (5.03, 0.005),
    "M4": (8.78, 0.005),
    "M5": (14.2, 0.05),
    "M6": (20.1, 0.05),
    "M8": (36.6, 0.05),
    "M10": (58.0, 0.5),
}


def test_bs_3692_covers_every_thread_of_the_table():
    assert tuple(BS_3692) == thread_names()


@pytest.mark.parametrize("size", BS_3692)
def test_stress_area_in_bs_3692(published, size):
    printed, half = BS_3692[size]
    ours = thread(size).profile.stress_area * 1e6
    published("tables", "BS 3692", size, "stress area, mm2", printed, ours, abs=half, why="printed digits")


@pytest.mark.parametrize(
    ("nominal", "pitch", "printed", "half"),
    [(10, 1.5, 58.0, 0.05), (12, 1.75, 84.3, 0.05), (20, 2.5, 245, 0.5), (30, 3.5, 561, 0.5)],
)
def test_stress_area_in_shigley(published, nominal, pitch, printed, half):
    ours = basic_profile(nominal * 1e-3, pitch * 1e-3).stress_area * 1e6
    case = f"M{nominal}x{pitch}"
    published("tables", SHIGLEY, case, "stress area, mm2", printed, ours, abs=half, why="printed digits")


@pytest.mark.parametrize(
    ("nominal", "pitch", "pitch_diameter", "half_d2", "root_area", "half_a3"),
    [
        (4, 0.7, 3.5453, 5e-5, 7.7496, 5e-5),
        (5, 0.8, 4.4804, 5e-5, 12.683, 5e-4),
        (6, 1.0, 5.3505, 5e-5, 17.894, 5e-4),
        (8, 1.25, 7.1881, 5e-5, 32.841, 5e-4),
        (10, 1.5, 9.0257, 5e-5, 52.292, 5e-4),
        (12, 1.75, 10.863, 5e-4, 76.247, 5e-4),
        (20, 2.5, 18.376, 5e-4, 225.19, 5e-3),
        (30, 3.5, 27.727, 5e-4, 518.99, 5e-3),
    ],
)
def test_diameters_in_a_lecture_table(published, nominal, pitch, pitch_diameter, half_d2, root_area, half_a3):
    ours = basic_profile(nominal * 1e-3, pitch * 1e-3)
    case = f"M{nominal}x{pitch}"
    d2, a3 = ours.pitch_diameter * 1e3, ours.root_area * 1e6
    why = "printed digits"
    published("tables", STAVANGER, case, "pitch diameter, mm", pitch_diameter, d2, abs=half_d2, why=why)
    published("tables", STAVANGER, case, "minor-diameter area, mm2", root_area, a3, abs=half_a3, why=why)


def test_closed_forms(published):
    nominal, pitch = 10e-3, 1.5e-3
    profile = basic_profile(nominal, pitch)
    stress_term = (nominal - sqrt(4 * profile.stress_area / pi)) / pitch
    root_term = (nominal - profile.root_diameter) / pitch
    why = "six decimals printed"
    published(
        "tables", SHIGLEY, "problem 8-2", "(d - stress diameter)/P", 0.938194, stress_term, abs=5e-7, why=why
    )
    published("tables", STAVANGER, "formula", "(d - d3)/P", 1.226869, root_term, abs=5e-7, why=why)
