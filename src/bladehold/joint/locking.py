"""Loosening: when a joint slips sidewise, and what a way of locking holds then.

A screw whose joint does not slip does not turn loose. Where it slips, the friction that holds the thread is
used up by the sliding, and the preload on the slope of the thread turns the nut back. A prevailing torque
stops that turning once the preload has fallen far enough; with an axial load on the joint beside the slip it
does not, and the nut may come off altogether (Eccles 2010). The pivot of a folding blade has both: the lug
turns and slips, and lift and flap moment pull on the screw.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint._arrays import Floats, at_least_zero, positive

Held = Literal["preload", "nut", "nothing"]
State = Literal["no slip", "slip", "slip with axial load"]

JUNKER_PASS_SHARE = 0.80
"""Share of the preload left after 2000 cycles with which a locked screw passes DIN 25201-4: 80 %, from an
amplitude at which an unsecured screw lets go (as quoted by a supplier of locking washers; cycles from
memory). It is a test without axial load: passing it says nothing about slip with axial load."""

HELD_WORDS: MappingProxyType[Held, str] = MappingProxyType(
    {
        "preload": "keeps most of the preload",
        "nut": "lets the preload go but keeps the nut on its screw",
        "nothing": "can turn off altogether",
    }
)


@dataclass(frozen=True)
class Holds:
    """What one way of locking holds in each state of the joint."""

    no_slip: Held
    slip: Held
    slip_with_axial: Held

    def __post_init__(self) -> None:
        """Refuse words that are none of `Held`."""
        for word in (self.no_slip, self.slip, self.slip_with_axial):
            if word not in get_args(Held):
                raise ValueError(f"what is held must be one of {', '.join(get_args(Held))}, got {word!r}")


@dataclass(frozen=True)
class Verdict:
    """Whether a way of locking counts in a joint: counts, the state it is in, what is held, the reason."""

    counts: bool
    state: State
    held: Held
    reason: str


def clamp_against_slip(transverse: ArrayLike, friction: ArrayLike, faces: ArrayLike = 1) -> Floats:
    """Residual clamp that keeps a joint from slipping, F = Fq / (mu n).

    >>> print(f"{clamp_against_slip(300.0, 0.10):.0f} N")
    3000 N

    Arguments (broadcast together):
        transverse: greatest force across the joint Fq [N]; friction: least mu of the faces [-];
        faces: n that slip together [-].
    Returns: force [N].
    Errors: ValueError when the force is negative, mu or n not positive.
    Range: loosening begins below full slip, by slip under head and thread (Pai and Hess 2002): keep above.
    Source: Junker's rule, SAE 690055 (1969), as quoted in a later handbook.
    """
    shares = positive("friction", friction) * positive("number of faces", faces)
    return at_least_zero("transverse force", transverse) / shares


def slips(
    residual_clamp: ArrayLike, transverse: ArrayLike, friction: ArrayLike, faces: ArrayLike = 1
) -> NDArray[np.bool_]:
    """Whether a joint slips: its residual clamp is below `clamp_against_slip`.

    Arguments (broadcast together):
        residual_clamp: least clamp after scatter, relaxation, temperature and the load that relieves it [N];
        transverse, friction, faces: as for `clamp_against_slip`.
    Returns: True where it slips.
    Errors: as `clamp_against_slip`; ValueError for a negative clamp.
    Source: Junker's rule, as `clamp_against_slip`.
    """
    needed = clamp_against_slip(transverse, friction, faces)
    return np.asarray(at_least_zero("residual clamp", residual_clamp) < needed)


def counts_as_locking(name: str, holds: Holds, slips: bool, axial: bool) -> Verdict:
    """Whether a way of locking counts in a joint that slips or not, with axial load or not.

    It counts where it keeps at least the nut on its screw. A prevailing torque alone does not where the
    joint slips with an axial load on it.

    Arguments:
        name: of the way, for the reason; holds: what it holds; slips: the joint slips sidewise in service, as
        every joint does that has to turn; axial: a load along the screw acts at the same time.
    Returns: the verdict with its reason.
    Errors: none.
    Source: Eccles, Tribological Aspects of the Self-Loosening of Threaded Fasteners, thesis, University of
        Central Lancashire (2010), for prevailing torque; for the other ways the source stands beside them.
    """
    state: State = "no slip" if not slips else "slip with axial load" if axial else "slip"
    held: Held = {
        "no slip": holds.no_slip,
        "slip": holds.slip,
        "slip with axial load": holds.slip_with_axial,
    }[state]
    return Verdict(held != "nothing", state, held, f"{name} in a joint with {state}: {HELD_WORDS[held]}")
