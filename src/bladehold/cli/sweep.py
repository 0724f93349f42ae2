"""The command that assesses a sheet over ranges of its numbers."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from bladehold.cli.common import (
    AsJson,
    Pictures,
    SheetPath,
    console,
    known_endings,
    outlive_closed_sockets,
    refusals,
    refuse,
    told_written,
    write_pictures,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from bladehold.study.sweep import Sweep, Swept
    from bladehold.study.sweep_run import Journal

STOPPED = 130  # as shells have it for a program that was interrupted


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("sweep")(sweep)


def sweep(
    sheet: SheetPath,
    vary: Annotated[
        list[str],
        typer.Option("--vary", help='KEY=LOW..HIGH[:POINTS], as "hub.plate_thickness=3 mm..5 mm:5"; again.'),
    ],
    draw: Annotated[
        int | None,
        typer.Option("--draw", min=2, help="So many quasi-random points instead of the full grid."),
    ] = None,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Of the quasi-random points.")] = 1,
    table: Annotated[
        Path | None, typer.Option("--table", help="All points, .csv or .parquet; kept as they get done.")
    ] = None,
    restart: Annotated[
        bool, typer.Option("--restart", help="Begin anew instead of going on from what is kept.")
    ] = False,
    workers: Annotated[
        int | None, typer.Option("--workers", min=1, max=1024, help="Processes; all cores if left out.")
    ] = None,
    cluster: Annotated[
        str | None, typer.Option("--cluster", help="Address of a Dask scheduler, as tcp://host:8786.")
    ] = None,
    out: Pictures = None,
    as_json: AsJson = False,
) -> None:
    """Assess a sheet over ranges of its numbers: grids or quasi-random points, on all cores or a cluster.

    Stopped and given again with the same --table it goes on where it was.
    """
    known_endings(out or [])
    with refusals(sheet):
        from bladehold.report import data
        from bladehold.report.render import render
        from bladehold.report.sweep import show_sweep, sweep_data
        from bladehold.report.sweep_chart import sweep_chart
        from bladehold.sheet.vary import load_source, read_axis
        from bladehold.study.sweep import sweep_of

        source = load_source(sheet)
        try:
            axes = [read_axis(text, source) for text in vary]
            wanted = sweep_of(source, axes, drawn=draw, seed=seed)
        except ValueError as error:
            refuse(f"--vary: {error}")
        found = _run(wanted, table, workers, cluster, restart=restart)
        invented = bool(source.data["about"].get("invented", False))
        write_pictures(lambda kind: render(sweep_chart(found, invented=invented), kind), out or [])
        if as_json:
            print(data.as_json(sweep_data(found, invented=invented)))
        else:
            show_sweep(console(), found, invented=invented)
            told_written([*([table] if table else []), *(out or [])])


def _run(
    wanted: Sweep, table: Path | None, workers: int | None, cluster: str | None, *, restart: bool
) -> Swept:
    """Run a sweep, with a table kept as it gets done where one is wanted."""
    from bladehold.study.sweep_run import NoClusterError, run

    journal = None
    if table is not None:
        journal = _journal(wanted, table, restart=restart)
    kept = len(journal.done) if journal is not None else 0
    print(f"{wanted.count} points{f', {kept} of them kept from before' if kept else ''}", file=sys.stderr)
    if cluster is not None:
        outlive_closed_sockets()
    try:
        with _progress(wanted.count) as told:
            found = run(wanted, journal=journal, workers=workers, cluster=cluster, progress=told)
    except NoClusterError as error:
        refuse(f"--cluster: {error}")
    except KeyboardInterrupt:
        _stopped(wanted, table, 0 if journal is None else len(journal.done))
    finally:
        if journal is not None:
            journal.close()
    if table is not None and journal is not None:
        _finish(found, table, journal.path)
    return found


def _journal(wanted: Sweep, table: Path, *, restart: bool) -> Journal:
    from bladehold.report.sweep import TABLES
    from bladehold.study.sweep_run import Journal, OtherSweepError

    ending = table.suffix.lower().lstrip(".")
    if ending not in TABLES:
        refuse(f"{table}: tables are written as {', '.join(TABLES)}; give one of these endings")
    if ending == "parquet":
        _needs_pyarrow()
    path = table.with_name(f"{table.name}.part")
    if restart:
        path.unlink(missing_ok=True)
    elif table.exists():
        refuse(f"{table} is finished already; name another table, or --restart to begin anew")
    try:
        table.parent.mkdir(parents=True, exist_ok=True)
        return Journal(path, wanted)
    except OtherSweepError as error:
        refuse(f"{path} cannot be gone on with: {error}; name another table, or --restart to begin anew")


def _needs_pyarrow() -> None:
    """Refuse a table that could not be written in the end, before the work is done."""
    from importlib.util import find_spec

    if find_spec("pyarrow") is None:
        refuse("Parquet needs the package pyarrow: pip install 'bladehold[parquet]'")


def _finish(found: Swept, table: Path, journal: Path) -> None:
    """Write the table, in the order of its points, and only then drop the journal."""
    from bladehold.report.files import write_whole
    from bladehold.report.sweep import table_of

    write_whole(table, table_of(found, table.suffix.lower().lstrip(".")))
    journal.unlink(missing_ok=True)


def _stopped(wanted: Sweep, table: Path | None, done: int) -> NoReturn:
    """Say what is kept, and end as an interrupted program does."""
    kept = "nothing is kept: name a --table to keep what gets done"
    if table is not None:
        kept = f"{done} of {wanted.count} points are kept; the same command goes on from there"
    print(f"\nbladehold: stopped; {kept}", file=sys.stderr)
    raise typer.Exit(STOPPED)


@contextmanager
def _progress(count: int) -> Iterator[Callable[[int], None] | None]:
    """A bar with the time left, where somebody is looking."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (
        TextColumn("points"),
        BarColumn(),
        MofNCompleteColumn(),
        TextColumn("left"),
        TimeRemainingColumn(),
    )
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("", total=count)
        yield lambda done: bar.update(task, completed=done)
