"""Checks of fatigue, one line each."""

from __future__ import annotations

from bladehold.study.checks import fatigue
from bladehold.study.checks.parts import LUG, MOUNTING, PIVOT, PLATES, TIES
from bladehold.study.checks.rule import FATIGUE, Rule

_MINER = "scatter x sum of n/N over the service life = 1 when all stresses grow together"
_THICKER_SCREW = (
    "take the next larger pivot screw, a higher property class, or a plain shank in the shear planes"
)
_CONTACT = "lengthen the contact between lug and plates, or take a larger or stronger pivot screw"
_TIES = "move the tie screws away from the pivot, or use more or larger ones"
_BELL = "use more or larger mounting screws or a larger bolt circle"

RULES: tuple[Rule, ...] = tuple(
    Rule(part, mode, FATIGUE, _MINER, "Miner, J. Appl. Mech. 12 (1945)", advice, function)
    for part, mode, advice, function in (
        (PIVOT, "thread", _CONTACT, fatigue.pivot_thread),
        (PIVOT, "section between lug and plates", _THICKER_SCREW, fatigue.pivot_section),
        (LUG, "at the hole", "thicken or widen the lug, or fit a bush", fatigue.lug_hole),
        (PLATES, "at the hole", "widen or thicken the plates", fatigue.plate_hole),
        (PLATES, "between lug and root", "thicken the plates", fatigue.plates_inboard),
        (TIES, "thread", _TIES, fatigue.tie_thread),
        (MOUNTING, "thread", _BELL, fatigue.mounting_thread),
    )
)
