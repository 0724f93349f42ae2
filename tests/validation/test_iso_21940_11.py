"""ISO 21940-11:2016, balance quality grades: permissible unbalance of a rotor of 0.25 kg at 3000 rpm.

The figures are not printed in the standard: they follow from its definition G = e Omega, worked by hand in
the units in use (e in um is 1000 G / Omega, U in g mm is e m).
"""

import numpy as np

from bladehold.blade import balance_grade, permissible_unbalance, unbalance_force

SOURCE = "ISO 21940-11:2016, worked by hand"
CASE = "G 6.3, 0.25 kg, 3000 rpm"
SPEED = 100.0 * np.pi


def test_grade_6_3(published):
    unbalance = permissible_unbalance(6.3e-3, 0.25, SPEED)
    three = "worked to three decimals"
    published(
        "blade", SOURCE, CASE, "eccentricity, um", 20.054, 1e6 * unbalance / 0.25, abs=0.0005, why=three
    )
    published(
        "blade", SOURCE, CASE, "residual unbalance, g mm", 5.013, 1e6 * unbalance, abs=0.0005, why=three
    )
    published(
        "blade",
        SOURCE,
        CASE,
        "force that turns, N",
        0.4948,
        unbalance_force(unbalance, SPEED),
        abs=0.00005,
        why="worked to four decimals",
    )
    grade = balance_grade(5.013e-6, 0.25, SPEED)
    published(
        "blade", SOURCE, CASE, "grade of 5.013 g mm, mm/s", 6.3, 1e3 * grade, abs=0.05, why="one decimal"
    )
