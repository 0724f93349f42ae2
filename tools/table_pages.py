"""The tables' rows as rows of docs/sheet.md, each figure with the source and mark it carries."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import TypeVar

from bladehold.rotor import section_catalogue, section_polar
from bladehold.tables import (
    Head,
    Material,
    Nut,
    Provenance,
    UnknownName,
    Washer,
    blade_material,
    blade_material_names,
    head,
    head_kinds,
    lubrication,
    lubrication_names,
    material,
    material_names,
    nut,
    nut_kinds,
    property_class,
    property_class_names,
    provenances,
    thread,
    thread_names,
    washer,
)

Part = TypeVar("Part", Head, Nut)
Table = tuple[str, Sequence[str], Sequence[Sequence[str]]]


class Sources:
    """Numbers the sources as they come up."""

    def __init__(self) -> None:
        self._found: dict[str, int] = {}

    def of(self, provenance: Provenance | None) -> str:
        """Mark and number of a source, as in `read [3]`."""
        if provenance is None:
            return ""
        number = self._found.setdefault(provenance.source, len(self._found) + 1)
        return f"`{provenance.mark}` [{number}]"

    def lines(self) -> list[str]:
        """The numbered list."""
        return [f"{number}. {source}" for source, number in self._found.items()]


def _mm(length: float, digits: int = 4) -> str:
    return f"{1e3 * length:.{digits}g}"


def _mpa(stress: float | None) -> str:
    return "" if stress is None else f"{stress / 1e6:.4g}"


def threads_table(sources: Sources) -> Table:
    """The threads a sheet may name."""
    rows = []
    for name in thread_names():
        row = thread(name)
        profile = row.profile
        rows.append(
            (
                f"`{name}`",
                _mm(row.nominal_diameter),
                _mm(row.pitch),
                _mm(profile.root_diameter),
                f"{1e6 * profile.stress_area:.4g}",
                sources.of(row.provenance),
            )
        )
    words = "ISO metric coarse threads. Root diameter and stress area are computed from diameter and pitch."
    return words, ("thread", "diameter, mm", "pitch, mm", "root, mm", "stress area, mm²", "mark"), rows


def parts_table(sources: Sources) -> Table:
    """The heads, nuts and washers that go with them, and the states of lubrication."""
    rows = []
    for kind in head_kinds():
        rows.append(_part("head", kind, _made(head, kind), sources))
    for kind in nut_kinds():
        rows.append(_part("nut", kind, _made(nut, kind), sources))
    rows.append(_part("washer", "", [washer(size) for size in thread_names()], sources))
    for name in lubrication_names():
        row = lubrication(name)
        low, high = row.nut_factor_low, row.nut_factor_high
        factor = "nut factor not given" if low is None else f"nut factor {low:g} to {high:g}"
        marks = " ".join(
            filter(None, (sources.of(row.nut_factor_provenance), sources.of(row.scatter_provenance)))
        )
        rows.append(
            ("lubrication", f"`{name}`", f"{factor}, preload scatter {row.preload_scatter:.0%}", marks)
        )
    words = "Dimensions by thread; an unmade size of a nut is replaced by the full nut when sizes are tried."
    return words, ("what", "name", "made as", "mark"), rows


def _made(find: Callable[[str, str], Part], kind: str) -> list[Part]:
    """Every size that a kind of head or nut is made in."""
    found = []
    for size in thread_names():
        with suppress(UnknownName):
            found.append(find(size, kind))
    return found


def _part(what: str, kind: str, made: Sequence[Head | Nut | Washer], sources: Sources) -> tuple[str, ...]:
    first, last = made[0], made[-1]
    marks = " ".join(dict.fromkeys(sources.of(row.provenance) for row in made))
    return what, f"`{kind}`" if kind else "plain", f"{first.standard}, {first.size} to {last.size}", marks


def classes_table(sources: Sources) -> Table:
    """The property classes a sheet may name."""
    rows = []
    for name in property_class_names():
        row = property_class(name)
        rows.append(
            (
                f"`{name}`",
                _mpa(row.tensile_strength),
                f"{_mpa(row.yield_strength)} ({row.yield_kind})",
                _mpa(row.proof_stress),
                sources.of(row.strength_provenance),
                f"{row.modulus / 1e9:.4g} {sources.of(row.modulus_provenance)}",
                row.note,
            )
        )
    words = (
        "`unmarked` is for a screw without a mark on its head: the weakest figures among the common classes. "
        "Shear strength is tensile strength / sqrt(3) (NASA-STD-5020B (2021) eq. 64). Values in MPa, modulus "
        "in GPa."
    )
    return words, ("class", "tensile", "yield", "proof", "mark", "modulus", "note"), rows


def blade_materials_table(sources: Sources) -> Table:
    """What a blade may be built of, stiffness and density along its span."""
    rows = []
    for name in blade_material_names():
        row = blade_material(name)
        marks = (
            f"modulus {sources.of(row.modulus_provenance)}",
            f"shear modulus {sources.of(row.shear_provenance)}",
            f"density {sources.of(row.density_provenance)}",
        )
        figures = (f"{row.modulus / 1e9:.4g}", f"{row.shear_modulus / 1e9:.4g}", f"{row.density:.4g}")
        rows.append((f"`{name}`", f"{row.kind}: {row.form}", *figures, "; ".join(marks), row.note))
    words = (
        "Moduli in GPa, density in kg/m^3. They give a blade's stiffness until a tap test tells it better; "
        "density only spreads the weighed mass along the span."
    )
    return words, ("material", "form", "modulus", "shear modulus", "density", "sources", "note"), rows


def materials_table(sources: Sources) -> Table:
    """The materials a sheet may name."""
    rows = []
    for name in material_names():
        row = material(name)
        marks = provenances(row)
        wanted = ("strength", "bearing_2d", "laminate", "modulus", "pressure")
        shown = "; ".join(f"{g.replace('_2d', '')} {sources.of(marks[g])}" for g in wanted if g in marks)
        rows.append(
            (
                f"`{name}`",
                f"{row.kind}: {row.form}",
                _mpa(row.tensile_ultimate),
                _mpa(row.tensile_yield),
                _mpa(row.shear_ultimate if row.shear_out is None else row.shear_out),
                _bearing(row),
                "" if row.hole_factor is None else f"{row.hole_factor:g}",
                _mpa(row.surface_pressure),
                f"{row.modulus / 1e9:.4g}",
                shown,
                row.note,
            )
        )
    words = (
        "Bearing is for e/D = 2 (laminates: on a plain pin), shear is shear-out for laminates, pressure is "
        "what may press under a head. Values in MPa, modulus in GPa. Every laminate figure is a customary "
        "low value that no source confirms: test your own and bring it in `[materials]`."
    )
    header = (
        "material",
        "form",
        "tensile",
        "yield",
        "shear",
        "bearing",
        "hole factor",
        "pressure",
        "modulus",
        "mark",
        "note",
    )
    return words, header, rows


def _bearing(row: Material) -> str:
    return _mpa(row.bearing_ultimate_2d if row.bearing_pin is None else row.bearing_pin)


def sections_table(sources: Sources) -> Table:
    """The blade sections a sheet may name."""
    rows = [
        (
            f"`{name}`",
            row.description,
            f"{100 * row.thickness_ratio:.3g}",
            f"{100 * row.camber_ratio:.3g}",
            " to ".join(f"{end:,.0f}".replace(",", " ") for end in section_polar(name).reynolds[[0, -1]]),
            sources.of(Provenance(row.source, row.mark)),
        )
        for name, row in section_catalogue().items()
    ]
    words = (
        "Lift and drag from -180 to 180 degrees, Mach number 0 to 0.65, computed ahead of time by "
        "`tools/make_polars.py`. Take the one that looks most like your blade at three quarters of the "
        "radius."
    )
    heads = (
        "section",
        "what it is",
        "thickness, % of chord",
        "camber, % of chord",
        "Reynolds number",
        "mark",
    )
    return words, heads, rows
