"""The command that measures a blade from a scan."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladehold.cli.common import HOLDS, AsCsv, AsJson, one_format, refusals, refuse

if TYPE_CHECKING:
    from bladehold.rotor import BladeScan


def register(app: typer.Typer) -> None:
    """Add the command to the application."""
    app.command()(scan)


def scan(
    mesh: Annotated[
        Path, typer.Argument(help="Scan of one blade: STL, PLY, OBJ or OFF.", show_default=False)
    ],
    unit: Annotated[str, typer.Option("--unit", help="Unit of the file's numbers, such as mm or in.")],
    diameter: Annotated[str, typer.Option("--diameter", help='Of the tip circle, such as "24 in".')],
    pivot_radius: Annotated[
        str, typer.Option("--pivot-radius", help='Rotor axis to pivot axis, such as "30 mm".')
    ],
    up: Annotated[
        str, typer.Option("--up", help="Axis of the file along the thrust: x, y, z, -x, -y or -z.")
    ] = "z",
    pivot_at: Annotated[
        str | None, typer.Option("--pivot-at", help='The pivot in numbers of the file, such as "30, 0, 0".')
    ] = None,
    stations: Annotated[int, typer.Option("--stations", help="How many sections are cut.")] = 12,
    section: Annotated[
        str | None, typer.Option("--section", help="Blade section to name in every station.")
    ] = None,
    out: Annotated[Path | None, typer.Option("--out", help="Write to this file instead.")] = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Measure chord, twist, thickness, area and balance of a scanned blade, as tables for a sheet."""
    one_format(as_json, as_csv)
    with refusals(mesh):
        from bladehold.report.files import write_whole
        from bladehold.report.scan import doubt_sentences
        from bladehold.rotor import scan_blade
        from bladehold.sheet import fields as f

        _known_words(unit, up, section)
        tip = 0.5 * _read("--diameter", f.reader(f.Diameter), diameter)
        pivot = _read("--pivot-radius", f.reader(f.Length), pivot_radius)
        try:
            found = scan_blade(
                mesh,
                unit=unit,
                radius=tip,
                pivot_radius=pivot,
                hub_axis=up,
                pivot_point=_place(pivot_at),
                stations=stations,
            )
        except ValueError as error:
            refuse(f"{mesh}: {error}")
        text = _text(found, mesh.name, section, as_json=as_json, as_csv=as_csv)
        if out is None:
            print(text, end="")
        else:
            out.parent.mkdir(parents=True, exist_ok=True)
            write_whole(out, text.encode())
            print(f"Wrote {out}")
            for sentence in doubt_sentences(found):
                print(sentence)
    raise typer.Exit(HOLDS)


def _read(option: str, reader: Callable[[object], float], text: str) -> float:
    """The SI value of an option, or a refusal that names it."""
    try:
        return reader(text)
    except ValueError as error:
        refuse(f"{option}: {error}")


def _place(text: str | None) -> list[float] | None:
    """Three numbers, or a refusal."""
    if text is None:
        return None
    try:
        x, y, z = (float(part) for part in text.split(","))
    except ValueError:
        from bladehold.quantity import shown

        refuse(f'--pivot-at: read {shown(text)}: three numbers are wanted, as in "30, 0, 0"')
    return [x, y, z]


def _known_words(unit: str, up: str, section: str | None) -> None:
    """Refuse a unit, an axis or a section that does not exist, by the name of its option."""
    from bladehold.quantity import shown
    from bladehold.quantity.kinds import KINDS
    from bladehold.rotor import HUB_AXES, section_catalogue
    from bladehold.sheet.fields import advice

    units = KINDS["length"].units
    if unit not in units:
        refuse(f"--unit: {shown(unit)} is no unit of length; a mesh file has none, so state {_one_of(units)}")
    if up not in HUB_AXES:
        refuse(f"--up: {shown(up)} is no axis; state {_one_of(HUB_AXES)}")
    if section is not None and section not in section_catalogue():
        refuse(f"--section: {advice('blade section', section, tuple(section_catalogue()))}")


def _one_of(names: Iterable[str]) -> str:
    return f"one of {', '.join(names)}"


def _text(found: BladeScan, name: str, section: str | None, *, as_json: bool, as_csv: bool) -> str:
    """The answer in the format asked for."""
    from bladehold.report import data
    from bladehold.report.scan import scan_csv_rows, scan_data, station_text

    if as_json:
        return data.as_json(scan_data(found, name, section)) + "\n"
    return data.as_csv(scan_csv_rows(found, section)) if as_csv else station_text(found, name, section)
