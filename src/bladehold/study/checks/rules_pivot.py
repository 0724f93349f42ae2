"""Checks of the pivot screw, one registration each."""

from __future__ import annotations

from bladehold.study.checks import pivot
from bladehold.study.checks.parts import PIVOT, PLATES
from bladehold.study.checks.rule import RUPTURE, SERVICE, YIELD, Rule

_CLEVIS = "elastic contact of the lug between two plates"
_THICKER_SCREW = (
    "take the next larger pivot screw, a higher property class, or a plain shank in the shear planes"
)
_CONTACT = "lengthen the contact between lug and plates, or take a larger or stronger pivot screw"
_WASHER = "put washers under head and nut, or take a harder plate"

RULES: tuple[Rule, ...] = (
    Rule(
        PIVOT,
        "double shear",
        YIELD,
        "P/2 <= (pi/4) d^2 Fsy",
        "NASA-STD-5020B (2021) eq. 12, 13, 64",
        _THICKER_SCREW,
        pivot.shear_at_yield,
    ),
    Rule(
        PIVOT,
        "double shear",
        RUPTURE,
        "P/2 <= (pi/4) d^2 Fsu",
        "NASA-STD-5020B (2021) eq. 12, 13, 64",
        _THICKER_SCREW,
        pivot.shear_at_rupture,
    ),
    Rule(
        PIVOT,
        "bending between lug and plates",
        YIELD,
        "",
        "",
        "close the gap, or take a plain shank in place of threads, or a thicker screw",
        pivot.bending_at_yield,
    ),
    Rule(
        PIVOT,
        "bending between lug and plates",
        RUPTURE,
        "",
        "",
        "close the gap, or take a plain shank in place of threads, or a thicker screw",
        pivot.bending_at_rupture,
    ),
    Rule(
        PIVOT,
        "tension from prying",
        YIELD,
        "T <= As Fty, T from M, L and preload in the contact model",
        _CLEVIS,
        _CONTACT,
        pivot.tension_at_yield,
    ),
    Rule(
        PIVOT,
        "tension from prying",
        RUPTURE,
        "T <= As Ftu, T from M and L in the contact model",
        _CLEVIS,
        _CONTACT,
        pivot.tension_at_rupture,
    ),
    Rule(
        PIVOT,
        "shear, tension and bending together",
        YIELD,
        "",
        "",
        _THICKER_SCREW,
        pivot.together_at_yield,
    ),
    Rule(
        PIVOT,
        "shear, tension and bending together",
        RUPTURE,
        "",
        "",
        _THICKER_SCREW,
        pivot.together_at_rupture,
    ),
    Rule(
        PIVOT,
        "pressure under the head",
        YIELD,
        "F/(pi/4 (dw^2 - dh^2)) <= permissible pressure",
        "VDI 2230:2003",
        _WASHER,
        pivot.head_pressure,
        held_by=PLATES,
    ),
    Rule(
        PIVOT,
        "pressure under the nut",
        YIELD,
        "F/(pi/4 (dw^2 - dh^2)) <= permissible pressure",
        "VDI 2230:2003",
        _WASHER,
        pivot.nut_pressure,
        held_by=PLATES,
    ),
    Rule(
        PIVOT,
        "thread stripping",
        RUPTURE,
        "T <= 0.6 C1 min(C2 5/8 pi Le D1 Rm, C3 3/4 pi Le d Rm,nut)",
        "Alexander (1977), ISO/TR 16224:2012 4.2.3; areas NASA-TM-106943 (1995) eq. 63, 76",
        "use a full nut or more engaged thread",
        pivot.thread_stripping,
    ),
    Rule(
        PIVOT,
        "axial hold of the circlip",
        RUPTURE,
        "T <= load of the circlip",
        "the circlip's maker, as given in the sheet",
        "take a stronger circlip, or a screw with a nut",
        pivot.circlip_hold,
    ),
    Rule(
        PIVOT,
        "tightening",
        SERVICE,
        "Pmax <= 0.9 Fty As / sqrt(1 + 3 k^2), k the torsion of tightening",
        "VDI 2230:2003 assembly preload, friction 0.12",
        "tighten to a lower torque",
        pivot.tightening,
        service=True,
    ),
)
