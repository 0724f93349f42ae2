"""What the clevis feels round a turn: its states at the extremes of every condition, and at rest."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import damage
from bladehold.joint.contact import ClevisState
from bladehold.sheet.build import Build
from bladehold.study.clevis import Cases
from bladehold.study.course import flown_places
from bladehold.study.loads import Loads

FloatArray = NDArray[np.float64]

_SOLVED = 256  # different loads that are solved one by one; of more a table is made
_NODES = 12


@dataclass(frozen=True, eq=False)
class Series:
    """One load over the turns of every condition, [..., C + 1], the last place at rest.

    high, low - its greatest and least; second_high, second_low - of the second cycle within a turn.
    """

    high: FloatArray
    low: FloatArray
    second_high: FloatArray
    second_low: FloatArray

    def times(self, factor: float | FloatArray) -> Series:
        """All times a factor that is not negative."""
        return Series(*(factor * value for value in vars(self).values()))


@dataclass(frozen=True, eq=False)
class Turning:
    """The clevis at the extremes of a turn in every condition that is flown, and at rest.

    cases - to be solved; solve - gives their state when it is first asked for; read - makes of it the state,
    [P, U], by pair of preloads of pivot and ties and by different load; place - of each condition's greatest
    and least load, and those of its second cycle, among the U, [4, ..., C + 1], the last of the conditions at
    rest; flap - moment of each of the U, N*m; reverses - whether the flap moment changes sign, [..., C + 1];
    pull - on the pivot; rates - turns per hour of flight, [..., C + 1], none in the last place.
    """

    cases: Cases
    solve: Callable[[], ClevisState]
    read: Callable[[ClevisState], ClevisState]
    place: NDArray[np.intp]
    flap: FloatArray
    reverses: NDArray[np.bool_]
    pull: Series
    rates: FloatArray

    @cached_property
    def state(self) -> ClevisState:
        """The clevis under every different load."""
        return self.read(self.solve())

    def force(self, quantity: Callable[[ClevisState], FloatArray]) -> Series:
        """A force that is least at rest or at an end of the turn, [P, ..., C + 1].

        Where the flap moment changes sign in a turn the force passes its value at rest.
        """
        found = np.asarray(quantity(self.state))[..., self.place]
        rest = found[:, 0, ..., -1:]
        spans = self.spans(found)
        return Series(
            spans.high,
            np.where(self.reverses, np.minimum(spans.low, rest), spans.low),
            spans.second_high,
            spans.second_low,
        )

    def moment(self, quantity: Callable[[ClevisState], FloatArray]) -> Series:
        """A moment with a sign, [P, ..., C + 1]."""
        return self.spans(np.asarray(quantity(self.state))[..., self.place])

    @staticmethod
    def spans(found: FloatArray) -> Series:
        """Greatest and least of the ends of both cycles, [P, 4, ..., C + 1]."""
        main, second = found[:, :2], found[:, 2:]
        return Series(main.max(axis=1), main.min(axis=1), second.max(axis=1), second.min(axis=1))

    def lug_moment(self) -> Series:
        """The moment that bends the lug flatwise at its hole, with the sign of the flap moment."""

        def signed(state: ClevisState) -> FloatArray:
            size = np.maximum(
                state.upper_force * np.abs(state.upper_centre), state.lower_force * np.abs(state.lower_centre)
            )
            return np.asarray(np.copysign(size, self.flap))

        return self.moment(signed)

    @property
    def force_rates(self) -> FloatArray:
        """Cycles per hour of forces that do not tell the sign of the flap moment: twice where it changes."""
        return self.rates * np.where(self.reverses, 2.0, 1.0)


def turning(
    build: Build,
    loads: Loads,
    preload: FloatArray,
    tie_preload: FloatArray,
    solve: Callable[[], ClevisState],
) -> Turning:
    """Gather the clevis's cases for the extremes of flap moment and lift of every condition, and for no load.

    Conditions that are no part of a flight, and the proof, are taken as rest. The second cycle of a turn is
    taken about the mean.
    Arguments: build; loads - [..., C + 1]; preload - of the pivot screw, tie_preload - of one tie, in pairs,
    N, [P]; solve - gives the state of the cases gathered, when it is asked for. Returns Turning.
    """
    root, flown = loads.root, flown_in(loads)
    ends = (root.flap_cyclic, -root.flap_cyclic, root.flap_second, -root.flap_second)
    moment = np.stack([root.flap_mean + end for end in ends]) * flown
    middle = root.lift - root.lift_swing
    lift = np.stack([root.lift, middle - root.lift_swing, middle, middle]) * flown
    # One entry for each different load, so that steady conditions and rest are solved once.
    different, place = np.unique((moment + 1j * lift).ravel(), return_inverse=True)

    one_by_one = different.size <= _SOLVED
    flap, lifts, read = _alone(different) if one_by_one else _tabled(different.real, different.imag)
    several = (-1, *(1,) * lifts.ndim)
    steady = root.centrifugal * flown
    rates = damage.turn_cycles_per_hour(loads.speed, loads.time_share)
    rates[..., -1] = 0.0
    return Turning(
        cases=Cases(flap, lifts, preload.reshape(several), tie_preload.reshape(several)),
        solve=solve,
        read=read,
        place=place.reshape(moment.shape),
        flap=different.real,
        reverses=moment[0] * moment[1] < 0.0,
        pull=Series(root.in_plane * flown, steady, steady, steady),
        rates=rates,
    )


def flown_in(loads: Loads) -> NDArray[np.bool_]:
    """Return which conditions are part of a flight, [C + 1]: by time, or passed through."""
    flown = np.asarray(loads.time_share > 0.0)
    flown[..., sorted(flown_places(loads.courses))] = True
    return flown


_Gathered = tuple[FloatArray, FloatArray, Callable[[ClevisState], ClevisState]]


def _alone(different: NDArray[np.complex128]) -> _Gathered:
    """Every load as a case of its own."""
    return different.real, different.imag, lambda state: state


def _tabled(moment: FloatArray, lift: FloatArray) -> _Gathered:
    """A table from which the states of many loads are read: straight between nodes in flap moment and lift.

    Half of the nodes lie evenly between the extremes, half where the loads lie, and one at no load. At each
    node lift is tabled at the least and greatest of the loads about it.
    """
    spread = np.linspace(0.0, 1.0, _NODES)
    extremes = moment.min() + spread * (moment.max() - moment.min())
    # Faces that are pressed together by preload first gape at a small moment: there the nodes lie closer.
    near = np.outer(0.5 ** np.arange(2.0, 6.0, 0.5), [-1.0, 1.0]).ravel() * np.abs(extremes).max()
    near = np.clip(near, extremes[0], extremes[-1])
    nodes = np.unique(np.concatenate((extremes, np.quantile(moment, spread), near, [0.0])))
    right = np.clip(np.searchsorted(nodes, moment), 1, nodes.size - 1)
    low, high = np.full(nodes.size, np.inf), np.full(nodes.size, -np.inf)
    for at in (right - 1, right):
        np.minimum.at(low, at, lift)
        np.maximum.at(high, at, lift)
    # A node that no load is next to takes no part, whatever its lift.
    low, high = (np.where(np.isfinite(level), level, 0.0) for level in (low, high))
    along = (moment - nodes[right - 1]) / (nodes[right] - nodes[right - 1])
    shares = []
    for at, weight in ((right - 1, 1.0 - along), (right, along)):
        up = np.divide(lift - low[at], high[at] - low[at], out=np.zeros_like(lift), where=high[at] > low[at])
        shares += [(0, at, weight * (1.0 - up)), (1, at, weight * up)]

    def read(table: ClevisState) -> ClevisState:
        tabled = np.array(list(vars(table).values()), dtype=float)
        tabled = tabled.reshape(*tabled.shape[:-2], -1)
        between = sum(weight * tabled.take(level * nodes.size + at, axis=-1) for level, at, weight in shares)
        found = dict(zip(vars(table), np.asarray(between), strict=True))
        return ClevisState(**found | {"converged": found["converged"] > 1.0 - 1e-9})

    return nodes, np.stack((low, high)), read
