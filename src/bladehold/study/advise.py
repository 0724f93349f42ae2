"""Advise: the one change that helps most, found by trying, not by rule of thumb."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from bladehold.sheet.build import Build
from bladehold.study import change
from bladehold.study.assess import Assessment, assess
from bladehold.study.checks.registry import MOUNTING
from bladehold.tables import property_class, thread_names

_STRONGER = ("A2-70", "8.8", "10.9", "12.9")


@dataclass(frozen=True)
class Advice:
    """One change in words, the smallest margin before and after it, and what governs then."""

    text: str
    before: float
    after: float
    governing: str


def helps_most(found: Assessment) -> Advice | None:
    """Return the single change that lifts the smallest margin most; None when none of those tried helps.

    Tried: the next two pivot screws, each stronger class, both at once, a plain shank in the shear
    planes, washers, plates 1 mm thicker, a lug 4 mm wider, the next mounting screws.
    """
    best: Advice | None = None
    for text, make in _changes(found.build):
        try:
            after = assess(make(), found.loads)
        except change.MisfitError:
            continue
        if after.margin > found.margin + 0.005 and (best is None or after.margin > best.after + 0.005):
            best = Advice(text, found.margin, after.margin, after.governing.key)
    return best


def _changes(build: Build) -> Iterator[tuple[str, Callable[[], Build]]]:
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
    yield "plates 1 mm thicker", partial(change.with_thicker_plates, build, 1e-3)
    yield "a lug 4 mm wider, and 2 mm longer beyond the hole", partial(change.with_wider_lug, build, 4e-3)
    yield from _mounting_changes(build)


def _screw(build: Build, size: str, name: str) -> Callable[[], Build]:
    return partial(change.with_pivot_screw, build, size, property_class(name))


def _mounting_changes(build: Build) -> Iterator[tuple[str, Callable[[], Build]]]:
    screw, names = build.mounting.screw, thread_names()
    for size in names[names.index(screw.thread.name) + 1 :][:1]:
        text = f"{MOUNTING} {screw.thread.name} -> {size} class 8.8"
        yield text, partial(change.with_mounting_screws, build, size, "8.8")
