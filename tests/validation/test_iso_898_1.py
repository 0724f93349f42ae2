"""EN ISO 898-1, minimum ultimate tensile loads of coarse threads.

Source: EN ISO 898-1, table of minimum ultimate tensile loads (stress area times minimum tensile
strength), read in a reproduction on a fastener site. The source multiplies the stress area after
rounding it to three figures, and rounds the load to three figures again. The reproduction prints
91130 N for M4 of class 10.9, a doubled digit for 9130 N; that one figure is left out.
"""

from math import floor, log10

import pytest

from bladehold.tables import property_class, thread

CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")
NEWTONS = {
    "M3": (2010, 2110, 2510, 2620, 3020, 4020, 4530, 5230, 6140),
    "M4": (3510, 3690, 4390, 4570, 5270, 7020, 7900, None, 10700),
    "M5": (5680, 5960, 7100, 7380, 8520, 11350, 12800, 14800, 17300),
    "M6": (8040, 8440, 10000, 10400, 12100, 16100, 18100, 20900, 24500),
    "M8": (14600, 15400, 18300, 19000, 22000, 29200, 32900, 38100, 44600),
    "M10": (23200, 24400, 29000, 30200, 34800, 46400, 52200, 60300, 70800),
}
WHY = "half a unit of the load's third figure plus the load on half a unit of the stress area's third figure"


def half_unit_of_third_figure(value):
    return 0.5 * 10.0 ** (floor(log10(value)) - 2)


@pytest.mark.parametrize("size", NEWTONS)
def test_minimum_ultimate_tensile_load(published, size):
    area = thread(size).profile.stress_area * 1e6
    for name, newtons in zip(CLASSES, NEWTONS[size], strict=True):
        if newtons is not None:
            strength = property_class(name).tensile_strength / 1e6
            allowed = half_unit_of_third_figure(newtons) + half_unit_of_third_figure(area) * strength
            quantity = "minimum ultimate tensile load, N"
            case = f"{size} {name}"
            published(
                "tables", "EN ISO 898-1", case, quantity, newtons, area * strength, abs=allowed, why=WHY
            )
