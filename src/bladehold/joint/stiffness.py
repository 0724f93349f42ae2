"""Stiffness of the screw, of the parts it clamps, and the share of load the screw takes.

Which method gives the clamped stiffness is a stated choice: the cone angle (25 deg in a NASA-STD-5020B
example, 30 deg in Shigley, 45 deg in NASA-TM-106943) moves the load factor by 10 to 20 %.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive

_CONE_SPREAD_45 = 1.5  # bearing diameter over hole diameter in NASA-TM-106943


@dataclass(frozen=True)
class ExponentialConstants:
    """A and B of `member_stiffness_exponential` for one material, with source and mark."""

    a: float
    b: float
    mark: str
    source: str


EXPONENTIAL_CONSTANTS: MappingProxyType[str, ExponentialConstants] = MappingProxyType(
    {
        "steel": ExponentialConstants(0.78715, 0.62873, "read", "Shigley ch. 8"),
        "cast iron": ExponentialConstants(0.77871, 0.61616, "read", "Shigley ch. 8"),
        "aluminium": ExponentialConstants(0.79670, 0.63816, "memory", "Shigley ch. 8"),
    }
)
"""Constants of the exponential form by member material."""


def axial_stiffness(area: ArrayLike, length: ArrayLike, modulus: ArrayLike) -> Floats:
    """Axial stiffness of a bar or sleeve of one section, k = A E / l.

    Arguments (broadcast together):
        area: section A [m2]; length: l [m]; modulus: E [Pa].
    Returns: stiffness [N/m].
    Errors: ValueError when an argument is not positive.
    Source: Hooke's law.
    """
    return positive("area", area) * positive("modulus", modulus) / positive("length", length)


def stepped_bolt_stiffness(
    shank_area: ArrayLike,
    shank_length: ArrayLike,
    stress_area: ArrayLike,
    threaded_length: ArrayLike,
    modulus: ArrayLike,
) -> Floats:
    """Stiffness of a screw with shank and thread in the grip, kb = Ad At E / (Ad lt + At ld).

    Arguments (broadcast together):
        shank_area: Ad [m2]; shank_length: ld of shank in the grip, may be 0 [m]; stress_area: At [m2];
        threaded_length: lt of thread in the grip, may be 0 [m]; modulus: E [Pa].
    Returns: kb [N/m].
    Errors: ValueError when an area or E is not positive or there is no length at all.
    Source: Shigley ch. 8.
    """
    ad, at = positive("shank area", shank_area), positive("stress area", stress_area)
    ld, lt = at_least_zero("shank length", shank_length), at_least_zero("threaded length", threaded_length)
    positive("grip length", ld + lt)
    return ad * at * positive("modulus", modulus) / (ad * lt + at * ld)


def in_series(stiffness: ArrayLike) -> Floats:
    """Stiffness of members one behind the other, 1 / sum(1 / k_i).

    Arguments:
        stiffness: k_i [N/m], shape (..., members).
    Returns: stiffness [N/m], shape (...).
    Errors: ValueError when a stiffness is not positive.
    Source: statics.
    """
    compliance: Floats = np.sum(1.0 / positive("stiffness", stiffness), axis=-1)
    return 1.0 / compliance


def frustum_stiffness(
    modulus: ArrayLike,
    hole_diameter: ArrayLike,
    bearing_diameter: ArrayLike,
    thickness: ArrayLike,
    half_angle: ArrayLike,
) -> Floats:
    """Stiffness of one member clamped by a screw, as a hollow frustum.

    k = pi E d tan(a) / ln{[(2 t tan a + D - d)(D + d)] / [(2 t tan a + D + d)(D - d)]}

    Arguments (broadcast together):
        modulus: E of the member [Pa]; hole_diameter: d, taken as the screw diameter [m];
        bearing_diameter: D at the narrow end [m]; thickness: t of the frustum [m];
        half_angle: a of the cone [rad].
    Returns: k [N/m]. A symmetric grip is two frusta of half the grip each, `in_series`.
    Errors: ValueError when an argument is not positive or D not above d.
    Range: the members must be wide enough for the cone, and it is blind to bearing softness of laminates.
    Source: Shigley ch. 8; NASA-STD-5020B (2021) A.12.3 uses a = 25 deg.
    """
    d, D = positive("hole diameter", hole_diameter), positive("bearing diameter", bearing_diameter)
    larger("bearing diameter", D, "hole diameter", d)
    tangent = np.tan(positive("half angle", half_angle))
    spread = 2.0 * positive("thickness", thickness) * tangent
    ratio = (spread + D - d) * (D + d) / ((spread + D + d) * (D - d))
    return np.pi * positive("modulus", modulus) * d * tangent / np.log(ratio)


def clamped_clevis_stiffness(
    plates: ArrayLike, middle_thickness: ArrayLike, middle_area: ArrayLike, middle_modulus: ArrayLike
) -> Floats:
    """Stiffness of a lug or bush clamped between two plates, all in series.

    1/k = 1/k1 + 1/k2 + t/(A E)

    Arguments:
        plates: k1, k2 of the two plates [N/m], shape (..., 2), from `frustum_stiffness`;
        middle_thickness: t of what takes the clamp, the lug, or the bush where it is longer than the lug [m];
        middle_area: A of its pressed face [m2]; middle_modulus: E along the screw [Pa]; shapes (...).
    Returns: k [N/m], shape (...).
    Errors: ValueError when an argument is not positive.
    Range: plates that lie on the middle part already; where they must bend to reach it the stack is softer.
    Source: statics.
    """
    middle = axial_stiffness(middle_area, middle_thickness, middle_modulus)
    sides = in_series(plates)
    return 1.0 / (1.0 / sides + 1.0 / middle)


def member_stiffness_45(modulus: ArrayLike, diameter: ArrayLike, grip: ArrayLike) -> Floats:
    """Stiffness of the whole clamped stack, 45 deg cones from both sides under 1.5 d.

    Kj = pi E d / (2 ln[5 (L + 0.5 d) / (L + 2.5 d)])

    Arguments (broadcast together):
        modulus: E of the stack, see `layered_modulus` [Pa]; diameter: screw d [m]; grip: L [m].
    Returns: Kj [N/m].
    Errors: ValueError when an argument is not positive.
    Source: NASA-TM-106943 (1995) eq. 33-34.
    """
    d, L = positive("diameter", diameter), positive("grip", grip)
    spread = _CONE_SPREAD_45
    ratio = (spread + 1) / (spread - 1) * (L + (spread - 1) * d) / (L + (spread + 1) * d)
    return np.pi * positive("modulus", modulus) * d / (2.0 * np.log(ratio))


def layered_modulus(thickness: ArrayLike, modulus: ArrayLike) -> Floats:
    """Modulus of a stack of layers squeezed through their thickness, E = L / sum(l_i / E_i).

    Arguments:
        thickness: l_i [m], shape (..., layers); modulus: E_i [Pa], shape (..., layers).
    Returns: E [Pa], shape (...).
    Errors: ValueError when an argument is not positive.
    Source: NASA-TM-106943 (1995) eq. 34.
    """
    layers, moduli = np.broadcast_arrays(positive("thickness", thickness), positive("modulus", modulus))
    grip: Floats = np.sum(layers, axis=-1)
    compliance: Floats = np.sum(layers / moduli, axis=-1)
    return grip / compliance


def member_stiffness_exponential(
    modulus: ArrayLike, diameter: ArrayLike, grip: ArrayLike, constants: ExponentialConstants
) -> Floats:
    """Stiffness of a stack of one material from a fit to finite elements, km = E d A exp(B d / l).

    Arguments (broadcast together):
        modulus: E [Pa]; diameter: screw d [m]; grip: l of the whole stack as if of this material [m];
        constants: A and B, one of `EXPONENTIAL_CONSTANTS`.
    Returns: km [N/m].
    Errors: ValueError when an argument is not positive.
    Range: washer face 1.5 d, both members of the same material and wide.
    Source: Shigley ch. 8.
    """
    d = positive("diameter", diameter)
    return positive("modulus", modulus) * d * constants.a * np.exp(constants.b * d / positive("grip", grip))


def load_factor(bolt_stiffness: ArrayLike, member_stiffness: ArrayLike) -> Floats:
    """Share of an external tension that the screw takes while the joint is closed, phi = kb / (kb + kc).

    Arguments (broadcast together):
        bolt_stiffness: kb [N/m]; member_stiffness: kc [N/m].
    Returns: phi [-].
    Errors: ValueError when a stiffness is not positive.
    Source: NASA-STD-5020B (2021) eq. 9.
    """
    kb = positive("bolt stiffness", bolt_stiffness)
    return kb / (kb + positive("member stiffness", member_stiffness))


def loading_plane_factor(layer_thickness: ArrayLike) -> Floats:
    """Loading-plane factor n with the load entering at mid-thickness of the two outermost layers.

    n = (l_1/2 + l_2 + ... + l_N/2) / L

    Arguments:
        layer_thickness: l_i in order through the grip [m], shape (..., layers), two layers or more.
    Returns: n [-], shape (...).
    Errors: ValueError when a thickness is not positive or there is only one layer.
    Source: NASA-TM-106943 (1995) eq. 35; n = Llp / L, NASA-STD-5020B (2021).
    """
    layers = positive("layer thickness", layer_thickness)
    if layers.ndim == 0 or layers.shape[-1] < 2:
        raise ValueError("layer thickness needs two layers or more on its last axis")
    grip: Floats = np.sum(layers, axis=-1)
    return (grip - (layers[..., 0] + layers[..., -1]) / 2.0) / grip
