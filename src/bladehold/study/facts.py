"""What can be said of a hub without computing: load paths, locking, reach of a wrench, sight of the parts.

Facts, not points: each says what is so, whether that helps, and where the judgement comes from.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import cast

import numpy as np

from bladehold.joint.locking import Held, Holds, counts_as_locking
from bladehold.study.situation import Situation
from bladehold.tables import locking

COMMON = "common practice, no source"


@dataclass(frozen=True)
class Fact:
    """One fact: what it is about, what is so, whether that is to the good (None: not said), the source."""

    about: str
    finding: str
    good: bool | None
    source: str


def facts_of(now: Situation) -> tuple[Fact, ...]:
    """Return the facts about the hub of a build. Argument: now - the build under its loads."""
    return tuple(_facts(now))


def locking_fact(now: Situation) -> Fact:
    """Return whether the pivot screw's locking counts under the loads it sees."""
    build = now.build
    row = locking(build.pivot.locking)
    holds = Holds(*(cast(Held, word) for word in (row.no_slip, row.slip, row.slip_with_axial)))
    slips = build.propeller.folding or bool(np.any(now.grip < now.loads.root.in_plane))
    axial = bool(np.any(now.rupture_state.screw_tension > 0.0))
    found = counts_as_locking(row.name, holds, slips, axial)
    return Fact("locking of the pivot screw", found.reason, found.counts, row.provenance.source)


def _facts(now: Situation) -> Iterator[Fact]:
    build = now.build
    hub, screw, ties = build.hub, build.pivot, build.ties
    yield Fact(
        "load paths of the pull",
        "one: the pivot screw alone carries it",
        False,
        "14 CFR 23.613: single load paths ask for strengths that 99 % of parts reach",
    )
    tied = ties.screw is not None and ties.count > 0
    yield Fact(
        "ties beside the pivot",
        f"{ties.count}, {1e3 * ties.distance:.0f} mm inboard" if tied else "none",
        tied,
        COMMON,
    )
    bolted = hub.upper_plate_bolted
    held = "the mounting screws too" if bolted else "pivot and tie screws alone"
    yield Fact("upper plate", f"held by {held}", bolted or tied, COMMON)
    yield locking_fact(now)
    threads = screw.shear_plane == "thread"
    crossing = "threads" if threads else "a plain shank"
    yield Fact("faces between lug and plates", f"crossed by {crossing}", not threads, COMMON)
    yield _said(
        "tightening in place", screw.reachable, "a wrench reaches the pivot screw", "only with the hub off"
    )
    yield _said("inspection", hub.inspectable, "heads, nuts and lug faces can be seen", "only taken apart")


def _said(about: str, answer: bool | None, yes: str, no: str) -> Fact:
    """A fact the sheet states or leaves open."""
    finding = "the sheet does not say" if answer is None else (yes if answer else no)
    return Fact(about, finding, answer, "the sheet")
