"""NASA-TM-106943 (Chambers, 1995), Preloaded Joint Analysis Methodology for Space Flight Systems.

Tables I and II: A-286 bolts, preload at 65 % of the 85 ksi yield strength, preload uncertainty 25 %.
"""

import pytest

from bladehold.joint import preload

SOURCE = "NASA-TM-106943 (1995)"
INCH, POUND = 0.0254, 4.4482216152605


@pytest.mark.parametrize(
    ("size", "diameter", "stress_area", "nominal", "least", "greatest"),
    [("1/4-28", 0.25, 0.0364, 2011.0, 1436.0, 2514.0), ("3/8-24", 0.375, 0.0878, 4851.0, 3465.0, 6064.0)],
)
def test_tables_1_and_2(published, size, diameter, stress_area, nominal, least, greatest):
    wanted = 0.65 * 85e3 * stress_area * POUND
    torque = preload.torque_from_preload(wanted, 0.15, diameter * INCH)
    force = preload.preload_from_torque(torque, 0.15, diameter * INCH)
    whole, early = "whole pounds printed", "whole pounds printed; the source rounds the factor to 0.714 first"
    least_unit = 0.5 + (0.75 / 1.05 - 0.714) * nominal
    for quantity, printed, ours, unit, why in (
        ("T/KD, lb", nominal, force, 0.5, whole),
        ("least preload, lb", least, preload.minimum_preload_tm106943(force, 0.25), least_unit, early),
        ("greatest preload, lb", greatest, preload.maximum_preload(force, 0.25), 0.5, whole),
    ):
        published(
            "joint", SOURCE, f"tables I, II, {size}", quantity, printed, ours / POUND, abs=unit, why=why
        )


def test_least_preload_factor(published):
    ours = preload.minimum_preload_tm106943(1.0, 0.25)
    why = "printed to three figures"
    published("joint", SOURCE, "eq. 13-16, u = 0.25", "Pmin / (T/KD)", 0.714, ours, abs=0.0005, why=why)
