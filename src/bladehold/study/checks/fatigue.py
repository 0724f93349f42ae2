"""Checks of fatigue: by how much all loads may grow until the service life is used up."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
from numpy.typing import NDArray

from bladehold.study import life_members as members
from bladehold.study.cycles import COURSE
from bladehold.study.life import Judged, at_place, member_of, of_state, scatter, told
from bladehold.study.life_members import Found, Member, Unchecked
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
    found = member_of(now, make)
    if found is None:
        return None
    member, judged = found
    if not isinstance(member, Member) or judged is None:
        nothing = np.zeros(now.loads.thrust.shape)
        why = member.why if isinstance(member, Unchecked) else ""
        return Outcome(nothing, 1.0, nothing, "", (), breaches=(why,))
    count = len(now.loads.names)
    course = member.cycles.place == COURSE
    place = np.where(course[judged.place], _hardest(member, judged), member.cycles.place[judged.place])
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
            ("of starting and stopping (1) or of one condition (0)", _wide(course[judged.place], one), ""),
            ("share of the damage as it is", _wide(share, one), ""),
            (LIFE, _wide(judged.hours * 3600.0, one), "s"),
            (SERVICE_LIFE, now.build.flying.service_life, "s"),
            (SCATTER, scatter(), ""),
        ),
        strengths=(*member.chosen.provenances, factor("scatter_curve").provenance),
        breaches=(*told(now, member), now.contact_breach),
        source=f"{member.cycles.stress.method}; Miner, J. Appl. Mech. 12 (1945)",
    )


def _wide(values: FloatArray | NDArray[np.bool_], one: NDArray[np.bool_]) -> FloatArray:
    """A value of every case put to all its conditions."""
    return np.broadcast_to(np.asarray(values, dtype=float)[..., np.newaxis], one.shape)


def _here(now: Situation, member: Member, judged: Judged) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Amplitude and mean (Pa) of the worst state in the cycle that damages most, and its number."""
    cycles = member.cycles

    def at(values: FloatArray) -> FloatArray:
        return at_place(of_state(values, judged.state), judged.place)

    amplitude, greatest = at(cycles.stress.amplitude), at(cycles.stress.greatest)
    return amplitude, greatest - amplitude, at(cycles.rates) * now.build.flying.service_life / 3600.0


def _hardest(member: Member, judged: Judged) -> NDArray[np.intp]:
    """The condition with the greatest stress in the worst state."""
    cycles = member.cycles
    lasting = (cycles.rates > 0.0) & (cycles.place != COURSE)
    greatest = of_state(np.where(lasting, cycles.stress.greatest, -np.inf), judged.state)
    return np.asarray(cycles.place[greatest.argmax(axis=-1)])


pivot_thread = partial(_outcome, members.pivot_thread)
pivot_section = partial(_outcome, members.pivot_section)
lug_hole = partial(_outcome, members.lug_hole)
plate_hole = partial(_outcome, members.plate_hole)
plates_inboard = partial(_outcome, members.plates_inboard)
tie_thread = partial(_outcome, members.tie_thread)
mounting_thread = partial(_outcome, members.mounting_thread)
