"""The command that finds the screw a joint needs, or the hub, of all that may be bought and made."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from bladehold.cli.common import (
    FAILS,
    HOLDS,
    AsCsv,
    AsJson,
    Classes,
    SheetPath,
    build_of,
    console,
    one_format,
    refusals,
    refuse,
)

if TYPE_CHECKING:
    from bladehold.sheet import Build


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("size")(size)


def size(
    sheet: SheetPath,
    classes: Classes = None,
    threads: Annotated[
        list[str] | None, typer.Option("--thread", help="Thread to try; may be given again.")
    ] = None,
    over: Annotated[
        list[str] | None,
        typer.Option(
            "--over",
            help="Choose over screw, plates, lug, ties, bush, plate-material, lug-material; commas or again.",
        ),
    ] = None,
    plate: Annotated[
        list[str] | None, typer.Option("--plate", help='Plate thickness to try, as "4 mm"; again.')
    ] = None,
    lug: Annotated[
        list[str] | None, typer.Option("--lug", help='Lug thickness to try, as "9 mm"; again.')
    ] = None,
    tie: Annotated[
        list[str] | None, typer.Option("--tie", help='Ties to try, as "2 x M4 8.8" or "none"; again.')
    ] = None,
    bush: Annotated[
        list[str] | None, typer.Option("--bush", help='Bush to try, as "1 mm 17-4PH" or "none"; again.')
    ] = None,
    plate_material: Annotated[
        list[str] | None, typer.Option("--plate-material", help="Material of the plates to try; again.")
    ] = None,
    lug_material: Annotated[
        list[str] | None, typer.Option("--lug-material", help="Material of the lug to try; again.")
    ] = None,
    stock: Annotated[
        Path | None, typer.Option("--stock", help="CSV of what can be had: columns part and item.")
    ] = None,
    most_added: Annotated[
        str | None, typer.Option("--most-added", help='Mass that a rotor may gain, as "12 g".')
    ] = None,
    keep_holes: Annotated[
        bool, typer.Option("--keep-holes", help="Holes of parts that stay may be opened, not closed.")
    ] = False,
    every: Annotated[
        bool, typer.Option("--all", help="Show every hub looked at, with the reason it is out.")
    ] = False,
    as_json: AsJson = False,
    as_csv: AsCsv = False,
) -> None:
    """Find the smallest pivot screw that holds; with further options, the lightest hub."""
    one_format(as_json, as_csv)
    with refusals(sheet):
        from bladehold.sheet.wanted import load_stock, read_items

        named = {
            "thread": threads,
            "class": classes,
            "plates": plate,
            "lug": lug,
            "ties": tie,
            "bush": bush,
            "plate-material": plate_material,
            "lug-material": lug_material,
        }
        axes = [word.strip() for text in over or [] for word in text.split(",")]
        try:
            items = read_items({part: texts or [] for part, texts in named.items()})
            grams = _grams(most_added)
        except ValueError as error:
            refuse(str(error))
        # What is named takes the place of the stock's items of the same part.
        items = {**(load_stock(stock) if stock else {}), **items}
        wide = bool(axes or stock or grams is not None or keep_holes or set(items) - {"thread", "class"})
        build = build_of(sheet)
        if wide:
            holds = _hub(build, items, axes, grams, keep_holes, every=every, as_json=as_json, as_csv=as_csv)
        else:
            holds = _screw(build, items, as_json=as_json, as_csv=as_csv)
    raise typer.Exit(HOLDS if holds else FAILS)


def _grams(text: str | None) -> float | None:
    """The mass that may be added, kg."""
    if text is None:
        return None
    from bladehold.quantity import QuantityError, read

    try:
        found = read(text, "mass").si
    except QuantityError as error:
        raise ValueError(f"--most-added: {error}") from None
    if found < 0.0:
        raise ValueError(f'--most-added: read "{text}": must be at least 0 g')
    return found


def _screw(build: Build, items: dict[str, Any], *, as_json: bool, as_csv: bool) -> bool:
    """The pivot screw alone."""
    from bladehold.report import data
    from bladehold.study.size import USUAL_CLASSES
    from bladehold.study.size import size as find

    sizing = find(build, items.get("thread"), items.get("class", USUAL_CLASSES))
    if as_json:
        print(data.as_json(data.answer(build, data.sizing_data(sizing))))
    elif as_csv:
        print(data.as_csv(data.sizing_data(sizing)["candidates"]), end="")
    else:
        from bladehold.report.size import show_sizing

        show_sizing(console(), build, sizing)
    return sizing.smallest is not None


def _hub(
    build: Build,
    items: dict[str, Any],
    axes: list[str],
    grams: float | None,
    keep_holes: bool,
    *,
    every: bool,
    as_json: bool,
    as_csv: bool,
) -> bool:
    """The whole hub."""
    from bladehold.report import data
    from bladehold.report.hardware import search_data, search_rows, show_search
    from bladehold.study.choices import choices_of
    from bladehold.study.hardware import search

    try:
        choices = choices_of(build, items, axes, keep_holes=keep_holes)
        found = search(build, choices, most_added=grams)
    except ValueError as error:
        refuse(str(error))
    if as_json:
        print(data.as_json(search_data(found, build)))
    elif as_csv:
        print(data.as_csv(search_rows(found)), end="")
    else:
        show_search(console(), build, found, every=every)
    return found.best is not None
