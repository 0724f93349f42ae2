"""Mass and stiffness of a blade section from chord, thickness and lay-up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.form import SectionForm
from bladehold.tables import BladeMaterial
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

SKIN_RANGE = Range(
    "skin over half the section's thickness",
    0.0,
    0.5,
    "",
    "the wall is no longer thin: torsion stiffness is that of the solid section at most",
    "Bredt's formula for thin walls, own limit",
)


@dataclass(frozen=True)
class Layup:
    """What a blade is made of: a solid section of `skin`, or a skin around a core or around nothing.

    skin - material of the whole section or of its skin; skin_thickness - m, None where the section is
    solid; core - material inside the skin, None where the blade is hollow.
    Raises ValueError for a core in a solid section, or a skin that is not positive.
    """

    skin: BladeMaterial
    skin_thickness: float | None = None
    core: BladeMaterial | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be built."""
        if self.skin_thickness is None and self.core is not None:
            raise ValueError("core: a solid section has none; give skin_thickness too")
        if self.skin_thickness is not None and not self.skin_thickness > 0.0:
            raise ValueError(f"skin_thickness {self.skin_thickness:g} m must be positive")


@dataclass(frozen=True, eq=False)
class SectionProperties:
    """Of one section each, [..., S]; principal axes are those of stiffness.

    area - of material, m^2; line_mass - kg/m; flatwise_stiffness, edgewise_stiffness - EI about the principal
    axes, the smaller first, N*m^2; principal_angle - of the stiff axis above the chord line, leading edge up,
    rad; torsion_stiffness - GJ, N*m^2; flat_inertia, edge_inertia - mass moments of inertia per length
    about the axis along and the axis square to the chord, through the centre of mass, kg*m; mass_place -
    centre of mass behind the leading edge, share of the chord; wall_share - skin over half the greatest
    thickness, 1 where solid.
    """

    area: FloatArray
    line_mass: FloatArray
    flatwise_stiffness: FloatArray
    edgewise_stiffness: FloatArray
    principal_angle: FloatArray
    torsion_stiffness: FloatArray
    flat_inertia: FloatArray
    edge_inertia: FloatArray
    mass_place: FloatArray
    wall_share: FloatArray


@dataclass(frozen=True, eq=False)
class _Moments:
    """Zeroth moment, centre and second moments about it, of a weight spread over a section, [..., S]."""

    sum: FloatArray
    place: FloatArray  # m behind the leading edge
    flat: FloatArray  # about the axis along the chord
    edge: FloatArray
    mixed: FloatArray


def section_properties(
    chord: ArrayLike, thickness: ArrayLike, form: SectionForm, layup: Layup
) -> SectionProperties:
    """Mass and stiffness of blade sections, by integration over the chord.

    With h the half thickness and g that of the core, z the mean line, and skin and core weighing E (or
    density, or 1): sum 2 (h - g) skin + 2 g core; flatwise 2/3 (h^3 - g^3) skin + 2/3 g^3 core and the same
    sums times z^2; edgewise and mixed the sums times x^2 and x z; less the parts of the centre. The core is h
    less the skin, square to the chord, nowhere below zero. Torsion: `elongated_torsion` of a solid section
    and of the core; for the skin `thin_wall_torsion`, at most what the section would have if solid.
    Arguments: chord, thickness - m, broadcasting to [..., S]; form - SectionForm; layup - Layup.
    Returns SectionProperties [..., S]. Raises ValueError for a chord or thickness that is not positive.
    Validity: thin sections, all fibres at their own modulus (no warping, no shear lag); SKIN_RANGE.
    Source: second moments of area (any textbook of strength of materials); torsion as named.
    """
    c, t = np.broadcast_arrays(np.asarray(chord, dtype=float), np.asarray(thickness, dtype=float))
    for name, values in (("chord", c), ("thickness", t)):
        if not np.all(values > 0.0):
            raise ValueError(f"{name} must be positive")
    half = t[..., np.newaxis] * form.half_thickness
    wall = np.inf if layup.skin_thickness is None else layup.skin_thickness
    inner = np.maximum(half - wall, 0.0)
    skin, core = layup.skin, layup.core
    moduli = (skin.modulus, core.modulus if core else 0.0)
    densities = (skin.density, core.density if core else 0.0)
    material = _moments(c, half, inner, form, (1.0, 1.0 if core else 0.0))
    stiff = _moments(c, half, inner, form, moduli)
    heavy = _moments(c, half, inner, form, densities)
    middle, spread = 0.5 * (stiff.edge + stiff.flat), 0.5 * (stiff.edge - stiff.flat)
    radius = np.hypot(spread, stiff.mixed)
    return SectionProperties(
        area=material.sum,
        line_mass=heavy.sum,
        flatwise_stiffness=middle - radius,
        edgewise_stiffness=middle + radius,
        principal_angle=-0.5 * np.arctan2(2.0 * stiff.mixed, 2.0 * spread),
        torsion_stiffness=_torsion(c, half, inner, form, layup),
        flat_inertia=heavy.flat,
        edge_inertia=heavy.edge,
        mass_place=heavy.place / c,
        wall_share=np.minimum(wall / (0.5 * t), 1.0),
    )


def _moments(
    chord: FloatArray, half: FloatArray, inner: FloatArray, form: SectionForm, weights: tuple[float, float]
) -> _Moments:
    """Moments of a section whose skin and core weigh `weights` per area; half and inner - [..., S, P]."""
    outer, core = weights
    step = chord[..., np.newaxis] * form.weight
    place, height = chord[..., np.newaxis] * form.place, chord[..., np.newaxis] * form.camber
    density = 2.0 * (outer * (half - inner) + core * inner) * step
    own = 2.0 / 3.0 * (outer * (half**3 - inner**3) + core * inner**3) * step
    total = density.sum(axis=-1)
    at, up = (density * place).sum(axis=-1) / total, (density * height).sum(axis=-1) / total
    across, above = place - at[..., np.newaxis], height - up[..., np.newaxis]
    return _Moments(
        sum=total,
        place=at,
        flat=(own + density * above**2).sum(axis=-1),
        edge=(density * across**2).sum(axis=-1),
        mixed=(density * across * above).sum(axis=-1),
    )


def elongated_torsion(flat_moment: ArrayLike, area: ArrayLike, chord: ArrayLike) -> FloatArray:
    """Torsion constant (m^4) of an elongated solid section: J = 4 I / (1 + 16 I / (A c^2)).

    Exact for an ellipse. Arguments, all broadcasting: flat_moment - I, second moment of area about the long
    axis of symmetry, m^4; area - A, m^2; chord - c, m.
    Source: Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed., table 10.1 (memory).

    >>> a, b = 0.03, 0.004  # half axes of an ellipse: J = pi a^3 b^3 / (a^2 + b^2)
    >>> J = elongated_torsion(np.pi / 4 * a * b**3, np.pi * a * b, 2 * a)
    >>> bool(abs(J / (np.pi * a**3 * b**3 / (a**2 + b**2)) - 1) < 1e-12)
    True
    """
    moment = np.asarray(flat_moment, dtype=float)
    size = np.asarray(area, dtype=float) * np.asarray(chord, dtype=float) ** 2
    return np.asarray(4.0 * moment / (1.0 + 16.0 * moment / size))


def thin_wall_torsion(enclosed_area: ArrayLike, girth: ArrayLike, wall: ArrayLike) -> FloatArray:
    """Torsion constant (m^4) of a thin closed wall: J = 4 A^2 s / girth.

    Arguments, all broadcasting: enclosed_area - A, inside the middle line of the wall, m^2; girth - length
    of that line, m; wall - s, its thickness, m. Source: Bredt (1896), second formula, in any textbook.

    >>> tube = thin_wall_torsion(np.pi * 0.01**2, 2 * np.pi * 0.01, 0.0002)  # 2 pi r^3 s
    >>> round(float(tube) / (2 * np.pi * 0.01**3 * 0.0002), 12)
    1.0
    """
    enclosed = np.asarray(enclosed_area, dtype=float)
    return np.asarray(4.0 * enclosed**2 * np.asarray(wall, dtype=float) / np.asarray(girth, dtype=float))


def _torsion(
    chord: FloatArray, half: FloatArray, inner: FloatArray, form: SectionForm, layup: Layup
) -> FloatArray:
    """GJ of sections; half and inner - [..., S, P]. Camber hardly matters and is left out."""
    step = chord[..., np.newaxis] * form.weight

    def solid(depth: FloatArray) -> FloatArray:
        area = 2.0 * (depth * step).sum(axis=-1)
        moment = 2.0 / 3.0 * (depth**3 * step).sum(axis=-1)
        full = np.maximum(area, np.finfo(float).tiny)
        return elongated_torsion(moment, full, chord)

    whole = solid(half)
    if layup.skin_thickness is None:
        return np.asarray(layup.skin.shear_modulus * whole)
    middle = np.maximum(half - 0.5 * layup.skin_thickness, 0.0)
    edge = np.zeros((*half.shape[:-1], 1))
    depth = np.diff(np.concatenate([edge, middle, edge], axis=-1), axis=-1)
    along = chord[..., np.newaxis] * np.diff(np.concatenate([[0.0], form.place, [1.0]]))
    girth = 2.0 * np.hypot(along, depth).sum(axis=-1)
    filling = solid(inner)
    wall = thin_wall_torsion(2.0 * (middle * step).sum(axis=-1), girth, layup.skin_thickness)
    core = layup.core.shear_modulus if layup.core else 0.0
    return np.asarray(layup.skin.shear_modulus * np.minimum(wall, whole) + core * filling)
