"""Names of the parts that are checked."""

PIVOT, LUG, BUSH, PLATES = "pivot screw", "blade lug", "bush", "hub plates"
TIES, MOUNTING, ROOT = "tie screws", "mounting screws", "clamped root"
