"""Checks of fatigue: by how much all loads may grow until the service life is used up."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
from numpy.typing import NDArray

from bladehold.study import life_members as members
from bladehold.study.life import Judged, judge, scatter, told
from bladehold.study.life_members import Found, Member
from bladehold.study.record import FloatArray, Outcome
from bladehold.study.situation import Situation
from bladehold.tables import factor


def _outcome(make: Callable[[Situation], Found], now: Situation) -> Outcome | None:
    """Outcome of one member, in the condition that damages most when the life is just used up.

    Start and stop stand in the condition with the greatest swing from rest. A member that cannot be checked
    says so and has no margin.
    """
    member = make(now)
    if member is None:
        return None
    if not isinstance(member, Member):
        nothing = np.zeros(now.loads.thrust.shape)
        return Outcome(nothing, 1.0, nothing, "", (), breaches=(member.why,))
    judged = judge(now, member)
    count = len(now.loads.names)
    place = np.where(judged.place == count - 1, _hardest(member, judged), judged.place)
    one = np.arange(count) == place[..., np.newaxis]
    amplitude, mean, cycles = _here(now, member, judged)
    with np.errstate(divide="ignore"):
        used = 1.0 / judged.multiplier[..., np.newaxis]
    share = np.take_along_axis(judged.shares, judged.place[..., np.newaxis], axis=-1)
    return Outcome(
        demand=np.broadcast_to(used, one.shape),
        capacity=1.0,
        factor=one.astype(float),
        unit="",
        inputs=(
            ("amplitude", _wide(amplitude, one), "Pa"),
            ("mean", _wide(mean, one), "Pa"),
            ("cycles of this kind in the service life", _wide(cycles, one), ""),
            ("of starting and stopping (1) or of every turn (0)", _wide(judged.place == count - 1, one), ""),
            ("share of the damage as it is", np.broadcast_to(share, one.shape), ""),
            ("life as it is, scatter in it", _wide(judged.hours * 3600.0, one), "s"),
            ("service life", now.build.flying.service_life, "s"),
            ("scatter factor on life", scatter(), ""),
        ),
        strengths=(*member.chosen.provenances, factor("scatter_curve").provenance),
        breaches=(*told(now, member), now.contact_breach),
        source=f"{member.stress.method}; Miner, J. Appl. Mech. 12 (1945)",
    )


def _wide(values: FloatArray | NDArray[np.bool_], one: NDArray[np.bool_]) -> FloatArray:
    """A value of every case put to all its conditions."""
    return np.broadcast_to(np.asarray(values, dtype=float)[..., np.newaxis], one.shape)


def _here(now: Situation, member: Member, judged: Judged) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Amplitude and mean (Pa) of the worst state in the cycle that damages most, and its number."""
    stress, place = member.stress, judged.place[..., np.newaxis]

    def at(values: FloatArray) -> FloatArray:
        state = judged.state.reshape(1, *judged.state.shape, 1)
        own = np.take_along_axis(np.broadcast_to(values, (len(values), *judged.shares.shape)), state, axis=0)[
            0
        ]
        return np.asarray(np.take_along_axis(own, place, axis=-1)[..., 0])

    amplitude, greatest = at(stress.amplitude), at(stress.greatest)
    rates = np.broadcast_to(member.rates, judged.shares.shape)
    rate = np.take_along_axis(rates, place, axis=-1)[..., 0]
    return amplitude, greatest - amplitude, rate * now.build.flying.service_life / 3600.0


def _hardest(member: Member, judged: Judged) -> NDArray[np.intp]:
    """The condition with the greatest stress in the worst state."""
    greatest = np.where(member.rates > 0.0, member.stress.greatest, -np.inf)
    whole = np.broadcast_to(greatest, (len(greatest), *judged.shares.shape))
    own = np.take_along_axis(whole, judged.state.reshape(1, *judged.state.shape, 1), axis=0)[0]
    return np.asarray(own[..., :-1].argmax(axis=-1))


pivot_thread = partial(_outcome, members.pivot_thread)
pivot_section = partial(_outcome, members.pivot_section)
lug_hole = partial(_outcome, members.lug_hole)
plate_hole = partial(_outcome, members.plate_hole)
plates_inboard = partial(_outcome, members.plates_inboard)
tie_thread = partial(_outcome, members.tie_thread)
mounting_thread = partial(_outcome, members.mounting_thread)
