"""The clamp of a folding pivot as numbers: what the screw presses on, how stiff that is, how it grows."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bladehold.joint import friction, relaxation, stiffness, tightening
from bladehold.joint.preload import SHORT_TERM_RELAXATION, thermal_mismatch, thermal_preload_change
from bladehold.joint.setting import Spread
from bladehold.joint.tightness import Clamp
from bladehold.sheet.build import Build, Tightening
from bladehold.study.blade_folding import FACE_FRICTION
from bladehold.study.situation import bearing_diameter, spread_of
from bladehold.tables import head, lubrication, nut, washer
from bladehold.tables import relaxation as creep_of

CONE = np.radians(30.0)
"""Half angle of the pressed cone in a plate (Shigley ch. 8)."""
LAMINATE_MODULUS = 9e9
"""Of carbon or glass laminate through its thickness, Pa: the resin's; common practice, no source."""
THREAD_FRICTION = 0.12
"""For the screw's strength under the wrench, as in the check of its tightening."""
WRENCH = 0.06
"""Tolerance of a small torque wrench (ISO 6789, below 10 N m; from memory)."""
BETWEEN_SETTINGS = 52.0 * relaxation.WEEK
"""Time that a pivot is left alone where it is set once a year, s: own choice."""
CREEPING = {"laminate": "carbon laminate, 0.5 % moisture", "plastic": "polyamide"}
"""Row of the creep table for a kind of lug; 0.5 % moisture is usual in outdoor air."""


@dataclass(frozen=True)
class PivotClamp:
    """One construction of the pivot's clamp.

    carried_by - "lug" or "bush", what lies between the plates and takes the clamp; grip - m; screw_stiffness,
    with its spring washers, joint_stiffness - N/m; growth - of the stack beyond the screw, m/K; clamp, spread
    - as `bladehold.joint.tightness` takes them; creep - share of the preload lost between settings.
    """

    carried_by: str
    grip: float
    screw_stiffness: float
    joint_stiffness: float
    growth: float
    clamp: Clamp
    spread: Spread
    creep: float
    strength: float

    @property
    def gain(self) -> float:
        """Preload for each kelvin of warming, N/K."""
        return float(np.asarray(self.clamp.gain))


def pivot_clamp(build: Build, settings: int = 1) -> PivotClamp | None:
    """Return the clamp of a build's pivot; None where no nut or thread can clamp it.

    Arguments: build; settings - how often a year the nut is set anew.
    A bush longer than the lug takes the clamp on its end faces; any other leaves it to the lug. Plates are
    taken as lying on what they clamp: bending them onto it costs preload that is not counted. Friction of
    metal faces is taken as that of laminate, from the most that may be counted on to FACE_FRICTION.
    """
    hub, screw = build.hub, build.pivot
    if screw.nut in {"circlip", "none"}:
        return None
    bushed = hub.bush_diameter is not None and hub.bush_length > hub.lug_thickness
    middle = hub.bush_material if bushed and hub.bush_material is not None else hub.lug_material
    height = hub.bush_length if bushed else hub.lug_thickness
    size, plate = screw.thread, hub.plate_material
    rings = 2.0 * washer(size.name).thickness if screw.washers else 0.0
    grip = 2.0 * hub.plate_thickness + height + rings
    faces = [head(size.name, screw.head).bearing_diameter]
    faces.append(faces[0] if screw.nut == "tapped" else nut(size.name, screw.nut).bearing_diameter)
    # A head no wider than the hole is told by its own check; here it presses on a thin ring.
    bearing = np.maximum([bearing_diameter(screw, face) for face in faces], 1.05 * hub.plate_hole)
    plates = stiffness.frustum_stiffness(plate.modulus, hub.plate_hole, bearing, hub.plate_thickness, CONE)
    reach = float(bearing.min()) + 2.0 * hub.plate_thickness * np.tan(CONE)
    inner = hub.lug_hole
    contact = hub.bush_diameter if bushed and hub.bush_diameter is not None else hub.contact_length
    pressed = min(contact, max(reach, 1.05 * inner))
    hollow = inner if bushed else hub.lug_cut
    area = np.pi / 4.0 * (max(pressed, 1.05 * hollow) ** 2 - hollow**2)
    modulus = LAMINATE_MODULUS if middle.kind == "laminate" else middle.modulus
    joint = float(stiffness.clamped_clevis_stiffness(plates, height, area, modulus))
    plain = float(stiffness.axial_stiffness(_section(build), grip, screw.strength.modulus))
    sprung = plain if np.isinf(screw.spring_rate) else float(stiffness.in_series([plain, screw.spring_rate]))
    expansion = screw.strength.expansion
    growth = thermal_mismatch(
        1.0,
        [2.0 * hub.plate_thickness, height, rings],
        # Washers are taken to grow as the screw does.
        [plate.expansion_thickness, middle.expansion_thickness, expansion],
        expansion,
    )
    softer = float(stiffness.in_series([sprung, joint]) / stiffness.in_series([plain, joint]))
    creep = _creep(middle.kind, softer, settings)
    return PivotClamp(
        carried_by="bush" if bushed else "lug",
        grip=grip,
        screw_stiffness=sprung,
        joint_stiffness=joint,
        growth=float(growth),
        clamp=Clamp(
            radius=float(friction.effective_radius_uniform_wear(inner / 2.0, contact / 2.0)),
            friction_low=build.policy.grip_friction,
            friction_high=FACE_FRICTION,
            gain=float(thermal_preload_change(sprung, joint, growth)),
        ),
        spread=replace(
            spread_of(_tightened(build.pivot.tightening), screw),
            wrench=WRENCH,
            relaxation=1.0 - (1.0 - SHORT_TERM_RELAXATION) * (1.0 - creep),
        ),
        creep=creep,
        strength=float(
            tightening.assembly_preload(
                screw.strength.yield_strength,
                size.profile.pitch_diameter,
                size.profile.root_diameter,
                size.pitch,
                THREAD_FRICTION,
            )
        ),
    )


def _section(build: Build) -> float:
    """Section of the screw in the grip, m2: the shank where one passes through, else the thread's."""
    screw = build.pivot
    if screw.shear_plane == "shank":
        return float(np.pi / 4.0 * screw.shear_diameter**2)
    return screw.thread.profile.stress_area


def _creep(kind: str, softer: float, settings: int) -> float:
    """Share lost to creep in the first time between settings, the worst.

    Arguments: kind - of material; softer - stiffness with spring washers over that without; settings - how
    often a year.
    """
    if kind not in CREEPING:
        return 0.0
    row = creep_of(CREEPING[kind])
    coefficient = relaxation.softened_coefficient(row.coefficient, softer, 1.0)
    alone = BETWEEN_SETTINGS / settings
    return 1.0 - float(relaxation.relaxed_share(alone, coefficient, row.exponent, row.shift))


def _tightened(given: Tightening) -> Tightening:
    """The tightening as given; without a torque, the scatter of one whose lubrication is not known."""
    if given.torque > 0.0:
        return given
    wet, dry = lubrication("lubricated"), lubrication("dry")
    return replace(
        given,
        nut_factor_low=((wet.nut_factor_low or 0.0) + (wet.nut_factor_high or 0.0)) / 2.0,
        nut_factor_high=dry.nut_factor_high or 0.0,
        scatter_up=wet.preload_scatter,
        scatter_down=dry.preload_scatter,
    )
