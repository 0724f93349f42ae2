"""What every check asks: the build, its loads, and the few forces that several checks share."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import pin, preload, separation, setting
from bladehold.joint.bedding import BeddedPin, bedded_pin
from bladehold.joint.contact import ClevisState
from bladehold.sheet.build import Build, Hub, Policy, Screw, Tightening
from bladehold.study.clamp import creep_share, embedding_force, pivot_stack, preload_change, tie_seat
from bladehold.study.clevis import AS_BUILT, Cases, Held, faces_clamp, solved_together
from bladehold.study.loads import Loads
from bladehold.study.turns import Turning, turning

FloatArray = NDArray[np.float64]

WRENCH = 0.06
"""Tolerance of a small torque wrench (ISO 6789, below 10 N m; from memory)."""


@dataclass(frozen=True)
class Situation:
    """One build under its loads; the factors are arrays over conditions, 0 where one does not apply.

    held - what is left of the clevis, as built where nothing is lost; preloads - of the pivot screw and one
    tie, N, where they are known and not to be worked out from the torques, [..., 1]; turns - whether the ends
    of every turn are solved beside the greatest loads, as fatigue asks.

    At yield the centrifugal proof counts with factor 1, because its multiple is already in the
    load and the fitting is what the proof is about; at rupture it does not apply.
    """

    build: Build
    loads: Loads
    held: Held = AS_BUILT
    preloads: tuple[FloatArray, FloatArray] | None = None
    turns: bool = True

    @cached_property
    def judged(self) -> dict[Hashable, Any]:
        """What was found of the members' fatigue so far, which checks and lives both ask for."""
        return {}

    @property
    def ties_left(self) -> int:
        """Tie screws of one blade that are still there."""
        return self.build.ties.count if self.held.ties is None else self.held.ties

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

    @cached_property
    def pivot_preload(self) -> preload.Limits:
        """Greatest and least preload (N) of the pivot screw over scatter, time and temperature."""
        if not self.held.pivot:
            return preload.Limits(np.zeros(()), np.zeros(()))
        if self.preloads is not None:
            return preload.Limits(self.preloads[0], self.preloads[0])
        return pivot_preload(self.build)

    @cached_property
    def tie_limits(self) -> preload.Limits:
        """Greatest and least preload (N) of one tie screw; 0 without ties."""
        screw = self.build.ties.screw
        if screw is None or not self.held.tightened:
            return preload.Limits(np.zeros(()), np.zeros(()))
        if self.preloads is not None:
            return preload.Limits(self.preloads[1], self.preloads[1])
        fresh, seat = preload_limits(screw.tightening, screw), tie_seat(self.build)
        return fresh if seat is None else seat.limits(fresh, self.build)

    @property
    def tie_preload(self) -> FloatArray:
        """Greatest preload (N) of one tie screw; 0 without ties."""
        return self.tie_limits.maximum

    @cached_property
    def turning(self) -> Turning:
        """The clevis at the extremes of every turn and at rest, with every pair of its extreme preloads."""
        pivot, tie = self.pivot_preload, self.tie_limits
        pairs = sorted(
            {
                (float(own), float(other))
                for own in (pivot.minimum, pivot.maximum)
                for other in (tie.minimum, tie.maximum)
            }
        )
        return turning(
            self.build,
            self.loads,
            np.array([own for own, _ in pairs]),
            np.array([other for _, other in pairs]),
            lambda: self._solved[2],
        )

    @property
    def yield_state(self) -> ClevisState:
        """The clevis with its greatest preloads under flap moment and lift times the factor at yield."""
        return self._solved[0]

    @property
    def rupture_state(self) -> ClevisState:
        """The clevis under flap moment and lift times the factor at rupture, once in the centrifugal proof.

        Preload is left out, unless the pivot screw would break before its joint opens.
        """
        return self._solved[1]

    @cached_property
    def limit_state(self) -> ClevisState:
        """The clevis with its greatest preloads under the limit loads as they are."""
        root = self.loads.root
        cases = Cases(root.flap_peak, root.lift, self.pivot_preload.maximum, self.tie_preload)
        return solved_together(self.build, self.held, cases)[0]

    @cached_property
    def _solved(self) -> tuple[ClevisState, ...]:
        """The clevis at yield, at rupture and in the cases of `turning`."""
        flap, lift, tight = self.loads.root.flap_peak, self.loads.root.lift, self.pivot_preload.maximum
        factor, broken = self.at_yield, self._rupture_factor
        at_yield = Cases(factor * flap, factor * lift, tight, self.tie_preload)
        left = np.where(self.breaks_closed, tight, 0.0)
        at_rupture = Cases(broken * flap, broken * lift, left, 0.0)
        others = (self.turning.cases,) if self.turns else ()
        return solved_together(self.build, self.held, at_yield, at_rupture, *others)

    @cached_property
    def breaks_closed(self) -> NDArray[np.bool_]:
        """Whether the pivot screw with its greatest preload breaks while the joint is closed, so that preload
        counts at rupture (NASA-STD-5020B (2021) eq. 10-11).
        """
        screw, clamp = self.build.pivot, self.pivot_preload.maximum
        if not np.any(clamp > 0.0):
            return np.zeros(np.shape(clamp), dtype=bool)
        breaks = screw.thread.profile.stress_area * screw.strength.tensile_strength
        share = pivot_stack(self.build).load_factor
        return np.asarray(separation.ruptures_before_separation(breaks, clamp, share))

    @property
    def _rupture_factor(self) -> FloatArray:
        return np.maximum(self.at_rupture, 1.0)

    def share(self, quantity: Callable[[ClevisState], FloatArray], *, at_yield: bool) -> FloatArray:
        """What the clevis gives over the factor that is on it: loose at rupture, the worse of both at yield.

        A loose clevis may feel more than a tight one, where the plates' bending is concerned.
        """
        loose = np.asarray(quantity(self.rupture_state) / self._rupture_factor)
        if not at_yield:
            return loose
        return np.maximum(loose, np.asarray(quantity(self.yield_state) / self.at_yield))

    @cached_property
    def edge_pressure(self) -> FloatArray:
        """Greatest pressure (Pa) between lug and plates, tight or loose, over the factor that is on it."""
        return self.share(greatest_pressure, at_yield=True)

    @cached_property
    def contact_breach(self) -> str | None:
        """What to say where the contact model did not come to rest; None where it did."""
        states = (self.yield_state, self.rupture_state)
        found = sum(int(np.count_nonzero(~state.converged)) for state in states)
        return f"the contact model did not come to rest in {found} cases" if found else None

    @cached_property
    def grip(self) -> FloatArray:
        """Pull (N) that friction under the least preload holds before the lug slips, both faces."""
        return np.asarray(2.0 * self.policy.grip_friction * self.least_clamp)

    @cached_property
    def least_clamp(self) -> FloatArray:
        """Least force (N) on the faces of lug and plates at rest, the bending of the plates taken off."""
        least = self.pivot_preload.minimum
        return faces_clamp(self.build, least, self.tie_preload) if np.any(least > 0.0) else least

    @cached_property
    def pull_at_yield(self) -> FloatArray:
        """Pull (N) on the pivot screw at limit load: none where friction holds it with the factor at yield.

        A folding blade turns under its load, so there friction holds nothing.
        """
        pull = self.loads.root.in_plane
        if self.build.propeller.folding:
            return pull
        return np.where(self.grip >= self.at_yield * pull, 0.0, pull)

    @cached_property
    def bedded(self) -> BeddedPin | None:
        """Levers of the pivot screw on its elastic beds; None where the policy takes a handbook lever."""
        if self.policy.pin_bending != "bedded":
            return None
        return _levers(self.build.hub, self.build.pivot)

    @cached_property
    def pin_moment(self) -> FloatArray:
        """Greatest bending moment in the pivot screw, N*m, limit load, by the policy's method."""
        return self.pin_moment_of(self.loads.root.in_plane)

    def pin_moment_of(self, pull: FloatArray) -> FloatArray:
        """Greatest bending moment (N*m) in the pivot screw under a pull (N), by the policy's method."""
        hub = self.build.hub
        if self.bedded is not None:
            return np.asarray(pin.double_shear_force(pull) * self.bedded.greatest)
        method = pin.BENDING_METHODS[self.policy.pin_bending]
        return np.asarray(method(pull, hub.plate_thickness, hub.lug_thickness, hub.gap))

    @cached_property
    def even_pin_moment(self) -> FloatArray:
        """Bending moment, N*m, if the pressure in lug and plates were even: the handbook's bound."""
        hub = self.build.hub
        return pin.bending_moment_air_force(
            self.loads.root.in_plane, hub.plate_thickness, hub.lug_thickness, hub.gap
        )


@lru_cache(maxsize=256)
def _levers(hub: Hub, screw: Screw) -> BeddedPin:
    """Levers of a pivot screw on its beds, worked out once for the same parts."""
    return bedded_pin(
        hub.plate_thickness,
        hub.lug_thickness,
        hub.gap,
        screw.shear_diameter,
        screw.strength.modulus,
        hub.plate_material.modulus,
        hub.lug_material.modulus,
    )


def greatest_pressure(state: ClevisState) -> FloatArray:
    """Pressure (Pa) on the harder pressed face."""
    return np.maximum(state.upper_pressure, state.lower_pressure)


def lug_moment(state: ClevisState) -> FloatArray:
    """Moment (N*m) that bends the lug flatwise at its hole: of the harder pressed face about the screw."""
    return np.maximum(
        state.upper_force * np.abs(state.upper_centre), state.lower_force * np.abs(state.lower_centre)
    )


def plate_moment(state: ClevisState) -> FloatArray:
    """Moment (N*m) that bends the harder bent plate at its hole."""
    return np.maximum(np.abs(state.upper_hole_moment), np.abs(state.lower_hole_moment))


def inboard_moment(state: ClevisState) -> FloatArray:
    """Greatest moment (N*m) that bends either plate between contact and root."""
    return np.maximum(np.abs(state.upper_inboard_moment), np.abs(state.lower_inboard_moment))


def pivot_preload(build: Build) -> preload.Limits:
    """Greatest and least preload (N) of the pivot screw over scatter, a year and the temperatures of flying.

    The warmest or coldest air adds to the greatest and takes from the least; creep of what is clamped takes
    from the least, and in a clamped root, tightened in earnest, embedding too.
    """
    screw, flying = build.pivot, build.flying
    limits = preload_limits(screw.tightening, screw)
    if screw.tightening.torque <= 0.0:
        return limits
    stack = pivot_stack(build)
    change = preload_change(build, [flying.temperature_min, flying.temperature_max])
    embedded = 0.0 if build.propeller.folding else embedding_force(stack)
    left = limits.minimum * (1.0 - creep_share(stack)) - embedded + min(float(change.min()), 0.0)
    return preload.Limits(limits.maximum + max(float(change.max()), 0.0), np.maximum(left, 0.0))


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
        wrench=WRENCH,
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
