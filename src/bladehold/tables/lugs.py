"""Points read off the curves of the full lug method, and which curve a material takes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, read_table


@dataclass(frozen=True)
class LugCurves:
    """One figure: a row of factors for each parameter, all at the same points; provenances by row.

    figure - its name; parameters and points rise.
    """

    figure: str
    parameters: tuple[float, ...]
    points: tuple[float, ...]
    factors: tuple[tuple[float, ...], ...]
    provenances: tuple[Provenance, ...]

    def row(self, parameter: float) -> tuple[tuple[float, ...], Provenance]:
        """Return factors and provenance of the curve of exactly this parameter; ValueError for any other."""
        place = self.parameters.index(parameter)
        return self.factors[place], self.provenances[place]


@dataclass(frozen=True)
class LugMaterial:
    """Which curves a metal takes: net_tension, transverse - parameters in the figures of those names."""

    material: str
    net_tension: float
    transverse: float
    provenance: Provenance


@cache
def _figures() -> dict[str, LugCurves]:
    lines = read_table("lug_curves.csv", ("figure", "parameter", "x", "factor", "source", "mark"))
    names = dict.fromkeys(line.text("figure") for line in lines)
    return {name: _curves(name, [line for line in lines if line.text("figure") == name]) for name in names}


def _curves(figure: str, lines: list[Line]) -> LugCurves:
    rows: dict[float, list[Line]] = {}
    for line in lines:
        rows.setdefault(line.number("parameter"), []).append(line)
    points = {tuple(line.number("x") for line in row) for row in rows.values()}
    if len(points) != 1:
        raise lines[0].fault(f"curves of {figure} differ in their points")
    return LugCurves(
        figure=figure,
        parameters=tuple(rows),
        points=points.pop(),
        factors=tuple(tuple(line.number("factor") for line in row) for row in rows.values()),
        provenances=tuple(row[0].provenance() for row in rows.values()),
    )


@cache
def _lug_materials() -> dict[str, LugMaterial]:
    columns = ("material", "net_tension_curve", "transverse_curve", "source", "mark")
    return keyed(
        (line.text("material"), _lug_material(line)) for line in read_table("lug_materials.csv", columns)
    )


def _lug_material(line: Line) -> LugMaterial:
    return LugMaterial(
        material=line.text("material"),
        net_tension=line.number("net_tension_curve"),
        transverse=line.number("transverse_curve"),
        provenance=line.provenance(),
    )


def lug_figures() -> tuple[str, ...]:
    """Return the names of the figures in table order."""
    return tuple(_figures())


def lug_curves(figure: str) -> LugCurves:
    """Return the points of a figure, such as "net tension"; raise UnknownName for any other.

    >>> lug_curves("shear-bearing").parameters
    (1.0, 3.0, 5.0, 8.0)
    """
    return find("lug figure", figure, _figures())


def lug_material(name: str) -> LugMaterial | None:
    """Return which curves a metal takes, or None for one that the table does not know."""
    return _lug_materials().get(name)
