"""What a run on a thrust stand teaches about a blade: four numbers, by least squares.

Pitch offset, chord scale, profile-drag factor and lift exponent are fitted to measured thrust and power. Rows
at one pitch and no speed hold two facts, a thrust and a power level, and little more: without a prior the
numbers run away together (chord twice as wide, pitch 8 deg less) for hundredths of a per cent. So each number
is held by how well it is known beforehand, and all rows together weigh as one thrust and one power
measurement, because what is wrong between theory and stand is wrong in all rows alike.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from bladehold.rotor import BladeGeometry, Polar, blade_polar, solve_axial
from bladehold.rotor.correction import Correction, corrected_geometry, corrected_polar

FloatArray = NDArray[np.float64]

# One standard deviation, known beforehand: of a pitch gauge on a twisted blade, of a chord read along a
# curved edge, of the drag of a moulded section against the computed one, of how lift follows the Reynolds
# number below 200 000, as in the program. Own judgement.
SPREAD = (np.radians(1.5), 0.05, 0.5, 0.1)
NOISE = 0.01  # of thrust and of power, one standard deviation, common to all rows
# In units of SPREAD. Far above the solver's own 1e-6, far below anything a stand can see.
STEP, TOLERANCE = 1e-2, 1e-3


@dataclass(frozen=True)
class Air:
    """density kg/m^3, viscosity Pa*s, speed_of_sound m/s."""

    density: float = 1.225
    viscosity: float = 1.789e-5
    speed_of_sound: float = 340.3


@dataclass(frozen=True, eq=False)
class Rows:
    """Measured rows [N]: rotation_speed rad/s, axial_velocity m/s, thrust N, power W."""

    rotation_speed: FloatArray
    axial_velocity: FloatArray
    thrust: FloatArray
    power: FloatArray

    def pick(self, which: slice | FloatArray) -> Rows:
        """Some of the rows."""
        return Rows(
            self.rotation_speed[which], self.axial_velocity[which], self.thrust[which], self.power[which]
        )


@dataclass(frozen=True, eq=False)
class BladeFit:
    """correction; its covariance [4, 4]; thrust, power - ours/measured - 1 [N]; solves it took.

    The covariance is in the order and units of the correction. Where the rows scatter about the fit by more
    than the noise, their scatter takes its place.
    """

    correction: Correction
    covariance: FloatArray
    thrust: FloatArray
    power: FloatArray
    solves: int


def deviations(
    geometry: BladeGeometry,
    blades: int,
    rows: Rows,
    air: Air,
    correction: Correction,
    *,
    polar: Polar | None = None,
) -> tuple[FloatArray, FloatArray]:
    """Thrust and power of a corrected blade over the measured ones, less 1, [N] each."""
    found = solve_axial(
        corrected_geometry(geometry, correction),
        blades,
        rows.rotation_speed,
        rows.axial_velocity,
        density=air.density,
        viscosity=air.viscosity,
        speed_of_sound=air.speed_of_sound,
        polar=corrected_polar(blade_polar(geometry) if polar is None else polar, correction),
    )
    return found.thrust / rows.thrust - 1.0, found.power / rows.power - 1.0


def fit_blade(
    geometry: BladeGeometry,
    blades: int,
    rows: Rows,
    air: Air,
    *,
    polar: Polar | None = None,
    noise: float = NOISE,
    spread: tuple[float, float, float, float] = SPREAD,
) -> BladeFit:
    """Fit the correction of a blade to measured rows.

    Arguments: geometry, blades - as described; rows, air - as measured; polar - of the section, default
    the shipped one; noise - standard deviation of thrust and power, common to all rows; spread - of pitch
    offset (rad), chord scale, drag factor and lift exponent beforehand.
    """
    scale, count = np.asarray(spread), rows.thrust.size
    start = np.array(astuple(Correction()))
    unit = noise * np.sqrt(count)
    solves = 0

    def residuals(z: FloatArray) -> FloatArray:
        nonlocal solves
        solves += 1
        thrust, power = deviations(geometry, blades, rows, air, at(z), polar=polar)
        return np.concatenate([thrust / unit, power / unit, z])

    def slopes(z: FloatArray) -> FloatArray:
        here = residuals(z)
        return np.stack(
            [(residuals(z + STEP * along) - here) / STEP for along in np.eye(scale.size)], axis=-1
        )

    def at(z: FloatArray) -> Correction:
        return Correction(*(float(value) for value in start + scale * z))

    lowest = (np.array([-np.inf, 0.1, 0.05, -np.inf]) - start) / scale
    found = least_squares(
        residuals,
        np.zeros(scale.size),
        slopes,
        bounds=(lowest, np.full(scale.size, np.inf)),
        xtol=TOLERANCE,
        ftol=TOLERANCE,
        gtol=TOLERANCE,
    )
    misfit, gradient = found.fun[: -scale.size], found.jac[: -scale.size]
    widened = max(1.0, float(misfit @ misfit) / 2.0)
    variance = np.linalg.inv(gradient.T @ gradient / widened + np.eye(scale.size))
    return BladeFit(
        correction=at(found.x),
        covariance=variance * np.outer(scale, scale),
        thrust=unit * misfit[:count],
        power=unit * misfit[count:],
        solves=solves,
    )
