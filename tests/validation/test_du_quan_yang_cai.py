"""Du, Quan, Yang and Cai, Journal of Guidance, Control, and Dynamics (2015), arXiv 1403.5986: two
hexacopters.

Six rotors at 0, 60, ... 300 degrees, arms 0.275 m, torque over thrust 0.1 m, mass 1.535 kg, g 9.80 m/s^2
(inputs from memory of that paper). Its control effectiveness matrix is lift, roll, pitch and yaw of unit
thrusts, d sin, d cos and k times the sense of turning; hover shares the weight in both arrangements of
senses.
"""

import numpy as np
import pytest

from bladehold.aircraft import attainable_index, commanded, custom_frame, effectiveness, least_thrusts

SOURCE = "Du, Quan, Yang and Cai, JGCD (2015), control effectiveness of a hexacopter"
ARM, RATIO, WEIGHT = 0.275, 0.1, 1.535 * 9.80
SENSES = {"PNPNPN": [1, -1, 1, -1, 1, -1], "PPNNPN": [1, 1, -1, -1, 1, -1]}


@pytest.mark.parametrize("name", SENSES)
def test_effectiveness_and_hover(name, published):
    bearing = np.radians(60.0 * np.arange(6))
    places = np.stack([ARM * np.cos(bearing), ARM * np.sin(bearing), np.zeros(6)], axis=-1)
    # P turns the airframe to the right: a rotor that turns counterclockwise seen from above.
    matrix = commanded(effectiveness(custom_frame(places, -np.array(SENSES[name])), RATIO))
    printed = np.stack(
        [np.ones(6), -ARM * np.sin(bearing), ARM * np.cos(bearing), RATIO * np.array(SENSES[name])]
    )
    for row, way in enumerate(("lift", "roll", "pitch", "yaw")):
        worst = int(np.abs(matrix[row] - printed[row]).argmax())
        published(
            "aircraft",
            SOURCE,
            f"{name}, rotor {worst + 1}, the one that differs most",
            f"{way} of 1 N of thrust, {'N' if way == 'lift' else 'N m'}",
            float(printed[row, worst]),
            float(matrix[row, worst]),
            abs=1e-12,
            why="the matrix is exact",
        )
    thrust = least_thrusts(matrix, [WEIGHT, 0.0, 0.0, 0.0])
    published(
        "aircraft",
        SOURCE,
        f"{name}, hover",
        "thrust of every rotor, the one that differs most, N",
        WEIGHT / 6,
        float(thrust[np.abs(thrust - WEIGHT / 6).argmax()]),
        rel=1e-12,
        why="exact: the weight shared evenly",
    )


@pytest.mark.parametrize(
    ("name", "lost", "printed"),
    [("PNPNPN", None, 1.4861), ("PNPNPN", 0, 0.0), ("PPNNPN", None, 1.1295), ("PPNNPN", 0, 0.7221)],
)
def test_control_index(name, lost, printed, published):
    """Greatest thrust of a rotor 6.125 N, its inputs from memory; the index is printed to four decimals."""
    bearing = np.radians(60.0 * np.arange(6))
    places = np.stack([ARM * np.cos(bearing), ARM * np.sin(bearing), np.zeros(6)], axis=-1)
    matrix = commanded(effectiveness(custom_frame(places, -np.array(SENSES[name])), RATIO))
    ceiling = np.full(6, 6.125)
    if lost is not None:
        ceiling[lost] = 0.0
    published(
        "aircraft",
        SOURCE,
        f"{name}, {'all rotors' if lost is None else f'rotor {lost + 1} lost'}",
        "control index of hover",
        printed,
        attainable_index(matrix, 0.0, ceiling, [WEIGHT, 0.0, 0.0, 0.0]),
        abs=5e-5,
        why="half of the last digit that is printed",
    )


def test_any_rotor_of_the_first_arrangement_leaves_nothing_to_steer_with(published):
    bearing = np.radians(60.0 * np.arange(6))
    places = np.stack([ARM * np.cos(bearing), ARM * np.sin(bearing), np.zeros(6)], axis=-1)
    matrix = commanded(effectiveness(custom_frame(places, -np.array(SENSES["PNPNPN"])), RATIO))
    found = []
    for lost in range(6):
        ceiling = np.full(6, 6.125)
        ceiling[lost] = 0.0
        found.append(attainable_index(matrix, 0.0, ceiling, [WEIGHT, 0.0, 0.0, 0.0]))
    published(
        "aircraft",
        SOURCE,
        "PNPNPN, any rotor lost",
        "control index of hover, the one that differs most from 0",
        0.0,
        max(found, key=abs),
        abs=1e-9,
        why="hover lies on the boundary, exactly",
    )
