"""Margins of strength by what is flown: the worse of all kinds of air, part by part."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bladehold.sheet.build import Build
from bladehold.study.assess import outcomes
from bladehold.study.checks import STRENGTH
from bladehold.study.kinds import Kind
from bladehold.study.loads import loads_of
from bladehold.study.situation import Situation

FloatArray = NDArray[np.float64]

IN_FLIGHT = tuple(rule for rule in STRENGTH if not rule.service)


def pulled(speed: float, load_factor: float) -> Kind:
    """Return level flight at a speed (m/s) pulled up to a load factor, turning at the pitch rate of the
    sheet.
    """
    return Kind(
        f"{speed:g} m/s, load factor {load_factor:g}",
        "grid",
        speed=speed,
        load_factor=load_factor,
        rates=True,
    )


def margins_by_kind(build: Build, kinds: tuple[Kind, ...]) -> dict[str, FloatArray]:
    """Return the smallest margin of every part in each kind of flight, [K]; the centrifugal proof, which
    belongs to none, is left out.

    Errors: ValueError when a thrust cannot be reached, or when no balance is found.
    """
    loads = loads_of(build, kinds=kinds)
    count = len(loads.names) - 1
    found: dict[str, FloatArray] = {}
    for rule, outcome in outcomes(Situation(build, loads), IN_FLIGHT):
        margin = np.broadcast_to(outcome.margin, (count + 1,))[:-1].reshape(-1, len(kinds)).min(axis=0)
        found[rule.part] = np.minimum(found.get(rule.part, np.inf), margin)
    return found
