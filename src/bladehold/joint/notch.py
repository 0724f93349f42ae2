"""Stress concentration at holes and shoulders, and how much of it fatigue feels.

Factors are on the stress of the net section. A lug loaded by its pin: the peak stands beside the hole and
needs a closely fitting pin; clearance, and fretting between pin and hole, are not in any of them.
"""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive
from bladehold.joint.lug import ekvall_axial_stress_concentration
from bladehold.joint.stress_life import KSI
from bladehold.validity import Range

_PETERSON = "Peterson's Stress Concentration Factors, unconfirmed (mark: memory)"
PETERSON_WIDTH = Range("D/w", 0.15, 0.75, "", "polynomial of the pin-loaded hole ends", _PETERSON)
PETERSON_END = Range(
    "hole centre to end over width", 1.0, None, "", "a shorter end raises the peak stress", _PETERSON
)
FILLET = Range(
    "fillet radius over diameter",
    0.01,
    0.30,
    "",
    "outside the curves of stepped round bars",
    "Norton, Machine Design, appendix C",
)
SENSITIVITY_STRENGTH = Range(
    "tensile strength of the notched part",
    50 * KSI,
    250 * KSI,
    "Pa",
    "notch sensitivity held at the nearer end",
    "Shigley, Mechanical Engineering Design, ch. 6",
)

_STEPS = np.array([1.0, 1.01, 1.02, 1.03, 1.05, 1.07, 1.10, 1.20, 1.50, 2.00, 3.00, 6.00])
_FACTORS = np.array(
    [1.0, 0.91938, 0.96048, 0.98061, 0.98137, 0.97527, 0.95120, 0.97098, 0.93836, 0.90879, 0.89334, 0.87868]
)
_POWERS = np.array(
    [0.0, 0.17032, 0.17711, 0.18381, 0.19653, 0.20958, 0.23757, 0.21796, 0.25759, 0.28598, 0.30860, 0.33243]
)


def open_hole_factor(width: ArrayLike, hole_diameter: ArrayLike) -> Floats:
    """Kt of a plate in tension with a central empty hole, 3 - 3.13 x + 3.66 x^2 - 1.53 x^3, x = D/w.

    Arguments (broadcast together):
        width: w [m]; hole_diameter: D [m].
    Returns: Kt on the net section [-].
    Errors: ValueError when a size is not positive or w not above D.
    Source: Peterson's Stress Concentration Factors, finite-width plate, as quoted in public code.
    """
    x = _share(width, hole_diameter)
    return 3.0 - 3.13 * x + 3.66 * x**2 - 1.53 * x**3


def open_hole_bending_factor(width: ArrayLike, hole_diameter: ArrayLike, thickness: ArrayLike) -> Floats:
    """Kt of a plate bent flatwise with a central empty hole, at the hole's rim on the face.

    (1.79 + 0.25 / (0.39 + y) + 0.81 / (1 + y^2) - 0.26 / (1 + y^3)) (1 - 1.04 x + 1.22 x^2), y = D/t and
    x = D/w: 3 for a hole that is small beside the thickness, 1.8 for a large one in a thin plate.

    Arguments (broadcast together):
        width: w [m]; hole_diameter: D [m]; thickness: t [m].
    Returns: Kt on the net section, 6 M / ((w - D) t^2) [-].
    Errors: ValueError when a size is not positive or w not above D.
    Source: Peterson's Stress Concentration Factors and Roark's Formulas for Stress and Strain, plate with a
        circular hole in simple bending, as quoted in public code.
    """
    x = _share(width, hole_diameter)
    y = positive("hole diameter", hole_diameter) / positive("thickness", thickness)
    wide = 1.79 + 0.25 / (0.39 + y) + 0.81 / (1.0 + y**2) - 0.26 / (1.0 + y**3)
    return wide * (1.0 - 1.04 * x + 1.22 * x**2)


def pin_loaded_factor_ekvall(width: ArrayLike, hole_diameter: ArrayLike) -> Floats:
    """Kt of a straight lug pulled along its axis by a pin, (w/D - 1) Ktb, Ktb = 2.75 (w/D - 1)^-0.675.

    The peak is Ktb P/(D t), which is Kt P/((w - D) t). Round end concentric with the hole.

    Arguments (broadcast together):
        width: w [m]; hole_diameter: D [m].
    Returns: Kt on the net section [-].
    Errors: ValueError when a size is not positive or w not above D.
    Range: `EKVALL_WIDTH` of `lug`.
    Source: Ekvall, J. Aircraft 23(5) (1986), see `ekvall_axial_stress_concentration`.
    """
    ratio = 1.0 / _share(width, hole_diameter)
    return ekvall_axial_stress_concentration(ratio) * (ratio - 1.0)


def pin_loaded_factor_peterson(width: ArrayLike, hole_diameter: ArrayLike) -> Floats:
    """Kt of a plate pulled by a closely fitting pin, 12.882 - 52.714 x + 89.762 x^2 - 51.667 x^3, x = D/w.

    For plates whose end is far from the hole.

    Arguments (broadcast together):
        width: w [m]; hole_diameter: D [m].
    Returns: Kt on the net section [-].
    Errors: ValueError when a size is not positive or w not above D.
    Range: `PETERSON_WIDTH`, `PETERSON_END`.
    Source: Peterson's Stress Concentration Factors, round pin joint (Frocht and Hill), mark "memory".
    """
    x = _share(width, hole_diameter)
    return 12.882 - 52.714 * x + 89.762 * x**2 - 51.667 * x**3


PIN_LOADED: MappingProxyType[str, Callable[[ArrayLike, ArrayLike], Floats]] = MappingProxyType(
    {"ekvall": pin_loaded_factor_ekvall, "peterson": pin_loaded_factor_peterson}
)
"""Named factors of a pin-loaded hole, all with (width, hole diameter)."""


def _share(width: ArrayLike, hole_diameter: ArrayLike) -> Floats:
    w, D = positive("width", width), positive("hole diameter", hole_diameter)
    larger("width", w, "hole diameter", D)
    return D / w


def shoulder_factor(larger_diameter: ArrayLike, diameter: ArrayLike, fillet_radius: ArrayLike) -> Floats:
    """Kt of a stepped round bar in bending, A (r/d)^b, straight between the published steps D/d.

    The published A and b give slightly less at D/d of 1.2 than at 1.1; a larger step is never counted
    as milder than a smaller one. Steps beyond 6 as 6.

    Arguments (broadcast together):
        larger_diameter: D of the shoulder or head [m]; diameter: d of the shank [m];
        fillet_radius: r between them [m].
    Returns: Kt on the stress in d [-], at least 1.
    Errors: ValueError when a size is not positive or D below d.
    Range: `FILLET`.
    Source: Norton, Machine Design, appendix C (after Peterson), as quoted in public code.
    """
    d = positive("diameter", diameter)
    step = positive("larger over smaller diameter", positive("larger diameter", larger_diameter) / d)
    at_least_zero("larger less smaller diameter", step - 1.0)
    ratio = positive("fillet radius", fillet_radius) / d
    ratio, step = np.broadcast_arrays(ratio, np.minimum(step, _STEPS[-1]))
    table = np.maximum.accumulate(_FACTORS * ratio[..., np.newaxis] ** -_POWERS, axis=-1)
    low = np.clip(np.searchsorted(_STEPS, step, side="right") - 1, 0, _STEPS.size - 2)
    share = (step - _STEPS[low]) / (_STEPS[low + 1] - _STEPS[low])
    before = np.take_along_axis(table, low[..., np.newaxis], axis=-1)[..., 0]
    after = np.take_along_axis(table, low[..., np.newaxis] + 1, axis=-1)[..., 0]
    return np.asarray(np.maximum(before + share * (after - before), 1.0))


def notch_sensitivity(notch_radius: ArrayLike, tensile_strength: ArrayLike) -> Floats:
    """Notch sensitivity of steel in bending or tension, q = 1 / (1 + sqrt(a / r)).

    sqrt(a) = 0.246 - 3.08e-3 S + 1.51e-5 S^2 - 2.67e-8 S^3 in sqrt(inch), S = Sut in ksi.

    Arguments (broadcast together):
        notch_radius: r [m]; tensile_strength: Sut [Pa].
    Returns: q [-], 0 to 1.
    Errors: ValueError when an argument is not positive.
    Range: `SENSITIVITY_STRENGTH`.
    Source: Shigley, Mechanical Engineering Design, ch. 6 (Neuber).
    """
    s = np.clip(positive("tensile strength", tensile_strength) / KSI, 50.0, 250.0)
    root = np.maximum(0.246 - 3.08e-3 * s + 1.51e-5 * s**2 - 2.67e-8 * s**3, 0.0)
    return 1.0 / (1.0 + root / np.sqrt(positive("notch radius", notch_radius) / 0.0254))


def fatigue_factor(concentration: ArrayLike, sensitivity: ArrayLike) -> Floats:
    """Fatigue notch factor, Kf = 1 + q (Kt - 1).

    Arguments (broadcast together):
        concentration: Kt [-]; sensitivity: q, 1 where it is not known [-].
    Returns: Kf [-].
    Errors: ValueError when Kt is below 1 or q not within 0 to 1.
    Source: Shigley, Mechanical Engineering Design, ch. 6.
    """
    q = at_least_zero("notch sensitivity", sensitivity)
    at_least_zero("1 - notch sensitivity", 1.0 - q)
    return 1.0 + q * at_least_zero("Kt - 1", positive("Kt", concentration) - 1.0)
