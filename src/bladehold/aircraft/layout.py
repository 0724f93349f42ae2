"""Where the rotors of an aircraft stand, which way they pull and which way they turn.

Axes of the body: x ahead, y to the right, z down, from the centre of mass.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

UPRIGHT = np.array([0.0, 0.0, -1.0])
ALONE, UPPER, LOWER = 0, 1, 2
NO_ROTOR = -1


@dataclass(frozen=True, eq=False)
class Frame:
    """N rotors. position - m, [N, 3]; axis - unit vector of the thrust, [N, 3]; spin - 1 clockwise seen from
    above, -1 counterclockwise, [N]; level - ALONE, UPPER or LOWER, [N]; names; steered - number of the rotor
    that tilts sideways to steer, NO_ROTOR where none does.
    """

    position: FloatArray
    axis: FloatArray
    spin: FloatArray
    level: NDArray[np.intp]
    names: tuple[str, ...]
    steered: int = NO_ROTOR

    @property
    def count(self) -> int:
        """Number of rotors."""
        return len(self.names)


def flat_frame(
    rotors: int, distance: float, first_bearing: float, height: float = 0.0, mass_ahead: float = 0.0
) -> Frame:
    """Rotors evenly on a circle in one plane, turning by turns clockwise and counterclockwise.

    The first, at its bearing, turns clockwise; they are numbered clockwise. Of an odd number, two neighbours
    turn alike; of three, whose speeds alone cannot balance the torques, the one furthest aft tilts sideways.

    Arguments: rotors - at least 3; distance - centre to rotor axis, m; first_bearing - from ahead to the
    right, rad; height - of the rotors above the centre of mass, m; mass_ahead - centre of mass ahead of the
    middle of the rotors, m. Errors: ValueError when they are fewer than 3 or the distance is not positive.
    Source: own arrangement, the trade's usual one.
    """
    if rotors < 3:
        raise ValueError(f"rotors must be 3 or more to stand in a circle, got {rotors}")
    bearing = _bearings(rotors, first_bearing)
    position = _circle(bearing, distance, height, mass_ahead)
    spin = np.where(np.arange(rotors) % 2 == 0, 1.0, -1.0)
    return Frame(
        position=position,
        axis=np.tile(UPRIGHT, (rotors, 1)),
        spin=spin,
        level=np.full(rotors, ALONE),
        names=tuple(_name(at, angle) for at, angle in enumerate(bearing)),
        steered=int(position[:, 0].argmin()) if rotors == 3 else NO_ROTOR,
    )


def coaxial_frame(
    arms: int,
    distance: float,
    first_bearing: float,
    spacing: float,
    height: float = 0.0,
    mass_ahead: float = 0.0,
) -> Frame:
    """Pairs of rotors, one above the other and turning against it, evenly on a circle.

    Upper rotors come first, numbered clockwise, then the lower ones in the same order; upper ones turn by
    turns clockwise and counterclockwise.

    Arguments: arms - at least 3; distance, first_bearing, height, mass_ahead - as in `flat_frame`, the height
    that of the middle of a pair; spacing - between the discs of a pair, m.
    Errors: ValueError when there are fewer than 3 arms, or distance or spacing is not positive.
    Source: own arrangement, the trade's usual one.
    """
    if arms < 3:
        raise ValueError(f"arms must be 3 or more to stand in a circle, got {arms}")
    if not spacing > 0.0:
        raise ValueError(f"spacing must be positive, got {spacing}")
    bearing = _bearings(arms, first_bearing)
    position = np.concatenate(
        [_circle(bearing, distance, height + side * spacing / 2, mass_ahead) for side in (1.0, -1.0)]
    )
    upper = np.where(np.arange(arms) % 2 == 0, 1.0, -1.0)
    names = [f"{_name(at, angle)}, {word}" for word in ("upper", "lower") for at, angle in enumerate(bearing)]
    return Frame(
        position=position,
        axis=np.tile(UPRIGHT, (2 * arms, 1)),
        spin=np.concatenate([upper, -upper]),
        level=np.repeat([UPPER, LOWER], arms),
        names=tuple(names),
    )


def custom_frame(
    position: ArrayLike, spin: ArrayLike, cant: ArrayLike = 0.0, cant_direction: ArrayLike = 0.0
) -> Frame:
    """Rotors anywhere, their axes tilted any way.

    Arguments: position - m, [N, 3]; spin - 1 clockwise seen from above or -1, [N]; cant - tilt of the axis,
    rad, cant_direction - bearing it tilts to, from ahead to the right, rad, broadcasting with [N].
    Errors: ValueError when positions are not [N, 3] or not finite, a spin is neither 1 nor -1, a cant is a
    right angle or more, or two rotors stand on one place.
    Source: own, spherical coordinates.
    """
    places = np.asarray(position, dtype=float)
    if places.ndim != 2 or places.shape[1] != 3 or not np.all(np.isfinite(places)):
        raise ValueError(f"position must be finite and [N, 3], got the shape {places.shape}")
    sense = np.broadcast_to(np.asarray(spin, dtype=float), places.shape[:1])
    if not np.all(np.abs(sense) == 1.0):
        raise ValueError(f"spin must be 1 or -1, got {sense}")
    tilt, towards = (np.broadcast_to(np.asarray(v, dtype=float), sense.shape) for v in (cant, cant_direction))
    if not np.all(np.abs(tilt) < np.pi / 2):
        raise ValueError(f"cant must be less than a right angle, got {tilt} rad")
    same = np.linalg.norm(places[:, None] - places[None], axis=-1) + np.eye(len(places))
    if np.any(same <= 0.0):
        one, other = np.argwhere(same <= 0.0)[0]
        raise ValueError(f"rotors {one + 1} and {other + 1} stand on one place")
    axis = np.stack([np.sin(tilt) * np.cos(towards), np.sin(tilt) * np.sin(towards), -np.cos(tilt)], axis=-1)
    bearing = np.arctan2(places[:, 1], places[:, 0])
    return Frame(
        position=places,
        axis=axis,
        spin=np.array(sense),
        level=np.full(len(places), ALONE),
        names=tuple(_name(at, angle) for at, angle in enumerate(bearing)),
    )


def overlaps(frame: Frame, diameter: float) -> tuple[tuple[int, int], ...]:
    """Pairs of rotors, by number from 0, whose discs overlap seen from above, coaxial pairs left out.

    Arguments: frame; diameter - of the rotors, m. Source: own, distance of the axes.
    """
    flat = frame.position[:, :2]
    apart = np.linalg.norm(flat[:, None] - flat[None], axis=-1)
    one, other = np.triu_indices(frame.count, 1)
    near = (apart[one, other] < diameter) & ~(
        (frame.level[one] != frame.level[other]) & (apart[one, other] < 1e-9)
    )
    return tuple(zip(one[near].tolist(), other[near].tolist(), strict=True))


def _bearings(count: int, first: float) -> FloatArray:
    return first + 2.0 * np.pi * np.arange(count) / count


def _circle(bearing: FloatArray, distance: float, height: float, mass_ahead: float) -> FloatArray:
    if not distance > 0.0:
        raise ValueError(f"distance must be positive, got {distance}")
    x, y = distance * np.cos(bearing) - mass_ahead, distance * np.sin(bearing)
    return np.stack([x, y, np.full(bearing.shape, -height)], axis=-1)


def _name(at: int, bearing: float) -> str:
    return f"{at + 1} {_words(float(bearing))}"


_WORDS = ("front", "front right", "right", "rear right", "rear", "rear left", "left", "front left")


def _words(bearing: float) -> str:
    """Where a bearing points to, in one of eight words."""
    return _WORDS[round(np.degrees(bearing) % 360.0 / 45.0) % len(_WORDS)]
