"""The envelope: what is flown and what governs it, and the smallest margin over speed and load factor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.aircraft import Authority, authority, commanded, effectiveness, overlaps
from bladehold.sheet.build import Build
from bladehold.study.assess import Assessment, assess
from bladehold.study.by_kind import margins_by_kind, pulled
from bladehold.study.kinds import Kind, Weather, kinds_of, weathers
from bladehold.study.trimmed import Trimmed, trimmed

FloatArray = NDArray[np.float64]

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0, 1.25)
"""Of the greatest speed of the sheet, that the map runs over; its load factor is passed as far."""
LEAST_FACTOR = 0.5
_SHRINK, _TRIES = 0.85, 10  # of the greatest load factor, where the rotor cannot give that thrust


@dataclass(frozen=True, eq=False)
class AircraftAnswer:
    """kinds - all that is flown; air; trims - by air, of every kind; assessment - of all conditions; governs
    - part by part, the condition that governs it; left - moments left for steering in hover, at the greatest
    thrust of the sheet's rating, None without one; notes - on the layout.
    """

    assessment: Assessment
    kinds: tuple[Kind, ...]
    air: tuple[Weather, ...]
    trims: tuple[Trimmed, ...]
    left: Authority | None
    notes: tuple[str, ...]

    @property
    def build(self) -> Build:
        """The build it is about."""
        return self.assessment.build

    @property
    def governs(self) -> dict[str, list[str]]:
        """By condition, the parts whose weakest check it sets."""
        found: dict[str, list[str]] = {}
        for check in self.assessment.by_part().values():
            found.setdefault(check.condition, []).append(check.part)
        return found


def aircraft_answer(build: Build) -> AircraftAnswer:
    """Return what flying asks of each rotor of a build, and what governs its parts.

    Errors: ValueError from the rotor when a thrust cannot be reached, or when no balance is found.
    """
    kinds, air = kinds_of(build), weathers(build)
    return AircraftAnswer(
        assessment=assess(build),
        kinds=kinds,
        air=air,
        trims=trimmed(build, kinds, air),
        left=_left(build, trimmed(build, kinds, air)[0]),
        notes=_notes(build, trimmed(build, kinds, air)[0]),
    )


def _left(build: Build, found: Trimmed) -> Authority | None:
    """Moments left in hover, the maker's rating taken as what a rotor can give."""
    claimed = build.flying.claimed_thrust
    if found.frame is None or found.trim is None or claimed is None:
        return None
    thrust, torque = found.trim.thrust[0], found.trim.torque[0]
    return authority(commanded(effectiveness(found.frame, torque / thrust)), thrust, claimed)


def _notes(build: Build, found: Trimmed) -> tuple[str, ...]:
    if found.frame is None:
        return (
            "fewer than three places of rotors, or none that balance: every rotor is taken to lift an "
            "even share",
        )
    names = found.frame.names
    return tuple(
        f"discs of rotors {names[one]} and {names[other]} overlap: what one does to the other is not computed"
        for one, other in overlaps(found.frame, build.propeller.diameter)
    )


@dataclass(frozen=True, eq=False)
class EnvelopeMap:
    """speed - m/s, [S]; load_factor, [F]; margin - smallest of strength, at limit load, in the worse air,
    part - that has it, [S, F]; asked - speed and load factor of the sheet; shortened - whether the rotor
    reaches no more.
    """

    speed: FloatArray
    load_factor: FloatArray
    margin: FloatArray
    part: tuple[tuple[str, ...], ...]
    asked: tuple[float, float]
    shortened: bool


def envelope_map(build: Build) -> EnvelopeMap:
    """Return the smallest margin of strength over speed and load factor, level flight pulled up at every
    speed.

    The aircraft turns at its pitch rate throughout, as in the manoeuvre of the sheet. The centrifugal proof,
    which belongs to no speed, is left out.
    Errors: ValueError when not even the load factors below that of the sheet can be flown.
    """
    flying = build.flying
    speed = np.array(SHARES) * max(flying.top_speed, 1.0)
    wanted, greatest = _factors(flying.load_factor), SHARES[-1] * flying.load_factor
    for attempt in range(_TRIES):
        factor = np.unique(np.append(wanted[wanted < greatest], greatest))
        try:
            margin, part = _margins(build, speed, factor)
        except ValueError:
            if attempt == _TRIES - 1:
                raise
            greatest *= _SHRINK
        else:
            return EnvelopeMap(
                speed, factor, margin, part, (flying.top_speed, flying.load_factor), attempt > 0
            )
    raise AssertionError("the last try returns or raises")


def _factors(asked: float) -> FloatArray:
    """Load factors that the map passes: that of the sheet and level flight among them."""
    beside = (LEAST_FACTOR, 0.5 * (LEAST_FACTOR + 1.0), 1.0, 0.5 * (1.0 + asked), asked)
    return np.unique(np.round([*beside, SHARES[-1] * asked], 9))


def _margins(
    build: Build, speed: FloatArray, factor: FloatArray
) -> tuple[FloatArray, tuple[tuple[str, ...], ...]]:
    found = margins_by_kind(build, tuple(pulled(float(v), float(n)) for v in speed for n in factor))
    table, names = np.array(list(found.values())), np.array(list(found))
    shape = (speed.size, factor.size)
    part = names[table.argmin(axis=0)].reshape(shape)
    return table.min(axis=0).reshape(shape), tuple(tuple(str(name) for name in row) for row in part)
