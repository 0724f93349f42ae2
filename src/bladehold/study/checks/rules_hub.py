"""Checks of ties, mounting screws and a clamped root, one registration each."""

from __future__ import annotations

from bladehold.study.checks import hub_screws
from bladehold.study.checks.parts import MOUNTING, ROOT, TIES
from bladehold.study.checks.rule import RUPTURE, SERVICE, YIELD, Rule

_CLEVIS = "elastic contact of the lug between two plates"
_TIES = "move the tie screws away from the pivot, or use more or larger ones"
_BELL = "use more or larger mounting screws or a larger bolt circle"

RULES: tuple[Rule, ...] = (
    Rule(
        TIES,
        "tension from prying",
        YIELD,
        "F/n <= As Fty, F from M, L and preload in the contact model",
        _CLEVIS,
        _TIES,
        hub_screws.tie_tension_at_yield,
    ),
    Rule(
        TIES,
        "tension from prying",
        RUPTURE,
        "F/n <= As Ftu, F from M and L in the contact model",
        _CLEVIS,
        _TIES,
        hub_screws.tie_tension_at_rupture,
    ),
    Rule(
        TIES,
        "tightening",
        SERVICE,
        "Pmax <= 0.9 Fty As / sqrt(1 + 3 k^2), k the torsion of tightening",
        "VDI 2230:2003 assembly preload, friction 0.12",
        "tighten to a lower torque",
        hub_screws.tie_tightening,
        service=True,
    ),
    Rule(
        MOUNTING,
        "tension",
        YIELD,
        "T/N + 2 Mh/(R N) <= As Fty",
        "Shigley ch. 8 (bolt circle)",
        _BELL,
        hub_screws.mounting_tension_at_yield,
    ),
    Rule(
        MOUNTING,
        "tension",
        RUPTURE,
        "T/N + 2 Mh/(R N) <= As Ftu",
        "Shigley ch. 8 (bolt circle)",
        _BELL,
        hub_screws.mounting_tension_at_rupture,
    ),
    Rule(
        MOUNTING,
        "tension and torque together",
        RUPTURE,
        "S^1.2 + T^2 = 1 when all loads grow together",
        "NASA-STD-5020B (2021) eq. 22, friction not counted",
        _BELL,
        hub_screws.mounting_together_at_rupture,
    ),
    Rule(
        MOUNTING,
        "tightening",
        SERVICE,
        "Pmax <= 0.9 Fty As / sqrt(1 + 3 k^2), k the torsion of tightening",
        "VDI 2230:2003 assembly preload, friction 0.12",
        "tighten to a lower torque",
        hub_screws.mounting_tightening,
        service=True,
    ),
    Rule(
        MOUNTING,
        "torque by friction",
        SERVICE,
        "Q <= mu (N Pmin - T) R",
        "statics; friction capped by NASA-STD-5020B (2021) TFSR 13-14",
        "tighten the mounting screws to a higher torque",
        hub_screws.mounting_grip,
        service=True,
    ),
    Rule(
        MOUNTING,
        "thread stripping",
        RUPTURE,
        "F <= min(5/8 pi Le D1 Fsu, 3/4 pi Le d Fsu,bell)",
        "NASA-TM-106943 (1995) eq. 63, 76",
        "engage more thread",
        hub_screws.mounting_thread,
    ),
    Rule(
        ROOT,
        "drag moment by friction",
        SERVICE,
        "Mlag <= 2 mu Pmin (ri + ro)/2",
        "Bhandari ch. 11 (uniform wear)",
        "tighten the root screw, or add a second one",
        hub_screws.root_grip,
        service=True,
    ),
)
