"""Worked figures of a constant-power load and of one thermal node, from the project's reference page.

Both follow from Kirchhoff's law and from the heat balance of one body; the page gives them as computed by a
script of its own.
"""

from bladehold.power import drawn_current, power_current, temperature_after

SOURCE = "reference figures of the project, worked by an independent script"


def test_constant_power_load(published):
    current = float(power_current(44.4, 0.036, 2000.0))
    case = "2000 W from 44.4 V behind 36 mohm"
    published("power", SOURCE, case, "current, A", 46.823, current, abs=5e-4, why="rounding of the figure")
    published(
        "power",
        SOURCE,
        case,
        "voltage, V",
        42.714,
        44.4 - 0.036 * float(drawn_current(44.4, 0.036, 2000.0)),
        abs=5e-4,
        why="rounding of the figure",
    )


def test_thermal_node(published):
    warm = float(temperature_after(298.15, 60.0, 0.0, 60.0, 0.9, 150.0, 298.15)) - 273.15
    case = "60 W into 150 J/K behind 0.9 K/W from 25 degC"
    published("power", SOURCE, case, "after 60 s, degC", 44.38, warm, abs=5e-3, why="rounding of the figure")
