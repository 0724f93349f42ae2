"""Every check there is, one registration each: part, mode, level, formula, source, advice, function."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bladehold.study.checks import fatigue, hub_screws, lug_full, lug_plates, pivot
from bladehold.study.checks.parts import BUSH, LUG, MOUNTING, PIVOT, PLATES, ROOT, TIES
from bladehold.study.record import Outcome
from bladehold.study.situation import Situation

YIELD, RUPTURE, FATIGUE, SERVICE = "yield", "rupture", "fatigue", "service"

_MINER = "scatter x sum of n/N over the service life = 1 when all stresses grow together"
_EYE = "NASA-TM-106943 (1995) eq. 69-74"
_CLEVIS = "elastic contact of the lug between two plates"
_OBLIQUE = "(P/P')^1.6 + (Ptr/P'tr)^1.6 = 1, P' = min(Kbr D t F, Kt (w - D) t F, D t Fbr)"
_AIR_FORCE = "AFFDL-TR-69-42 ch. 9 (Melcon and Hoblit); AA-SB-001 12.2.9"
_WIDER_LUG = "widen or lengthen the lug, or thicken it"
_THICKER_SCREW = (
    "take the next larger pivot screw, a higher property class, or a plain shank in the shear planes"
)
_CONTACT = "lengthen the contact between lug and plates, or take a larger or stronger pivot screw"
_WASHER = "put washers under head and nut, or take a harder plate"
_TIES = "move the tie screws away from the pivot, or use more or larger ones"
_BELL = "use more or larger mounting screws or a larger bolt circle"


@dataclass(frozen=True)
class Rule:
    """One check: where it belongs, how it is found, and the function that finds it."""

    part: str
    mode: str
    level: str
    formula: str
    source: str
    advice: str
    function: Callable[[Situation], Outcome | None]
    service: bool = False

    @property
    def key(self) -> str:
        """A name for this check that stays the same from build to build."""
        return f"{self.part}: {self.mode} ({self.level})"


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
    ),
    Rule(
        PIVOT,
        "pressure under the nut",
        YIELD,
        "F/(pi/4 (dw^2 - dh^2)) <= permissible pressure",
        "VDI 2230:2003",
        _WASHER,
        pivot.nut_pressure,
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
        "tightening",
        SERVICE,
        "Pmax <= 0.9 Fty As / sqrt(1 + 3 k^2), k the torsion of tightening",
        "VDI 2230:2003 assembly preload, friction 0.12",
        "tighten to a lower torque",
        pivot.tightening,
        service=True,
    ),
    Rule(
        LUG,
        "net section, pull and flap bending",
        YIELD,
        "P/A + 6 M/(A t) <= Fty, A = (w - D) t",
        _EYE,
        "widen the lug",
        lug_plates.lug_net_section_at_yield,
    ),
    Rule(
        LUG,
        "net section, pull and flap bending",
        RUPTURE,
        "P/A + 6 M/(A t) <= k Ftu, A = (w - D) t",
        _EYE,
        "widen the lug",
        lug_plates.lug_net_section,
    ),
    Rule(
        LUG,
        "shear-out",
        RUPTURE,
        "P <= 2 t (e - D/2) Fsu",
        _EYE,
        "lengthen the lug beyond the hole, or put a metal sleeve in it",
        lug_plates.lug_shear_out,
    ),
    Rule(
        LUG,
        "bearing",
        YIELD,
        "P <= D t Fbry",
        _EYE,
        "thicken the lug or fit a bush",
        lug_plates.lug_bearing_at_yield,
    ),
    Rule(
        LUG,
        "first crushing at the faces",
        YIELD,
        "peak pressure of the bedded screw <= Fbr",
        "beam on elastic foundation (Hetenyi 1946); " + _EYE,
        "fit a bush, or take a thicker screw",
        lug_plates.lug_first_crushing,
    ),
    Rule(
        LUG,
        "bearing",
        RUPTURE,
        "P <= D t Fbru",
        _EYE,
        "thicken the lug or fit a bush",
        lug_plates.lug_bearing,
    ),
    Rule(
        LUG,
        "oblique load",
        YIELD,
        _OBLIQUE,
        _AIR_FORCE,
        _WIDER_LUG,
        lug_full.lug_oblique_at_yield,
    ),
    Rule(
        LUG,
        "oblique load",
        RUPTURE,
        _OBLIQUE,
        _AIR_FORCE,
        _WIDER_LUG,
        lug_full.lug_oblique,
    ),
    Rule(
        LUG,
        "side load, 99 % of lugs",
        RUPTURE,
        "Ptr <= 0.837 K_BR D t Ftu",
        "Ekvall, J. Aircraft 23(5) (1986)",
        "widen the lug",
        lug_full.lug_ekvall,
    ),
    Rule(
        LUG,
        "delamination at the plates' edges",
        RUPTURE,
        "p <= min(Fc, pi Fis)",
        "half plane under a strip that ends sharply, derived; pressure of the contact model",
        "lengthen the contact, round the plates' edges, or take a metal lug",
        lug_full.lug_delamination,
    ),
    Rule(
        BUSH,
        "bearing",
        YIELD,
        "P <= D t Fbry",
        _EYE,
        "take a harder bush",
        lug_plates.bush_bearing,
    ),
    Rule(
        PLATES,
        "net section, pull and flap bending",
        YIELD,
        "P/(2 A) + 6 M/(A t) <= Fty, A = (w - D) t",
        _EYE,
        "widen or thicken the plates",
        lug_plates.plate_net_section_at_yield,
    ),
    Rule(
        PLATES,
        "net section, pull and flap bending",
        RUPTURE,
        "P/(2 A) + 6 M/(A t) <= k Ftu, A = (w - D) t",
        _EYE,
        "widen or thicken the plates",
        lug_plates.plate_net_section,
    ),
    Rule(
        PLATES,
        "bending between lug and root",
        YIELD,
        "P/(2 A) + 6 M/(A t) <= Fty, A = (w - n d) t",
        _CLEVIS + "; beam theory",
        "thicken the plates, or let the mounting screws hold the upper plate too",
        lug_plates.plate_inboard_at_yield,
    ),
    Rule(
        PLATES,
        "bending between lug and root",
        RUPTURE,
        "P/(2 A) + 6 M/(A t) <= Ftu, A = (w - n d) t",
        _CLEVIS + "; beam theory",
        "thicken the plates, or let the mounting screws hold the upper plate too",
        lug_plates.plate_inboard,
    ),
    Rule(
        PLATES,
        "tear-out",
        RUPTURE,
        "P/2 <= 2 t (e - D/2) Fsu",
        _EYE,
        "move the hole inboard or thicken the plates",
        lug_plates.plate_tear_out,
    ),
    Rule(
        PLATES,
        "bearing",
        YIELD,
        "P/2 <= D t Fbry",
        _EYE,
        "thicken the plates",
        lug_plates.plate_bearing_at_yield,
    ),
    Rule(
        PLATES,
        "bearing",
        RUPTURE,
        "P/2 <= D t Fbru",
        _EYE,
        "thicken the plates",
        lug_plates.plate_bearing,
    ),
    Rule(
        PLATES,
        "oblique load",
        YIELD,
        _OBLIQUE,
        _AIR_FORCE,
        "widen or thicken the plates",
        lug_full.plate_oblique_at_yield,
    ),
    Rule(
        PLATES,
        "oblique load",
        RUPTURE,
        _OBLIQUE,
        _AIR_FORCE,
        "widen or thicken the plates",
        lug_full.plate_oblique,
    ),
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
    *(
        Rule(part, mode, FATIGUE, _MINER, "", advice, function)
        for part, mode, advice, function in (
            (PIVOT, "thread", _CONTACT, fatigue.pivot_thread),
            (PIVOT, "section between lug and plates", _THICKER_SCREW, fatigue.pivot_section),
            (LUG, "at the hole", "thicken or widen the lug, or fit a bush", fatigue.lug_hole),
            (PLATES, "at the hole", "widen or thicken the plates", fatigue.plate_hole),
            (PLATES, "between lug and root", "thicken the plates", fatigue.plates_inboard),
            (TIES, "thread", _TIES, fatigue.tie_thread),
            (MOUNTING, "thread", _BELL, fatigue.mounting_thread),
        )
    ),
)
