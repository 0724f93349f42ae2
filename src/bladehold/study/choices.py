"""What may be chosen for a hub: other screws, plates, lugs, ties, bushes and materials, one axis each."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from bladehold.sheet.build import Build
from bladehold.sheet.wanted import Bush, Tie
from bladehold.study import change
from bladehold.study.size import USUAL_CLASSES
from bladehold.tables import (
    Material,
    material,
    material_names,
    nearest_name,
    property_class,
    thread,
    thread_names,
)

SCREW, PLATES, LUG, TIES = "screw", "plates", "lug", "ties"
BUSH, PLATE_MATERIAL, LUG_MATERIAL = "bush", "plate-material", "lug-material"
AXES = (PLATE_MATERIAL, LUG_MATERIAL, PLATES, LUG, BUSH, TIES, SCREW)
"""In the order in which changes are made: the screw last, which drills what is there by then."""

_PLATE_STEPS, _LUG_STEPS = (0.5e-3, 1e-3, 2e-3), (1e-3, 2e-3)  # m, thicker than now
_SAME = 1e-9  # m: what the hub has already is no choice beside leaving it as it is
_WALL = 1e-3  # m, of a bush where none is
_BUSH_MATERIAL = "17-4PH"
AS_IT_IS = "as it is"


@dataclass(frozen=True)
class Choice:
    """One thing on one axis: in words; make - the build changed, MisfitError where it does not fit."""

    axis: str
    words: str
    make: Callable[[Build], Build]


def kept(axis: str) -> Choice:
    """Return the choice to leave an axis as it is."""
    return Choice(axis, AS_IT_IS, lambda build: build)


def known_axis(name: str) -> str:
    """Return the name of an axis. Errors: ValueError with the names there are, and the nearest."""
    if name in AXES:
        return name
    near = nearest_name(name[:200], AXES)
    hint = f"did you mean {near}?" if near else f"there are {', '.join(AXES)}"
    raise ValueError(f'no part called "{name[:60]}" to choose over; {hint}')


def screws(
    build: Build, threads: Sequence[str] = (), classes: Sequence[str] = (), *, keep_holes: bool = False
) -> list[Choice]:
    """Return pivot screws to choose from, thread by thread, weakest class first; all threads and the usual
    classes where none are named.

    keep_holes - refuse screws whose holes are smaller than those there are: a hole can be opened, not closed.
    The lug's may be filled by a new bush; plates or lugs made anew have no holes yet.
    Errors: UnknownName for a thread or class that is not in the tables.
    """
    strengths = sorted(
        (property_class(name) for name in classes or USUAL_CLASSES), key=lambda row: row.yield_strength
    )

    def screw(now: Build, size: str, name: str) -> Build:
        found = change.with_pivot_screw(now, size, property_class(name))
        if keep_holes:
            change.no_hole_shrinks(build, found)
        return change.with_free_length(found)

    return [
        Choice(SCREW, f"{size} {row.name}", partial(screw, size=size, name=row.name))
        for size in (thread(name).name for name in threads or thread_names())
        for row in strengths
    ]


def plates(build: Build, thicknesses: Sequence[float] = ()) -> list[Choice]:
    """Return plate thicknesses (m) to choose from, a little thicker ones where none are named."""
    wanted = thicknesses or [build.hub.plate_thickness + step for step in _PLATE_STEPS]
    other = [t for t in wanted if abs(t - build.hub.plate_thickness) > _SAME]
    return [Choice(PLATES, _millimetres(t), partial(change.with_plates, thickness=t)) for t in other]


def lugs(build: Build, thicknesses: Sequence[float] = ()) -> list[Choice]:
    """Return lug thicknesses (m) to choose from, a little thicker ones where none are named."""
    wanted = thicknesses or [build.hub.lug_thickness + step for step in _LUG_STEPS]
    other = [t for t in wanted if abs(t - build.hub.lug_thickness) > _SAME]
    return [Choice(LUG, _millimetres(t), partial(change.with_lug, thickness=t)) for t in other]


def ties(build: Build, wanted: Sequence[Tie] = ()) -> list[Choice]:
    """Return tie screws to choose from; where none are named the present and next two threads, one and two
    of them.
    """
    if not wanted:
        old, names = build.ties.screw, thread_names()
        first = names.index("M3" if old is None else old.thread.name)
        strength = "8.8" if old is None else old.strength.name
        wanted = [Tie(count, size, strength) for size in names[first : first + 3] for count in (1, 2)]

    def tied(now: Build, tie: Tie) -> Build:
        if tie.count == 0:
            return change.without_ties(now)
        return change.with_ties(now, tie.count, tie.size, property_class(tie.strength))

    return [
        Choice(
            TIES,
            f"{tie.count} x {tie.size} {tie.strength}" if tie.count else "none",
            partial(tied, tie=tie),
        )
        for tie in wanted
    ]


def bushes(wanted: Sequence[Bush] = ()) -> list[Choice]:
    """Return bushes to choose from; without any named, none and one of 1 mm of 17-4PH."""
    found = []
    for bush in wanted or (Bush(0.0), Bush(_WALL, _BUSH_MATERIAL)):
        if bush.wall <= 0.0:
            found.append(Choice(BUSH, "none", change.without_bush))
            continue
        row = material(bush.material)
        words = f"{_millimetres(bush.wall)} {row.name}"
        found.append(Choice(BUSH, words, partial(change.with_bush, wall=bush.wall, material=row)))
    return found


def materials(build: Build, axis: str, names: Sequence[str] = ()) -> list[Choice]:
    """Return materials of plates or lug to choose from, other than the present one; without any named, metals
    for plates, laminates and metals for lugs.
    """
    hub = build.hub
    present = hub.plate_material if axis == PLATE_MATERIAL else hub.lug_material
    make = change.with_plate_material if axis == PLATE_MATERIAL else change.with_lug_material
    kinds = {"metal"} if axis == PLATE_MATERIAL else {"metal", "laminate"}
    wanted: list[Material] = [material(name) for name in names or material_names()]
    chosen = [row for row in wanted if (names or row.kind in kinds) and row != present]
    return [Choice(axis, row.name, partial(make, name=row.name)) for row in chosen]


def choices_of(
    build: Build, items: Mapping[str, Sequence[Any]], over: Sequence[str] = (), *, keep_holes: bool = False
) -> dict[str, list[Choice]]:
    """Return what a search chooses from, by axis: the items named, and on the axes of `over` without items
    the usual ones; over pivot screws alone where nothing is named.

    Arguments: build; items - by part, as `sheet.wanted` reads them; over - names of axes; keep_holes - as in
    `screws`. Errors: ValueError for an axis that is none.
    """
    axes = {known_axis(name) for name in over}
    axes |= {SCREW if part in {"thread", "class"} else part for part in items}
    if not axes:
        axes = {SCREW}

    def of(axis: str) -> list[Choice]:
        named = items.get(axis, ())
        if axis == SCREW:
            return screws(build, items.get("thread", ()), items.get("class", ()), keep_holes=keep_holes)
        if axis == BUSH:
            return bushes(named)
        if axis in {PLATE_MATERIAL, LUG_MATERIAL}:
            return materials(build, axis, named)
        if axis == TIES:
            return ties(build, named)
        return plates(build, named) if axis == PLATES else lugs(build, named)

    return {axis: of(axis) for axis in AXES if axis in axes}


def _millimetres(metres: float) -> str:
    return f"{1e3 * metres:.4g} mm"
