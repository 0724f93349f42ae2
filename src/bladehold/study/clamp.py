"""The pivot screw and what it clamps: stiffness of both, and what temperature does to the preload."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint import relaxation, stiffness
from bladehold.joint.embedding import embedding_amount, embedding_loss
from bladehold.joint.preload import Limits, thermal_mismatch, thermal_preload_change
from bladehold.sheet.build import Build, Hub, Screw
from bladehold.tables import Material, embedding, head, nut, washer
from bladehold.tables import relaxation as creep_of

FloatArray = NDArray[np.float64]

CONE = np.radians(30.0)
"""Half angle of the pressed cone in a plate (Shigley ch. 8)."""
WASHER_SPREAD = 1.6
"""Of the washer's thickness, added to the bearing diameter (VDI 2230, memory)."""
BETWEEN_SETTINGS = 52.0 * relaxation.WEEK
"""Time that a pivot is left alone where it is set once a year, s: own choice."""
CREEPING = {"laminate": "carbon laminate, 0.5 % moisture", "plastic": "polyamide"}
"""Row of the creep table for a kind of lug; 0.5 % moisture is usual in outdoor air."""
_ENDS = 0.4
"""Diameters by which head and engaged thread each make a screw longer than its grip (VDI 2230, memory)."""


@dataclass(frozen=True)
class Stack:
    """What the pivot screw clamps between head and nut.

    carried_by - "lug" or "bush", what lies between the plates and takes the clamp; material - its; grip - m;
    screw_stiffness - with spring washers, plain_stiffness - without them, joint_stiffness - of the layers,
    N/m; growth - of the layers beyond the screw, m/K.
    """

    carried_by: str
    material: Material
    grip: float
    screw_stiffness: float
    plain_stiffness: float
    joint_stiffness: float
    growth: float

    @property
    def load_factor(self) -> float:
        """Share of an axial load that the screw takes while the joint is closed."""
        return float(stiffness.load_factor(self.screw_stiffness, self.joint_stiffness))

    @property
    def gain(self) -> float:
        """Preload for each kelvin of warming, N/K."""
        return float(thermal_preload_change(self.screw_stiffness, self.joint_stiffness, self.growth))

    @property
    def softer(self) -> float:
        """Stiffness of screw and layers in series over that without spring washers."""
        return float(
            stiffness.in_series([self.screw_stiffness, self.joint_stiffness])
            / stiffness.in_series([self.plain_stiffness, self.joint_stiffness])
        )


def pivot_stack(build: Build) -> Stack:
    """Return what the pivot screw of a build clamps.

    A bush longer than the lug takes the clamp on its end faces; any other leaves it to the lug. Plates are
    taken as lying on what they clamp. Washers are taken to grow as the screw does.
    Source: hollow frusta in the plates (Shigley ch. 8), sleeve between them; screw lengths after VDI 2230.
    """
    return _stack(build.hub, build.pivot)


@lru_cache(maxsize=256)
def _stack(hub: Hub, screw: Screw) -> Stack:
    """What `pivot_stack` returns, worked out once for the same parts."""
    bushed = hub.bush_carries
    middle = hub.bush_material if bushed and hub.bush_material is not None else hub.lug_material
    height = hub.bush_length if bushed else hub.lug_thickness
    rings = 2.0 * washer(screw.thread.name).thickness if screw.washers else 0.0
    plate, thickness = hub.plate_material, hub.plate_thickness
    bearing = _pressed_rings(hub, screw)
    plates = stiffness.frustum_stiffness(plate.through_modulus, hub.plate_hole, bearing, thickness, CONE)
    reach = float(bearing.min()) + 2.0 * thickness * np.tan(CONE)
    hollow = hub.lug_hole if bushed else hub.lug_cut
    pressed = max(min(hub.contact_diameter, reach), 1.05 * hollow)
    area = np.pi / 4.0 * (pressed**2 - hollow**2)
    plain = _screw_stiffness(screw, 2.0 * thickness + height + rings)
    sprung = plain if np.isinf(screw.spring_rate) else float(stiffness.in_series([plain, screw.spring_rate]))
    return Stack(
        carried_by="bush" if bushed else "lug",
        material=middle,
        grip=2.0 * thickness + height + rings,
        screw_stiffness=sprung,
        plain_stiffness=plain,
        joint_stiffness=float(
            stiffness.clamped_clevis_stiffness(plates, height, area, middle.through_modulus)
        ),
        growth=float(
            thermal_mismatch(
                1.0,
                [2.0 * thickness, height],
                [plate.expansion_thickness, middle.expansion_thickness],
                screw.strength.expansion,
            )
        ),
    )


def creep_share(stack: Stack, settings: int = 1) -> float:
    """Return the share of the preload lost to creep in the first time between settings, the worst.

    Arguments: stack; settings - how often a year the screw is set anew. Source: `joint.relaxation`.
    """
    kind = stack.material.kind
    if kind not in CREEPING:
        return 0.0
    row = creep_of(CREEPING[kind])
    coefficient = relaxation.softened_coefficient(row.coefficient, stack.softer, 1.0)
    alone = BETWEEN_SETTINGS / settings
    return 1.0 - float(relaxation.relaxed_share(alone, coefficient, row.exponent, row.shift))


def embedding_force(stack: Stack) -> float:
    """Return the preload (N) that roughness takes soon after tightening: VDI 2230 guide values, Rz 10 to 40.

    They are for screws tightened to their strength; a pivot that only just rubs embeds less.
    """
    row = embedding("medium", "transverse")
    amount = embedding_amount(row.thread, row.bearing_face, row.inner_face, 2)
    return float(embedding_loss(amount, stack.screw_stiffness, stack.joint_stiffness))


def preload_change(build: Build, temperature: ArrayLike) -> FloatArray:
    """Return by how much (N) the pivot's preload differs at a temperature (K) from that as tightened."""
    warmer = np.asarray(temperature, dtype=float) - build.setting.temperature
    return np.asarray(pivot_stack(build).gain * warmer)


def bearing_diameter(screw: Screw, face: float) -> float:
    """Outer diameter (m) on which head or nut presses: its own face (m), spread by a washer under it."""
    if not screw.washers:
        return face
    ring = washer(screw.thread.name)
    return min(ring.outer_diameter, face + WASHER_SPREAD * ring.thickness)


def pressed_rings(build: Build) -> FloatArray:
    """Outer diameters of the rings under head and nut, m, [2]; the head's twice where there is no nut.

    A head no wider than the hole is told by its own check; here it presses on a thin ring.
    """
    return _pressed_rings(build.hub, build.pivot)


def _pressed_rings(hub: Hub, screw: Screw) -> FloatArray:
    hole = 1.05 * hub.plate_hole
    size = screw.thread.name
    faces = [head(size, screw.head).bearing_diameter]
    nutted = screw.nut not in {"tapped", "circlip", "none"}
    faces.append(nut(size, screw.nut).bearing_diameter if nutted else faces[0])
    return np.array([max(bearing_diameter(screw, face), hole) for face in faces])


def _screw_stiffness(screw: Screw, grip: float) -> float:
    """Stiffness, N/m, of a screw with a plain shank through its grip, or threaded all along."""
    diameter = screw.thread.nominal_diameter
    plain = screw.shear_plane == "shank"
    ends = 2.0 * _ENDS * diameter
    return float(
        stiffness.stepped_bolt_stiffness(
            shank_area=np.pi / 4.0 * (screw.shear_diameter if plain else diameter) ** 2,
            shank_length=grip if plain else 0.0,
            stress_area=screw.thread.profile.stress_area,
            threaded_length=ends if plain else grip + ends,
            modulus=screw.strength.modulus,
        )
    )


@dataclass(frozen=True)
class Seat:
    """A tie or mounting screw on what it clamps: spring - of both in series, N/m; embedding - length lost by
    roughness, m; growth - of the parts beyond the screw, m/K.
    """

    spring: float
    embedding: float
    growth: float

    @property
    def embedded(self) -> float:
        """Preload (N) that roughness takes until the screw is tightened again."""
        return self.spring * self.embedding

    def limits(self, fresh: Limits, build: Build, *, again: bool = False) -> Limits:
        """Greatest and least preload (N) after embedding and over the temperatures of flying.

        Arguments: fresh - as tightened; build; again - tightened again once it has embedded. Nothing is lost
        of a screw that is not tightened.
        """
        if not np.any(fresh.maximum > 0.0):
            return fresh
        flying = build.flying
        change = self.spring * self.growth * (np.array([flying.temperature_min, flying.temperature_max]))
        change = change - self.spring * self.growth * build.setting.temperature
        lost = (0.0 if again else self.embedded) - min(float(change.min()), 0.0)
        return Limits(fresh.maximum + max(float(change.max()), 0.0), np.maximum(fresh.minimum - lost, 0.0))


def mounting_seat(build: Build) -> Seat:
    """Return how a mounting screw sits: through the lower plate alone, or both and the core between them."""
    hub, screw = build.hub, build.mounting.screw
    length = hub.plate_thickness
    if hub.upper_plate_bolted:
        length += hub.plate_thickness + hub.lug_thickness
    face = head(screw.thread.name, screw.head).bearing_diameter
    plates = stiffness.frustum_stiffness(
        hub.plate_material.through_modulus, screw.thread.nominal_diameter, face, length, CONE
    )
    return _seat(screw, length, float(plates), hub.plate_material.expansion_thickness * length, 1)


def tie_seat(build: Build) -> Seat | None:
    """Return how a tie sits: plates under its head and at its other end, the spacer between; None without."""
    hub, screw = build.hub, build.ties.screw
    if screw is None or hub.spacer_material is None:
        return None
    face, bore = head(screw.thread.name, screw.head).bearing_diameter, screw.thread.nominal_diameter
    plate, spacer = hub.plate_material, hub.spacer_material
    one = stiffness.frustum_stiffness(plate.through_modulus, bore, face, hub.plate_thickness, CONE)
    area = np.pi / 4.0 * max(hub.spacer_diameter**2 - bore**2, 0.1 * bore**2)
    sleeve = stiffness.axial_stiffness(area, hub.lug_thickness, spacer.through_modulus)
    growth = 2.0 * hub.plate_thickness * plate.expansion_thickness
    growth += hub.lug_thickness * spacer.expansion_thickness
    length = 2.0 * hub.plate_thickness + hub.lug_thickness
    clamped = float(stiffness.in_series([one, one, sleeve]))
    return _seat(screw, length, clamped, growth, 2)


def _seat(screw: Screw, length: float, clamped: float, growth: float, inner_faces: int) -> Seat:
    """A screw threaded all along through a length (m) of parts; one head and one thread embed."""
    ends = 2.0 * _ENDS * screw.thread.nominal_diameter
    own = stiffness.axial_stiffness(screw.thread.profile.stress_area, length + ends, screw.strength.modulus)
    row = embedding("medium", "transverse")
    return Seat(
        spring=float(stiffness.in_series([float(own), clamped])),
        # Of the two bearing faces the form counts, a tapped end has none.
        embedding=float(embedding_amount(row.thread, row.bearing_face / 2.0, row.inner_face, inner_faces)),
        growth=growth - screw.strength.expansion * length,
    )
