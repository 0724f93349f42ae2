"""Cells of batteries: open-circuit voltage over charge, how resistance goes with charge and warmth."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, read_table


@dataclass(frozen=True)
class CellVoltage:
    """One point of the open-circuit curve: charge left, 0 to 1; voltage, V."""

    chemistry: str
    charge: float
    voltage: float
    provenance: Provenance


@dataclass(frozen=True)
class Cell:
    """One chemistry.

    resistance - of a cell, warm and full, times its capacity, ohm A s; empty_rise, empty_charge - the
    resistance is 1 + empty_rise exp(-charge / empty_charge) times that of a full cell; slow_share -
    resistance of the slow branch over that of a full cell, slow_time - its time constant, s; activation -
    energy with which the resistance goes with temperature, J/mol.
    """

    chemistry: str
    resistance: float
    empty_rise: float
    empty_charge: float
    slow_share: float
    slow_time: float
    activation: float
    resistance_provenance: Provenance
    shape_provenance: Provenance
    activation_provenance: Provenance


_HOUR = 3600.0
_SHAPE = ("empty_rise", "empty_charge", "slow_share", "slow_time", "activation")
_SOURCES = tuple(
    f"{group}_{word}" for group in ("resistance", "shape", "activation") for word in ("source", "mark")
)


def _cell(line: Line) -> Cell:
    return Cell(
        chemistry=line.text("chemistry"),
        resistance=_HOUR * line.number("resistance_ah"),
        **{name: line.number(name) for name in _SHAPE},
        resistance_provenance=line.provenance("resistance"),
        shape_provenance=line.provenance("shape"),
        activation_provenance=line.provenance("activation"),
    )


@cache
def _cells() -> dict[str, Cell]:
    lines = read_table("cells.csv", ("chemistry", "resistance_ah", *_SHAPE, *_SOURCES))
    return keyed((row.chemistry, row) for row in map(_cell, lines))


def cell(chemistry: str) -> Cell:
    """Return a chemistry by name; raises UnknownName with the nearest and all known names."""
    return find("cell chemistry", chemistry, _cells())


def cell_names() -> tuple[str, ...]:
    """Return the names of all chemistries."""
    return tuple(_cells())


@cache
def cell_voltages(chemistry: str) -> tuple[CellVoltage, ...]:
    """Return the open-circuit curve of a chemistry, empty to full; errors as for `cell`."""
    cell(chemistry)
    lines = read_table("cell_voltage.csv", ("chemistry", "charge", "voltage", "source", "mark"))
    found = [
        CellVoltage(line.text("chemistry"), line.number("charge"), line.number("voltage"), line.provenance())
        for line in lines
        if line.text("chemistry") == chemistry
    ]
    return tuple(sorted(found, key=lambda point: point.charge))
