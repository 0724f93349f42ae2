"""A build: the sheet with every gap filled, in SI, and every filled gap on record."""

from __future__ import annotations

from dataclasses import dataclass

from bladehold.rotor.correction import Correction
from bladehold.rotor.polar import Polar
from bladehold.sheet.build_flying import Aircraft, Drive, Flying
from bladehold.sheet.build_loss import ArmData, ControllerData, ReleaseData
from bladehold.tables import BladeMaterial, Material, PropertyClass, Thread

_ROUNDING = 1e-9  # m


@dataclass(frozen=True)
class Assumption:
    """One value the sheet did not give: its key, the value in words, and why it was taken."""

    key: str
    value: str
    why: str


@dataclass(frozen=True)
class AirState:
    """altitude m (pressure altitude); temperature K; humidity 0 to 1."""

    altitude: float
    temperature: float
    humidity: float


@dataclass(frozen=True)
class MeasuredStation:
    """One measured station of a blade: radius, chord, thickness m; twist rad; section name."""

    radius: float
    chord: float
    twist: float
    thickness: float
    section: str


@dataclass(frozen=True)
class Structure:
    """How a blade is built and how it moves on its pivot.

    layup - in a word; skin, core - material of the whole section or of its skin, and inside it;
    skin_thickness - m, None where the section is solid; lug_angle - rad, leading edge up; damping - ratio;
    tip_mass - kg; tip_thickness - m, None: as the section; pivot_friction - N*m, None: not measured;
    leading_stop, trailing_stop - rad from straight.
    """

    layup: str
    skin: BladeMaterial
    core: BladeMaterial | None
    skin_thickness: float | None
    lug_angle: float
    damping: float
    tip_mass: float
    tip_thickness: float | None
    pivot_friction: float | None
    leading_stop: float
    trailing_stop: float


@dataclass(frozen=True)
class Propeller:
    """One rotor's blades: lengths m, mass kg, angles rad, frequency Hz (infinite: not measured).

    correction - what a bench run taught; thrust_uncertainty - relative standard deviation left after it, 0
    where the rotor was not calibrated; polar - of the user's own, in place of the named sections' tables.
    """

    blades: int
    diameter: float
    pitch: float
    folding: bool
    blade_mass: float
    balance_point: float
    section: str
    widest_chord: float
    widest_at: float
    tip_chord: float
    root_thickness: float
    precone: float
    tap_frequency: float
    correction: Correction
    thrust_uncertainty: float
    stations: tuple[MeasuredStation, ...]
    structure: Structure
    polar: Polar | None = None


@dataclass(frozen=True)
class Hub:
    """Plates and lug: all lengths m. bush_diameter is None where the screw bears on the lug itself;
    flap_stiffness - of the clevis, N*m/rad, None if not measured; upper_plate_bolted - whether the mounting
    screws hold the upper plate too; spacers of the ties: None without ties; inspectable - None: not said.
    """

    pivot_radius: float
    plate_thickness: float
    plate_material: Material
    plate_width: float
    plate_edge_distance: float
    plate_hole: float
    lug_thickness: float
    lug_width: float
    lug_edge_distance: float
    lug_hole: float
    lug_material: Material
    bush_diameter: float | None
    bush_material: Material | None
    bush_length: float
    contact_length: float
    gap: float
    flap_stiffness: float | None
    spacer_material: Material | None
    spacer_diameter: float
    upper_plate_bolted: bool
    inspectable: bool | None

    @property
    def bush_carries(self) -> bool:
        """Whether the bush stands proud of the lug, so that its ends bear on the plates."""
        # Sums of lengths are right but for rounding: a bush as long as the lug is thick is flush.
        return self.bush_diameter is not None and self.bush_length > self.lug_thickness + _ROUNDING

    @property
    def contact_diameter(self) -> float:
        """Outer diameter of the faces that rub and press: the proud bush's, else the lug's."""
        if self.bush_diameter is not None and self.bush_carries:
            return self.bush_diameter
        return self.contact_length

    @property
    def half_contact(self) -> float:
        """Half the length of the contact of plates and lug or proud bush: no longer than they reach."""
        if self.bush_carries:
            return self.contact_diameter / 2
        return min(self.contact_length / 2, self.lug_edge_distance, self.plate_edge_distance)

    @property
    def lug_cut(self) -> float:
        """Diameter cut out of the lug: the bush's where there is one, else the hole's."""
        return self.lug_hole if self.bush_diameter is None else self.bush_diameter


@dataclass(frozen=True)
class Tightening:
    """How a screw is tightened: torque and prevailing torque N*m, nut factors, preload scatter.

    nut_factor_low with scatter_up makes the greatest preload, nut_factor_high with scatter_down the least.
    torque 0 means that no preload may be counted on.
    """

    torque: float
    prevailing_torque: float
    nut_factor_low: float
    nut_factor_high: float
    scatter_up: float
    scatter_down: float
    source: str


@dataclass(frozen=True)
class Screw:
    """One kind of screw. shear_diameter - m, of what crosses the shear plane; engagement - m of thread.

    circlip_load - N, None without a circlip; spring_rate - of spring washers on it, N/m, infinite without;
    locking - what keeps it from turning; reachable - for tightening in place, None: not said; length - m,
    under the head, None: not said.
    """

    thread: Thread
    strength: PropertyClass
    shear_ultimate: float | None
    shear_plane: str
    shear_diameter: float
    head: str
    nut: str
    engagement: float
    washers: bool
    tightening: Tightening
    locking: str = "none"
    circlip_load: float | None = None
    spring_rate: float = float("inf")
    reachable: bool | None = None
    length: float | None = None

    @property
    def outside_diameter(self) -> float:
        """What touches the wall of a hole, m: the shank, or the crests of a thread."""
        return self.shear_diameter if self.shear_plane == "shank" else self.thread.nominal_diameter


@dataclass(frozen=True)
class Ties:
    """Tie screws of one blade: count, screw, distance inboard of the pivot m. count 0: there are none."""

    count: int
    screw: Screw | None
    distance: float


@dataclass(frozen=True)
class Mounting:
    """Hub to motor bell: count, screw, bolt_circle m (diameter), material of the bell's thread."""

    count: int
    screw: Screw
    bolt_circle: float
    into_material: Material


@dataclass(frozen=True)
class Setting:
    """How tight the pivot is set: temperature K, at tightening; straight_angle rad, allowed at idle;
    balance_grade m/s; handling - times its weight a blade must bear; hand_force at the tip, N.
    """

    temperature: float
    straight_angle: float
    balance_grade: float
    handling: float
    hand_force: float


@dataclass(frozen=True)
class Policy:
    """Factors and methods in force; `sources` says for each name where it comes from."""

    limit_to_ultimate: float
    yield_factor: float
    fitting: float
    centrifugal_proof: float
    marginal: float
    pin_bending: str
    contact: str
    grip_friction: float
    sources: dict[str, str]

    @property
    def ultimate(self) -> float:
        """Factor on limit load against rupture, the fitting factor included."""
        return self.limit_to_ultimate * self.fitting

    @property
    def at_yield(self) -> float:
        """Factor on limit load against yield, the fitting factor included."""
        return self.yield_factor * self.fitting


@dataclass(frozen=True)
class Build:
    """Everything the answers need, in SI, and what had to be assumed to get there.

    drive - None where the sheet has no motor or no battery; arm, controller - None where it has none;
    assumptions - that every answer rests on; blade_assumptions, drive_assumptions, loss_assumptions - that
    only the answers about the moving blade, about motor and battery, and about arm and thrown blades rest on;
    notes - remarks on the sheet that are not assumptions (unusual or contradictory values).
    """

    name: str
    invented: bool
    aircraft: Aircraft
    air: AirState
    propeller: Propeller
    hub: Hub
    pivot: Screw
    ties: Ties
    mounting: Mounting
    flying: Flying
    setting: Setting
    policy: Policy
    drive: Drive | None
    arm: ArmData | None
    controller: ControllerData | None
    release: ReleaseData
    assumptions: tuple[Assumption, ...]
    blade_assumptions: tuple[Assumption, ...]
    drive_assumptions: tuple[Assumption, ...]
    loss_assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]
