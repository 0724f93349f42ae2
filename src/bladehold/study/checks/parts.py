"""Names of the parts that are checked."""

PIVOT, LUG, BUSH, PLATES = "pivot screw", "blade lug", "bush", "hub plates"
TIES, MOUNTING, ROOT = "tie screws", "mounting screws", "clamped root"
_SEVERAL = frozenset({PLATES, TIES, MOUNTING})


def verb(part: str, one: str, several: str) -> str:
    """Return the form of a verb that goes with a part's name: "fails", of hub plates "fail"."""
    return several if part in _SEVERAL else one


INBOARD = "bending between lug and root"
"""Mode of the plates that the pivot screw's size does not touch."""
