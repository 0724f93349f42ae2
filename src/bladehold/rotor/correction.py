"""What a bench run teaches about one blade: three numbers, and the blade that they make."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

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


@dataclass(frozen=True)
class Correction:
    """pitch_offset rad, added to the twist; chord_scale on the chord; profile_drag_factor on section drag."""

    pitch_offset: float = 0.0
    chord_scale: float = 1.0
    profile_drag_factor: float = 1.0

    @property
    def breaches(self) -> tuple[str, ...]:
        """A sentence for each of the three that no bench run of the same blade should give."""
        checks = (
            PITCH_OFFSET_RANGE.breach(np.degrees(self.pitch_offset)),
            CHORD_SCALE_RANGE.breach(self.chord_scale),
            DRAG_FACTOR_RANGE.breach(self.profile_drag_factor),
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


def corrected_polar(polar: Polar, correction: Correction) -> Polar:
    """Return the polar with its drag multiplied; the polar itself where the factor is 1.

    Arguments: polar - of the section; correction - what was learnt. Source: definition of the correction.
    """
    if correction.profile_drag_factor == 1.0:
        return polar
    return ScaledDrag(polar, correction.profile_drag_factor)


@dataclass(frozen=True, eq=False)
class ScaledDrag:
    """A polar whose section drag is another one's times factor."""

    polar: Polar
    factor: float

    def at(self, reynolds: FloatArray, mach: FloatArray) -> PolarSlice:
        """Section at Reynolds and Mach numbers, as any polar gives it."""
        return _ScaledSlice(self.polar.at(reynolds, mach), self.factor)

    def check(self, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> PolarCheck:
        """Ranges left, as those of the polar itself."""
        return self.polar.check(reynolds, mach, alpha)


@dataclass(frozen=True, eq=False)
class _ScaledSlice:
    """One slice of a polar with its drag multiplied."""

    inner: PolarSlice
    factor: float

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        lift, drag = self.inner(alpha)
        return lift, self.factor * drag

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """The same, with a slice quicker near alpha."""
        lift, drag, nearby = self.inner.follow(alpha)
        return lift, self.factor * drag, _ScaledSlice(nearby, self.factor)

    def subset(self, index: IntArray) -> PolarSlice:
        """The same for some elements only."""
        return _ScaledSlice(self.inner.subset(index), self.factor)
