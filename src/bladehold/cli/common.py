"""What the commands share: exit codes, common options, refusals in words."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

if TYPE_CHECKING:
    from rich.console import Console

    from bladehold.sheet import Build

HOLDS, FAILS, BAD_INPUT, FAULT = 0, 1, 2, 3

SheetPath = Annotated[Path, typer.Argument(help="Build sheet (TOML).", show_default=False)]
AsJson = Annotated[bool, typer.Option("--json", help="Print the results as JSON.")]
AsCsv = Annotated[bool, typer.Option("--csv", help="Print the table as CSV.")]
Pictures = Annotated[
    list[Path] | None, typer.Option("--out", help="Picture file: .html, .svg or .png; may be given again.")
]
Classes = Annotated[
    list[str] | None, typer.Option("--class", help="Property class to size in; may be given again.")
]


def console() -> Console:
    """Return a console that takes text as text."""
    from rich.console import Console

    # Names and notes of a sheet are text: brackets in them are no markup.
    return Console(highlight=False, markup=False, emoji=False)


@contextmanager
def refusals(sheet: Path) -> Iterator[None]:
    """Turn bad input into sentences on standard error and exit code 2; sheet - the file that is worked on."""
    from bladehold.sheet.problem import Problem, SheetError
    from bladehold.tables import UnknownName

    try:
        yield
    except SheetError as error:
        refuse(*(str(problem) for problem in error.problems))
    except UnknownName as error:
        refuse(str(error))
    except OSError as error:
        refuse(f"{error.filename or 'file'}: {error.strerror or error}")
    except ValueError as error:
        # The physics names the input it refuses; whatever reaches this place is the sheet's doing.
        refuse(str(Problem(str(sheet), None, "", f"describes something that cannot be computed: {error}")))


@contextmanager
def tap_test(sheet: Path) -> Iterator[None]:
    """Turn a balance point that no blade of this shape can have into a problem of the sheet."""
    from bladehold.blade import BalanceError
    from bladehold.report.blade import balance_sentence
    from bladehold.sheet.problem import Problem, SheetError

    try:
        yield
    except BalanceError as error:
        problem = Problem(str(sheet), None, "propeller.balance_point", balance_sentence(error))
        raise SheetError([problem]) from error


def refuse(*lines: str) -> NoReturn:
    """Print lines to standard error and end with BAD_INPUT."""
    for line in lines:
        print(f"bladehold: {line}", file=sys.stderr)
    raise typer.Exit(BAD_INPUT)


def outlive_closed_sockets() -> None:
    """Let whoever closes a connection early not end the program, as a closed output pipe does."""
    if hasattr(signal, "SIGPIPE"):
        signal.signal(signal.SIGPIPE, signal.SIG_IGN)


def build_of(path: Path) -> Build:
    """Return the complete build of a sheet file."""
    from bladehold.sheet import load_sheet, resolve

    return resolve(load_sheet(path), path.parent)


def one_format(as_json: bool, as_csv: bool) -> None:
    """Refuse two output formats at once."""
    if as_json and as_csv:
        refuse("give --json or --csv, not both")


def chart_needs_file(chart: object, out: Sequence[Path] | None) -> None:
    """Refuse a chart that is chosen but written nowhere."""
    if chart is not None and not out:
        refuse("--chart says what --out draws: name a picture file with --out, too")


def known_endings(paths: Iterable[Path]) -> None:
    """Refuse a picture file whose ending names no format, before anything is computed."""
    from bladehold.report.render import FORMATS

    for path in paths:
        if _ending(path) not in FORMATS:
            refuse(f"{path}: pictures are written as {', '.join(FORMATS)}; give one of these endings")


def write_pictures(drawn: Callable[[str], bytes], paths: Iterable[Path]) -> None:
    """Write what drawn(format) returns to every path, by its ending; folders that lack are made."""
    from bladehold.report.files import write_whole

    # All are drawn before the first is written: a fault leaves no half of the set behind.
    for path, content in [(path, drawn(_ending(path))) for path in paths]:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)


def told_written(paths: Iterable[Path]) -> None:
    """Say which pictures were written."""
    for path in paths:
        print(f"Wrote {path}")


def _ending(path: Path) -> str:
    return path.suffix.lower().lstrip(".")
