"""The command line. Exit codes: 0 holds, 1 does not hold, 2 bad input. Heavy parts load when used."""

from __future__ import annotations

import gc
import io
import signal
import sys
from pathlib import Path
from typing import Annotated

import typer

from bladehold.cli import (
    blade,
    calibrate,
    chance,
    compare,
    flying,
    joint,
    limit,
    loss,
    report,
    rotor,
    scan,
    serve,
    size,
    sweep,
)
from bladehold.cli import range as range_command
from bladehold.cli.common import (
    FAILS,
    FAULT,
    HOLDS,
    AsCsv,
    AsJson,
    SheetPath,
    build_of,
    console,
    one_format,
    refusals,
    refuse,
)

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
        from bladehold.study import advise, assess
        from bladehold.study.limit import limit as limited
        from bladehold.study.size import size as sized

        build = build_of(sheet)
        found = assess(build)
        if as_csv:
            print(data.as_csv(data.check_rows(found)), end="")
        else:
            advices, held = advise(found), limited(build, found.loads)
            sizing = sized(build, loads=found.loads, every=False)
            if as_json:
                print(data.as_json(data.assessment_data(found, advices, held, sizing)))
            else:
                from bladehold.report.terminal import show_assessment

                show_assessment(console(), found, advices, held, sizing, every=every)
    raise typer.Exit(HOLDS if found.holds else FAILS)


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
chance.register(app)
compare.register(app)
flying.register(app)
joint.register(app)
limit.register(app)
loss.register(app)
range_command.register(app)
report.register(app)
rotor.register(app)
scan.register(app)
serve.register(app)
size.register(app)
sweep.register(app)


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
