"""A clevis as the contact model sees it: plates, faces, screw, ties and roots in SI numbers.

Made by `clevis_model` for `bladehold.joint.contact`, which tells what is behind it.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint import _contact_solve as solver
from bladehold.joint._arrays import Floats, at_least_zero, larger, positive

CONTACT_SHAPES = ("round", "strip")
"""Outline of the faces: a disc of radius a, or a strip of one width from -a to a."""
UPPER_ROOTS = ("clamped", "guided", "free")
"""Hold of the upper plate's root: mounting screws; no slope but free to rise; none."""


@dataclass(frozen=True)
class ClevisModel:
    """One clevis or an array of them (fields broadcast together), made by `clevis_model`.

    Half-length of the contact a [m]; width of each strip of the face, hole taken off, and its length, both at
    the Gauss points (points last) [m]; foundation modulus [Pa/m]; diameters of hole and screw head [m]; gap
    on each face [m]; bending stiffness [N m2] and shear compliance [1/N] of the plates; bending and
    shear compliance of the lug, 0 for a rigid one [1/(N m2), 1/N]; distances inboard
    of the screw axis [m]; stiffness of screw, ties, spacer and hub core [N/m]; preload of all ties of the
    blade [N]; hold of the upper plate's root.
    """

    half_length: Floats
    strip_width: Floats
    foundation: Floats
    hole_diameter: Floats
    head_diameter: Floats
    gap: Floats
    upper_bending: Floats
    lower_bending: Floats
    upper_shear_compliance: Floats
    lower_shear_compliance: Floats
    lug_compliance: Floats
    lug_shear_compliance: Floats
    root_distance: Floats
    tie_distance: Floats
    screw_stiffness: Floats
    tie_stiffness: Floats
    tie_preload: Floats
    spacer_stiffness: Floats
    core_stiffness: Floats
    upper_root: str

    @cached_property
    def geometry(self) -> tuple[int, ...]:
        """Shape of the array of elastic parts, () for one; preload of the ties is not one of these."""
        apart = {"upper_root", "strip_width", "tie_preload"}
        parts = [getattr(self, one.name) for one in fields(self) if one.name not in apart]
        return np.broadcast_shapes(self.strip_width.shape[:-1], *(part.shape for part in parts))

    @cached_property
    def shape(self) -> tuple[int, ...]:
        """Shape of the array of clevises, () for one."""
        return np.broadcast_shapes(self.geometry, self.tie_preload.shape)


def foundation_modulus(
    lug_modulus_through_thickness: ArrayLike,
    lug_thickness: ArrayLike,
    plate_modulus: ArrayLike,
    plate_thickness: ArrayLike,
) -> Floats:
    """Pressure on a face per unit of approach of lug middle and plate middle, k = 1/(t2/(2 E2) + t1/(2 E1)).

    Half of the lug and half of the plate are squeezed evenly through their thickness, one behind the other.

    Arguments (broadcast together):
        lug_modulus_through_thickness: E2 of the lug along the screw [Pa]; lug_thickness: t2 [m];
        plate_modulus: E1 [Pa]; plate_thickness: t1 of one plate [m].
    Returns: k [Pa/m].
    Errors: ValueError when an argument is not positive.
    Range: even squeezing; it is blind to the steep pressure at an edge, which is stiffer.
    Source: Hooke's law.
    """
    lug = positive("lug thickness", lug_thickness) / positive("lug modulus", lug_modulus_through_thickness)
    plate = positive("plate thickness", plate_thickness) / positive("plate modulus", plate_modulus)
    return 2.0 / (lug + plate)


def plate_bending_stiffness(modulus: ArrayLike, width: ArrayLike, thickness: ArrayLike) -> Floats:
    """Bending stiffness of a plate as a beam, E I = E w t^3 / 12.

    Arguments (broadcast together):
        modulus: E [Pa]; width: w across the blade [m]; thickness: t [m].
    Returns: E I [N m2].
    Errors: ValueError when an argument is not positive.
    Source: beam theory.
    """
    section = positive("plate width", width) * positive("plate thickness", thickness) ** 3 / 12.0
    return positive("plate modulus", modulus) * section


def plate_shear_stiffness(shear_modulus: ArrayLike, width: ArrayLike, thickness: ArrayLike) -> Floats:
    """Shear stiffness of a plate as a beam, 5/6 G w t.

    Arguments (broadcast together):
        shear_modulus: G [Pa]; width: w across the blade [m]; thickness: t [m].
    Returns: shear force per shear angle [N].
    Errors: ValueError when an argument is not positive.
    Source: beam theory, shear coefficient of the rectangle.
    """
    section = positive("plate width", width) * positive("plate thickness", thickness)
    return 5.0 / 6.0 * positive("plate shear modulus", shear_modulus) * section


def clevis_model(
    *,
    half_length: ArrayLike,
    contact_width: ArrayLike,
    foundation: ArrayLike,
    screw_stiffness: ArrayLike,
    upper_bending: ArrayLike,
    lower_bending: ArrayLike,
    root_distance: ArrayLike,
    hole_diameter: ArrayLike = 0.0,
    head_diameter: ArrayLike = 0.0,
    contact: str = "round",
    gap: ArrayLike = 0.0,
    upper_shear: ArrayLike | None = None,
    lower_shear: ArrayLike | None = None,
    lug_bending: ArrayLike | None = None,
    lug_shear: ArrayLike | None = None,
    upper_root: str = "clamped",
    core_stiffness: ArrayLike = 0.0,
    tie_distance: ArrayLike | None = None,
    tie_stiffness: ArrayLike = 0.0,
    tie_preload: ArrayLike = 0.0,
    spacer_stiffness: ArrayLike = 0.0,
) -> ClevisModel:
    """A clevis for `solve_clevis`; arrays make an array of clevises.

    Arguments (broadcast together):
        half_length: a from the screw axis to the end of the contact [m]; contact_width: of a "strip" across
        the blade; a "round" face is 2 a wide, no wider than this [m]; foundation: k of each face, see
        `foundation_modulus` [Pa/m]; screw_stiffness: of the pivot screw along itself [N/m];
        upper_bending, lower_bending: E I of the plates, see `plate_bending_stiffness` [N m2];
        root_distance: of the plates' roots inboard of the screw axis [m]; hole_diameter: taken off the
        faces [m]; head_diameter: of the ring over which head and nut press evenly, in the middle of the
        plate: that of the head plus a plate thickness; 0 for a line across the blade at the axis [m];
        contact: one of `CONTACT_SHAPES`; gap: play between lug and plate on each face when nothing is
        tightened [m]; upper_shear, lower_shear: see `plate_shear_stiffness`, left out for plates that do
        not shear [N]; lug_bending, lug_shear: the same of the lug, left out for a rigid one [N m2, N];
        upper_root: one of `UPPER_ROOTS`; core_stiffness: of the hub core that the upper plate's root may
        rest on, 0 for none [N/m]; tie_distance: of the row of ties inboard of the screw axis, between
        contact and root, left out for the middle between them [m]; tie_stiffness: of all ties of the blade,
        0 for none [N/m]; tie_preload: of all of them [N]; spacer_stiffness: between the plates at the ties,
        which only presses, 0 for none [N/m].
    Returns: the model.
    Errors: ValueError when a value is out of range or a name unknown.
    Source: beam theory and elastic foundation, own arrangement.
    """
    if contact not in CONTACT_SHAPES:
        raise ValueError(f"contact must be one of {', '.join(CONTACT_SHAPES)}, got {contact!r}")
    if upper_root not in UPPER_ROOTS:
        raise ValueError(f"upper root must be one of {', '.join(UPPER_ROOTS)}, got {upper_root!r}")
    a, root = positive("contact half-length", half_length), positive("root distance", root_distance)
    larger("root distance", root, "contact half-length", a)
    tie = (a + root) / 2.0 if tie_distance is None else positive("tie distance", tie_distance)
    larger("tie distance", tie, "contact half-length", a)
    larger("root distance", root, "tie distance", tie)
    stiffness, preload = (
        at_least_zero("tie stiffness", tie_stiffness),
        at_least_zero("tie preload", tie_preload),
    )
    if np.any((preload > 0.0) & (stiffness == 0.0)):
        raise ValueError("tie preload needs a tie stiffness greater than 0")
    hole = at_least_zero("hole diameter", hole_diameter)
    larger("twice the contact half-length", 2.0 * a, "hole diameter", hole)
    head = at_least_zero("head diameter", head_diameter)
    larger("twice the contact half-length", 2.0 * a, "head diameter", head)
    return ClevisModel(
        a,
        _strip_widths(a, positive("contact width", contact_width), hole, contact),
        positive("foundation", foundation),
        hole,
        head,
        at_least_zero("gap", gap),
        positive("upper plate bending stiffness", upper_bending),
        positive("lower plate bending stiffness", lower_bending),
        np.zeros(()) if upper_shear is None else 1.0 / positive("upper plate shear stiffness", upper_shear),
        np.zeros(()) if lower_shear is None else 1.0 / positive("lower plate shear stiffness", lower_shear),
        np.zeros(()) if lug_bending is None else 1.0 / positive("lug bending stiffness", lug_bending),
        np.zeros(()) if lug_shear is None else 1.0 / positive("lug shear stiffness", lug_shear),
        root,
        tie,
        positive("screw stiffness", screw_stiffness),
        stiffness,
        preload,
        at_least_zero("spacer stiffness", spacer_stiffness),
        at_least_zero("core stiffness", core_stiffness),
        upper_root,
    )


def _strip_widths(a: Floats, width: Floats, hole: Floats, contact: str) -> Floats:
    """Width at each Gauss point, hole off; scaled so that disc and hole have their exact areas."""
    point, weight = solver.face_points()
    a, width, hole = (values[..., np.newaxis] for values in np.broadcast_arrays(a, width, hole))
    bore = 2.0 * np.sqrt(np.maximum((hole / 2.0) ** 2 - (a * point) ** 2, 0.0))
    seen = (bore * weight).sum(axis=-1, keepdims=True) * a
    bore *= np.where(seen > 0.0, np.pi * hole**2 / 4.0 / np.where(seen > 0.0, seen, 1.0), 0.0)
    across = np.minimum(2.0 * a * np.sqrt(1.0 - point**2), width) if contact == "round" else width
    return np.asarray(np.maximum(across - bore, 0.0))
