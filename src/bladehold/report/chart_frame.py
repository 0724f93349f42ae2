"""What the charts of a rotor share: title and notes that fit, the cautions, data written into the chart."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any

from bladehold.report.render import GRID, INK, MUTED
from bladehold.study.words import CAUTIONS, INVENTED

TITLE_SIZE, TITLE_SHARE = 17, 0.62  # of the title: pixels of its letters, letters over those of a note


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
        chart.properties(title=heading, padding=16)
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
