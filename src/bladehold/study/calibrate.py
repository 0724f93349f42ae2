"""Calibrate: make the rotor model the user's own, from a thrust-stand run of their propeller."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import astuple, dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import Air, humid_density, speed_of_sound, viscosity
from bladehold.bench import Slip, StandRun, find_slips
from bladehold.rotor import AxialSolution, solve_axial
from bladehold.rotor.correction import Correction, corrected_geometry, corrected_polar
from bladehold.sheet.build import Build
from bladehold.study.shape import geometry_of, polar_of

FloatArray = NDArray[np.float64]
Model = Callable[[Correction], AxialSolution]

# How surely the blade is known before the run: pitch as printed, chord by ruler, section drag by table
# (common practice, no source), rise of lift with the Reynolds number by how computed sections differ in calm
# and in troubled air (NACA 4409 at 5 degrees, 2e4 to 1e5: exponent 0.09, 0.12 and 0.33 with transition
# amplification 2, 4 and 7). They keep apart what thrust and torque alone cannot, and a run of few speeds from
# going astray.
PRIOR = Correction(np.radians(1.5), 0.05, 0.3, 0.1)
NOISE = 0.01  # relative scatter of one stand reading, where the fit starts from
FEWEST = 4  # points; four numbers are fitted, each held by what is known before


class ImplausibleFitError(ValueError):
    """A fit that describes another propeller than the sheet's; the message says what to look at."""


@dataclass(frozen=True)
class Calibration:
    """A fitted correction and how it fits.

    covariance - [4, 4], of pitch offset (rad), chord scale, drag factor and lift exponent; run - the rows
    used; slips - rows that were suspicious; thrust, torque - of the fitted model at those rows (N, N*m);
    uncalibrated_thrust - of the model before; thrust_uncertainty, torque_uncertainty - relative standard
    deviations of the model after the fit, scatter and parameters together.
    """

    correction: Correction
    covariance: FloatArray
    run: StandRun
    slips: tuple[Slip, ...]
    thrust: FloatArray
    torque: FloatArray
    uncalibrated_thrust: FloatArray
    thrust_uncertainty: float
    torque_uncertainty: float | None


def calibrate(
    build: Build, run: StandRun, temperature: float, pressure: float, drive_efficiency: float | None
) -> Calibration:
    """Fit pitch offset, chord scale, profile-drag factor and lift exponent to a static run.

    Robust least squares (soft L1) on log(thrust) and, where there is torque or electric power, log(torque),
    with weak prior knowledge of the four numbers. Rows that find_slips leaves out are not used.
    Arguments: build; run; temperature K and pressure Pa of the run, for rows without their own;
    drive_efficiency - shaft power over electric power, for runs with electric power only (None: power is not
    used).
    Returns Calibration. Errors: ValueError for too few rows; ImplausibleFitError.
    Source: nonlinear least squares with the soft L1 loss; covariance (J^T J)^-1 times the scatter squared.
    """
    slips = tuple(find_slips(run))
    dropped = {slip.row for slip in slips if slip.left_out}
    used = run.only(np.array([row not in dropped for row in range(run.speed.size)]))
    if used.speed.size < FEWEST:
        raise ValueError(f"{used.speed.size} usable points of {run.speed.size}: a fit needs {FEWEST} or more")
    torque = _torque(used, drive_efficiency)
    model = _model(build, used, _air(used, temperature, pressure))
    before = model(Correction())
    found, jacobian, scatter = _fit(model, used, torque)
    if found.breaches:
        raise ImplausibleFitError(
            f"{'; '.join(found.breaches)}. Look at the diameter, pitch and section of the sheet, the "
            "units of the run and the air it was made in"
        )
    after = model(found)
    covariance = np.asarray(scatter**2 * np.linalg.inv(jacobian.T @ jacobian), dtype=float)
    slope = jacobian[: used.speed.size] * NOISE  # of log(thrust) by the four numbers
    of_parameters = np.sqrt(np.sum((slope @ covariance) * slope, axis=1).max())
    known = np.isfinite(torque)
    return Calibration(
        correction=found,
        covariance=covariance,
        run=used,
        slips=slips,
        thrust=after.thrust,
        torque=after.torque,
        uncalibrated_thrust=before.thrust,
        thrust_uncertainty=float(np.hypot(_spread(np.log(used.thrust / after.thrust)), of_parameters)),
        torque_uncertainty=_spread(np.log(torque[known] / after.torque[known])) if known.any() else None,
    )


def _air(run: StandRun, temperature: float, pressure: float) -> Air:
    """The air of every row: its own where measured, else that of the run; taken as dry."""
    kelvin = np.where(np.isfinite(run.temperature), run.temperature, temperature)
    pascal = np.where(np.isfinite(run.pressure), run.pressure, pressure)
    return Air(humid_density(kelvin, pascal), speed_of_sound(kelvin), viscosity(kelvin), kelvin, pascal)


def _torque(run: StandRun, drive_efficiency: float | None) -> FloatArray:
    """Shaft torque of every row: measured, else from electric power and efficiency, else NaN."""
    if drive_efficiency is None:
        return run.torque
    return np.where(np.isfinite(run.torque), run.torque, drive_efficiency * run.power / run.speed)


def _model(build: Build, run: StandRun, air: Air) -> Model:
    """What the rotor of the sheet does at the rows of a run, as a function of the correction."""
    geometry = geometry_of(build)
    polar = polar_of(build, geometry)

    def solved(correction: Correction) -> AxialSolution:
        return solve_axial(
            corrected_geometry(geometry, correction),
            build.propeller.blades,
            run.speed,
            0.0,
            density=air.density,
            viscosity=air.viscosity,
            speed_of_sound=air.speed_of_sound,
            polar=corrected_polar(polar, correction),
        )

    return solved


def _fit(model: Model, run: StandRun, torque: FloatArray) -> tuple[Correction, FloatArray, float]:
    """The correction, the Jacobian of all residuals and the scatter they are left with (1: as NOISE says)."""
    from scipy.optimize import least_squares

    known = np.isfinite(torque)
    prior, rest = np.array(astuple(PRIOR)), np.array(astuple(Correction()))

    def residuals(z: FloatArray) -> FloatArray:
        found = model(Correction(*(rest + prior * (z - 1.0))))
        thrust = np.log(np.maximum(found.thrust, 1e-9) / run.thrust) / NOISE
        shaft = np.log(np.maximum(found.torque[known], 1e-9) / torque[known]) / NOISE
        return np.concatenate([thrust, shaft, z - 1.0])

    # The unknowns are counted in prior spreads and start at 1: a relative difference step taken at an offset
    # of zero would be no larger than the solver's own tolerance.
    low = np.array([np.radians(-8.0), 0.5, 0.2, -0.4])
    high = np.array([np.radians(8.0), 1.8, 5.0, 0.7])
    bounds = (1.0 + (low - rest) / prior, 1.0 + (high - rest) / prior)
    fit = least_squares(residuals, np.ones(rest.size), bounds=bounds, loss="soft_l1", diff_step=1e-3)
    data = residuals(fit.x)[: -rest.size]
    freedom = max(data.size - rest.size, 1)
    found = Correction(*(rest + prior * (fit.x - 1.0)))
    return found, fit.jac / prior, max(1.0, float(np.sqrt(np.sum(data**2) / freedom)))


def _spread(values: FloatArray) -> float:
    """Standard deviation about zero, robust against single rows."""
    return float(1.4826 * np.median(np.abs(values)))
