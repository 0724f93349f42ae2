"""Tightening factor, assembly preload and torque in the manner of VDI 2230."""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive

TORSION_FACTORS: MappingProxyType[str, float] = MappingProxyType(
    {"1986": 2.0, "2001": 1.5, "2003": 1.5, "2015": 1.5}
)
"""Torsion term of `assembly_preload` by edition of VDI 2230: 2 with the elastic torsion modulus pi d^3/16,
1.5 with the fully plastic pi d^3/12. The older edition gives about 8 % less preload."""


def tightening_factor(scatter: ArrayLike) -> Floats:
    """Tightening factor alphaA = FMmax / FMmin of a preload that scatters by +- s: (1 + s) / (1 - s).

    >>> print(f"{tightening_factor(0.23):.2f}")
    1.60

    Arguments:
        scatter: s as a share of the mean [-], any shape.
    Returns: alphaA [-].
    Errors: ValueError unless 0 <= s < 1.
    Source: VDI 2230 (definition of alphaA).
    """
    s = at_least_zero("scatter", scatter)
    return (1.0 + s) / positive("1 - scatter", 1.0 - s)


def scatter_from_tightening_factor(factor: ArrayLike) -> Floats:
    """Scatter +- s of the preload for a tightening factor, s = (alphaA - 1) / (alphaA + 1).

    Arguments:
        factor: alphaA [-], any shape.
    Returns: s as a share of the mean [-].
    Errors: ValueError when alphaA is below 1.
    Source: VDI 2230 (definition of alphaA).
    """
    excess = at_least_zero("tightening factor - 1", positive("tightening factor", factor) - 1.0)
    return excess / (excess + 2.0)


def minimum_assembly_preload(maximum: ArrayLike, factor: ArrayLike) -> Floats:
    """Least assembly preload, FMmin = FMmax / alphaA.

    Arguments (broadcast together):
        maximum: FMmax [N]; factor: alphaA [-].
    Returns: FMmin [N].
    Errors: ValueError when alphaA is below 1 or FMmax negative.
    Source: VDI 2230.
    """
    alpha = positive("tightening factor", factor)
    at_least_zero("tightening factor - 1", alpha - 1.0)
    return at_least_zero("greatest preload", maximum) / alpha


def maximum_assembly_preload(minimum: ArrayLike, factor: ArrayLike) -> Floats:
    """Greatest assembly preload, FMmax = alphaA FMmin.

    Arguments (broadcast together):
        minimum: FMmin [N]; factor: alphaA [-].
    Returns: FMmax [N].
    Errors: ValueError when alphaA is below 1 or FMmin negative.
    Source: VDI 2230.
    """
    alpha = positive("tightening factor", factor)
    at_least_zero("tightening factor - 1", alpha - 1.0)
    return at_least_zero("least preload", minimum) * alpha


def assembly_preload(
    yield_strength: ArrayLike,
    pitch_diameter: ArrayLike,
    root_diameter: ArrayLike,
    pitch: ArrayLike,
    thread_friction: ArrayLike,
    *,
    utilisation: ArrayLike = 0.9,
    edition: str = "2015",
) -> Floats:
    """Assembly preload at which tension and torsion together use a share of the yield strength.

    FM = nu Rp0.2 A / sqrt(1 + 3 [f (d2/dS)(P/(pi d2) + 1.155 muG)]^2), dS = (d2 + d3)/2, A = pi dS^2/4, the
    ISO stress area. f from `TORSION_FACTORS`. 1.155 = 1/cos 30 deg.

    Arguments (broadcast together):
        yield_strength: Rp0.2 (or ReL) of the screw, least value [Pa]; pitch_diameter: d2 [m];
        root_diameter: d3 of the external thread [m]; pitch: P [m]; thread_friction: muG [-];
        utilisation: nu, 0.9 by custom [-]; edition: year of VDI 2230, a key of `TORSION_FACTORS`.
    Returns: FM [N].
    Errors: ValueError for an unknown edition or a size that is not positive.
    Source: VDI 2230 Part 1, as stated for its editions; agrees with published preload tables (M8x1).
    """
    if edition not in TORSION_FACTORS:
        raise ValueError(f"edition of VDI 2230 must be one of {', '.join(TORSION_FACTORS)}, got {edition!r}")
    d2, d3 = positive("pitch diameter", pitch_diameter), positive("root diameter", root_diameter)
    larger("pitch diameter", d2, "root diameter", d3)
    stress_diameter = (d2 + d3) / 2.0
    thread = (
        positive("pitch", pitch) / (np.pi * d2) + at_least_zero("thread friction", thread_friction) * 1.155
    )
    torsion = TORSION_FACTORS[edition] * d2 / stress_diameter * thread
    direct = np.pi / 4.0 * stress_diameter**2 * positive("yield strength", yield_strength)
    return positive("utilisation", utilisation) * direct / np.sqrt(1.0 + 3.0 * torsion**2)


def tightening_torque(
    preload: ArrayLike,
    pitch: ArrayLike,
    pitch_diameter: ArrayLike,
    thread_friction: ArrayLike,
    bearing_diameter: ArrayLike,
    hole_diameter: ArrayLike,
    head_friction: ArrayLike,
) -> Floats:
    """Tightening torque for an assembly preload.

    MA = FM [0.16 P + 0.58 d2 muG + (DKm/2) muK], DKm = (dw + dh)/2

    Arguments (broadcast together):
        preload: FM [N]; pitch: P [m]; pitch_diameter: d2 [m]; thread_friction: muG [-];
        bearing_diameter: dw, outside of the turned bearing face [m]; hole_diameter: dh, inside of it [m];
        head_friction: muK [-].
    Returns: MA [N m].
    Errors: ValueError when a size is not positive, a friction negative, or dw not above dh.
    Source: VDI 2230 Part 1; agrees with published torque tables (M8x1).
    """
    dw, dh = positive("bearing diameter", bearing_diameter), positive("hole diameter", hole_diameter)
    larger("bearing diameter", dw, "hole diameter", dh)
    thread = 0.16 * positive("pitch", pitch) + 0.58 * positive(
        "pitch diameter", pitch_diameter
    ) * at_least_zero("thread friction", thread_friction)
    face = (dw + dh) / 4.0 * at_least_zero("head friction", head_friction)
    return at_least_zero("preload", preload) * (thread + face)
