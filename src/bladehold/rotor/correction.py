"""What a bench run teaches about one blade: four numbers, and the blade that they make."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.polar import Polar, PolarCheck
from bladehold.rotor.slices import PolarSlice
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

# Beyond these a fit describes something else than this blade: a wrong diameter, another section, a unit slip.
_BLADE, _SECTION, _OWN = "not the blade that was described", "not the section that was named", "own judgement"
PITCH_OFFSET_RANGE = Range("pitch offset", -5.0, 5.0, "deg", _BLADE, _OWN)
CHORD_SCALE_RANGE = Range("chord scale", 0.75, 1.3, "", _BLADE, _OWN)
DRAG_FACTOR_RANGE = Range("profile drag factor", 0.5, 2.5, "", _SECTION, _OWN)
LIFT_EXPONENT_RANGE = Range("lift exponent", -0.15, 0.35, "", _SECTION, _OWN)

# Laminar separation matters up to about 2e5 (Carmichael, NASA CR-165803, 1981, memory); the tables begin at
# 2e4. The factor is 1 in the middle, so that it says little about the chord.
SEPARATING, MIDDLE = (2e4, 2e5), 1e5


@dataclass(frozen=True)
class Correction:
    """What is learnt of a blade.

    pitch_offset - rad, added to the twist; chord_scale - on the chord; profile_drag_factor - on section
    drag; lift_exponent - of `reynolds_lift_factor` on section lift.
    """

    pitch_offset: float = 0.0
    chord_scale: float = 1.0
    profile_drag_factor: float = 1.0
    lift_exponent: float = 0.0

    @property
    def breaches(self) -> tuple[str, ...]:
        """A sentence for each of the four that no bench run of the same blade should give."""
        checks = (
            PITCH_OFFSET_RANGE.breach(np.degrees(self.pitch_offset)),
            CHORD_SCALE_RANGE.breach(self.chord_scale),
            DRAG_FACTOR_RANGE.breach(self.profile_drag_factor),
            LIFT_EXPONENT_RANGE.breach(self.lift_exponent),
        )
        return tuple(text for text in checks if text)


def corrected_geometry(geometry: BladeGeometry, correction: Correction) -> BladeGeometry:
    """Return the blade with its twist turned and its chord scaled.

    Arguments: geometry - as described; correction - what was learnt. Source: definition of the correction.
    """
    return replace(
        geometry,
        twist=geometry.twist + correction.pitch_offset,
        chord=geometry.chord * correction.chord_scale,
    )


def reynolds_lift_factor(reynolds: ArrayLike, exponent: float) -> FloatArray:
    """Factor on section lift that grows with the Reynolds number, 1 at 100 000.

    factor = (Re / 1e5)^exponent from 2e4 to 2e5, constant beyond. It stands for whatever makes the lift of a
    real blade rise faster with speed than the tables': laminar separation in the first place, which hangs on
    the turbulence of the air and the finish of the blade; a blade that twists under load looks the same on a
    stand. Above 2e5 no rise is carried on from slower rows.
    Arguments: reynolds - of the section; exponent - fitted. Source: own law; its ends as above.

    >>> reynolds_lift_factor([1e4, 5e4, 1e5, 1e6], 0.1).round(3).tolist()
    [0.851, 0.933, 1.0, 1.072]
    """
    return np.asarray((np.clip(np.asarray(reynolds, dtype=float), *SEPARATING) / MIDDLE) ** exponent)


def corrected_polar(polar: Polar, correction: Correction) -> Polar:
    """Return the polar with its drag and lift multiplied; the polar itself where that changes nothing.

    Arguments: polar - of the blade; correction - what was learnt. Source: definition of the correction.
    """
    if correction.profile_drag_factor == 1.0 and correction.lift_exponent == 0.0:
        return polar
    return ScaledPolar(polar, correction.profile_drag_factor, correction.lift_exponent)


@dataclass(frozen=True, eq=False)
class ScaledPolar:
    """A polar whose drag is another one's times drag_factor, its lift times `reynolds_lift_factor`."""

    polar: Polar
    drag_factor: float
    lift_exponent: float

    def at(self, reynolds: FloatArray, mach: FloatArray) -> PolarSlice:
        """Section at Reynolds and Mach numbers, as any polar gives it."""
        lift_factor = reynolds_lift_factor(reynolds, self.lift_exponent)
        return _ScaledSlice(self.polar.at(reynolds, mach), lift_factor, self.drag_factor)

    def check(self, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> PolarCheck:
        """Ranges left, as those of the polar itself."""
        return self.polar.check(reynolds, mach, alpha)


@dataclass(frozen=True, eq=False)
class _ScaledSlice:
    """One slice of a polar with its lift [...] and drag multiplied."""

    inner: PolarSlice
    lift_factor: FloatArray
    drag_factor: float

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        lift, drag = self.inner(alpha)
        return self.lift_factor * lift, self.drag_factor * drag

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """The same, with a slice quicker near alpha."""
        lift, drag, nearby = self.inner.follow(alpha)
        scaled = _ScaledSlice(nearby, self.lift_factor, self.drag_factor)
        return self.lift_factor * lift, self.drag_factor * drag, scaled

    def subset(self, index: IntArray) -> PolarSlice:
        """The same for some elements only."""
        return _ScaledSlice(self.inner.subset(index), self.lift_factor.ravel()[index], self.drag_factor)
