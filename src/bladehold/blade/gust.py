"""Vertical gusts: their shapes, the alleviation of aeroplanes' rules, and what they add to blade loads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.load_case import LoadCase, RootComponents, event_case, sequence
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

DATA = Path(__file__).parent / "data"

GUST_ANGLE_RANGE = Range(
    "gust over blade speed at three quarters of the radius",
    0.0,
    0.10,
    "",
    "sections may stall, increments from a slope are too large; ask the rotor at the speed itself",
    "own limit, 6 degrees",
)


@dataclass(frozen=True)
class Gust:
    """One row of the table: velocity - m/s; shape and scope in words; where it comes from."""

    name: str
    velocity: float
    shape: str
    applies_to: str
    source: str
    mark: str


@cache
def gusts() -> dict[str, Gust]:
    """Every gust in the table, by name. Source: each row's own."""
    import csv

    with (DATA / "gusts.csv").open(encoding="utf-8", newline="") as stream:
        return {
            row["name"]: Gust(
                name=row["name"],
                velocity=float(row["velocity"]),
                shape=row["shape"],
                applies_to=row["applies_to"],
                source=row["source"],
                mark=row["mark"],
            )
            for row in csv.DictReader(stream)
        }


def one_minus_cosine_gust(velocity: ArrayLike, gradient: ArrayLike, distance: ArrayLike) -> FloatArray:
    """Gust velocity (m/s) at a distance flown into it, (U/2) (1 - cos(pi s / H)) for 0 <= s <= 2 H, else 0.

    Arguments, broadcasting: velocity - U at the peak, m/s; gradient - H, distance to the peak, m; distance -
    s, m. Source: 14 CFR 25.341(a)(2); in 23.333(c) 2 H is 25 chords.
    """
    part = np.asarray(distance, dtype=float) / np.asarray(gradient, dtype=float)
    inside = (part >= 0.0) & (part <= 2.0)
    shape = 0.5 * np.asarray(velocity) * (1.0 - np.cos(np.pi * part))
    return np.asarray(np.where(inside, shape, 0.0))


def sharp_edged_gust(velocity: ArrayLike, distance: ArrayLike) -> FloatArray:
    """Gust velocity (m/s) at a distance flown into it: all of it at once.

    Arguments, broadcasting: velocity - U, m/s; distance - s, m. Source: definition.
    """
    return np.asarray(np.where(np.asarray(distance) > 0.0, np.asarray(velocity, dtype=float), 0.0))


def aeroplane_mass_ratio(
    wing_loading: ArrayLike,
    density: ArrayLike,
    chord: ArrayLike,
    lift_slope: ArrayLike,
    gravity: float = 9.80665,
) -> FloatArray:
    """Mass ratio of an aeroplane in a gust, mu_g = 2 (W/S) / (rho C a g).

    Arguments, broadcasting: wing_loading - W/S, weight over wing area, N/m^2; density - rho, kg/m^3; chord -
    C, mean geometric chord, m; lift_slope - a, of the normal force, 1/rad; gravity - g, m/s^2.
    Source: 14 CFR 23.341(c), amendment 23-48.
    """
    heavy = 2.0 * np.asarray(wing_loading, dtype=float)
    return np.asarray(heavy / (np.asarray(density) * np.asarray(chord) * np.asarray(lift_slope) * gravity))


def aeroplane_gust_alleviation(mass_ratio: ArrayLike) -> FloatArray:
    """Share of a sharp-edged gust that a fixed-wing aeroplane feels, K_g = 0.88 mu_g / (5.3 + mu_g).

    Allows for the 1-cos shape over 25 chords, for the heave of the aeroplane and for the lag of its lift;
    made for wings. A hovering rotor has neither chords flown through nor that heave: for rotors take 1.

    Arguments: mass_ratio - mu_g of `aeroplane_mass_ratio`, above 0, any shape.
    Errors: ValueError when it is not above 0. Source: 14 CFR 23.341(c), amendment 23-48.

    >>> round(float(aeroplane_gust_alleviation(5.3)), 6)
    0.44
    """
    ratio = np.asarray(mass_ratio, dtype=float)
    if not np.all(ratio > 0.0):
        raise ValueError("mass_ratio must be greater than 0")
    return np.asarray(0.88 * ratio / (5.3 + ratio))


def gust_increment(
    load_at: Callable[[FloatArray], FloatArray], axial_velocity: ArrayLike, gust_velocity: ArrayLike
) -> FloatArray:
    """What an upward gust adds to a load of the rotor: load(V - w) - load(V), speed of rotation held.

    Arguments: load_at - load at an axial velocity V (climb positive), m/s, for arrays; axial_velocity - V,
    m/s; gust_velocity - w, upward positive, m/s, broadcasting.
    Limits: steady inflow of the rotor at V - w; right after a sharp edge the induced velocity is still the
    old one, and the load rises by more than this: `gust_case` with the slope at held inflow bounds it.
    Source: definition.
    """
    velocity = np.asarray(axial_velocity, dtype=float)
    return np.asarray(load_at(velocity - np.asarray(gust_velocity)) - load_at(velocity))


def gust_case(
    steady: RootComponents,
    slope: RootComponents,
    gust_velocity: ArrayLike,
    events: ArrayLike,
    alleviation: ArrayLike = 1.0,
) -> LoadCase:
    """An upward and a downward gust: steady loads plus and minus K w d(load)/d(w).

    Arguments: steady - root loads, [...]; slope - their slopes by the upward velocity of the air, per m/s
    (minus those by the axial velocity of the rotor), [...]; gust_velocity - w, m/s (`gusts`); events - pairs
    of gusts per flight; alleviation - K, 1 for rotors (sharp-edged).
    Range: GUST_ANGLE_RANGE. Source: own, linear; velocity for rotorcraft in `gusts`.
    """
    more = slope.times(np.asarray(alleviation, dtype=float) * np.asarray(gust_velocity, dtype=float))
    return event_case(
        "vertical gust",
        sequence(steady, steady.plus(more), steady, steady.plus(more.times(-1.0))),
        events,
        "sharp-edged, loads linear in the gust, rotation speed held",
    )
