"""What the charts of a rotor share: title and notes that fit, the cautions, data written into the chart."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from threading import RLock
from typing import Any

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.render import GRID, INK, MUTED

MARK = "#1f2d3a"
COLOURS = ["#1f4e79", "#b3402a", "#4b7f3c", "#a5761c"]
DASHES: list[list[int]] = [[1, 0], [6, 3], [2, 2], [8, 3, 2, 3]]
SHAPES = ["circle", "triangle-up", "diamond", "square"]
BESIDE = 350  # pixels of a panel with names beside it
NAMES = 30  # letters of one line of a name beside a panel
ROW, LINE_HEIGHT = 40, 14  # pixels of a row with a name, of a line of it
NOTES = "notes"  # of a chart's meta data: what stands above it, note by note
TITLE_SIZE, TITLE_SHARE = 17, 0.62  # of the title: pixels of its letters, letters over those of a note


# Altair's setters keep the object that they are asked of in their class: two threads that draw at the same
# time put parts of one chart into the other.
_ONE_AT_A_TIME = RLock()


def drawn(make: Callable[[], Any]) -> dict[str, Any]:
    """Return a chart as plain data, made while no other thread makes one."""
    with _ONE_AT_A_TIME:
        plain: dict[str, Any] = make().to_dict()
    return plain


def ranges_left(breaches: Sequence[str]) -> list[str]:
    """A note for every range the model has left."""
    return [f"! Range left: {text}" for text in breaches]


def titled(chart: Any, title: str, notes: Sequence[str], letters: int) -> Any:
    """The chart under its title and notes, broken into lines; letters - of one line of the notes."""
    import altair as alt

    heading = alt.TitleParams(
        textwrap.wrap(title, round(TITLE_SHARE * letters)),
        subtitle=[line for note in notes for line in textwrap.wrap(note, letters)],
        anchor="start",
        color=INK,
        fontSize=TITLE_SIZE,
        subtitleColor=MUTED,
        subtitleFontSize=12,
        subtitlePadding=6,
        offset=14,
    )
    return (
        # The notes stand in the chart once more, whole, for a document that writes them beside it.
        chart.properties(title=heading, padding=16, usermeta={NOTES: list(notes)})
        .configure_view(stroke=GRID)
        .configure_axis(labelFontSize=12, titleFontSize=12, labelColor=INK, titleColor=INK, gridColor=GRID)
        .configure_legend(labelFontSize=12, labelColor=INK, titleColor=INK)
    )


def caution(invented: bool) -> str:
    """The line that no picture goes without; invented - whether the sheet's data is."""
    return " ".join([*([INVENTED] if invented else []), CAUTIONS[0]])


def inline(values: list[dict[str, Any]]) -> Any:
    """Return rows as chart data; the charting library leaves this constructor untyped."""
    import altair as alt

    return alt.Data(values=values)  # type: ignore[no-untyped-call]


def looks(
    field: str, names: list[str], colours: list[str], *, legend: str, area: bool = False, columns: int = 2
) -> dict[str, Any]:
    """Colour, dash and shape of named lines in one legend; of an area: colour and dash of its edges."""
    import altair as alt

    count = len(names)
    kind: dict[str, Any] = {"symbolType": "stroke", "symbolOpacity": 1} if area else {}
    # The dash of the lines would fray the edges of the symbols.
    width = 2 if area else 0
    key = alt.Legend(
        title=legend, orient="bottom", columns=columns, symbolStrokeWidth=width, labelLimit=0, **kind
    )
    dash = [DASHES[0], *DASHES[1:count]]
    return {
        "color": alt.Color(field, scale=alt.Scale(domain=names, range=colours), legend=key),
        "dash": alt.StrokeDash(field, scale=alt.Scale(domain=names, range=dash), legend=key),
        "shape": alt.Shape(field, scale=alt.Scale(domain=names, range=SHAPES[:count]), legend=key),
    }


def panel_title(text: str) -> Any:
    """The title of one panel among several."""
    import altair as alt

    return alt.TitleParams(text, fontSize=13, anchor="start", frame="group", color=MARK)


def beside(field: str, order: list[str]) -> tuple[Any, list[Any]]:
    """An axis of names in an order, and the layers that write them beside it, long ones in several lines."""
    import altair as alt

    axis = alt.Axis(title=None, labels=False, grid=True, ticks=False)
    y = alt.Y(f"{field}:N", sort=order, scale=alt.Scale(domain=order), axis=axis)
    written: dict[float, list[dict[str, Any]]] = {}
    for name in order:
        lines = textwrap.wrap(name, NAMES)
        for at, line in enumerate(lines):
            down = LINE_HEIGHT * (at - (len(lines) - 1) / 2)
            written.setdefault(down, []).append({field: name, "line": line})
    # An axis puts the first line at the tick and all others below it.
    words: list[Any] = []
    for down, rows in written.items():
        mark: Any = alt.Chart(inline(rows)).mark_text(align="right", dy=down, color=MARK, fontSize=12)
        words.append(mark.encode(x=alt.value(-7), y=y, text="line:N"))
    return y, words
