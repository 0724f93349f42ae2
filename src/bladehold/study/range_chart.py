"""Range: for every propeller of a line, the pivot screw it needs and the thrust its present one holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bladehold.sheet.build import Build, Hub, Propeller
from bladehold.sheet.lineup import Entry
from bladehold.study.assess import weakest
from bladehold.study.change import MisfitError, with_pivot_screw
from bladehold.study.checks.parts import PIVOT
from bladehold.study.limit import limit
from bladehold.study.loads import loads_of
from bladehold.study.situation import Situation
from bladehold.study.size import TOUCHED, Sizing, size
from bladehold.tables import PropertyClass, property_class

SCALING = (
    "Unknown measures scale from the base sheet: lengths with the diameter, blade mass with its cube; "
    "the thrust used with the maker's rating."
)

SPREADS = {
    "used_thrust": 0.10,
    "pitch": -0.10,
    "blade_mass": 0.25,
    "balance_point": 0.05,
    "pivot_radius": 0.10,
    "lug_thickness": 0.15,
    "lug_width": -0.10,
    "plate_thickness": 0.0,
}
"""How far a scaled measure may be off, its sign the end that asks more of the pivot screw: own choice. A
smaller pitch turns faster, a thicker lug is a longer arm; thinner plates bear less but shorten it, and are
left.
"""
BAND_NOTE = (
    "Bands: the screw needed with every scaled measure at its favourable and at its pessimistic end "
    "(thrust, pitch, pivot radius and lug width 10 %, balance point 5 %, lug thickness 15 %, "
    "blade mass 25 %: own choice)."
)
_STATED = ("used_thrust", "pitch", "blade_mass", "balance_point", "pivot_radius")
_OF_THE_HUB = ("lug_thickness", "lug_width", "plate_thickness")


@dataclass(frozen=True)
class RangeRow:
    """One propeller: what it is, what its present screw is worth, what it needs.

    diameter m; thrusts N (rotor, steady); present_margin - smallest of the parts the screw touches, None
    where it does not fit; held_thrust - steady thrust at which the present pivot screw has margin zero;
    needed - smallest thread by property class, None where none holds; band - the same with the scaled
    measures at their favourable and at their pessimistic ends; unmet - of classes where none holds, the
    thread that comes nearest and what still fails with it; besides - check that no pivot screw mends, ""
    where none fails; assumed - names of scaled measures; why - line and reason of a propeller that could not
    be computed, else "".
    """

    name: str
    diameter: float
    claimed_thrust: float
    used_thrust: float
    present_screw: str
    present_class: str
    present_margin: float | None
    held_thrust: float
    share_of_claim: float
    needed: dict[str, str | None]
    band: dict[str, tuple[str | None, str | None]]
    unmet: dict[str, str]
    besides: str
    assumed: tuple[str, ...]
    why: str = ""

    @property
    def holds(self) -> bool:
        """Whether the present screw fits and holds the thrust used."""
        return self.present_margin is not None and self.present_margin >= 0.0


def range_rows(base: Build, entries: Sequence[Entry], classes: Sequence[str] = ("8.8",)) -> list[RangeRow]:
    """Check and size the pivot screw of every entry, what is unknown scaled from the base build.

    Arguments: base - a complete build of the same construction; entries; classes - names to size in.
    Returns a row per entry, of which that of a rotor that cannot make its thrust says so.
    Errors: UnknownName for a class.
    """
    rows = []
    for entry in entries:
        try:
            rows.append(_row(base, entry, classes))
        except ValueError as error:
            rows.append(_not_computed(base, entry, classes, str(error)))
    return rows


def _not_computed(base: Build, entry: Entry, classes: Sequence[str], why: str) -> RangeRow:
    build, assumed = build_of(base, entry)
    return RangeRow(
        name=entry.name,
        diameter=entry.values["diameter"],
        claimed_thrust=entry.values["claimed_thrust"],
        used_thrust=build.flying.used_thrust,
        present_screw=entry.present_screw,
        present_class=_present_class(base, entry).name,
        present_margin=None,
        held_thrust=float("nan"),
        share_of_claim=float("nan"),
        needed=dict.fromkeys(classes),
        band=dict.fromkeys(classes, (None, None)),
        unmet={},
        besides="",
        assumed=assumed,
        why=f"line {entry.line}: {why}",
    )


def _row(base: Build, entry: Entry, classes: Sequence[str]) -> RangeRow:
    build, assumed = build_of(base, entry)
    loads = loads_of(build)
    strength = _present_class(base, entry)
    sizing = size(build, classes=classes, loads=loads, every=False)
    needed = _needed(sizing)
    low, high = (_ended(base, entry, build, assumed, side, classes) for side in (-1.0, 1.0))
    try:
        present = with_pivot_screw(build, entry.present_screw, strength)
    except MisfitError:
        margin, held, share = None, float("nan"), float("nan")
    else:
        margin, _ = weakest(Situation(present, loads), TOUCHED)
        part = next(part for part in limit(present).parts if part.part == PIVOT)
        held, share = part.thrust, part.peak_thrust / entry.values["claimed_thrust"]
    return RangeRow(
        name=entry.name,
        diameter=entry.values["diameter"],
        claimed_thrust=entry.values["claimed_thrust"],
        used_thrust=build.flying.used_thrust,
        present_screw=entry.present_screw,
        present_class=strength.name,
        present_margin=margin,
        held_thrust=held,
        share_of_claim=share,
        needed=needed,
        band={name: (low.get(name), high.get(name)) for name in needed},
        unmet=_unmet(sizing),
        besides=f"{sizing.rest[1]} {sizing.rest[0]:+.2f}" if sizing.rest[0] < 0.0 else "",
        assumed=assumed,
    )


def _needed(sizing: Sizing) -> dict[str, str | None]:
    return {name: None if found is None else found.thread for name, found in sizing.by_class().items()}


def _unmet(sizing: Sizing) -> dict[str, str]:
    """What comes nearest in every class of which no thread holds; why none fits where none does."""
    told = {}
    for name, holding in sizing.by_class().items():
        if holding is None:
            tried = [one for one in sizing.candidates if one.property_class == name]
            judged = [(one.margin, one) for one in tried if one.margin is not None]
            margin, best = max(judged, key=lambda pair: pair[0], default=(None, tried[0]))
            ending = "" if margin is None else f" {margin:+.2f}"
            told[name] = f"{best.thread}: {best.reason}{ending}"
    return told


def _ended(
    base: Build, entry: Entry, build: Build, assumed: Sequence[str], side: float, classes: Sequence[str]
) -> dict[str, str | None]:
    """Threads needed with the scaled measures at one end: side -1 the favourable, 1 the pessimistic one.

    None for all where the rotor cannot make its thrust there.
    """
    if not assumed:
        return _needed(size(build, classes=classes, every=False))
    scaled = {
        "used_thrust": build.flying.used_thrust,
        **{name: getattr(build.propeller, name) for name in ("pitch", "blade_mass", "balance_point")},
        **{name: getattr(build.hub, name) for name in ("pivot_radius", *_OF_THE_HUB)},
    }
    ends = {name: scaled[name] * (1.0 + side * SPREADS[name]) for name in assumed}
    there, _ = build_of(base, replace(entry, values={**entry.values, **ends}))
    try:
        return _needed(size(there, classes=classes, every=False))
    except ValueError:
        return dict.fromkeys(classes)


def _present_class(base: Build, entry: Entry) -> PropertyClass:
    return base.pivot.strength if entry.present_class is None else property_class(entry.present_class)


def build_of(base: Build, entry: Entry) -> tuple[Build, tuple[str, ...]]:
    """Return the build of one entry and the names of what was scaled from the base."""
    known = entry.values
    ratio = known["diameter"] / base.propeller.diameter
    claimed = base.flying.claimed_thrust or base.flying.used_thrust
    used = known.get("used_thrust", known["claimed_thrust"] * base.flying.used_thrust / claimed)
    load = used / base.flying.used_thrust
    build = replace(
        base,
        name=entry.name,
        propeller=_propeller(base.propeller, entry, ratio),
        hub=_hub(base.hub, known, ratio),
        aircraft=replace(
            base.aircraft, mass=base.aircraft.mass * load, drag_area=base.aircraft.drag_area * load
        ),
        flying=replace(base.flying, used_thrust=used, claimed_thrust=known["claimed_thrust"], cases=()),
    )
    return build, tuple(name for name in (*_STATED, *_OF_THE_HUB) if name not in known)


def _propeller(base: Propeller, entry: Entry, ratio: float) -> Propeller:
    known = entry.values
    return replace(
        base,
        blades=entry.blades or base.blades,
        diameter=known["diameter"],
        pitch=known.get("pitch", base.pitch * ratio),
        blade_mass=known.get("blade_mass", base.blade_mass * ratio**3),
        balance_point=known.get("balance_point", base.balance_point * ratio),
        widest_chord=base.widest_chord * ratio,
        tip_chord=base.tip_chord * ratio,
        root_thickness=base.root_thickness * ratio,
        tap_frequency=base.tap_frequency / ratio,  # similar blades of one material: frequency falls with size
        stations=tuple(
            replace(s, radius=s.radius * ratio, chord=s.chord * ratio, thickness=s.thickness * ratio)
            for s in base.stations
        ),
    )


def _hub(base: Hub, known: dict[str, float], ratio: float) -> Hub:
    """Scale the hub; holes, bush and gap belong to the screw and stay, see with_pivot_screw."""
    lug_width = known.get("lug_width", base.lug_width * ratio)
    across = lug_width / base.lug_width
    lug_thickness = known.get("lug_thickness", base.lug_thickness * ratio)
    return replace(
        base,
        pivot_radius=known.get("pivot_radius", base.pivot_radius * ratio),
        plate_thickness=known.get("plate_thickness", base.plate_thickness * ratio),
        plate_width=base.plate_width * across,
        plate_edge_distance=base.plate_edge_distance * across,
        lug_thickness=lug_thickness,
        # A bush stands proud of a thinner or thicker lug by as much as in the base.
        bush_length=max(lug_thickness + base.bush_length - base.lug_thickness, 0.1 * lug_thickness),
        lug_width=lug_width,
        lug_edge_distance=base.lug_edge_distance * across,
        contact_length=base.contact_length * across,
    )


def row_as_dict(row: RangeRow) -> dict[str, object]:
    """Return one row as plain data with the units in the names, for JSON, CSV and charts."""
    gravity = 9.80665

    def rounded(value: float | None, digits: int = 3) -> float | None:
        return None if value is None or not np.isfinite(value) else round(float(value), digits)

    return {
        "name": row.name,
        "diameter_in": rounded(row.diameter / 0.0254),
        "claimed_thrust_kgf": rounded(row.claimed_thrust / gravity),
        "used_thrust_kgf": rounded(row.used_thrust / gravity),
        "present_screw": row.present_screw,
        "present_class": row.present_class,
        "present_margin": rounded(row.present_margin),
        "held_thrust_kgf": rounded(row.held_thrust / gravity),
        "share_of_claim": rounded(row.share_of_claim),
        **{f"needed_{name}": thread for name, thread in row.needed.items()},
        **{f"needed_{name}_least": band[0] for name, band in row.band.items()},
        **{f"needed_{name}_most": band[1] for name, band in row.band.items()},
        **{f"unmet_{name}": row.unmet.get(name, "") for name in row.needed},
        "besides": row.besides,
        "assumed": "; ".join(row.assumed),
        "not_computed": row.why,
    }
