"""VDI 2230: preload and torque table of M8x1 and the tightening factor, from suppliers' pages that quote it.

M8x1, hexagon head dw 11.63 mm (ISO 4014, product grade A), hole 9 mm (ISO 273 medium), the same friction in
thread and under head, 90 % of the yield strength. Only the row for 8.8 is a gate. The rows for 10.9 and
12.9 look like the already rounded 8.8 row times the ratio of yield strengths (20.2 x 1100/640 = 34.7, where
the formula gives 34.8) and do not agree to their last digit; a separate test says by how much.
"""

import numpy as np
import pytest

from bladehold.joint import tightening

SOURCE = "VDI 2230, quoted on suppliers' pages"
PITCH, DIAMETER = 1e-3, 8e-3
HEIGHT = np.sqrt(3) / 2 * PITCH
PITCH_DIAMETER, ROOT_DIAMETER = DIAMETER - 0.75 * HEIGHT, DIAMETER - 17 / 12 * HEIGHT
YIELD = {"8.8": 640e6, "10.9": 940e6, "12.9": 1100e6}
TABLE = {
    ("8.8", 0.10): (20.7, 22.8),
    ("8.8", 0.12): (20.2, 26.1),
    ("8.8", 0.14): (19.7, 29.2),
    ("10.9", 0.10): (30.4, 33.5),
    ("10.9", 0.12): (29.7, 38.3),
    ("10.9", 0.14): (28.9, 42.8),
    ("12.9", 0.10): (35.6, 39.2),
    ("12.9", 0.12): (34.7, 44.9),
    ("12.9", 0.14): (33.9, 50.1),
}


def _ours(name, friction):
    force = tightening.assembly_preload(YIELD[name], PITCH_DIAMETER, ROOT_DIAMETER, PITCH, friction)
    torque = tightening.tightening_torque(force, PITCH, PITCH_DIAMETER, friction, 11.63e-3, 9e-3, friction)
    return float(force) / 1e3, float(torque)


@pytest.mark.parametrize("friction", [0.10, 0.12, 0.14])
def test_m8x1_assembly(published, friction):
    force, torque = _ours("8.8", friction)
    case, why = f"M8x1 8.8, friction {friction:.2f}", "half the last printed digit"
    printed_force, printed_torque = TABLE["8.8", friction]
    published("joint", SOURCE, case, "assembly preload, kN", printed_force, force, abs=0.05, why=why)
    published("joint", SOURCE, case, "torque, N m", printed_torque, torque, abs=0.05, why=why)


@pytest.mark.parametrize(("name", "friction"), [key for key in TABLE if key[0] != "8.8"])
def test_stronger_classes_differ_from_the_print_by_up_to_0_3_percent(name, friction):
    """Not a gate of the source: seven of these twelve figures miss its last digit, by 0.094 at the most."""
    for ours, printed in zip(_ours(name, friction), TABLE[name, friction], strict=True):
        assert ours == pytest.approx(printed, rel=0.003)


def test_tightening_factor(published):
    least = tightening.minimum_assembly_preload(41.9e3, 1.8)
    case = "alphaA 1.8, FMmax 41.9 kN"
    published("joint", SOURCE, case, "FMmin, kN", 23.3, least / 1e3, abs=0.05, why="one decimal printed")
