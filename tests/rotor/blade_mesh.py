"""An invented folding blade with known shape, as a closed mesh: what a scan of it has to find again.

Its span runs along x, the thrust along z, its leading edge lies towards +y; the rotor's axis is x = y = 0.
Lengths in mm. Camber and thickness are laid off square to the chord line, so that the greatest thickness
and the area of a section are exact.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

TIP, PIVOT, LUG_END = 304.8, 30.0, 21.0
NECK_BEGIN, NECK_END = 42.0, 66.0
KINKS = [LUG_END, 60.0, 100.0, 200.0, TIP]  # of the law of the chord


@dataclass(frozen=True)
class KnownBlade:
    """Shape of the blade by radius (mm)."""

    thickness_ratio: float = 0.12
    camber: float = 0.04
    edge: float = 0.0  # mm of blunt trailing edge

    def chord(self, r):
        return np.interp(r, KINKS, [30.0, 44.0, 50.0, 38.0, 20.0])

    def twist(self, r):
        return np.arctan2(8 * 25.4, 2 * np.pi * np.asarray(r, dtype=float))

    def thickness(self, r):
        return self.thickness_ratio * self.chord(r)

    def outline(self, r, count=160):
        """Points [2 count, 2] of the section at one radius: (towards the leading edge, along the thrust)."""
        x = 0.5 * (1.0 + np.cos(np.linspace(0.0, np.pi, count + 1)))  # trailing edge to nose
        half = _half_thickness(x) * self.thickness(r) + 0.5 * self.edge * x
        camber = (
            self.camber
            * self.chord(r)
            * np.where(x < 0.4, (0.8 * x - x**2) / 0.16, (0.2 + 0.8 * x - x**2) / 0.36)
        )
        along = (0.3 - x) * self.chord(r)
        upper = np.stack([along, camber + half], axis=-1)
        lower = np.stack([along, camber - half], axis=-1)[::-1]
        airfoil = np.concatenate([upper[:-1], lower[:-1]])
        lug = _rectangle(airfoil.shape[0], 18.0, 8.0)
        share = np.clip((r - NECK_BEGIN) / (NECK_END - NECK_BEGIN), 0.0, 1.0)
        angle = share * self.twist(r)
        points = (1.0 - share) * lug + share * airfoil
        turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
        return points @ turn

    def mesh(self, rings=90, count=160):
        """Vertices [N, 3] and faces [M, 3] of the closed surface."""
        neck = np.linspace(NECK_BEGIN, NECK_END, rings // 2)
        radii = np.unique(np.concatenate([np.linspace(LUG_END, TIP, rings), neck, KINKS]))
        outlines = [self.outline(r, count) for r in radii]
        n = len(outlines[0])
        points = [np.column_stack([np.full(n, r), o]) for r, o in zip(radii, outlines, strict=True)]
        ends = [np.append(radii[k], outlines[k].mean(axis=0)) for k in (0, -1)]
        vertices = np.concatenate([*points, ends])
        first = np.arange(n)
        second = np.roll(first, -1)
        faces = []
        for ring in range(len(radii) - 1):
            a, b = first + ring * n, second + ring * n
            faces += [np.stack([a, b, b + n], -1), np.stack([a, b + n, a + n], -1)]
        last, root, tip = (len(radii) - 1) * n, len(vertices) - 2, len(vertices) - 1
        faces.append(np.stack([np.full(n, root), second, first], -1))
        faces.append(np.stack([np.full(n, tip), first + last, second + last], -1))
        return vertices, np.concatenate(faces)

    def volume_and_balance(self):
        """Volume (mm^3) and radius of its centre (mm), from the outlines alone."""
        return _volume_and_balance(self)


def write_stl(path, vertices, faces):
    """Write a binary STL file."""
    corners = np.asarray(vertices, dtype="<f4")[faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    record = np.zeros(len(faces), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("rest", "<u2")])
    record["normal"], record["corners"] = normals, corners
    Path(path).write_bytes(bytes(80) + np.uint32(len(faces)).tobytes() + record.tobytes())
    return path


@cache
def _volume_and_balance(blade):
    r = np.linspace(LUG_END, TIP, 1501)
    area = np.array([_area(blade.outline(x)) for x in r])
    volume = np.trapezoid(area, r)
    return volume, np.trapezoid(area * r, r) / volume


def _law(x):
    return 0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1036 * x**4


GREATEST = _law(np.linspace(0.0, 1.0, 20001)).max()


def _half_thickness(x):
    """Half the thickness of a four-digit section with a closed trailing edge, over its greatest thickness."""
    return 0.5 * _law(x) / GREATEST


def _rectangle(count, width, height):
    """Points around a rectangle, as many as the section has, from the trailing edge in the same sense."""
    s = np.arange(count) / count * 4.0
    y = np.interp(s, [0.0, 0.5, 1.5, 2.5, 3.5, 4.0], [-1.0, -1.0, 1.0, 1.0, -1.0, -1.0])
    z = np.interp(s, [0.0, 0.5, 1.5, 2.5, 3.5, 4.0], [0.0, 1.0, 1.0, -1.0, -1.0, 0.0])
    y = np.where((s > 1.5) & (s < 2.5), 1.0, y)
    return np.stack([0.5 * width * y, 0.5 * height * z], axis=-1)


def _area(points):
    x, y = points.T
    return 0.5 * abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
