"""Fatigue life of the retention: hours of each part, and by how much its loads might grow.

Every turn swings flap moment and lift between their extremes, every flight starts and ends at rest and passes
through manoeuvres, gusts and throttle steps. The contact model tells what the parts feel of it; Miner's rule
sums it over all cycles. Left out: fretting, corrosion, wear, temperature that comes and goes within a flight.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import damage
from bladehold.joint.load_multiplier import ThreadLine, load_multiplier, thread_load_multiplier
from bladehold.rotor.bracket import bracketed_root
from bladehold.study.cycles import COURSE, Counted
from bladehold.study.life_members import MEMBERS, Found, Member, Unchecked
from bladehold.study.situation import Situation
from bladehold.tables import factor

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

START_STOP = "start and stop of a flight"
_CLOSE = 3e-5  # of life and of loads, so that searches over loads see no steps
_GREATEST = 1e9  # multiple of the loads that is looked at
_NUDGE = 1e-6  # beyond the multiple found, where an endurance limit is just passed
_SMALL = 0.01  # change of load over which the slope of life is taken
_HOUR = 3600.0


@dataclass(frozen=True)
class MemberLife:
    """Life of one part in one mode.

    hours - of flight with the scatter factor in, infinite where nothing is damaged; None where not checked;
    case - the condition, or start and stop, that damages most, with case_share of all damage; where nothing
    is damaged the one that would first; groups - of cycles with their share of all damage; slope - of
    ln(life) over ln(load), 0 where nothing is damaged; multiplier - of all loads with which the life is the
    service life; scatter - factor on life; method, sources - how; unconfirmed - sources from memory;
    breaches; beyond - whether a life was read past the end of the tests.
    """

    part: str
    mode: str
    hours: float | None
    case: str
    case_share: float
    groups: tuple[tuple[str, float], ...]
    slope: float
    multiplier: float
    scatter: float
    method: str
    sources: tuple[str, ...]
    unconfirmed: tuple[str, ...]
    breaches: tuple[str, ...]
    beyond: bool


@dataclass(frozen=True, eq=False)
class Judged:
    """One member's result over any leading axes.

    multiplier - of all loads that uses up the service life, [...]; hours - of life as it is, [...]; state -
    which of the member's states is the worst, [...]; place - of the cycle that damages most at the multiple
    found, [...], and `shares` of all cycles of the damage as it is, [..., C + 1], 0 where there is none.
    """

    multiplier: FloatArray
    hours: FloatArray
    state: IntArray
    place: IntArray
    shares: FloatArray


def scatter() -> float:
    """Life read off a generic curve over the life that is allowed."""
    return factor("scatter_curve").value


def judge(now: Situation, member: Member) -> Judged:
    """Sum the damage of a member's cycles and find the multiple of its loads that it bears.

    All stresses of a cycle grow together, preload in them too.
    Arguments: now; member. Returns Judged. Source: Miner's rule; `joint.damage`, `joint.load_multiplier`.
    """
    cycles, wanted = member.cycles, now.build.flying.service_life / _HOUR
    stress, rates = cycles.stress, cycles.rates
    amplitude, mean = stress.amplitude, stress.greatest - stress.amplitude
    multiplier = _multiplier(member, amplitude, mean, rates, wanted)
    state = multiplier.argmin(axis=0)
    least = of_state(multiplier, state)
    parts = _used(rates, stress.cycles)
    hours = damage.life_hours(parts.sum(axis=-1), scatter())
    worst = hours.argmin(axis=0)
    parts = of_state(parts, worst)
    total = parts.sum(axis=-1, keepdims=True)
    with np.errstate(invalid="ignore", divide="ignore"):
        shares = np.where(np.isfinite(total), parts / total, np.isinf(parts) / np.isinf(parts).sum())
    grown = least[..., np.newaxis] * (1.0 + _NUDGE)
    swing, middle, often = (of_state(value, state) for value in (amplitude, mean, rates))
    there = _damage(member, grown * swing, grown * middle, often)
    return Judged(
        multiplier=least,
        hours=hours.min(axis=0),
        state=state,
        place=there.argmax(axis=-1),
        shares=np.where(total > 0.0, shares, 0.0),
    )


def of_state(values: FloatArray, state: IntArray) -> FloatArray:
    """Values of one state of each case: the first axis taken at `state`."""
    if state.ndim == 0:
        return np.asarray(values[int(state)])
    index = state.reshape(1, *state.shape, *(1,) * (values.ndim - 1 - state.ndim))
    return np.asarray(np.take_along_axis(values, index, axis=0)[0])


def at_place(values: FloatArray, place: IntArray) -> FloatArray:
    """Values of one kind of cycle of each case: the last axis taken at `place`."""
    if place.ndim == 0:
        return np.asarray(values[int(place)])
    return np.asarray(np.take_along_axis(values, place[..., np.newaxis], axis=-1)[..., 0])


def _damage(member: Member, amplitude: FloatArray, mean: FloatArray, rates: FloatArray) -> FloatArray:
    """Damage per hour of each kind of cycle."""
    return _used(rates, member.chosen.curve.cycles(mean + amplitude, mean - amplitude))


def _used(rates: FloatArray, cycles: FloatArray) -> FloatArray:
    """Damage per hour of each kind of cycle: how often it comes over how often it is borne."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.where(rates > 0.0, rates / cycles, 0.0))


def _multiplier(
    member: Member, amplitude: FloatArray, mean: FloatArray, rates: FloatArray, hours: float
) -> FloatArray:
    """Multiple of the loads that lasts so many hours, [V, ...].

    Of a thread in closed form. Of others it lies between that at which one kind of cycle alone would use up
    the life, and that at which each uses up no more than its even share.
    """
    curve, count = member.chosen.curve, amplitude.shape[-1]
    wanted = rates * (scatter() * hours)
    if isinstance(curve, ThreadLine):
        return np.clip(thread_load_multiplier(curve, wanted, amplitude), 1.0 / _GREATEST, _GREATEST)
    times = np.array([1.0, float(count)]).reshape(2, *(1,) * wanted.ndim)
    with np.errstate(divide="ignore"):
        each = load_multiplier(curve, np.where(wanted > 0.0, times * wanted, 1.0), amplitude, mean)
    alone, shared = np.where(wanted > 0.0, each, np.inf).min(axis=-1)
    low, high = (np.log(np.clip(value, 1.0 / _GREATEST, _GREATEST)).ravel() for value in (shared, alone))
    rows = (amplitude.reshape(-1, count), mean.reshape(-1, count), wanted.reshape(-1, count))

    def excess(x: FloatArray, which: IntArray) -> FloatArray:
        grown = np.exp(x)[:, np.newaxis]
        swing, middle, cycles = (row[which] for row in rows)
        used = _damage(member, grown * swing, grown * middle, cycles).sum(axis=-1)
        return np.asarray(np.log(np.clip(used, 1.0 / _GREATEST, _GREATEST)))

    everyone = np.arange(low.size)
    at_high = excess(high, everyone)
    open_ends = np.flatnonzero((at_high > 0.0) & (high - low > _CLOSE))
    found = np.where(at_high > 0.0, low, high)
    if open_ends.size:
        a, b = low[open_ends], high[open_ends]
        at_low = np.minimum(excess(a, open_ends), -1e-12)
        found[open_ends] = bracketed_root(
            lambda x, which: excess(x, open_ends[which]), a, b, at_low, at_high[open_ends], tolerance=_CLOSE
        )
    return np.asarray(np.exp(found).reshape(amplitude.shape[:-1]))


def lives_of(now: Situation) -> tuple[MemberLife, ...]:
    """Return the life of every part and mode of a situation without leading axes, the shortest first.

    Arguments: now. Parts that the build does not have are left out; parts that cannot be checked have hours
    None and say why.
    """
    found = [member_of(now, make) for make in MEMBERS]
    lives = [_life(now, *one) for one in found if one is not None]
    return tuple(sorted(lives, key=lambda life: np.inf if life.hours is None else life.hours))


def member_of(
    now: Situation, make: Callable[[Situation], Found]
) -> tuple[Member | Unchecked, Judged | None] | None:
    """Return a member of a situation and its judgement, found once; None where the build has none.

    A member that cannot be checked has no judgement.
    """
    if make not in now.judged:
        member = make(now)
        now.judged[make] = (
            None if member is None else (member, judge(now, member) if isinstance(member, Member) else None)
        )
    found: tuple[Member | Unchecked, Judged | None] | None = now.judged[make]
    return found


def _life(now: Situation, member: Member | Unchecked, judged: Judged | None) -> MemberLife:
    if isinstance(member, Unchecked):
        return MemberLife(
            part=member.part,
            mode=member.mode,
            hours=None,
            case="",
            case_share=0.0,
            groups=(),
            slope=0.0,
            multiplier=np.inf,
            scatter=scatter(),
            method="",
            sources=(),
            unconfirmed=(),
            breaches=(member.why,),
            beyond=False,
        )
    assert judged is not None
    cycles = member.cycles
    damaged = bool(judged.shares.any())
    place = int(judged.shares.argmax() if damaged else judged.place)
    provenances = (*member.chosen.provenances, factor("scatter_curve").provenance)
    summed = dict.fromkeys(dict.fromkeys(cycles.group), 0.0)
    for group, share in zip(cycles.group, judged.shares, strict=True):
        summed[group] += float(share)
    return MemberLife(
        part=member.part,
        mode=member.mode,
        hours=float(judged.hours),
        case=case_of(now, cycles, place),
        case_share=float(judged.shares[place]),
        groups=tuple(summed.items()),
        slope=_slope(member) if damaged else 0.0,
        multiplier=float(judged.multiplier),
        scatter=scatter(),
        method=cycles.stress.method,
        sources=tuple(dict.fromkeys(p.source for p in provenances)),
        unconfirmed=tuple(dict.fromkeys(p.source for p in provenances if p.unconfirmed)),
        breaches=told(now, member),
        beyond=bool(np.any(cycles.stress.beyond & (cycles.rates > 0.0))),
    )


def case_of(now: Situation, cycles: Counted, place: int) -> str:
    """Name one kind of cycle."""
    condition = int(cycles.place[place])
    if condition == COURSE:
        return START_STOP
    name = now.loads.names[condition]
    return name if cycles.turning[place] else f"into and out of {name}"


def _slope(member: Member) -> float:
    """Change of ln(life) over that of ln(load), all loads growing together, about what they are."""
    stress = member.cycles.stress
    life = []
    for grown in (1.0 - _SMALL, 1.0 + _SMALL):
        swing, middle = grown * stress.amplitude, grown * (stress.greatest - stress.amplitude)
        life.append(_damage(member, swing, middle, member.cycles.rates).sum(axis=-1).max())
    if not np.all(np.isfinite(life)) or min(life) <= 0.0:
        return -np.inf
    return float(-np.log(life[1] / life[0]) / np.log((1.0 + _SMALL) / (1.0 - _SMALL)))


def told(now: Situation, member: Member) -> tuple[str, ...]:
    """Return everything that must be said beside a member's life."""
    return (*member.remarks, *member.chosen.remarks, *member.cycles.stress.breaches)
