"""Surface pressure under a screw head, nut or washer.

On aluminium and laminate this often fails before the screw does: compare with the permissible
pressure of the part, at the greatest preload.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive


def bearing_area(bearing_diameter: ArrayLike, hole_diameter: ArrayLike) -> Floats:
    """Annulus that carries the head, A = pi/4 (dw^2 - dh^2).

    >>> print(f"{1e6 * bearing_area(8.03e-3, 5.5e-3):.2f} mm2")
    26.88 mm2

    Arguments (broadcast together):
        bearing_diameter: dw of head, nut or washer, the least [m]; hole_diameter: dh of hole or
        washer, the greater of the two [m].
    Returns: area [m2].
    Errors: ValueError when a diameter is not positive or dw not above dh.
    Source: geometry; VDI 2230.
    """
    dw, dh = positive("bearing diameter", bearing_diameter), positive("hole diameter", hole_diameter)
    larger("bearing diameter", dw, "hole diameter", dh)
    return np.pi / 4.0 * (dw**2 - dh**2)


def surface_pressure(screw_load: ArrayLike, area: ArrayLike) -> Floats:
    """Mean pressure under the head, p = F / A.

    Arguments (broadcast together):
        screw_load: greatest load in the screw, preload with the external part [N]; area: A [m2].
    Returns: pressure [Pa].
    Errors: ValueError when the load is negative or the area not positive.
    Source: VDI 2230.
    """
    return at_least_zero("screw load", screw_load) / positive("area", area)
