"""A turning blade as a beam: cubic finite elements in flap and lag, coupled by the local twist.

Coordinates are those of the rotor: x outward from the pivot, w up (with the thrust), v backward (against the
turning). The chord of a section stands at the structural angle a to the plane of turning, leading edge up, so
that flatwise bending is w cos a + v sin a and edgewise bending w sin a - v cos a. With curvatures of both,

    elastic energy = 1/2 integral of EI_flat (w'' cos a + v'' sin a)^2 + EI_edge (w'' sin a - v'' cos a)^2,
    centrifugal    = 1/2 Omega^2 integral of T (w'^2 + v'^2) - m v^2,   T = integral outboard of m (e + x),

the last term because centrifugal force points away from the axis and not along the blade. Left out: torsion,
shear, rotary inertia, and everything of higher order in the slopes; Coriolis forces of flapping are loads of
the response (`bladehold.blade.coriolis`), not part of the modes.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.layup import SectionProperties
from bladehold.blade.mass import MassSpread

FloatArray = NDArray[np.float64]

ELEMENTS = 12
_GAUSS = 4  # points in each stretch: exact for the products of two cubics with a line mass running straight


@dataclass(frozen=True, eq=False)
class BladeBeam:
    """A blade as a beam; between stations everything runs straight. [S] are the stations.

    stations - m from the pivot, from 0 to the tip, increasing; line_mass - kg/m; flatwise_stiffness,
    edgewise_stiffness - EI about the principal axes, N*m^2; structural_angle - of the stiff axis to the plane
    of turning, leading edge up, rad; flat_inertia, edge_inertia - mass moments of inertia per length about
    the axis along and the axis square to the chord, kg*m; mass_offset - of the centre of mass ahead of the
    line through the pivot along the span, m; pivot_radius - rotor axis to pivot, m; tip_mass - kg, at the
    tip.
    Raises ValueError naming the field that cannot be.
    """

    stations: FloatArray
    line_mass: FloatArray
    flatwise_stiffness: FloatArray
    edgewise_stiffness: FloatArray
    structural_angle: FloatArray
    flat_inertia: FloatArray
    edge_inertia: FloatArray
    mass_offset: FloatArray
    pivot_radius: float = 0.0
    tip_mass: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what no blade can be."""
        x = self.stations
        if x.ndim != 1 or x.size < 2 or x[0] != 0.0 or np.any(np.diff(x) <= 0.0):
            raise ValueError("stations must begin at 0, the pivot, and increase to the tip")
        for field in fields(self)[1:8]:
            values = getattr(self, field.name)
            if values.shape != x.shape or not np.all(np.isfinite(values)):
                raise ValueError(f"{field.name} must hold one finite value for each of the {x.size} stations")
        for name in ("line_mass", "flatwise_stiffness", "edgewise_stiffness"):
            if np.any(getattr(self, name) <= 0.0):
                raise ValueError(f"{name} must be positive")
        for name in ("pivot_radius", "tip_mass"):
            if not 0.0 <= getattr(self, name) < np.inf:
                raise ValueError(f"{name} must be finite and not negative")

    @property
    def length(self) -> float:
        """Pivot to tip, m."""
        return float(self.stations[-1])


@dataclass(frozen=True)
class RootSupport:
    """What holds the blade at its pivot: flap_spring, lag_spring - N*m/rad; infinite is clamped, 0 a hinge.

    Raises ValueError for a spring that is negative.
    """

    flap_spring: float = float("inf")
    lag_spring: float = float("inf")

    def __post_init__(self) -> None:
        """Refuse what no spring can be."""
        for name in ("flap_spring", "lag_spring"):
            if not getattr(self, name) >= 0.0:
                raise ValueError(f"{name} must not be negative")


CLAMPED = RootSupport()


def beam_from_sections(
    stations: ArrayLike,
    sections: SectionProperties,
    twist: ArrayLike,
    spread: MassSpread,
    *,
    pivot_radius: float = 0.0,
    mass_offset: ArrayLike = 0.0,
    tip_mass: float = 0.0,
) -> BladeBeam:
    """Blade beam from its sections and its weighed mass.

    Stiffness is that of the sections; mass and inertias are those of the sections times the factor of the
    spread. The structural angle is twist plus the principal angle.
    Arguments: stations - [S], m from the pivot, 0 to the tip; sections - SectionProperties [S]; twist - [S],
    of the chord to the plane of turning, leading edge up, rad; spread - MassSpread at the same stations;
    pivot_radius - m; mass_offset - [S] or one number, m; tip_mass - kg, not part of the spread.
    Returns a BladeBeam. Source: own, puts measured mass on computed sections.
    """
    x = np.asarray(stations, dtype=float)
    return BladeBeam(
        stations=x,
        line_mass=spread.line_mass,
        flatwise_stiffness=sections.flatwise_stiffness,
        edgewise_stiffness=sections.edgewise_stiffness,
        structural_angle=np.asarray(twist, dtype=float) + sections.principal_angle,
        flat_inertia=sections.flat_inertia * spread.factor,
        edge_inertia=sections.edge_inertia * spread.factor,
        mass_offset=np.broadcast_to(np.asarray(mass_offset, dtype=float), x.shape),
        pivot_radius=pivot_radius,
        tip_mass=tip_mass,
    )


def stiffened(beam: BladeBeam, factor: float) -> BladeBeam:
    """The beam with both bending stiffnesses times `factor`.

    Arguments: beam - BladeBeam; factor - above 0. Source: own, stated in full.
    """
    return replace(
        beam,
        flatwise_stiffness=beam.flatwise_stiffness * factor,
        edgewise_stiffness=beam.edgewise_stiffness * factor,
    )


@dataclass(frozen=True, eq=False)
class BeamMatrices:
    """Matrices of the elements; D = 4 N coordinates: w, w' at each of N nodes, then v, v' at each.

    beam, support - as given; nodes - [N], m from the pivot; mass - kg .., elastic - N/m .. with the root
    springs, tension - centrifugal stiffening over Omega^2, centrifugal - the same less the mass in lag, all
    [D, D]; free - indices of the coordinates the root support leaves free, [F].
    """

    beam: BladeBeam
    support: RootSupport
    nodes: FloatArray
    mass: FloatArray
    elastic: FloatArray
    tension: FloatArray
    centrifugal: FloatArray
    free: NDArray[np.intp]

    def kept(self, matrix: FloatArray) -> FloatArray:
        """The part [F, F] of a matrix [D, D] that belongs to free coordinates."""
        return np.asarray(matrix[np.ix_(self.free, self.free)])


def beam_matrices(beam: BladeBeam, support: RootSupport = CLAMPED, elements: int = ELEMENTS) -> BeamMatrices:
    """Finite-element matrices of a turning blade.

    Integrals of the energies above over stretches between neighbouring nodes and stations, by four Gauss
    points each: exact but for the twist, which enters by sine and cosine.
    Arguments: beam - BladeBeam; support - RootSupport; elements - number, of equal length, at least 2.
    Returns BeamMatrices. Raises ValueError for too few elements.
    Validity: slopes up to about 0.2 rad, blades much longer than their chord.
    Source: Hermite cubic beam elements with axial force, e.g. Przemieniecki, Theory of Matrix Structural
    Analysis (1968), chapters 5 and 15; centrifugal terms as Johnson, Helicopter Theory (1980), chapter 9.
    """
    if elements < 2:
        raise ValueError(f"elements must be at least 2, got {elements}")
    nodes = np.linspace(0.0, beam.length, elements + 1)
    x, weight = span_points(beam, nodes)
    value, slope, bend = (shape_rows(nodes, x, order) for order in range(3))

    def summed(rows: FloatArray, density: FloatArray) -> FloatArray:
        return np.asarray(rows.T @ ((weight * density)[:, np.newaxis] * rows))

    flat, edge, angle = (
        np.interp(x, beam.stations, values)
        for values in (beam.flatwise_stiffness, beam.edgewise_stiffness, beam.structural_angle)
    )
    sine, cosine = np.sin(angle), np.cos(angle)
    coupling = summed(bend, (flat - edge) * sine * cosine)
    flap = summed(bend, flat * cosine**2 + edge * sine**2)
    lag = summed(bend, flat * sine**2 + edge * cosine**2)
    tip = shape_rows(nodes, nodes[-1:], 0)
    inertia = summed(value, np.interp(x, beam.stations, beam.line_mass)) + beam.tip_mass * tip.T @ tip
    pull = summed(slope, outboard_pull(beam, x))
    none, half = np.zeros_like(inertia), 2 * nodes.size
    elastic = np.block([[flap, coupling], [coupling, lag]])
    held = [0, half]
    for place, spring in ((1, support.flap_spring), (half + 1, support.lag_spring)):
        if np.isinf(spring):
            held.append(place)
        else:
            elastic[place, place] += spring
    return BeamMatrices(
        beam=beam,
        support=support,
        nodes=nodes,
        mass=np.block([[inertia, none], [none, inertia]]),
        elastic=elastic,
        tension=np.block([[pull, none], [none, pull]]),
        centrifugal=np.block([[pull, none], [none, pull - inertia]]),
        free=np.setdiff1d(np.arange(2 * half), held),
    )


def span_points(beam: BladeBeam, nodes: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Places (m) [P] and weights (m) [P] of the integrals over the span; beam - BladeBeam; nodes - [N], m.

    Source: Gauss-Legendre rule between neighbouring ones of stations and nodes.
    """
    ends = np.unique(np.concatenate([beam.stations, np.asarray(nodes, dtype=float)]))
    return gauss_points(ends[np.concatenate([[True], np.diff(ends) > 1e-9 * beam.length])])


def gauss_points(ends: FloatArray, count: int = _GAUSS) -> tuple[FloatArray, FloatArray]:
    """Places (m) [P] and weights (m) [P] of integrals over stretches between `ends` (m), increasing.

    Arguments: ends - [N]; count - points in each stretch, so that P = (N - 1) count.
    Source: Gauss-Legendre rule.
    """
    place, weight = np.polynomial.legendre.leggauss(count)
    half = 0.5 * np.diff(ends)[:, np.newaxis]
    middle = 0.5 * (ends[1:] + ends[:-1])[:, np.newaxis]
    return (middle + half * place).ravel(), (half * weight).ravel()


def shape_rows(nodes: ArrayLike, places: ArrayLike, order: int) -> FloatArray:
    """Rows [P, 2 N] that turn nodal values (deflection, slope, deflection ..) into a derivative at places.

    Cubic Hermite polynomials of each element. Arguments: nodes - [N], m, increasing; places - [P], m, on the
    beam; order - of the derivative, 0, 1 or 2. Source: as for `beam_matrices`.

    >>> shape_rows([0.0, 2.0], [1.0], 0).tolist()
    [[0.5, 0.25, 0.5, -0.25]]
    """
    ends, at = np.asarray(nodes, dtype=float), np.asarray(places, dtype=float)
    element = np.clip(np.searchsorted(ends, at, side="right") - 1, 0, ends.size - 2)
    h = np.diff(ends)[element]
    s = (at - ends[element]) / h
    if order == 0:
        first = (1.0 - 3.0 * s**2 + 2.0 * s**3, h * (s - 2.0 * s**2 + s**3))
        second = (3.0 * s**2 - 2.0 * s**3, h * (s**3 - s**2))
    elif order == 1:
        first = (6.0 * (s**2 - s) / h, 1.0 - 4.0 * s + 3.0 * s**2)
        second = (6.0 * (s - s**2) / h, 3.0 * s**2 - 2.0 * s)
    else:
        first = ((12.0 * s - 6.0) / h**2, (6.0 * s - 4.0) / h)
        second = ((6.0 - 12.0 * s) / h**2, (6.0 * s - 2.0) / h)
    rows = np.zeros((at.size, 2 * ends.size))
    for offset, column in enumerate((*first, *second)):
        rows[np.arange(at.size), 2 * element + offset] = column
    return rows


def outboard_pull(beam: BladeBeam, places: ArrayLike) -> FloatArray:
    """Centrifugal pull in the blade over Omega^2 (kg*m) [P]: T = integral outboard of m (e + x), and the tip.

    Exact for a line mass running straight between stations, by Simpson's rule.
    Arguments: beam - BladeBeam; places - [P], m from the pivot. Source: equilibrium of the part outboard.
    """
    at, x = np.asarray(places, dtype=float), beam.stations

    def load(place: FloatArray) -> FloatArray:
        return np.asarray((beam.pivot_radius + place) * np.interp(place, x, beam.line_mass))

    def stretch(start: FloatArray, end: FloatArray) -> FloatArray:
        middle = load(0.5 * (start + end))
        return np.asarray((end - start) * (load(start) + 4.0 * middle + load(end)) / 6.0)

    pieces = stretch(x[:-1], x[1:])
    outboard = np.append(np.cumsum(pieces[::-1])[::-1], 0.0)
    after = np.clip(np.searchsorted(x, at, side="right"), 1, x.size - 1)
    tip = beam.tip_mass * (beam.pivot_radius + beam.length)
    return np.asarray(stretch(at, x[after]) + outboard[after] + tip)
