"""What a laminate lug can do that metal does not: split at a hole by its stiffness, bypass, press through,
delaminate.

Net tension, shear-out and bearing of a laminate are the simple forms of the lug's own module with tested
strengths of the laminate; the limits of their validity stand there and here. The lug rocks between its plates
and presses on them with a peak p at the end of the contact. There the laminate may be crushed through its
thickness, or it may shear between plies beside the edge of the contact:

- crushing: p <= Fc, compression strength through the thickness;
- delamination: tau = p/pi <= Fis, interlaminar shear strength. Free body: a half plane pressed over a strip
  that ends sharply with the pressure p; below the end the shear on planes along the plies reaches p/pi,
  whatever the pressure does further in.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive, real
from bladehold.validity import Range

LAMINATE_SLENDERNESS = Range(
    "D/t",
    1.0,
    3.0,
    "",
    "bearing strengths of laminates were tested between; a thin pin in a thick lug peaks at the faces",
    "customary laminate practice, unconfirmed (mark: memory)",
)

EDGE_SHEAR_SHARE = 1.0 / np.pi
"""Shear along the plies below a sharp contact end over the pressure there, isotropic half plane."""


def hole_stress_concentration(
    modulus_along: ArrayLike, modulus_across: ArrayLike, shear_modulus: ArrayLike, poisson: ArrayLike
) -> Floats:
    """Stress at the side of an open hole over the far stress, Kt = 1 + sqrt(2 (sqrt(Ex/Ey) - nu_xy) +
    Ex/Gxy).

    >>> print(f"{hole_stress_concentration(70e9, 70e9, 70e9 / 2.6, 0.3):.3f}")
    3.000

    Arguments (broadcast together):
        modulus_along: Ex along the load [Pa]; modulus_across: Ey [Pa]; shear_modulus: Gxy [Pa];
        poisson: nu_xy, shrinking across per strain along [-].
    Returns: Kt [-]; the hole factor of a brittle laminate is no lower than 1/Kt.
    Errors: ValueError when a modulus is not positive or the root would be of a negative number.
    Range: infinite plate, open hole, elastic to rupture.
    Source: Lekhnitskii, Anisotropic Plates; also in MIL-HDBK-17.
    """
    ex, ey = positive("modulus along", modulus_along), positive("modulus across", modulus_across)
    shear = ex / positive("shear modulus", shear_modulus)
    under = 2.0 * (np.sqrt(ex / ey) - real("Poisson ratio", poisson)) + shear
    return 1.0 + np.sqrt(positive("stiffness term", under))


def edge_interlaminar_shear(pressure: ArrayLike, share: ArrayLike = EDGE_SHEAR_SHARE) -> Floats:
    """Shear between plies below the end of a contact, tau = share x p.

    Arguments (broadcast together):
        pressure: p at the end of the contact [Pa]; share: 1/pi for an isotropic half plane [-].
    Returns: shear stress [Pa].
    Errors: ValueError when the pressure is negative or the share not positive.
    Range: contact that ends sharply; a rounded or chamfered plate edge, and the compression that presses the
        plies together, both help and are not counted.
    Source: half plane under a strip load (Flamant, integrated), derived in the module's text.
    """
    return at_least_zero("pressure", pressure) * positive("share", share)


def permissible_edge_pressure(
    compression_strength: ArrayLike, interlaminar_shear: ArrayLike, share: ArrayLike = EDGE_SHEAR_SHARE
) -> Floats:
    """Pressure at the end of a contact that neither crushes nor delaminates, min(Fc, Fis/share).

    Arguments (broadcast together):
        compression_strength: Fc through the thickness [Pa]; interlaminar_shear: Fis [Pa]; share: as in
        `edge_interlaminar_shear` [-].
    Returns: pressure [Pa].
    Errors: ValueError when an argument is not positive.
    Range: as `edge_interlaminar_shear`.
    Source: strength against strength, derived in the module's text.
    """
    sheared = positive("interlaminar shear strength", interlaminar_shear) / positive("share", share)
    return np.minimum(positive("compression strength", compression_strength), sheared)


def bearing_bypass(bearing_ratio: ArrayLike, bypass_ratio: ArrayLike) -> Floats:
    """Share of strength used where part of the load bears on the hole and part passes by, Rb + Rp <= 1.

    At the end lug of a blade nothing passes by and this is bearing alone; it counts in a plate that hands
    load on to further screws.

    Arguments (broadcast together):
        bearing_ratio: Rb, bearing stress over bearing strength [-]; bypass_ratio: Rp, stress that passes by
        over the net-section strength with hole factor [-].
    Returns: Rb + Rp [-].
    Errors: ValueError when a ratio is negative.
    Range: tension; straight line between the two ends, below the tests that bulge beyond it.
    Source: customary laminate practice, unconfirmed (mark: memory).
    """
    return at_least_zero("bearing ratio", bearing_ratio) + at_least_zero("bypass ratio", bypass_ratio)
