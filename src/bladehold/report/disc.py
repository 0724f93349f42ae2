"""Where things lie on a picture of the disc, seen from above with the flight towards the top of the page.

Azimuth is zero where the blade points down the stream, to the bottom of the page, and grows with the
turning. A rotor that turns counterclockwise advances on the right, one that turns clockwise on the left.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

RIM = 0.86  # half the picture is 1; the turning is drawn here, outside the disc


@dataclass(frozen=True, eq=False)
class DiscLoads:
    """A quantity over the disc: value - [A, S] at azimuths psi - [A], rad, even, and radii r - [S], m.

    hub_radius, radius - where the blade begins and ends, m; name and unit - of the values.
    """

    name: str
    unit: str
    r: FloatArray
    hub_radius: float
    radius: float
    psi: FloatArray
    value: FloatArray

    def __post_init__(self) -> None:
        """Refuse what is no map."""
        if self.value.shape != (self.psi.size, self.r.size):
            raise ValueError(
                f"value must have the shape of azimuths and stations, {(self.psi.size, self.r.size)}, "
                f"not {self.value.shape}"
            )
        steps = np.diff(self.psi)
        if self.psi.size < 3 or not np.allclose(steps, 2.0 * np.pi / self.psi.size):
            raise ValueError("psi must hold at least three even azimuths of one turn")
        if not np.all(np.isfinite(self.value)):
            raise ValueError("value must be finite")


@dataclass(frozen=True)
class Furniture:
    """What is drawn beside the disc, in places x, y from -1 to 1: lines, arrow heads (angle, deg), words."""

    lines: list[dict[str, Any]]
    heads: list[dict[str, Any]]
    words: list[dict[str, Any]]


def page_angle(psi: FloatArray, *, clockwise: bool) -> FloatArray:
    """Angle (rad) on the page, from the top clockwise, of an azimuth.

    >>> page_angle(np.array([0.0, 0.5 * np.pi]), clockwise=False).round(3).tolist()
    [3.142, 1.571]
    """
    return np.asarray(np.pi + psi if clockwise else np.pi - psi)


def disc_rows(loads: DiscLoads, *, clockwise: bool) -> list[dict[str, float]]:
    """One row per cell: begin and end (rad on the page), inner and outer (shares of the tip radius), value.

    A cell reaches half-way to its neighbours, the outermost to hub and tip.
    """
    half = np.pi / loads.psi.size
    middle = page_angle(loads.psi, clockwise=clockwise) % (2.0 * np.pi)
    edges = np.concatenate([[loads.hub_radius], 0.5 * (loads.r[1:] + loads.r[:-1]), [loads.radius]])
    share = edges / loads.radius
    return [
        {
            "begin": float(middle[a] - half),
            "end": float(middle[a] + half),
            "inner": float(share[s]),
            "outer": float(share[s + 1]),
            "azimuth": float(np.degrees(loads.psi[a])),
            "radius": float(1e3 * loads.r[s]),
            "value": float(loads.value[a, s]),
        }
        for a in range(loads.psi.size)
        for s in range(loads.r.size)
    ]


def furniture(*, clockwise: bool) -> Furniture:
    """The arrow of flight, the arc of turning and the words of both sides."""
    side = -1.0 if clockwise else 1.0
    # the arc runs over the front quarter of the advancing side, in the sense of the turning
    sweep = np.pi / 2 + np.linspace(-0.55, 0.35, 24)
    angle = page_angle(sweep, clockwise=clockwise)
    arc: list[dict[str, Any]] = [
        {"line": "turning", "step": k, "x": float(RIM * np.sin(a)), "y": float(RIM * np.cos(a))}
        for k, a in enumerate(angle)
    ]
    shaft: list[dict[str, Any]] = [
        {"line": "flight", "step": k, "x": 0.0, "y": y} for k, y in enumerate((0.82, 0.93))
    ]
    heading = np.degrees(angle[-1]) + (90.0 if clockwise else -90.0)
    heads = [
        {"x": 0.0, "y": 0.95, "angle": 0.0},
        {"x": arc[-1]["x"], "y": arc[-1]["y"], "angle": float(heading)},
    ]
    sense = "clockwise" if clockwise else "counterclockwise"
    words = [
        {"x": 0.16, "y": 0.92, "text": "flight"},
        {"x": 0.62 * side, "y": 0.92, "text": f"turns {sense}"},
        {"x": 0.72 * side, "y": -0.92, "text": "advancing side"},
        {"x": -0.72 * side, "y": -0.92, "text": "retreating side"},
    ]
    return Furniture([*arc, *shaft], heads, words)
