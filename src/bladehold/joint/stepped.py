"""Stepped screws and pins: shoulder in the shear planes, thread behind it, and pins held by rings.

A shoulder screw shears and bends at its shoulder and is pulled at its thread or at the groove between them,
which is the weakest section for tension and, when it lies at a plate, for bending too. The stress
concentration of the step counts for fatigue only: a ductile screw yields there before it breaks.

A pin with retaining rings has no preload and takes axial load only by ring and groove.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive
from bladehold.joint.pin import section_modulus, shear_area
from bladehold.validity import Range

STEP_FILLET = Range(
    "step height over fillet radius",
    0.1,
    20.0,
    "",
    "off the fitted curves of stress concentration",
    "Pilkey, Peterson's Stress Concentration Factors, shoulder fillets",
)

# Kt = c1 + c2 (2h/D) + c3 (2h/D)^2 + c4 (2h/D)^3, each c = a + b sqrt(h/r) + c h/r; first row of each pair
# for h/r up to 2, second up to 20. The four add up to 1 where the step is as deep as the shaft.
_STEP: MappingProxyType[str, tuple[tuple[tuple[float, float, float], ...], ...]] = MappingProxyType(
    {
        "tension": (
            ((0.926, 1.157, -0.099), (0.012, -3.036, 0.961), (-0.302, 3.977, -1.744), (0.365, -2.098, 0.878)),
            (
                (1.200, 0.860, -0.022),
                (-1.805, -0.346, -0.038),
                (2.198, -0.486, 0.165),
                (-0.593, -0.028, -0.106),
            ),
        ),
        "bending": (
            ((0.947, 1.206, -0.131), (0.022, -3.405, 0.915), (0.869, 1.777, -0.555), (-0.810, 0.422, -0.260)),
            (
                (1.232, 0.832, -0.008),
                (-3.813, 0.968, -0.260),
                (7.423, -4.868, 0.869),
                (-3.839, 3.070, -0.600),
            ),
        ),
    }
)


@dataclass(frozen=True)
class SteppedSection:
    """Sections of a shoulder screw: shear_area [m2] and shoulder_modulus [m3] of the shoulder, tension_area
    [m2] of thread or groove, whichever is less, step_modulus [m3] of the step; any shape.
    """

    shear_area: Floats
    shoulder_modulus: Floats
    tension_area: Floats
    step_modulus: Floats


def stepped_section(
    shoulder_diameter: ArrayLike,
    stress_area: ArrayLike,
    root_diameter: ArrayLike,
    groove_diameter: ArrayLike | None = None,
) -> SteppedSection:
    """Section properties of a screw whose shoulder and thread differ.

    Shear and bending at the shoulder: pi d^2/4, pi d^3/32. Tension: least of the thread's stress area and the
    groove's pi dg^2/4. Bending at the step: groove, else thread root.

    Arguments (broadcast together):
        shoulder_diameter: d in the shear planes [m]; stress_area: As of the thread [m2]; root_diameter: d3 of
        the thread [m]; groove_diameter: dg of the undercut between both, None where there is none [m].
    Returns: sections.
    Errors: ValueError when a size is not positive, or the shoulder not thicker than root and groove.
    Source: geometry; NASA-STD-5020B (2021) eq. 12 (shear at the plane's own diameter).
    """
    shoulder, root = (
        positive("shoulder diameter", shoulder_diameter),
        positive("root diameter", root_diameter),
    )
    larger("shoulder diameter", shoulder, "root diameter", root)
    area, least = positive("stress area", stress_area), root
    if groove_diameter is not None:
        least = positive("groove diameter", groove_diameter)
        larger("shoulder diameter", shoulder, "groove diameter", least)
        area = np.minimum(area, shear_area(least))
    return SteppedSection(shear_area(shoulder), section_modulus(shoulder), area, section_modulus(least))


def step_stress_concentration(
    larger_diameter: ArrayLike, smaller_diameter: ArrayLike, fillet_radius: ArrayLike, load: str
) -> Floats:
    """Kt of a round shaft with a shoulder fillet, on the nominal stress of the smaller diameter.

    Cubic in 2h/D with coefficients in sqrt(h/r) and h/r, h = (D - d)/2. For fatigue only.

    Arguments (broadcast together):
        larger_diameter: D [m]; smaller_diameter: d [m]; fillet_radius: r [m]; load: "tension" or "bending".
    Returns: Kt [-].
    Errors: ValueError when a size is not positive, D not above d, or the load is unknown.
    Range: `STEP_FILLET`.
    Source: Pilkey, Peterson's Stress Concentration Factors, as printed in an open reference; lost minus signs
        put back so that the four coefficients add up to 1 (to 0.01, bending h/r up to 2: 0.03).
    """
    if load not in _STEP:
        raise ValueError(f"load must be one of {', '.join(_STEP)}, got {load!r}")
    D, d = positive("larger diameter", larger_diameter), positive("smaller diameter", smaller_diameter)
    larger("larger diameter", D, "smaller diameter", d)
    height = (D - d) / 2.0
    slope, depth = height / positive("fillet radius", fillet_radius), 2.0 * height / D
    shallow, steep = (
        sum(
            (a + b * np.sqrt(slope) + c * slope) * depth**power
            for power, (a, b, c) in enumerate(coefficients)
        )
        for coefficients in _STEP[load]
    )
    return np.asarray(np.where(slope <= 2.0, shallow, steep))


def ring_shear_load(diameter: ArrayLike, ring_thickness: ArrayLike, shear_strength: ArrayLike) -> Floats:
    """Axial load that shears a retaining ring off at the pin's surface, P = pi d s Fsu.

    Arguments (broadcast together):
        diameter: d of the pin [m]; ring_thickness: s [m]; shear_strength: Fsu of the ring [Pa].
    Returns: load [N].
    Errors: ValueError when an argument is not positive.
    Range: parts with sharp corners; chamfers and radii tilt the ring out long before. The maker's rating
        stands before it.
    Source: statics.
    """
    face = np.pi * positive("diameter", diameter) * positive("ring thickness", ring_thickness)
    return face * positive("shear strength", shear_strength)


def groove_load(diameter: ArrayLike, groove_diameter: ArrayLike, yield_strength: ArrayLike) -> Floats:
    """Axial load at which the wall of a ring's groove yields, P = pi/4 (d^2 - dg^2) Fy.

    Arguments (broadcast together):
        diameter: d of the pin [m]; groove_diameter: dg at the groove's bottom [m]; yield_strength: Fy of
        the pin [Pa].
    Returns: load [N].
    Errors: ValueError when an argument is not positive or d not above dg.
    Range: as `groove_shear_load` for the metal beyond the groove.
    Source: statics, bearing on the groove's wall.
    """
    d, bottom = positive("diameter", diameter), positive("groove diameter", groove_diameter)
    larger("diameter", d, "groove diameter", bottom)
    return np.pi / 4.0 * (d**2 - bottom**2) * positive("yield strength", yield_strength)


def groove_shear_load(groove_diameter: ArrayLike, end_length: ArrayLike, shear_strength: ArrayLike) -> Floats:
    """Axial load that shears the collar beyond a ring's groove off the pin, P = pi dg n Fsu.

    Arguments (broadcast together):
        groove_diameter: dg [m]; end_length: n from groove to the pin's end [m]; shear_strength: Fsu of the
        pin [Pa].
    Returns: load [N].
    Errors: ValueError when an argument is not positive.
    Source: statics.
    """
    collar = np.pi * positive("groove diameter", groove_diameter) * positive("end length", end_length)
    return collar * positive("shear strength", shear_strength)


def ring_capacity(*loads: ArrayLike, maker_rating: ArrayLike | None = None) -> Floats:
    """Axial capacity of a pin held by rings: the maker's rating where there is one, and never more than any
    load.

    No preload is possible, and friction under a head does not exist.

    Arguments (broadcast together):
        loads: ring, groove wall and collar from the functions above [N]; maker_rating: of the ring as fitted,
        None where unknown [N].
    Returns: load [N].
    Errors: ValueError when no load is given or one is negative.
    Source: the weakest part decides.
    """
    if not loads:
        raise ValueError("at least one load must be given")
    known = [*loads] if maker_rating is None else [*loads, maker_rating]
    least = at_least_zero("load", known[0])
    for load in known[1:]:
        least = np.minimum(least, at_least_zero("load", load))
    return least
