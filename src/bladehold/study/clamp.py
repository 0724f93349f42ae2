"""The pivot screw and what it clamps: stiffness of both, and what temperature does to the preload."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint import preload, stiffness
from bladehold.sheet.build import Build, Screw
from bladehold.tables import head, nut, washer

FloatArray = NDArray[np.float64]

CONE = np.radians(30.0)
"""Half angle of the pressure cone under head and nut (Shigley ch. 8)."""
_ENDS = 0.4
"""Length, in diameters, by which head and engaged thread each make a screw longer than its grip (VDI 2230)."""


@dataclass(frozen=True)
class Stack:
    """What the pivot screw clamps, from head to nut: layers [N] with thickness m and expansion 1/K.

    bolt_stiffness - of the screw with spring washers, plain_stiffness - without them, clamped_stiffness - of
    the layers, N/m; through_bush - whether a bush longer than the lug takes the clamping.
    """

    thickness: FloatArray
    expansion: FloatArray
    bolt_expansion: float
    bolt_stiffness: float
    plain_stiffness: float
    clamped_stiffness: float
    through_bush: bool

    @property
    def load_factor(self) -> float:
        """Share of an axial load that the screw takes while the joint is closed."""
        return float(stiffness.load_factor(self.bolt_stiffness, self.clamped_stiffness))

    @property
    def spring(self) -> float:
        """Screw and layers in series, N/m: preload lost per length lost."""
        kb, kc = self.bolt_stiffness, self.clamped_stiffness
        return kb * kc / (kb + kc)

    def thermal_change(self, warmer: ArrayLike) -> FloatArray:
        """Change of preload, N, [...], of a joint that is warmer by so many K than when it was tightened."""
        rise = np.asarray(warmer, dtype=float)
        mismatch = preload.thermal_mismatch(
            rise, self.thickness, self.expansion, np.full(rise.shape, self.bolt_expansion)
        )
        return np.asarray(
            preload.thermal_preload_change(self.bolt_stiffness, self.clamped_stiffness, mismatch)
        )


def carried_by_bush(build: Build) -> bool:
    """Return whether the bush stands proud of the lug, so that its ends bear on the plates."""
    hub = build.hub
    return hub.bush_diameter is not None and hub.bush_length > hub.lug_thickness


def pivot_stack(build: Build) -> Stack:
    """Return what the pivot screw clamps. Layers: washers, plates, and the bush where it bears, else the lug.

    Every layer is a cone spreading from head and nut, or the bush's sleeve; what lies beyond a cone is not
    counted. Washers expand as the screw does.
    Source: series of hollow frusta, Shigley ch. 8; screw lengths after VDI 2230.
    """
    hub, screw = build.hub, build.pivot
    face = _bearing_diameter(screw)
    hole = max(hub.plate_hole, screw.shear_diameter)
    spread = face + 2.0 * hub.plate_thickness * np.tan(CONE)
    proud = carried_by_bush(build)
    plate = stiffness.frustum_stiffness(
        hub.plate_material.through_modulus, hole, max(face, 1.05 * hole), hub.plate_thickness, CONE
    )
    if hub.bush_diameter is not None and hub.bush_material is not None:
        area = np.pi / 4 * (hub.bush_diameter**2 - hub.lug_hole**2)
        middle = stiffness.axial_stiffness(area, hub.bush_length, hub.bush_material.through_modulus)
        between, growth = hub.bush_length, hub.bush_material.expansion_thickness
    else:
        half = stiffness.frustum_stiffness(
            hub.lug_material.through_modulus, hub.lug_hole, spread, hub.lug_thickness / 2, CONE
        )
        middle = half / 2.0
        between, growth = hub.lug_thickness, hub.lug_material.expansion_thickness
    rings = washer(screw.thread.name).thickness if screw.washers else 0.0
    own = screw.strength.expansion
    plates = hub.plate_material.expansion_thickness
    plain = _screw_stiffness(screw, 2 * hub.plate_thickness + between + 2 * rings)
    return Stack(
        thickness=np.array([rings, hub.plate_thickness, between, hub.plate_thickness, rings]),
        expansion=np.array([own, plates, growth, plates, own]),
        bolt_expansion=own,
        bolt_stiffness=plain / (1.0 + plain / screw.spring_rate),
        plain_stiffness=plain,
        clamped_stiffness=float(stiffness.in_series(np.array([plate, middle, plate]))),
        through_bush=proud,
    )


def _bearing_diameter(screw: Screw) -> float:
    """Diameter of the narrower of the two faces that clamp, m."""
    faces = [head(screw.thread.name, screw.head).bearing_diameter]
    if screw.nut in {"hexagon", "locking", "thin"}:
        faces.append(nut(screw.thread.name, screw.nut).bearing_diameter)
    return min(faces)


def _screw_stiffness(screw: Screw, grip: float) -> float:
    """Stiffness, N/m, of a screw with a plain shank up to the outer plate, or threaded all along."""
    profile, diameter = screw.thread.profile, screw.thread.nominal_diameter
    shank = screw.shear_diameter if screw.shear_plane == "shank" else diameter
    plain = grip if screw.shear_plane == "shank" else 0.0
    return float(
        stiffness.stepped_bolt_stiffness(
            shank_area=np.pi / 4 * shank**2,
            shank_length=plain + _ENDS * diameter,
            stress_area=profile.stress_area,
            threaded_length=grip - plain + _ENDS * diameter,
            modulus=screw.strength.modulus,
        )
    )
