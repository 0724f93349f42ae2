"""Friction and scatter of tightening: lubrication states and tightening methods."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import Line, read_table
from bladehold.tables.shapes import Real


@dataclass(frozen=True)
class Lubrication:
    """State of thread and head face when tightened by torque.

    nut_factor_low, nut_factor_high - customary range of K in T = K d F, None where the source gives
    none; preload_scatter - Gamma: the preload lies within (1 - Gamma) and (1 + Gamma) of its nominal.
    """

    name: str
    nut_factor_low: float | None
    nut_factor_high: float | None
    nut_factor_provenance: Provenance | None
    preload_scatter: float
    scatter_provenance: Provenance


@dataclass(frozen=True)
class Tightening:
    """Way of tightening: customary range of its preload scatter, as a fraction of the mean either way."""

    name: str
    scatter_low: float
    scatter_high: float
    provenance: Provenance


def tightening_factor(scatter: Real) -> Real:
    """Return the ratio of the largest to the smallest assembly preload.

    Formula: alpha_A = (1 + s)/(1 - s).
    Arguments: scatter - s, fraction of the mean preload either way, 0 to below 1 (scalar or array).
    Returns alpha_A, at least 1.
    Source: VDI 2230, tightening factor.

    >>> round(tightening_factor(0.23), 2)
    1.6
    """
    return (1 + scatter) / (1 - scatter)


def _lubrication(line: Line) -> Lubrication:
    low, high = line.optional_number("nut_factor_low"), line.optional_number("nut_factor_high")
    return Lubrication(
        name=line.text("name"),
        nut_factor_low=low,
        nut_factor_high=high,
        nut_factor_provenance=line.optional_provenance("nut_factor", low, high),
        preload_scatter=line.number("preload_scatter"),
        scatter_provenance=line.provenance("scatter"),
    )


@cache
def _lubrications() -> dict[str, Lubrication]:
    required = ("name", "preload_scatter", "scatter_source", "scatter_mark")
    optional = ("nut_factor_low", "nut_factor_high", "nut_factor_source", "nut_factor_mark")
    lines = read_table("friction_preload.csv", required, optional)
    return keyed((line.text("name"), _lubrication(line)) for line in lines)


def _tightening(line: Line) -> Tightening:
    low, high = line.number("scatter_low"), line.number("scatter_high")
    return Tightening(line.text("name"), low, high, line.provenance())


@cache
def _tightenings() -> dict[str, Tightening]:
    lines = read_table("tightening.csv", ("name", "scatter_low", "scatter_high", "source", "mark"))
    return keyed((line.text("name"), _tightening(line)) for line in lines)


def lubrication_names() -> tuple[str, ...]:
    """Return the names of the lubrication states in table order."""
    return tuple(_lubrications())


def lubrication(name: str) -> Lubrication:
    """Return the lubrication state called `name`, such as "dry"; raise UnknownName for any other."""
    return find("lubrication state", name, _lubrications())


def tightening_names() -> tuple[str, ...]:
    """Return the names of the tightening methods in table order."""
    return tuple(_tightenings())


def tightening(name: str) -> Tightening:
    """Return the tightening method called `name`; raise UnknownName for any other."""
    return find("tightening method", name, _tightenings())
