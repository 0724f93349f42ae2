"""Every cycle of load that a part goes through in an hour of flight: in each turn, in each flight, in its
loops.

Turns are counted by their number. What lies between the conditions of a flight is counted by rainflow, on the
part's own stress; other loads of the same part are then taken at the same two instants.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from bladehold.joint.counting import rainflow_pairs
from bladehold.joint.fatigue_parts import PartLife
from bladehold.study.course import REST, Course
from bladehold.study.loads import Loads
from bladehold.study.turns import Series

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

COURSE = -2
"""Stands for the condition of cycles between the conditions of a flight."""
TURNS, SECOND, START_STOP = "turns", "within turns", "start and stop"
_HOUR = 3600.0


@dataclass(frozen=True, eq=False)
class Span:
    """Greatest and least of one load over each kind of cycle, the last axis."""

    greatest: FloatArray
    least: FloatArray


@dataclass(frozen=True, eq=False)
class Counted:
    """A part under all its cycles.

    stress - of each kind of cycle, [V, ..., K], V the states that are looked at one by one; rates - cycles
    per hour of flight, [V, ..., K]; place - the condition of each kind, COURSE where it lies between several,
    [K]; group - that its damage is summed in, [K].
    """

    stress: PartLife
    rates: FloatArray
    place: IntArray
    group: tuple[str, ...]
    turning: NDArray[np.bool_]


def counted(
    loads: Loads,
    flight_time: float,
    turns: FloatArray,
    stress_of: Callable[..., PartLife],
    *series: Series,
) -> Counted:
    """Count a part's cycles and find its stress in each.

    Arguments: loads - of the conditions, with their courses; flight_time - s; turns - cycles per hour in each
    condition, [..., C + 1]; stress_of - life of the part under the spans of its loads; series - those loads.
    Source: definition; rainflow as in `bladehold.joint.counting`.
    """
    count = len(loads.names) - 1
    inside = slice(None, count)
    instants = [np.concatenate([one.high, one.low], axis=-1) for one in series]
    static = stress_of(*(Span(values, values) for values in instants)).greatest
    between = [_between(static, course, count, flight_time) for course in loads.courses]
    seconds = bool(np.any(loads.root.flap_second))
    spans = []
    for one, values in zip(series, instants, strict=True):
        parts = [Span(one.high[..., inside], one.low[..., inside])]
        if seconds:
            parts.append(Span(one.second_high[..., inside], one.second_low[..., inside]))
        wide = np.broadcast_to(values, static.shape)
        parts += [_span(wide, ends) for ends in between]
        spans.append(_joined(parts, static.shape[:-1]))
    own = [turns[..., inside]] * (2 if seconds else 1)
    rates = [np.broadcast_to(one, (*static.shape[:-1], count)) for one in own]
    places = np.concatenate([np.arange(count)] * len(own) + [ends.place for ends in between])
    own_groups = _groups(loads, count)
    groups = [*own_groups, *(SECOND if group == TURNS else group for group in own_groups[: seconds * count])]
    groups += [group for ends in between for group in ends.group]
    return Counted(
        stress=stress_of(*spans),
        rates=np.concatenate([*rates, *(ends.rates for ends in between)], axis=-1),
        place=places,
        group=tuple(groups),
        turning=np.arange(len(groups)) < len(own) * count,
    )


def _groups(loads: Loads, count: int) -> list[str]:
    """The group of the turns of each condition: that of what is flown in it, where it does not last."""
    found = [TURNS] * count
    for course in loads.courses:
        for loop in course.loops:
            if loop.second != REST:
                found[loop.second] = loop.group
    return found


@dataclass(frozen=True, eq=False)
class _Ends:
    """Cycles between instants: first, second - [V, ..., K]; rates, place, group as in `Counted`."""

    first: IntArray
    second: IntArray
    rates: FloatArray
    place: IntArray
    group: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class _Plan:
    """What is asked of every load of a course: order - its instants one after the other; ends - instants of
    each loop, the last one again where a loop has fewer, [J, 4]; times - of the loops in a flight, [J];
    places, groups - of the loops, as in `Counted`.
    """

    order: IntArray
    ends: IntArray
    times: FloatArray
    places: tuple[int, ...]
    groups: tuple[str, ...]


@lru_cache(maxsize=64)
def _plan_of(course: Course, count: int) -> _Plan:
    """The plan of a course through so many conditions; of all hubs that are flown alike it is one."""
    ends = np.zeros((len(course.loops), 4), dtype=np.intp)
    for row, loop in zip(ends, course.loops, strict=True):
        found = (*_instants(loop.first, count), *_instants(loop.second, count))
        row[: len(found)], row[len(found) :] = found, found[-1]
    return _Plan(
        order=np.array([at for place in course.places for at in _instants(place, count)]),
        ends=ends,
        times=np.array([loop.times for loop in course.loops]),
        places=tuple(loop.first if loop.second == REST else loop.second for loop in course.loops),
        groups=tuple(loop.group for loop in course.loops),
    )


def _between(static: FloatArray, course: Course, count: int, flight_time: float) -> _Ends:
    """The cycles of one course, by rainflow on the stress at every instant, and its loops."""
    flights, plan = course.share * _HOUR / flight_time, _plan_of(course, count)
    pairs = rainflow_pairs(static[..., plan.order], repeating=True)
    own = pairs.count.shape[-1]
    shape = (*static.shape[:-1], own + plan.times.size)
    first, second, rates = np.empty(shape, np.intp), np.empty(shape, np.intp), np.empty(shape)
    first[..., :own], second[..., :own] = plan.order[pairs.first], plan.order[pairs.second]
    rates[..., :own], rates[..., own:] = flights * pairs.count, flights * plan.times
    looped, loops = static[..., plan.ends], np.arange(plan.times.size)
    first[..., own:] = plan.ends[loops, looped.argmax(axis=-1)]
    second[..., own:] = plan.ends[loops, looped.argmin(axis=-1)]
    return _Ends(
        first,
        second,
        rates,
        np.array([COURSE] * own + [*plan.places]),
        (START_STOP,) * own + plan.groups,
    )


def _instants(place: int, count: int) -> tuple[int, ...]:
    """Where the least and the greatest of a condition stand among the instants; rest is one of them."""
    return (count,) if place == REST else (count + 1 + place, place)


def _span(values: FloatArray, ends: _Ends) -> Span:
    first = np.take_along_axis(values, ends.first, axis=-1)
    second = np.take_along_axis(values, ends.second, axis=-1)
    return Span(np.maximum(first, second), np.minimum(first, second))


def _joined(parts: Sequence[Span], shape: tuple[int, ...]) -> Span:
    def along(name: str) -> FloatArray:
        found = [getattr(part, name) for part in parts]
        return np.concatenate([np.broadcast_to(value, (*shape, value.shape[-1])) for value in found], axis=-1)

    return Span(along("greatest"), along("least"))
