"""The command that measures a blade from a scan."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated

import typer

from bladehold.cli.common import HOLDS, refusals, refuse


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
) -> None:
    """Measure chord, twist and thickness from a scan, as station tables to paste into a sheet."""
    with refusals(mesh):
        from bladehold.report.files import write_whole
        from bladehold.report.scan import station_text
        from bladehold.rotor.scan import scan_blade
        from bladehold.sheet import fields as f

        tip = 0.5 * _read("--diameter", f.reader(f.Diameter), diameter)
        pivot = _read("--pivot-radius", f.reader(f.Length), pivot_radius)
        _known_section(section)
        try:
            found = scan_blade(
                mesh,
                unit=unit,
                radius=tip,
                pivot_radius=pivot,
                hub_axis=up,
                pivot_point=_place(pivot_at),
                at=stations,
            )
        except ValueError as error:
            refuse(f"{mesh}: {error}")
        text = station_text(found, mesh.name, section)
        if out is None:
            print(text, end="")
        else:
            write_whole(out, text.encode())
            print(f"Wrote {out}")
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


def _known_section(name: str | None) -> None:
    """Refuse a section that the catalogue does not have."""
    from bladehold.rotor import section_catalogue
    from bladehold.sheet.fields import advice

    if name is not None and name not in section_catalogue():
        refuse(f"--section: {advice('blade section', name, tuple(section_catalogue()))}")
