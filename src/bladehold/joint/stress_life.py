"""Stress-life curves of metals: a line between two strengths, the handbook's equation, mean stress.

Two kinds of curve, each with its own way of counting the mean stress, never mixed: `ReversedLine` for steels
(and, with rows that say so, other screw metals), straight in logarithms from the strength at 1000 cycles to
the endurance limit, with Goodman's or Gerber's line; `HandbookCurve` for aluminium, the fitted equation of
MIL-HDBK-5 and MMPDS with its stress ratio. Both are curves of the middle of the tests: half of the parts fail
before them, so a life goes with a scatter factor, see `damage`.

A mean stress in compression earns no credit. A life below `FEWEST_CYCLES` is given as 0: neither kind of
curve says anything there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive, real
from bladehold.validity import Range

KSI = 6894757.293168361
"""One thousand pounds per square inch [Pa]."""
FEWEST_CYCLES = 1e3
"""Lives below this are low-cycle fatigue, where stress-life curves end (Shigley ch. 6)."""

RATIO = Range(
    "least over greatest stress R",
    -1.0,
    1.0,
    "",
    "handbook curves are seldom tested beyond full reversal; counted as full reversal of the same range",
    "MIL-HDBK-5J, 9.6.1.4",
)
SIZE = Range(
    "effective diameter",
    None,
    51e-3,
    "m",
    "size factor fitted to 51 mm",
    "Shigley, Mechanical Engineering Design, ch. 6",
)

SURFACES: MappingProxyType[str, tuple[float, float]] = MappingProxyType(
    {
        "ground": (1.38, -0.067),
        "machined": (3.04, -0.217),
        "hot-rolled": (38.6, -0.650),
        "as-forged": (54.9, -0.758),
    }
)
"""Constants a, b of the surface factor a Sut^b, Sut in MPa (Shigley, 11th edition, table 6-2)."""


def goodman_reversed(amplitude: ArrayLike, mean: ArrayLike, tensile_strength: ArrayLike) -> Floats:
    """Fully reversed amplitude that does as much as an amplitude on a mean, sa / (1 - sm / Sut).

    Arguments (broadcast together):
        amplitude: sa [Pa]; mean: sm, counted as 0 where it is compression [Pa];
        tensile_strength: Sut [Pa].
    Returns: amplitude [Pa], infinite from sm = Sut on.
    Errors: ValueError when the amplitude is negative or the strength not positive.
    Source: Shigley, Mechanical Engineering Design, ch. 6 (Goodman).
    """
    return _over(amplitude, 1.0 - _tension(mean) / positive("tensile strength", tensile_strength))


def gerber_reversed(amplitude: ArrayLike, mean: ArrayLike, tensile_strength: ArrayLike) -> Floats:
    """Fully reversed amplitude that does as much as an amplitude on a mean, sa / (1 - (sm / Sut)^2).

    Arguments (broadcast together):
        amplitude: sa [Pa]; mean: sm, counted as 0 where it is compression [Pa];
        tensile_strength: Sut [Pa].
    Returns: amplitude [Pa], infinite from sm = Sut on.
    Errors: ValueError when the amplitude is negative or the strength not positive.
    Source: Shigley, Mechanical Engineering Design, ch. 6 (Gerber).
    """
    return _over(amplitude, 1.0 - (_tension(mean) / positive("tensile strength", tensile_strength)) ** 2)


def _tension(mean: ArrayLike) -> Floats:
    return np.maximum(real("mean stress", mean), 0.0)


def _over(amplitude: ArrayLike, left: Floats) -> Floats:
    """Amplitude over the share of it that the mean leaves; 0 stays 0 even where nothing is left."""
    swing, share = np.broadcast_arrays(at_least_zero("stress amplitude", amplitude), left)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(swing == 0.0, 0.0, np.where(share > 0.0, swing / share, np.inf))


MEAN_STRESS: MappingProxyType[str, Callable[[ArrayLike, ArrayLike, ArrayLike], Floats]] = MappingProxyType(
    {"goodman": goodman_reversed, "gerber": gerber_reversed}
)
"""Named ways of counting a mean stress, all with (amplitude, mean, tensile strength)."""


def specimen_endurance(
    tensile_strength: ArrayLike, ratio: ArrayLike = 0.5, greatest: ArrayLike = 700e6
) -> Floats:
    """Endurance limit of a polished rotating specimen, Se' = 0.5 Sut, at most 700 MPa (steel).

    >>> print(f"{specimen_endurance(800e6) / 1e6:.0f} MPa")
    400 MPa

    Arguments (broadcast together):
        tensile_strength: Sut [Pa]; ratio: Se' over Sut, 0.5 for steel [-]; greatest: cap, reached by steel
        at 1400 MPa [Pa].
    Returns: Se' [Pa].
    Errors: ValueError when an argument is not positive.
    Source: Shigley, Mechanical Engineering Design, ch. 6, eq. 6-10 of the 11th edition.
    """
    found = positive("endurance ratio", ratio) * positive("tensile strength", tensile_strength)
    return np.minimum(found, positive("greatest endurance", greatest))


def surface_factor(tensile_strength: ArrayLike, surface: str) -> Floats:
    """Surface factor of the endurance limit, ka = a Sut^b, Sut in MPa, at most 1.

    Arguments:
        tensile_strength: Sut [Pa], any shape; surface: one of `SURFACES`.
    Returns: ka [-].
    Errors: ValueError when the strength is not positive or the surface unknown.
    Source: Shigley, Mechanical Engineering Design, 11th edition, table 6-2; earlier editions have milder
        figures (machined 4.51, -0.265).
    """
    if surface not in SURFACES:
        raise ValueError(f"surface {surface!r} is not one of {', '.join(SURFACES)}")
    a, b = SURFACES[surface]
    return np.minimum(a * (1e-6 * positive("tensile strength", tensile_strength)) ** b, 1.0)


def size_factor(diameter: ArrayLike) -> Floats:
    """Size factor of the endurance limit in bending, kb = 1.24 d^-0.107, d in mm, at most 1.

    Below 7.5 mm the published line exceeds 1; that gain is not taken.

    Arguments:
        diameter: effective diameter d, 0.37 of the true one for a round bar that does not turn against
        its load [m], any shape.
    Returns: kb [-].
    Errors: ValueError when a diameter is not positive.
    Range: `SIZE`.
    Source: Shigley, Mechanical Engineering Design, ch. 6, table 6-3 and eq. 6-19 of the 11th edition.
    """
    return np.minimum(1.24 * (1e3 * positive("diameter", diameter)) ** -0.107, 1.0)


def low_cycle_fraction(tensile_strength: ArrayLike) -> Floats:
    """Strength at 1000 cycles over tensile strength, f = 1.06 - 2.8e-3 S + 6.9e-6 S^2, S = Sut in ksi.

    0.9 below 70 ksi; the value of 200 ksi, 0.776, above it.

    Arguments:
        tensile_strength: Sut [Pa], any shape.
    Returns: f [-].
    Errors: ValueError when a strength is not positive.
    Source: Shigley, Mechanical Engineering Design, 11th edition, eq. 6-11, as quoted in public code; the
        curve of fig. 6-23. Below 70 ksi the fit is held at 0.9 as the text says.
    """
    s = np.minimum(positive("tensile strength", tensile_strength) / KSI, 200.0)
    return np.where(s < 70.0, 0.9, np.minimum(1.06 - 2.8e-3 * s + 6.9e-6 * s**2, 0.9))


@dataclass(frozen=True, eq=False)
class ReversedLine:
    """A straight line in logarithms between two fully reversed strengths.

    tensile_strength - Sut, Pa; low_cycle_strength - f Sut at 1000 cycles, Pa; endurance - Se of the part at
    the knee, Pa; knee - cycles there; endless - whether amplitudes below Se do nothing (steel), otherwise the
    line goes on; mean_stress - one of `MEAN_STRESS`. Numbers or arrays that broadcast with the stresses.
    Source: Shigley, Mechanical Engineering Design, ch. 6 (a = (f Sut)^2 / Se, b = -log(f Sut / Se) / 3).
    """

    tensile_strength: ArrayLike
    low_cycle_strength: ArrayLike
    endurance: ArrayLike
    knee: float = 1e6
    endless: bool = True
    mean_stress: str = "goodman"

    @property
    def method(self) -> str:
        """What a result says about how it was found."""
        end = "endurance limit" if self.endless else "line goes on"
        return f"reversed line to {self.knee:g} cycles, {end}, mean stress by {self.mean_stress.capitalize()}"

    def _exponent(self) -> Floats:
        """How many decades of cycles one decade of stress is worth."""
        low = positive("strength at 1000 cycles", self.low_cycle_strength)
        ratio = positive("low-cycle over endurance strength less 1", low / _endurance(self) - 1.0) + 1.0
        return np.asarray(np.log10(self.knee / FEWEST_CYCLES) / np.log10(ratio))

    def cycles(self, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Cycles to failure between two stresses [Pa]: infinite without damage, 0 below 1000 cycles."""
        amplitude, mean = amplitude_and_mean(maximum, minimum)
        swing = MEAN_STRESS[self.mean_stress](amplitude, mean, self.tensile_strength)
        with np.errstate(divide="ignore", over="ignore"):
            found = self.knee * (_endurance(self) / swing) ** self._exponent()
        found = np.where(found < FEWEST_CYCLES * (1.0 - 1e-12), 0.0, found)
        return np.where(found > self.knee * (1.0 + 1e-12), np.inf, found) if self.endless else found

    def allowable(self, cycles: ArrayLike, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Amplitude [Pa] that lasts so many cycles on the mean of two stresses, 0 where the mean fails."""
        _, mean = amplitude_and_mean(maximum, minimum)
        wanted = np.maximum(positive("required cycles", cycles), FEWEST_CYCLES)
        if self.endless:
            wanted = np.minimum(wanted, self.knee)
        strength = _endurance(self) * (self.knee / wanted) ** (1.0 / self._exponent())
        with np.errstate(divide="ignore"):
            return strength / MEAN_STRESS[self.mean_stress](1.0, mean, self.tensile_strength)

    def beyond(self, cycles: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Where a life lies on the line drawn on past its knee, which no test supports."""
        return np.asarray((cycles > self.knee) & (not self.endless))


def _endurance(line: ReversedLine) -> Floats:
    return positive("endurance", line.endurance)


def steel_line(
    tensile_strength: ArrayLike,
    diameter: ArrayLike,
    surface: str = "machined",
    factor: ArrayLike = 1.0,
    mean_stress: str = "goodman",
    ratio: ArrayLike = 0.5,
    greatest: ArrayLike = 700e6,
    knee: float = 1e6,
    endless: bool = True,
) -> ReversedLine:
    """Line of a round shank that bends without turning against its load, Se = ka kb k Se'.

    Low-cycle strength f Sut. The defaults are steel; other screw metals give their own ratio, knee and end.

    Arguments (broadcast together, names apart):
        tensile_strength: Sut [Pa]; diameter: true diameter d of the shank, 0.37 of it counts for size [m];
        surface: one of `SURFACES`; factor: k, such as the reliability factor 0.814 for 99 % [-];
        mean_stress: one of `MEAN_STRESS`; ratio, greatest: of `specimen_endurance`; knee: cycles where the
        endurance is reached [-]; endless: whether smaller amplitudes do nothing.
    Returns: `ReversedLine`.
    Errors: ValueError when a number is not positive or a name unknown.
    Range: `SIZE`.
    Source: Shigley, Mechanical Engineering Design, ch. 6 (Marin's factors; 0.37 d of table 6-3).
    """
    if mean_stress not in MEAN_STRESS:
        raise ValueError(f"mean stress {mean_stress!r} is not one of {', '.join(MEAN_STRESS)}")
    strength = positive("tensile strength", tensile_strength)
    endurance = (
        surface_factor(strength, surface)
        * size_factor(0.37 * positive("diameter", diameter))
        * positive("factor", factor)
        * specimen_endurance(strength, ratio, greatest)
    )
    low = low_cycle_fraction(strength) * strength
    return ReversedLine(strength, low, endurance, knee, endless, mean_stress)


def amplitude_and_mean(maximum: ArrayLike, minimum: ArrayLike) -> tuple[Floats, Floats]:
    """Amplitude and mean of a cycle between two stresses.

    Arguments (broadcast together):
        maximum, minimum: greatest and least stress [Pa].
    Returns: amplitude and mean [Pa].
    Errors: ValueError when the greatest lies below the least.
    Source: definition.
    """
    high, low = real("greatest stress", maximum), real("least stress", minimum)
    return at_least_zero("greatest less least stress", high - low) / 2.0, (high + low) / 2.0


def equivalent_stress(maximum: ArrayLike, minimum: ArrayLike, ratio_exponent: ArrayLike) -> Floats:
    """Stress pulsating from zero that does as much as a cycle, Seq = Smax (1 - R)^A3, R = Smin / Smax.

    A mean in compression earns nothing: such a cycle counts as fully reversed over its range (R = -1).

    Arguments (broadcast together):
        maximum, minimum: greatest and least stress, Smax and Smin [Pa]; ratio_exponent: A3 [-].
    Returns: Seq [Pa]; 0 without a range.
    Errors: ValueError when the greatest lies below the least, or A3 is not within 0 to 1.
    Range: `RATIO`.
    Source: MIL-HDBK-5J and MMPDS, 9.6.1.4; the treatment of R below -1 is an own choice, safe side.
    """
    share = at_least_zero("ratio exponent", ratio_exponent)
    at_least_zero("1 - ratio exponent", 1.0 - share)
    amplitude, mean = amplitude_and_mean(maximum, minimum)
    return (np.maximum(mean, 0.0) + amplitude) ** (1.0 - share) * (2.0 * amplitude) ** share


@dataclass(frozen=True, eq=False)
class HandbookCurve:
    """Fitted stress-life curve log10 N = A1 + A2 log10(Smax (1 - R)^A3 - A4), stresses in ksi.

    intercept - A1; slope - A2, negative; ratio_exponent - A3; offset - A4, Pa; notch - Kt of the specimens,
    on whose net section the stress is; largest - cycles to which the curve is used. Aluminium has no true
    endurance limit: past `largest` the life goes on along the curve's tangent in logarithms, also where the
    equation would promise endless life (below A4), and is marked as beyond.
    Source: MIL-HDBK-5J and MMPDS, 9.6.1.4; the tangent is an own choice, safe side.
    """

    intercept: float
    slope: float
    ratio_exponent: float
    offset: float
    notch: float = 1.0
    largest: float = 1e8

    @property
    def method(self) -> str:
        """What a result says about how it was found."""
        return f"handbook curve of specimens with Kt {self.notch:g}, tangent beyond {self.largest:g} cycles"

    @cached_property
    def end(self) -> float:
        """Equivalent stress at the largest life [Pa]."""
        return float(self._at(self.largest))

    def _tangent(self) -> float:
        return -self.slope * self.end / (self.end - self.offset)

    def _at(self, cycles: ArrayLike) -> Floats:
        """Equivalent stress [Pa] of the equation itself at a number of cycles."""
        return np.asarray(self.offset + KSI * 10.0 ** ((self.intercept - np.log10(cycles)) / -self.slope))

    def cycles(self, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Cycles to failure between two stresses [Pa]: infinite without a range, 0 below 1000 cycles."""
        stress = equivalent_stress(maximum, minimum, self.ratio_exponent)
        with np.errstate(divide="ignore", over="ignore"):
            along = self.largest * (self.end / stress) ** self._tangent()
            fitted = 10.0 ** (
                self.intercept + self.slope * np.log10((np.maximum(stress, self.end) - self.offset) / KSI)
            )
        found = np.where(stress < self.end, along, fitted)
        return np.where(found < FEWEST_CYCLES * (1.0 - 1e-12), 0.0, found)

    def allowable(self, cycles: ArrayLike, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Amplitude [Pa] that lasts so many cycles at the same stress ratio; infinite without a range."""
        amplitude, _ = amplitude_and_mean(maximum, minimum)
        wanted = np.maximum(positive("required cycles", cycles), FEWEST_CYCLES)
        along = self.end * (self.largest / wanted) ** (1.0 / self._tangent())
        stress = equivalent_stress(maximum, minimum, self.ratio_exponent)
        with np.errstate(divide="ignore", invalid="ignore"):
            grown = np.where(wanted > self.largest, along, self._at(wanted)) / stress * amplitude
        return np.where(amplitude > 0.0, grown, np.inf)

    def beyond(self, cycles: Floats) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
        """Where a life lies past the largest the curve is used to."""
        return np.asarray(cycles > self.largest * (1.0 + 1e-9))
