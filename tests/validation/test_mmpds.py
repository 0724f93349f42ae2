"""The stress-life equation of MIL-HDBK-5 and MMPDS, from public documents that worked examples with it."""

import numpy as np

from bladehold.joint.damage import damage_per_hour
from bladehold.joint.stress_life import KSI, HandbookCurve
from bladehold.tables import fatigue_curves

SOURCE = "MIL-HDBK-5 / MMPDS equation, quoted"
TANK = "tank study of the German Aerospace Center, 6061-T6"


def curve(material):
    row = fatigue_curves(material)[0]
    return HandbookCurve(
        row.intercept, row.slope, row.ratio_exponent, row.offset, row.notch, row.largest_cycles
    )


def test_6061_t6_with_kt_1_2(published):
    """Smax 187.05 MPa, R 0, Kt 1.2; then 5000 such cycles and 50000 from 115.49 to 187.05 MPa."""
    stress, low = 1.2 * 187.05e6, 1.2 * np.array([0.0, 115.49e6])
    life = curve("6061-T6").cycles(stress, low)
    why = "the source's own tolerance; half the last digit of its stress alone moves the life by 0.026 %"
    published("joint", SOURCE, TANK, "cycles at 187.05 MPa, R 0", 6.250796e5, life[0], rel=1e-3, why=why)
    damage = damage_per_hour([5000.0, 50000.0], life)
    published("joint", SOURCE, TANK, "Miner's sum of two blocks", 8.2061e-3, damage, rel=1e-3, why=why)


def test_7050_t7451_three_blocks(published):
    """Specimens with Kt 3.0, stresses from 0 to 10.49, 5.25 and 1.75 ksi, 1, 10 and 100 times a flight."""
    case = "7050-T7451, three blocks a flight"
    stress, per_flight = np.array([10.49, 5.25, 1.75]) * KSI, np.array([1.0, 10.0, 100.0])
    damage = per_flight / curve("7050-T7451").cycles(stress, 0.0)
    why = "half the last printed digit"
    for quantity, printed, ours, unit in (
        ("damage of the first block, 1e-6", 1.102, damage[0], 0.0005),
        ("damage of the second block, 1e-7", 7.109, 10 * damage[1], 0.0005),
    ):
        published("joint", SOURCE, case, quantity, printed, 1e6 * ours, abs=unit, why=why)
    published(
        "joint",
        SOURCE,
        case,
        "cycles at 5.25 ksi",
        1.407e7,
        per_flight[1] / damage[1],
        abs=5e3,
        why=why,
    )
    published(
        "joint", SOURCE, case, "damage of the third block, 1e-8", 9.171, 1e8 * damage[2], abs=0.0005, why=why
    )
    published(
        "joint", SOURCE, case, "damage of a flight, 1e-6", 1.905, 1e6 * damage.sum(), abs=0.0005, why=why
    )
