"""One long task in a process of its own: told what to do on standard input, it answers in lines of JSON.

{"done": 3, "of": 100} as it goes on, at the end {"result": ...} or {"refused": "why"}. Whoever stops the
process stops the task; a sweep keeps what it has in its journal and goes on from there when asked again.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bladehold.sheet import Build, SheetError, parse_sheet, resolve
from bladehold.web.told import Block, told_by

if TYPE_CHECKING:
    from bladehold.study.sweep import Sweep

Progress = Callable[[int, int], None]
_OFTEN = 0.1  # s between two words about progress


def done_by(kind: str, build: Build, options: Mapping[str, Any], progress: Progress) -> dict[str, Any]:
    """Return the result of a task: sentence, what else is told, charts, data.

    Errors: ValueError in words for what the options ask and cannot be.
    """
    return {"size": _size, "limit": _limit, "chance": _chance}[kind](build, options, progress)


def _size(build: Build, options: Mapping[str, Any], progress: Progress) -> dict[str, Any]:
    from bladehold.quantity import read
    from bladehold.report.data import as_csv
    from bladehold.report.hardware import headline, search_data, search_rows, show_search
    from bladehold.study.choices import choices_of
    from bladehold.study.hardware import search

    most = options.get("most_added")
    choices = choices_of(
        build, {}, list(options.get("over") or ["screw"]), keep_holes=bool(options.get("keep_holes"))
    )
    added = read(most, "mass").si if most else None
    found = search(build, choices, most_added=added, progress=progress)
    told = told_by(lambda console: show_search(console, build, found, every=True))
    return _result(headline(found, build), told, [], search_data(found, build), as_csv(search_rows(found)))


def _limit(build: Build, options: Mapping[str, Any], progress: Progress) -> dict[str, Any]:
    from bladehold.report import data
    from bladehold.report.limit import limit_rows, show_limit
    from bladehold.study.flight_limit import FlightLimits, flight_limits
    from bladehold.study.limit import limit
    from bladehold.study.words import limit_sentence

    found = limit(build)
    progress(1, 2)
    flight: FlightLimits | str
    try:
        flight = flight_limits(build)
    except ValueError as error:
        flight = str(error)
    progress(2, 2)
    flown = None if isinstance(flight, str) else data.flight_limit_data(flight)
    limits = data.limit_data(found)
    plain = data.answer(build, {**limits, "flight": flown})
    told = told_by(lambda console: show_limit(console, build, found, flight))
    return _result(limit_sentence(found), told, [], plain, data.as_csv(limit_rows(limits, flown)))


def _chance(build: Build, options: Mapping[str, Any], progress: Progress) -> dict[str, Any]:
    from bladehold.report.chance import chance_data, chance_rows, headline, show_chance
    from bladehold.report.chance_chart import driver_chart, part_chart
    from bladehold.report.data import as_csv
    from bladehold.study.chance import chance

    samples, allowed = int(options.get("samples") or 100_000), float(options.get("allowed") or 1e-5)
    found = chance(build, samples=samples, progress=progress)
    told = told_by(lambda console: show_chance(console, found, allowed))
    charts = [draw(found, allowed).to_dict() for draw in (part_chart, driver_chart)]
    progress(6, 6)
    return _result(
        headline(found, allowed), told, charts, chance_data(found, allowed), as_csv(chance_rows(found))
    )


def sweep_wanted(name: str, folder: str, text: str, options: Mapping[str, Any]) -> Sweep:
    """Return what is swept. Errors: SheetError; ValueError for ranges that cannot be."""
    from bladehold.sheet.reader import checked, toml_of
    from bladehold.sheet.vary import Source, read_axis
    from bladehold.study.sweep import sweep_of

    data = toml_of(text, name)
    checked(data, name, text)
    source = Source(name, folder, text, data)
    axes = [read_axis(line, source) for line in options["vary"]]
    return sweep_of(source, axes, drawn=options.get("draw"))


def swept(request: Mapping[str, Any], progress: Progress) -> dict[str, Any]:
    """Return the result of a sweep. Arguments: request - folder, name, text, options, journal; progress."""
    from bladehold.report.sweep import headline, show_sweep, sweep_data, table_of
    from bladehold.report.sweep_chart import sweep_chart
    from bladehold.study.sweep_run import Journal, OtherSweepError, run

    wanted = sweep_wanted(request["name"], request["folder"], request["text"], request["options"])
    invented = bool(wanted.source.data["about"].get("invented", False))
    try:
        journal = Journal(Path(request["journal"]), wanted)
    except OtherSweepError as error:
        raise ValueError(f"what is kept cannot be gone on with: {error}") from None
    try:
        found = run(wanted, journal=journal, progress=lambda done: progress(done, wanted.count))
    finally:
        journal.close()
    told = told_by(lambda console: show_sweep(console, found, invented=invented))
    chart = sweep_chart(found, invented=invented).to_dict()
    table = table_of(found, "csv").decode()
    return _result(headline(found), told, [chart], sweep_data(found, invented=invented), table)


def _result(
    sentence: str,
    told: list[Block],
    charts: list[dict[str, Any]],
    data: dict[str, Any],
    table: str,
) -> dict[str, Any]:
    from bladehold.report.data import as_json

    plain = json.loads(as_json(data))
    return {"sentence": sentence, "told": told, "charts": charts, "data": plain, "table": table}


def main() -> None:
    """Do the task that stands on standard input."""
    last = 0.0

    def say(words: Mapping[str, Any]) -> None:
        print(json.dumps(words), flush=True)

    def progress(done: int, of: int) -> None:
        nonlocal last
        now = time.monotonic()
        if done == of or now - last > _OFTEN:
            last = now
            say({"done": done, "of": of})

    request = json.loads(sys.stdin.read())
    try:
        if request["kind"] == "sweep":
            result = swept(request, progress)
        else:
            build = resolve(parse_sheet(request["text"], request["name"]), request["folder"])
            result = done_by(request["kind"], build, request["options"], progress)
    except SheetError as error:
        say({"refused": "; ".join(str(problem) for problem in error.problems)})
    except ValueError as error:
        say({"refused": str(error)})
    else:
        say({"result": result})


if __name__ == "__main__":
    main()
