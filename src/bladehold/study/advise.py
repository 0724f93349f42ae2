"""Advise: the one change that helps most, found by trying, not by rule of thumb."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from bladehold.sheet.build import Build
from bladehold.study import change
from bladehold.study.assess import Assessment, weakest
from bladehold.study.checks.parts import MOUNTING
from bladehold.study.mass import retention_mass
from bladehold.study.situation import Situation
from bladehold.tables import property_class, thread_names

_STRONGER = ("A2-70", "8.8", "10.9", "12.9")
_NOTICEABLE = 0.005  # of margin; less is not worth a change


@dataclass(frozen=True)
class Advice:
    """One change in words, the smallest margin before and after it, what governs then, and what the change
    adds to one rotor's mass (kg).
    """

    text: str
    before: float
    after: float
    governing: str
    added: float


@dataclass(frozen=True)
class Advices:
    """most - the change that lifts the smallest margin most; enough - the one of least effort that is enough.

    Either is None where no change tried is such; enough is None too where nothing needs to change.
    """

    most: Advice | None
    enough: Advice | None


def advise(found: Assessment) -> Advices:
    """Try single changes and return the one that helps most and the least one that is enough.

    Tried, in order of effort: washers, each stronger class, a plain shank in the shear planes, the next two
    pivot screws in the same and in each stronger class, plates 1 mm thicker, a lug 4 mm wider, the next
    mounting screws. Enough is a smallest margin above the policy's marginal band.
    """
    most: Advice | None = None
    enough: Advice | None = None
    wanted, now = found.build.policy.marginal, sum(retention_mass(found.build).values())
    for text, make in changes_of(found.build):
        try:
            changed = make()
            after, governing = weakest(Situation(changed, found.loads))
        except change.MisfitError:
            continue
        if after < found.margin + _NOTICEABLE:
            continue
        added = sum(retention_mass(changed).values()) - now
        this = Advice(text, found.margin, after, governing, added)
        if most is None or after > most.after + _NOTICEABLE:
            most = this
        if enough is None and found.margin < wanted <= after:
            enough = this
    return Advices(most, enough)


def changes_of(build: Build) -> Iterator[tuple[str, Callable[[], Build]]]:
    """The changes tried, the least effort first: of two that help alike the first is kept."""
    screw, names = build.pivot, thread_names()
    if not screw.washers:
        yield "washers under head and nut of the pivot screw", partial(change.with_washers, build)
    stronger = [n for n in _STRONGER if property_class(n).yield_strength > screw.strength.yield_strength]
    for name in stronger:
        yield f"pivot screw class {screw.strength.name} -> {name}", _screw(build, screw.thread.name, name)
    if screw.shear_plane == "thread":
        text = "a pivot screw with a plain shank across the lug faces instead of threads"
        yield text, partial(change.with_plain_shank, build)
    place = names.index(screw.thread.name)
    for size in names[place + 1 : place + 3]:
        text = f"pivot screw {screw.thread.name} -> {size}"
        yield f"{text}, same class", partial(change.with_pivot_screw, build, size, screw.strength)
        for name in stronger:
            yield f"{text} and class {screw.strength.name} -> {name}", _screw(build, size, name)
    yield "plates 1 mm thicker", partial(change.with_plates, build, build.hub.plate_thickness + 1e-3)
    yield "a lug 4 mm wider, and 2 mm longer beyond the hole", partial(change.with_wider_lug, build, 4e-3)
    yield from _mounting_changes(build)


def _screw(build: Build, size: str, name: str) -> Callable[[], Build]:
    return partial(change.with_pivot_screw, build, size, property_class(name))


def _mounting_changes(build: Build) -> Iterator[tuple[str, Callable[[], Build]]]:
    screw, names = build.mounting.screw, thread_names()
    for size in names[names.index(screw.thread.name) + 1 :][:1]:
        text = f"{MOUNTING} {screw.thread.name} -> {size} class 8.8"
        yield text, partial(change.with_mounting_screws, build, size, "8.8")
