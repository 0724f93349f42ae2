"""What every check asks: the build, its loads, and the few forces that several checks share."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import clevis, pin, preload, setting
from bladehold.joint.bedding import BeddedPin, bedded_pin
from bladehold.sheet.build import Build, Policy, Screw, Tightening
from bladehold.study.loads import Loads

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Situation:
    """One build under its loads; the factors are arrays over conditions, 0 where one does not apply.

    At yield the centrifugal proof counts with factor 1, because its multiple is already in the
    load and the fitting is what the proof is about; at rupture it does not apply.
    """

    build: Build
    loads: Loads

    @property
    def policy(self) -> Policy:
        """The factors and methods in force."""
        return self.build.policy

    @cached_property
    def at_yield(self) -> FloatArray:
        """Factor on limit load against yield, by condition."""
        return np.where(self.loads.flight > 0, self.policy.at_yield, 1.0)

    @cached_property
    def at_rupture(self) -> FloatArray:
        """Factor on limit load against rupture, by condition."""
        return np.where(self.loads.flight > 0, self.policy.ultimate, 0.0)

    @property
    def half_contact(self) -> float:
        """Half the length of the lug-to-plate contact, a, m: no longer than lug and plate reach."""
        hub = self.build.hub
        return min(hub.contact_length / 2, hub.lug_edge_distance, hub.plate_edge_distance)

    @cached_property
    def contact(self) -> clevis.ContactForces:
        """Forces between lug and plates of the open clevis, limit load; they grow as the load does."""
        root = self.loads.root
        return clevis.contact_forces(root.flap_peak, root.lift, self.half_contact, self.policy.contact)

    @cached_property
    def flatwise_moment(self) -> FloatArray:
        """Moment (N*m) that bends lug and each plate flatwise at the hole.

        The greater contact force on its lever.
        """
        return self.contact.greatest * self.contact.arm

    @cached_property
    def pivot_preload(self) -> preload.Limits:
        """Greatest and least preload (N) of the pivot screw."""
        return preload_limits(self.build.pivot.tightening, self.build.pivot)

    @cached_property
    def pivot_tension_open(self) -> FloatArray:
        """Pivot screw tension (N) of the open clevis, limit load, preload left out."""
        return clevis.screw_tension_open(self.contact)

    @cached_property
    def pivot_tension_at_yield(self) -> FloatArray:
        """Pivot screw tension (N) with flap moment and lift times the yield factor.

        Preload is not multiplied.
        """
        factor, clamp = self.at_yield, self.pivot_preload.maximum
        if not np.any(clamp > 0.0):
            return factor * self.pivot_tension_open
        root = self.loads.root
        bounds = clevis.screw_tension_clamped(
            factor * root.flap_peak, factor * root.lift, self.half_contact, clamp, self.policy.contact
        )
        return bounds.least if self.policy.contact == "edge" else bounds.greatest

    @cached_property
    def bedded(self) -> BeddedPin | None:
        """Levers of the pivot screw on its elastic beds; None where the policy takes a handbook lever."""
        if self.policy.pin_bending != "bedded":
            return None
        hub, screw = self.build.hub, self.build.pivot
        return bedded_pin(
            hub.plate_thickness,
            hub.lug_thickness,
            hub.gap,
            screw.shear_diameter,
            screw.strength.modulus,
            hub.plate_material.modulus,
            hub.lug_material.modulus,
        )

    @cached_property
    def pin_moment(self) -> FloatArray:
        """Greatest bending moment in the pivot screw, N*m, limit load, by the policy's method."""
        hub, pull = self.build.hub, self.loads.root.in_plane
        if self.bedded is not None:
            return pin.double_shear_force(pull) * self.bedded.greatest
        method = pin.BENDING_METHODS[self.policy.pin_bending]
        return method(pull, hub.plate_thickness, hub.lug_thickness, hub.gap)

    @cached_property
    def even_pin_moment(self) -> FloatArray:
        """Bending moment, N*m, if the pressure in lug and plates were even: the handbook's bound."""
        hub = self.build.hub
        return pin.bending_moment_air_force(
            self.loads.root.in_plane, hub.plate_thickness, hub.lug_thickness, hub.gap
        )


def preload_limits(tightening: Tightening, screw: Screw) -> preload.Limits:
    """Greatest and least preload (N) of one screw from its tightening torque.

    The greatest comes from the lowest nut factor with the scatter on top and the whole torque; the
    least from the highest nut factor, scatter, short-term relaxation, and the torque left above the running
    torque of a locking nut.
    """
    return setting.preload_limits(tightening.torque, spread_of(tightening, screw))


def spread_of(tightening: Tightening, screw: Screw) -> setting.Spread:
    """What scatters between wrench and preload of one screw.

    The running torque of a locking nut is the sheet's at the most and none at the least: a worn one has none.
    """
    return setting.Spread(
        diameter=screw.thread.nominal_diameter,
        nut_factor_low=tightening.nut_factor_low,
        nut_factor_high=tightening.nut_factor_high,
        scatter_up=tightening.scatter_up,
        scatter_down=tightening.scatter_down,
        prevailing_high=tightening.prevailing_torque,
    )


def shear_ultimate(screw: Screw) -> float:
    """Ultimate shear strength (Pa): as given, else tensile strength / sqrt(3)."""
    if screw.shear_ultimate is not None:
        return screw.shear_ultimate
    return float(pin.shear_strength_from_tensile(screw.strength.tensile_strength))


def shear_yield(screw: Screw) -> float:
    """Shear yield strength (Pa): tensile yield / sqrt(3)."""
    return float(pin.shear_strength_from_tensile(screw.strength.yield_strength))
