"""Screw tension of one clevis by three-dimensional finite elements, for the contact model to be held against.

Run it as `python tools/clevis_fe.py tests/validation/clevis_fe.csv`; it wants the solver `ccx` (CalculiX) on
the path. The input deck is made here and thrown away. Half of the clevis (y >= 0) in bricks of eight nodes
with incompatible modes, N, mm and MPa: two plates with their roots clamped, the lug between them with a round
hole through all three, frictionless contact without a gap. The screw is a spring between the mean rises of
the two rings under its heads, so it presses evenly and does not bend. First it is a dead force, the preload;
then a spring that keeps the preload at the stretch found. The lug is moved at its outboard end face.
"""

from __future__ import annotations

import argparse
import csv
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

HALF_LENGTH, HALF_WIDTH, ROOT, LOADED_END = 9.0, 10.0, 17.5, 15.0
PLATE, LUG = 4.0, 8.0
HOLE, HEAD, SQUARE = 2.5, 4.25, 6.0  # radii of hole and head, half side of the square around them
SCREW = 1.5e5  # N/mm
PENALTY = 3e5  # contact stiffness, MPa/mm
SCALE = 1e-3  # of all loads: without gaps all grows in proportion, and the solver's small turns stay small
METAL = "*ELASTIC\n71000., .33\n"
LAMINATE = (
    "*ELASTIC, TYPE=ENGINEERING CONSTANTS\n50000., 50000., 9000., .1, .3, .3, 5000., 3500.,\n3500., 293.\n"
)
LUGS = {"aluminium": METAL, "carbon laminate": LAMINATE}
MESHES = {"coarse": 1, "medium": 2, "fine": 3}
MOMENTS = (5e3, 10e3, 20e3, 35e3, 60e3)  # N mm
PRELOADS = (3000.0, 0.0)


@dataclass(frozen=True)
class Plan:
    """Nodes (x, y) of one layer and its quadrilaterals."""

    nodes: Floats
    cells: Ints

    def part(self, low: float, high: float) -> Plan:
        """The cells between two x."""
        middle = self.nodes[self.cells, 0].mean(axis=1)
        return Plan(self.nodes, self.cells[(middle > low) & (middle < high)])


def plan(fineness: int) -> Plan:
    """Rings around the hole out to a square, straight rows beyond it, common nodes joined."""
    side = 2 * fineness
    square = np.concatenate(
        [
            np.column_stack((np.full(side, SQUARE), np.linspace(0, SQUARE, side, endpoint=False))),
            np.column_stack(
                (np.linspace(SQUARE, -SQUARE, 2 * side, endpoint=False), np.full(2 * side, SQUARE))
            ),
            np.column_stack((np.full(side + 1, -SQUARE), np.linspace(SQUARE, 0, side + 1))),
        ]
    )
    angle = np.linspace(0.0, np.pi, len(square))
    round_ = np.column_stack((np.cos(angle), np.sin(angle)))
    rings = [round_ * r for r in np.linspace(HOLE, HEAD, fineness + 1)]
    rings += [HEAD * round_ * (1 - t) + square * t for t in np.linspace(0, 1, fineness + 1)[1:]]
    blocks = [np.stack(rings)]
    step = SQUARE / side
    across = np.linspace(0, SQUARE, side + 1)
    beyond = np.linspace(SQUARE, HALF_WIDTH, max(round((HALF_WIDTH - SQUARE) / step), 1) + 1)
    along = np.linspace(-SQUARE, SQUARE, 2 * side + 1)
    inner = np.linspace(-HALF_LENGTH, -SQUARE, fineness + 1)
    outer = np.linspace(SQUARE, HALF_LENGTH, fineness + 1)
    root = np.linspace(-ROOT, -HALF_LENGTH, round((ROOT - HALF_LENGTH) / step / 1.3) + 1)
    end = np.linspace(HALF_LENGTH, LOADED_END, 2 * fineness + 1)
    for x in (root, inner, outer, end):
        blocks += [grid(x, across), grid(x, beyond)]
    blocks.append(grid(along, beyond))
    nodes, cells = [], []
    for block in blocks:
        first = sum(map(len, nodes))
        number = first + np.arange(block.shape[0] * block.shape[1]).reshape(block.shape[:2])
        nodes.append(block.reshape(-1, 2))
        quads = np.stack((number[:-1, :-1], number[1:, :-1], number[1:, 1:], number[:-1, 1:]), axis=-1)
        cells.append(quads.reshape(-1, 4))
    points, joined = np.unique(np.round(np.concatenate(nodes), 6), axis=0, return_inverse=True)
    quads = joined.reshape(-1)[np.concatenate(cells)]
    x, y = points[quads, 0], points[quads, 1]
    area = ((np.roll(y, -1, 1) + y) * (x - np.roll(x, -1, 1))).sum(axis=1) / 2
    quads[area < 0] = quads[area < 0][:, ::-1]
    return Plan(points, quads)


def grid(x: Floats, y: Floats) -> Floats:
    """Corner points of a block of straight rows."""
    return np.stack(np.meshgrid(x, y, indexing="ij"), axis=-1)


@dataclass(frozen=True)
class Body:
    """A plan drawn out through layers: first node and element number, nodes (x, y, z), bricks."""

    name: str
    first: int
    nodes: Floats
    bricks: Ints
    cells: int

    def at(self, wanted: NDArray[np.bool_]) -> Ints:
        """Numbers of the nodes that a condition picks."""
        used = np.unique(self.bricks)
        return used[wanted[used - self.first]]

    def bottom(self) -> Ints:
        """Elements of the lowest layer."""
        return self.first + np.arange(self.cells)

    def top(self) -> Ints:
        """Elements of the highest layer."""
        return self.first + len(self.bricks) - self.cells + np.arange(self.cells)


def body(name: str, first: int, plan_: Plan, z: Floats) -> Body:
    """Bricks between the heights z."""
    count = len(plan_.nodes)
    nodes = np.concatenate([np.column_stack((plan_.nodes, np.full(count, height))) for height in z])
    lower = first + plan_.cells
    bricks = np.concatenate(
        [np.hstack((lower + layer * count, lower + (layer + 1) * count)) for layer in range(len(z) - 1)]
    )
    return Body(name, first, nodes, bricks, len(plan_.cells))


def ring(plate: Body, z: float, plan_: Plan) -> tuple[Ints, Floats]:
    """Nodes under a screw head and their shares of its face."""
    count = len(plan_.nodes)
    layer = int(np.argmin(np.abs(plate.nodes[::count, 2] - z)))
    radius = np.hypot(*plan_.nodes.T)
    quads = plan_.cells[(radius[plan_.cells] < HEAD + 1e-6).all(axis=1)]
    x, y = plan_.nodes[quads, 0], plan_.nodes[quads, 1]
    area = ((np.roll(y, -1, 1) + y) * (x - np.roll(x, -1, 1))).sum(axis=1) / 2
    share = np.zeros(count)
    np.add.at(share, quads.reshape(-1), np.repeat(area / 4, 4))
    (used,) = np.nonzero(share)
    return plate.first + layer * count + used, share[used] / share.sum()


def deck(lug: str, fineness: int, preload: float, stretch: float | None) -> str:  # noqa: PLR0915
    """Input deck: preload as dead force alone (`stretch` None), or spring and every moment in turn."""
    flat = plan(fineness)
    plates, lugs = flat.part(-ROOT, HALF_LENGTH), flat.part(-HALF_LENGTH, LOADED_END)
    half = LUG / 2
    upper = body("UPPER", 100001, plates, np.linspace(half, half + PLATE, 2 * fineness + 1))
    lower = body("LOWER", 200001, plates, np.linspace(-half - PLATE, -half, 2 * fineness + 1))
    middle = body("LUG", 300001, lugs, np.linspace(-half, half, 2 * fineness + 1))
    bodies = (upper, lower, middle)
    lines = []
    for one in bodies:
        used = np.unique(one.bricks)
        lines.append("*NODE")
        lines += [
            f"{i}, {x:.7g}, {y:.7g}, {z:.7g}"
            for i, (x, y, z) in zip(used, one.nodes[used - one.first], strict=True)
        ]
        lines.append(f"*ELEMENT, TYPE=C3D8I, ELSET={one.name}")
        lines += [", ".join(map(str, (one.first + i, *brick))) for i, brick in enumerate(one.bricks)]
    lines += ["*NODE, NSET=HEADS", f"1, 0., 0., {half + PLATE}", f"2, 0., 0., {-half - PLATE}"]
    for number, plate, z in ((1, upper, half + PLATE), (2, lower, -half - PLATE)):
        nodes, shares = ring(plate, z, flat)
        terms = [f"{number}, 3, -1."] + [
            f"{n}, 3, {share:.9g}" for n, share in zip(nodes, shares, strict=True)
        ]
        lines += ["*EQUATION", str(len(terms)), *terms]
    if stretch is not None:
        lines += ["*ELEMENT, TYPE=SPRING2, ELSET=SCREW", "900001, 1, 2", "*SPRING, ELSET=SCREW", "3, 3"]
        lines.append(f"{SCREW / 2:.6e}")
    for name, material in (("METAL", METAL), ("STUFF", LUGS[lug])):
        lines += [f"*MATERIAL, NAME={name}", material.strip()]
    for one in bodies:
        lines.append(f"*SOLID SECTION, ELSET={one.name}, MATERIAL={'STUFF' if one is middle else 'METAL'}")
    faces = (("UPPERFACE", upper.bottom(), "S1"), ("LOWERFACE", lower.top(), "S2"))
    faces += (("LUGTOP", middle.top(), "S2"), ("LUGBOTTOM", middle.bottom(), "S1"))
    for name, elements, side in faces:
        lines += [f"*SURFACE, NAME={name}, TYPE=ELEMENT", *(f"{e}, {side}" for e in elements)]
    lines += ["*SURFACE INTERACTION, NAME=PRESS", "*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR"]
    lines.append(f"{PENALTY:.6g}, 1e-8")
    lines += ["*CONTACT PAIR, INTERACTION=PRESS, TYPE=SURFACE TO SURFACE", "UPPERFACE, LUGTOP"]
    lines += ["*CONTACT PAIR, INTERACTION=PRESS, TYPE=SURFACE TO SURFACE", "LOWERFACE, LUGBOTTOM"]
    lines.append("*BOUNDARY")
    for one in bodies:
        lines += [f"{n}, 2, 2" for n in one.at(np.abs(one.nodes[:, 1]) < 1e-6)]
        if one is not middle:
            lines += [f"{n}, 1, 3" for n in one.at(one.nodes[:, 0] < -ROOT + 1e-6)]
    pin = middle.at(
        (np.abs(middle.nodes[:, 2]) < 1e-6) & (np.hypot(*(middle.nodes[:, :2] - [0, HOLE]).T) < 1e-6)
    )
    lines += [f"{n}, 1, 1" for n in pin] + ["1, 1, 2", "2, 1, 2"]
    ends = middle.at((np.abs(middle.nodes[:, 2]) < 1e-6) & (np.abs(middle.nodes[:, 1]) < 1e-6))
    ends = [n for n in ends if abs(abs(middle.nodes[n - middle.first, 0]) - HALF_LENGTH) < 1e-6]
    lines += ["*NSET, NSET=LINE", ", ".join(map(str, ends))]
    report = ["*NODE PRINT, NSET=HEADS", "U", "*NODE PRINT, NSET=LINE", "U", "*END STEP"]
    if stretch is None:
        pull = [f"1, 3, {-preload / 2:.9g}", f"2, 3, {preload / 2:.9g}"]
        step = ["*STEP, NLGEOM=NO, INC=200", "*STATIC", ".5, 1.", "*CLOAD", *pull]
        return "\n".join([*lines, *step, *report, ""])
    kept = (preload - SCREW * stretch) / 2  # tension in half the screw is this and stiffness x stretch
    pull = [f"1, 3, {-kept:.9g}", f"2, 3, {kept:.9g}"]
    end = middle.at(np.abs(middle.nodes[:, 0] - LOADED_END) < 1e-6)
    height = middle.nodes[end - middle.first, 2]
    across = middle.nodes[end - middle.first, 1]
    depth = weights(across) * weights(height)
    couple = depth * height / (depth * height**2).sum()
    for moment in (0.0, *(SCALE * moment for moment in MOMENTS)):
        lines += ["*STEP, NLGEOM=NO, INC=200", "*STATIC", ".5, 1.", "*CLOAD, OP=NEW", *pull]
        # tip up: the top of the end face is pulled inboard
        lines += [f"{n}, 1, {-moment / 2 * part:.9g}" for n, part in zip(end, couple, strict=True)]
        lines += report
    return "\n".join([*lines, ""])


def weights(values: Floats) -> Floats:
    """Length that each of the equal coordinates stands for, trapezoid rule."""
    levels, which = np.unique(np.round(values, 6), return_inverse=True)
    edges = np.concatenate(([levels[0]], (levels[1:] + levels[:-1]) / 2, [levels[-1]]))
    return np.asarray(np.diff(edges)[which])


def run(text: str) -> list[dict[int, Floats]]:
    """Displacements of the nodes printed at the end of each step."""
    with tempfile.TemporaryDirectory() as where:
        (Path(where) / "job.inp").write_text(text)
        done = subprocess.run(["ccx", "-i", "job"], cwd=where, capture_output=True, text=True, check=False)
        data = Path(where) / "job.dat"
        if done.returncode or not data.exists() or "*ERROR" in done.stdout:
            raise RuntimeError(done.stdout[-3000:])
        return displacements(data.read_text())


def displacements(text: str) -> list[dict[int, Floats]]:
    """Node displacements by time printed; only whole times are ends of steps."""
    found: dict[float, dict[int, Floats]] = {}
    time = 0.0
    for line in text.splitlines():
        words = line.split()
        if "time" in words:
            time = float(words[-1])
        elif len(words) == 4:
            found.setdefault(time, {})[int(words[0])] = np.array(words[1:], dtype=float)
    return [found[time] for time in sorted(found) if abs(time - round(time)) < 1e-9]


def cases(lug: str, mesh: str, preload: float) -> list[dict[str, str | float]]:
    """Screw tension and lug rotation for every moment."""
    stretch = 0.0
    if preload > 0.0:
        (tight,) = run(deck(lug, MESHES[mesh], SCALE * preload, None))
        stretch = float(tight[1][2] - tight[2][2])
    steps = run(deck(lug, MESHES[mesh], SCALE * preload, stretch))
    rows: list[dict[str, str | float]] = []
    for moment, step in zip((0.0, *MOMENTS), steps, strict=True):
        tension = max(preload + SCREW * (step[1][2] - step[2][2] - stretch) / SCALE, 0.0)
        ends = [rise for number, rise in sorted(step.items()) if number > 2]
        turn = float(ends[1][2] - ends[0][2]) / (2 * HALF_LENGTH * SCALE)
        rows.append(
            {
                "lug": lug,
                "mesh": mesh,
                "preload_n": preload,
                "flap_moment_nm": moment / 1e3,
                "screw_tension_n": f"{tension:.1f}",
                "lug_rotation_rad": f"{abs(turn):.6f}",
            }
        )
    return rows


def main(arguments: list[str]) -> int:
    """Write the table of all cases."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("table", type=Path)
    parser.add_argument("--meshes", nargs="+", default=list(MESHES), choices=MESHES)
    parser.add_argument("--lugs", nargs="+", default=list(LUGS), choices=LUGS)
    chosen = parser.parse_args(arguments)
    rows = []
    for lug in chosen.lugs:
        for mesh in chosen.meshes:
            for preload in PRELOADS:
                rows += cases(lug, mesh, preload)
                print(
                    lug,
                    mesh,
                    preload,
                    [row["screw_tension_n"] for row in rows[-len(MOMENTS) - 1 :]],
                    flush=True,
                )
    with chosen.table.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, rows[0], lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
