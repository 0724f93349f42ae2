"""The clevis of `joint.contact` written again, slowly: one case, dense matrices, any number of elements."""

import numpy as np
from scipy.optimize import brentq
from scipy.special import legendre

POINTS, WEIGHTS = np.polynomial.legendre.leggauss(10)
ENDED = np.array([-1, *np.sort(np.roots(np.polyder(np.poly1d(legendre(9).coef)))), 1])  # with both ends
ENDED_WEIGHTS = 2 / (90 * legendre(9)(ENDED) ** 2)


def hermite(s, length):
    """Deflection shapes of a beam element at s of its length."""
    return np.array(
        [
            1 - 3 * s**2 + 2 * s**3,
            length * (s - 2 * s**2 + s**3),
            3 * s**2 - 2 * s**3,
            length * (s**3 - s**2),
        ]
    )


def element(length, bending):
    turn = [6 * length, 4 * length**2, 2 * length**2]
    return (
        bending
        / length**3
        * np.array(
            [
                [12, turn[0], -12, turn[0]],
                [turn[0], turn[1], -turn[0], turn[2]],
                [-12, -turn[0], 12, -turn[0]],
                [turn[0], turn[2], -turn[0], turn[1]],
            ]
        )
    )


class PlainClevis:
    """Keyword arguments of `clevis_model`, as floats; `parts` elements along each half of the contact."""

    def __init__(self, parts=1, **given):
        self.given = {
            "hole_diameter": 0.0,
            "head_diameter": 0.0,
            "contact": "round",
            "gap": 0.0,
            "upper_root": "clamped",
            "core_stiffness": 0.0,
            "tie_stiffness": 0.0,
            "tie_preload": 0.0,
            "spacer_stiffness": 0.0,
            **given,
        }
        g = self.given
        a, root = g["half_length"], g["root_distance"]
        tie = g.get("tie_distance", (a + root) / 2)
        self.nodes = np.concatenate(([-root, -tie], np.linspace(-a, a, 2 * parts + 1)))
        n = len(self.nodes)
        self.lug = self.nodes[2:] if "lug_bending" in g else None
        self.size = 4 * n + (2 if self.lug is None else 2 * len(self.lug))
        self.k = np.zeros((self.size, self.size))
        for plate, bending in enumerate((g["upper_bending"], g["lower_bending"])):
            for i, length in enumerate(np.diff(self.nodes)):
                at = 2 * n * plate + 2 * i + np.arange(4)
                self.k[np.ix_(at, at)] += element(length, bending)
        if self.lug is not None:
            for i, length in enumerate(np.diff(self.lug)):
                at = 4 * n + 2 * i + np.arange(4)
                self.k[np.ix_(at, at)] += element(length, g["lug_bending"])
        self.rows, self.stiffness, self.gaps = [], [], []
        for plate, side in ((0, 1.0), (1, -1.0)):
            for x, dx, width in zip(*self.strips(parts), strict=True):
                row = -side * self.deflection(plate, x)
                row += side * self.lug_row(x)
                self.add(row, g["foundation"] * width * dx, -g["gap"])
        self.head = self.head_row(0) - self.head_row(1)
        self.tie = self.deflection(0, -tie) - self.deflection(1, -tie)
        self.add(-self.tie, g["spacer_stiffness"], 0.0)
        held = g["upper_root"] != "clamped"
        self.add(-self.deflection(0, -root), g["core_stiffness"] if held else 0.0, 0.0)
        fixed = {"clamped": [0, 1], "guided": [1], "free": []}[g["upper_root"]] + [2 * n, 2 * n + 1]
        self.free = np.setdiff1d(np.arange(self.size), fixed)
        self.rows, self.stiffness, self.gaps = map(np.array, (self.rows, self.stiffness, self.gaps))

    def add(self, row, stiffness, gap):
        self.rows.append(row)
        self.stiffness.append(stiffness)
        self.gaps.append(gap)

    def deflection(self, plate, x):
        return self.beam_row(self.nodes, 2 * len(self.nodes) * plate, x)

    def lug_row(self, x):
        if self.lug is not None:
            return self.beam_row(self.lug, 4 * len(self.nodes), x)
        row = np.zeros(self.size)
        row[-2:] = 1.0, x
        return row

    def beam_row(self, nodes, first, x):
        row = np.zeros(self.size)
        i = int(np.clip(np.searchsorted(nodes, x) - 1, 0, len(nodes) - 2))
        length = nodes[i + 1] - nodes[i]
        row[first + 2 * i : first + 2 * i + 4] = hermite((x - nodes[i]) / length, length)
        return row

    def head_row(self, plate):
        g = self.given
        outer, inner = g["head_diameter"] / 2, g["hole_diameter"] / 2
        if outer <= inner:
            return self.deflection(plate, 0.0)
        r = (outer + inner) / 2 + (outer - inner) / 2 * POINTS
        angle = (np.arange(400) + 0.5) * np.pi / 400
        rows = [
            w * ri * self.deflection(plate, ri * np.cos(t))
            for ri, w in zip(r, WEIGHTS, strict=True)
            for t in angle
        ]
        return sum(rows) / (WEIGHTS @ r) / len(angle)

    def strips(self, parts):
        g = self.given
        a, radius = g["half_length"], g["hole_diameter"] / 2
        x = np.concatenate(
            [n + (m - n) * (1 + ENDED) / 2 for n, m in zip(self.nodes[2:-1], self.nodes[3:], strict=True)]
        )
        dx = np.concatenate(
            [(m - n) * ENDED_WEIGHTS / 2 for n, m in zip(self.nodes[2:-1], self.nodes[3:], strict=True)]
        )
        bore = 2 * np.sqrt(np.maximum(radius**2 - x**2, 0))
        if radius > 0:
            bore *= np.pi * radius**2 / (bore @ dx)
        width = np.full(len(x), g["contact_width"])
        if g["contact"] == "round":
            width = np.minimum(width, 2 * np.sqrt(a**2 - x**2))
        return x, dx, np.maximum(width - bore, 0)

    def least(self, load, rows, stiffness, gaps):
        """Damped Newton to the least energy, with the step found by bisection of the slope along it."""
        free = self.free
        k, rows, load = self.k[np.ix_(free, free)], rows[:, free], load[free]

        def gradient(v):
            return k @ v - load + rows.T @ (stiffness * np.maximum(rows @ v + gaps, 0))

        v = np.zeros(len(free))
        tiny = 1e-13 * stiffness.max() * np.eye(len(free))
        for _ in range(300):
            slope = gradient(v)
            on = stiffness * (rows @ v + gaps >= 0)
            if np.abs(slope).max() < 1e-10 * max(np.abs(load).max(), 1e-9):
                break
            step = -np.linalg.solve(k + rows.T @ (on[:, np.newaxis] * rows) + tiny, slope)

            def along(t, v=v, step=step):
                return gradient(v + t * step) @ step

            v = v + (1.0 if along(1.0) <= 0 else brentq(along, 0.0, 1.0, xtol=1e-15)) * step
        out = np.zeros(self.size)
        out[free] = v
        return out

    def solve(self, flap_moment, lift, preload, spread=0.0):
        """Screw tension, contact forces, tie, spacer and core force, lug rotation, clamp."""
        g = self.given
        dead = -preload * self.head - g["tie_preload"] * self.tie
        before = self.least(dead, self.rows, self.stiffness, self.gaps)
        load = spread * self.head
        # loads enter a lug that bends at its outboard end
        load[-2:] += lift, flap_moment - (0.0 if self.lug is None else lift * g["half_length"])
        k_tie = g["tie_stiffness"]
        rows = np.vstack((self.rows, self.head, self.tie))
        stiffness = np.array([*self.stiffness, g["screw_stiffness"], k_tie])
        offset = [preload / g["screw_stiffness"] - self.head @ before]
        offset.append(g["tie_preload"] / k_tie - self.tie @ before if k_tie else 0.0)
        gaps = np.array([*self.gaps, *offset])
        after = self.least(load, rows, stiffness, gaps)
        force = stiffness * np.maximum(rows @ after + gaps, 0)
        first = self.stiffness * np.maximum(self.rows @ before + self.gaps, 0)
        count = (len(force) - 4) // 2
        return {
            "screw_tension": force[-2],
            "upper_force": force[:count].sum(),
            "lower_force": force[count : 2 * count].sum(),
            "spacer_force": force[-4],
            "core_force": force[-3],
            "tie_force": force[-1],
            "lug_rotation": after[-1] - before[-1],
            "clamp": first[:count].sum(),
        }
