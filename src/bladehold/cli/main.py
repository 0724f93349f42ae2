"""The command line. Exit codes: 0 holds, 1 does not hold, 2 bad input. Heavy parts load when used."""

from __future__ import annotations

import gc
import io
import signal
import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladehold.cli import blade, calibrate, flying, joint, rotor, scan
from bladehold.cli.common import (
    FAILS,
    FAULT,
    HOLDS,
    AsCsv,
    AsJson,
    Classes,
    Pictures,
    SheetPath,
    build_of,
    console,
    known_endings,
    one_format,
    refusals,
    refuse,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from bladehold.sheet import Build
    from bladehold.study import RangeRow

app = typer.Typer(
    name="bladehold",
    help="Loads, margins and screw sizes for the blade retention of heavy multirotor propellers.\n\n"
    "Begin with: bladehold new my.toml, fill it in, bladehold check my.toml.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


@app.command()
def new(
    path: Annotated[Path, typer.Argument(help="Where to write the sheet.")] = Path("build.toml"),
    force: Annotated[bool, typer.Option("--force", help="Overwrite a file that exists.")] = False,
) -> None:
    """Write a commented starter sheet."""
    with refusals(path):
        from bladehold.report.files import write_whole
        from bladehold.sheet.starter import starter_text

        if path.exists() and not force:
            refuse(f"{path} exists already; give another name, or --force to overwrite it")
        write_whole(path, starter_text().encode())
        print(f"Wrote {path}. Fill it in, then: bladehold show {path}, bladehold check {path}")


@app.command()
def show(sheet: SheetPath, as_json: AsJson = False) -> None:
    """Echo what a sheet says, as written and in SI, with every assumed value marked."""
    with refusals(sheet):
        from dataclasses import asdict

        from bladehold.report import data
        from bladehold.report.echo import echo_of, show_echo
        from bladehold.sheet import load_sheet, resolve

        read = load_sheet(sheet)
        build = resolve(read, sheet.parent)
        lines = echo_of(read, build)
        if as_json:
            found = {"lines": [asdict(line) for line in lines], "notes": list(build.notes)}
            print(data.as_json(data.answer(build, found)))
        else:
            show_echo(console(), lines, build)


@app.command()
def check(
    sheet: SheetPath,
    every: Annotated[
        bool, typer.Option("--all", help="Show every check, not only the weakest per part.")
    ] = False,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Check every part: verdict, what helps most, loads, margins, what was assumed."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.study import advise, assess, limit, size

        build = build_of(sheet)
        found = assess(build)
        if as_csv:
            print(data.as_csv(data.check_rows(found)), end="")
        else:
            advices, held = advise(found), limit(build, found.loads)
            sizing = size(build, loads=found.loads, every=False)
            if as_json:
                print(data.as_json(data.assessment_data(found, advices, held, sizing)))
            else:
                from bladehold.report.terminal import show_assessment

                show_assessment(console(), found, advices, held, sizing, every=every)
    raise typer.Exit(HOLDS if found.holds else FAILS)


@app.command()
def size(
    sheet: SheetPath,
    classes: Classes = None,
    threads: Annotated[
        list[str] | None, typer.Option("--thread", help="Thread to try; may be given again.")
    ] = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Find the smallest pivot screw that holds, over threads and property classes."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.study.size import USUAL_CLASSES
        from bladehold.study.size import size as find

        build = build_of(sheet)
        sizing = find(build, threads, classes or USUAL_CLASSES)
        if as_json:
            print(data.as_json(data.answer(build, data.sizing_data(sizing))))
        elif as_csv:
            print(data.as_csv(data.sizing_data(sizing)["candidates"]), end="")
        else:
            from bladehold.report.terminal import show_sizing

            show_sizing(console(), build, sizing)
    raise typer.Exit(HOLDS if sizing.smallest else FAILS)


@app.command()
def limit(sheet: SheetPath, as_json: AsJson = False, as_csv: AsCsv = False) -> None:
    """Find the largest thrust and speed that the hardware holds as it is."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.study.limit import limit as find

        build = build_of(sheet)
        found = find(build)
        if as_json:
            print(data.as_json(data.answer(build, data.limit_data(found))))
        elif as_csv:
            print(data.as_csv(data.limit_data(found)["parts"]), end="")
        else:
            from bladehold.report.terminal import show_limit

            show_limit(console(), build, found)
    raise typer.Exit(HOLDS if found.lowest.thrust >= found.used_thrust else FAILS)


@app.command("range")
def range_command(
    lineup: Annotated[Path, typer.Argument(help="List of propellers (CSV).", show_default=False)],
    base: Annotated[Path, typer.Option("--base", help="Build sheet of the same construction.")],
    classes: Classes = None,
    out: Pictures = None,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Chart the pivot screw that each propeller of a line needs."""
    one_format(as_json, as_csv)
    with refusals(base):
        from bladehold.report import data
        from bladehold.study.range_chart import row_as_dict

        names = tuple(dict.fromkeys(classes or ("A2-70", "8.8", "12.9")))
        known_endings(out or [])
        build = build_of(base)
        rows = _rows(lineup, build, names)
        if out:
            from bladehold.report.chart import range_chart
            from bladehold.report.render import render

            chart = range_chart(rows, names, invented=build.invented)
            write_pictures(partial(render, chart), out)
        if as_json:
            listed = [row_as_dict(row) for row in rows]
            print(data.as_json({"propellers": listed, "cautions": data.cautions(invented=build.invented)}))
        elif as_csv:
            print(data.as_csv(row_as_dict(row) for row in rows), end="")
        else:
            from bladehold.report.terminal import show_range

            show_range(console(), rows, names, invented=build.invented)
            told_written(out or [])
    raise typer.Exit(HOLDS if all(row.holds for row in rows) else FAILS)


def _rows(lineup: Path, build: Build, classes: tuple[str, ...]) -> list[RangeRow]:
    """Return a row for every propeller of the list, or refuse each that cannot be computed with its line."""
    from bladehold.sheet.lineup import load_lineup
    from bladehold.sheet.problem import Problem, SheetError, first_few
    from bladehold.study.range_chart import range_rows

    rows, problems = [], []
    for entry in load_lineup(lineup):
        try:
            rows += range_rows(build, [entry], classes)
        except ValueError as error:
            message = f"describes something that cannot be computed: {error}"
            problems.append(Problem(str(lineup), entry.line, entry.name, message))
    if problems:
        raise SheetError(first_few(problems))
    return rows


def _version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        print(f"bladehold {version('bladehold')}")
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    """Options that stand before the command."""


blade.register(app)
calibrate.register(app)
flying.register(app)
joint.register(app)
rotor.register(app)
scan.register(app)


def run() -> None:
    """Run the command line; the entry point of the installed command.

    An unforeseen fault ends with code 3 and one line, never with the 1 that means "does not hold".
    """
    gc.disable()  # what one command makes lives to its end; collecting it would take a tenth of its time
    if hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_DFL)  # end silently when the reader of a pipe has left
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # The signs and units of the output are not in every code page.
            encoding = None if stream.isatty() else "utf-8"
            stream.reconfigure(encoding=encoding, errors="backslashreplace")
    try:
        app()
    except Exception as fault:
        print(f"bladehold: a fault in the program itself: {type(fault).__name__}: {fault}", file=sys.stderr)
        sys.exit(FAULT)
