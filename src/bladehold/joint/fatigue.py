"""Fatigue of the screw's thread: stress amplitude, endurance, strength over a preload.

Two methods that differ about threefold and must not be mixed: the thread endurance of VDI 2230, an amplitude
on the stress area that already holds the preload and the notch; and the fully corrected endurance of
Shigley with a Goodman, Gerber or ASME line for the preload. A result says which it used.
"""

from __future__ import annotations

from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint import pin
from bladehold.joint._arrays import Floats, at_least_zero, positive, real
from bladehold.validity import Range

_VDI = "VDI 2230 Part 1, 5.5.3"
VDI_DIAMETER = Range(
    "thread diameter",
    5e-3,
    40e-3,
    "m",
    "the thread endurance law rests on larger screws (below M5 an extrapolation) and ends at M40",
    _VDI,
)
VDI_MEAN_LOAD = Range(
    "mean load over 0.2 % load",
    0.3,
    1.0,
    "",
    "endurance of threads rolled after heat treatment is not given",
    _VDI,
)
VDI_GALVANISED = 0.70
"""Factor on the endurance of hot-dip galvanised threads (VDI 2230 Part 1, 5.5.3, quoted in public code)."""
VDI_KNEE = 2e6
"""Cycles ND at which the endurance of a thread is reached (VDI 2230 Part 1, 5.5.3, as quoted)."""
VDI_FEWEST = 1e4
"""Cycles below which the finite-life law of a thread is not stated."""
VDI_EXPONENTS = MappingProxyType({"vdi-rolled-before": 3.0, "vdi-rolled-after": 6.0})
"""Exponent k of the finite-life law sigma_A (ND / N)^(1/k), by when the thread was rolled."""
VDI_ROLLED = MappingProxyType(
    {
        "vdi-rolled-before": "thread rolled before heat treatment",
        "vdi-rolled-after": "thread rolled after heat treatment",
    }
)
"""The same in words."""


def stress_amplitude(
    maximum_tension: ArrayLike,
    minimum_tension: ArrayLike,
    stress_area: ArrayLike,
    load_factor: ArrayLike,
    loading_plane_factor: ArrayLike = 1.0,
) -> Floats:
    """Stress amplitude in the thread of a closed joint, n phi (Fmax - Fmin) / (2 As).

    Bending of the thread adds to it and is not in this formula.

    Arguments (broadcast together):
        maximum_tension, minimum_tension: external tension over the cycle [N]; stress_area: As [m2];
        load_factor: phi [-]; loading_plane_factor: n [-].
    Returns: amplitude [Pa].
    Errors: ValueError when As is not positive, a factor negative, or Fmax below Fmin.
    Range: joint closed all through the cycle, see `separation.separation_load`.
    Source: VDI 2230 Part 1; Shigley ch. 8.
    """
    swing = real("greatest tension", maximum_tension) - real("least tension", minimum_tension)
    share = at_least_zero("load factor", load_factor) * at_least_zero(
        "loading-plane factor", loading_plane_factor
    )
    return share * at_least_zero("tension swing", swing) / (2.0 * positive("stress area", stress_area))


def bending_amplitude(maximum_moment: ArrayLike, minimum_moment: ArrayLike, stress_area: ArrayLike) -> Floats:
    """Amplitude of the bending stress in a thread, (Mmax - Mmin) / (2 W), W of the circle of area As.

    Arguments (broadcast together):
        maximum_moment, minimum_moment: bending moment of the screw over the cycle [N m];
        stress_area: As [m2].
    Returns: amplitude [Pa].
    Errors: ValueError when As is not positive or Mmax below Mmin.
    Source: VDI 2230 Part 1, 5.5.3 (the bending part of the alternating stress); beam theory.
    """
    swing = real("greatest moment", maximum_moment) - real("least moment", minimum_moment)
    diameter = np.sqrt(4.0 / np.pi * positive("stress area", stress_area))
    return pin.bending_stress(at_least_zero("moment swing", swing), diameter) / 2.0


def thread_cycles(amplitude: ArrayLike, endurance: ArrayLike, method: str) -> Floats:
    """Cycles a thread lasts at a stress amplitude, ND (sigma_A / sigma_a)^k, k = 3 or 6.

    Arguments (broadcast together, the method apart):
        amplitude: sigma_a in the thread [Pa]; endurance: sigma_A, from one of the functions below [Pa];
        method: "vdi-rolled-before" (k = 3) or "vdi-rolled-after" (k = 6).
    Returns: cycles; infinite up to sigma_A, 0 where fewer than `VDI_FEWEST` would be left, for which the
        law is not stated.
    Errors: ValueError when the amplitude is negative, the endurance not positive or the method unknown.
    Source: VDI 2230 Part 1, 5.5.3, as quoted in public code (both exponents, ND = 2e6).
    """
    power = thread_exponent(method)
    with np.errstate(divide="ignore", over="ignore"):
        ratio = positive("endurance", endurance) / at_least_zero("stress amplitude", amplitude)
        found = VDI_KNEE * ratio**power
    found = np.where(found < VDI_FEWEST * (1.0 - 1e-12), 0.0, found)
    return np.where(ratio >= 1.0, np.inf, found)


def thread_amplitude(cycles: ArrayLike, endurance: ArrayLike, method: str) -> Floats:
    """Stress amplitude a thread carries for so many cycles, sigma_A (ND / N)^(1/k), sigma_A from ND on.

    Fewer than `VDI_FEWEST` cycles are counted as that many.

    Arguments (broadcast together, the method apart):
        cycles: N [-]; endurance: sigma_A [Pa]; method: "vdi-rolled-before" (k = 3) or "vdi-rolled-after"
        (k = 6).
    Returns: amplitude [Pa].
    Errors: ValueError when an argument is not positive or the method unknown.
    Source: VDI 2230 Part 1, 5.5.3, as quoted in public code (both exponents, ND = 2e6).
    """
    wanted = np.clip(positive("cycles", cycles), VDI_FEWEST, VDI_KNEE)
    return positive("endurance", endurance) * (VDI_KNEE / wanted) ** (1.0 / thread_exponent(method))


def thread_exponent(method: str) -> float:
    """Exponent k of a thread's finite life.

    Arguments:
        method: "vdi-rolled-before" or "vdi-rolled-after".
    Returns: k [-].
    Errors: ValueError when the method is unknown.
    Source: VDI 2230 Part 1, 5.5.3, as quoted in public code.
    """
    if method not in VDI_EXPONENTS:
        raise ValueError(f"method {method!r} is not one of {', '.join(VDI_EXPONENTS)}")
    return VDI_EXPONENTS[method]


def thread_endurance_rolled_before(diameter: ArrayLike) -> Floats:
    """Endurance amplitude of a thread rolled before heat treatment, 0.85 (150/d + 45) MPa, d in mm.

    About 2e6 cycles, for property classes of ISO 898-1, whichever the class.

    Arguments:
        diameter: nominal thread diameter d [m], any shape.
    Returns: sigma_ASV [Pa].
    Errors: ValueError when a diameter is not positive.
    Range: `VDI_DIAMETER`.
    Source: VDI 2230 Part 1, 5.5.3, as quoted by several public implementations.
    """
    return 0.85 * (150.0 / (1e3 * positive("diameter", diameter)) + 45.0) * 1e6


def thread_endurance_rolled_after(diameter: ArrayLike, mean_load_ratio: ArrayLike) -> Floats:
    """Endurance amplitude of a thread rolled after heat treatment, (2 - FSm/F0.2) sigma_ASV.

    Arguments (broadcast together):
        diameter: nominal thread diameter d [m];
        mean_load_ratio: mean screw load over its least 0.2 % load [-].
    Returns: sigma_ASG [Pa].
    Errors: ValueError when a diameter is not positive or the ratio negative.
    Range: `VDI_DIAMETER`, `VDI_MEAN_LOAD`.
    Source: VDI 2230 Part 1, 5.5.3, as quoted by several public implementations.
    """
    return (2.0 - at_least_zero("mean load ratio", mean_load_ratio)) * thread_endurance_rolled_before(
        diameter
    )


def goodman_amplitude(endurance: ArrayLike, tensile_strength: ArrayLike, preload_stress: ArrayLike) -> Floats:
    """Alternating strength with preload on Goodman's line, Se (Sut - si) / (Sut + Se).

    The external load pulses between zero and its greatest value on top of the preload.

    Arguments (broadcast together):
        endurance: Se fully corrected [Pa]; tensile_strength: Sut [Pa]; preload_stress: si [Pa].
    Returns: strength amplitude [Pa], not below 0.
    Errors: ValueError when a strength is not positive or si negative.
    Source: Shigley ch. 8.
    """
    se, sut = positive("endurance", endurance), positive("tensile strength", tensile_strength)
    return np.maximum(se * (sut - at_least_zero("preload stress", preload_stress)) / (sut + se), 0.0)


def gerber_amplitude(endurance: ArrayLike, tensile_strength: ArrayLike, preload_stress: ArrayLike) -> Floats:
    """Alternating strength with preload on Gerber's parabola.

    Sa = {Sut sqrt[Sut^2 + 4 Se (Se + si)] - Sut^2 - 2 si Se} / (2 Se)

    Arguments (broadcast together):
        endurance: Se fully corrected [Pa]; tensile_strength: Sut [Pa]; preload_stress: si [Pa].
    Returns: strength amplitude [Pa], not below 0.
    Errors: ValueError when a strength is not positive or si negative.
    Source: Shigley ch. 8.
    """
    se, sut = positive("endurance", endurance), positive("tensile strength", tensile_strength)
    si = at_least_zero("preload stress", preload_stress)
    root = sut * np.sqrt(sut**2 + 4.0 * se * (se + si))
    return np.maximum((root - sut**2 - 2.0 * si * se) / (2.0 * se), 0.0)


def asme_amplitude(endurance: ArrayLike, proof_strength: ArrayLike, preload_stress: ArrayLike) -> Floats:
    """Alternating strength with preload on the ASME ellipse.

    Sa = Se {Sp sqrt(Sp^2 + Se^2 - si^2) - si Se} / (Sp^2 + Se^2)

    Arguments (broadcast together):
        endurance: Se fully corrected [Pa]; proof_strength: Sp [Pa]; preload_stress: si [Pa].
    Returns: strength amplitude [Pa], 0 from si = Sp on.
    Errors: ValueError when a strength is not positive or si negative.
    Source: Shigley ch. 8.
    """
    se, sp = positive("endurance", endurance), positive("proof strength", proof_strength)
    si = at_least_zero("preload stress", preload_stress)
    root = sp * np.sqrt(np.maximum(sp**2 + se**2 - si**2, 0.0))
    return np.maximum(se * (root - si * se) / (sp**2 + se**2), 0.0)
