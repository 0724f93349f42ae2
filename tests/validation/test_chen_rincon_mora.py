"""Chen and Rincon-Mora, IEEE Transactions on Energy Conversion 21(2) (2006): polymer lithium-ion cell in
closed form.

The constants as quoted in several public programs. The table of cells holds points of the curve; here the
curve between them, and the resistance, are held against the closed forms.
"""

import math

import numpy as np
import pytest

from bladehold.tables import cell, cell_voltages

SOURCE = "Chen and Rincon-Mora (2006), closed forms as quoted in public programs"


def voltage(s):
    return -1.031 * math.exp(-35 * s) + 3.685 + 0.2156 * s - 0.1178 * s**2 + 0.3201 * s**3


@pytest.mark.parametrize("charge", [0.015, 0.06, 0.12, 0.25, 0.45, 0.65, 0.85, 0.95])
def test_open_circuit_voltage_between_the_points(charge, published):
    curve = cell_voltages("lithium-polymer")
    ours = float(np.interp(charge, [p.charge for p in curve], [p.voltage for p in curve]))
    published(
        "tables",
        SOURCE,
        f"charge {charge:g}",
        "open-circuit voltage of a cell, V",
        voltage(charge),
        ours,
        rel=0.004,
        why="straight lines between points no more than a tenth of the charge apart",
    )


@pytest.mark.parametrize("charge", [0.05, 0.2, 1.0])
def test_resistance_over_that_of_a_full_cell(charge, published):
    row = cell("lithium-polymer")
    ours = 1.0 + row.empty_rise * math.exp(-charge / row.empty_charge)
    printed = (0.1562 * math.exp(-24.37 * charge) + 0.07446) / 0.07446
    published(
        "tables",
        SOURCE,
        f"charge {charge:g}",
        "series resistance over that of a full cell",
        printed,
        ours,
        rel=2e-4,
        why="constants of the table rounded to four figures",
    )
