"""Checks of fatigue: by how much all loads may grow until the service life is used up."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
from numpy.typing import NDArray

from bladehold.study import life_members as members
from bladehold.study.life import Judged, at_place, judge, of_state, scatter, told
from bladehold.study.life_members import Found, Member
from bladehold.study.record import FloatArray, Outcome
from bladehold.study.situation import Situation
from bladehold.tables import factor

LIFE, SERVICE_LIFE, SCATTER = "life as it is, scatter in it", "service life", "scatter factor on life"
"""Names of inputs that others look for."""


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
    share = at_place(judged.shares, judged.place)
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
            ("share of the damage as it is", _wide(share, one), ""),
            (LIFE, _wide(judged.hours * 3600.0, one), "s"),
            (SERVICE_LIFE, now.build.flying.service_life, "s"),
            (SCATTER, scatter(), ""),
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
    stress, shape = member.stress, judged.shares.shape

    def at(values: FloatArray) -> FloatArray:
        whole = np.broadcast_to(values, (len(values), *shape))
        return at_place(of_state(whole, judged.state), judged.place)

    amplitude, greatest = at(stress.amplitude), at(stress.greatest)
    rate = at_place(np.broadcast_to(member.rates, shape), judged.place)
    return amplitude, greatest - amplitude, rate * now.build.flying.service_life / 3600.0


def _hardest(member: Member, judged: Judged) -> NDArray[np.intp]:
    """The condition with the greatest stress in the worst state."""
    greatest = np.where(member.rates > 0.0, member.stress.greatest, -np.inf)
    whole = np.broadcast_to(greatest, (len(greatest), *judged.shares.shape))
    return np.asarray(of_state(whole, judged.state)[..., :-1].argmax(axis=-1))


pivot_thread = partial(_outcome, members.pivot_thread)
pivot_section = partial(_outcome, members.pivot_section)
lug_hole = partial(_outcome, members.lug_hole)
plate_hole = partial(_outcome, members.plate_hole)
plates_inboard = partial(_outcome, members.plates_inboard)
tie_thread = partial(_outcome, members.tie_thread)
mounting_thread = partial(_outcome, members.mounting_thread)
