"""What a screw loses after tightening, and what keeps it from turning: embedding, creep, ways of locking."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bladehold.tables.lookup import find, keyed, of_size
from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import MICRO, Line, read_table


@dataclass(frozen=True)
class Embedding:
    """Guide values for faces of one roughness, m: of the thread, under head or nut, of an inner face.

    direction - of the working load, "axial" or "transverse"; rz_low, rz_high - roughness Rz, m.
    """

    roughness: str
    direction: str
    rz_low: float
    rz_high: float
    thread: float
    bearing_face: float
    inner_face: float
    provenance: Provenance


@dataclass(frozen=True)
class Relaxation:
    """Creep of one clamped material: F / F0 = 1 / (1 + coefficient (t / shift)^exponent), t in weeks."""

    name: str
    coefficient: float
    exponent: float
    shift: float
    provenance: Provenance
    note: str


@dataclass(frozen=True)
class Locking:
    """A way of locking and what it holds, "preload", "nut" or "nothing".

    no_slip - in a joint that does not slip; slip - in one that does; slip_with_axial - with axial load too.
    """

    name: str
    principle: str
    no_slip: str
    slip: str
    slip_with_axial: str
    provenance: Provenance


_EMBEDDING = (
    "roughness",
    "direction",
    "rz_low_um",
    "rz_high_um",
    "thread_um",
    "bearing_face_um",
    "inner_face_um",
    "source",
    "mark",
)
_LOCKING = ("name", "principle", "no_slip", "slip", "slip_with_axial", "source", "mark")
_HELD = ("preload", "nut", "nothing")


def _embedding(line: Line) -> Embedding:
    return Embedding(
        roughness=line.text("roughness"),
        direction=line.text("direction"),
        rz_low=line.number("rz_low_um", MICRO),
        rz_high=line.number("rz_high_um", MICRO),
        thread=line.number("thread_um", MICRO),
        bearing_face=line.number("bearing_face_um", MICRO),
        inner_face=line.number("inner_face_um", MICRO),
        provenance=line.provenance(),
    )


@cache
def _embeddings() -> dict[tuple[str, str], Embedding]:
    rows = (_embedding(line) for line in read_table("embedding.csv", _EMBEDDING))
    return keyed(((row.roughness, row.direction), row) for row in rows)


def _relaxation(line: Line) -> Relaxation:
    return Relaxation(
        name=line.text("name"),
        coefficient=line.number("coefficient"),
        exponent=line.number("exponent"),
        shift=line.number("shift"),
        provenance=line.provenance(),
        note=line.text("note"),
    )


@cache
def _relaxations() -> dict[str, Relaxation]:
    required = ("name", "coefficient", "exponent", "shift", "source", "mark", "note")
    return keyed((line.text("name"), _relaxation(line)) for line in read_table("relaxation.csv", required))


def _locking(line: Line) -> Locking:
    for column in ("no_slip", "slip", "slip_with_axial"):
        if line.text(column) not in _HELD:
            raise line.fault(f"{column} is {line.text(column)!r}, not one of {', '.join(_HELD)}")
    texts = {column: line.text(column) for column in _LOCKING[:5]}
    return Locking(**texts, provenance=line.provenance())


@cache
def _lockings() -> dict[str, Locking]:
    return keyed((line.text("name"), _locking(line)) for line in read_table("locking.csv", _LOCKING))


def embedding(roughness: str, direction: str) -> Embedding:
    """Return the guide values for a roughness ("fine", "medium", "rough") and a direction of load.

    Raises UnknownName for any other.
    """
    return of_size("embedding", roughness, direction, _embeddings())


def relaxation_names() -> tuple[str, ...]:
    """Return the names of the materials whose creep is known, in table order."""
    return tuple(_relaxations())


def relaxation(name: str) -> Relaxation:
    """Return the creep of the clamped material called `name`; raise UnknownName for any other."""
    return find("creep of", name, _relaxations())


def locking_names() -> tuple[str, ...]:
    """Return the names of the ways of locking in table order."""
    return tuple(_lockings())


def locking(name: str) -> Locking:
    """Return the way of locking called `name`; raise UnknownName for any other."""
    return find("way of locking", name, _lockings())
