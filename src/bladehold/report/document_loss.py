"""The section of a document on what one failure does, in the pattern of a propeller's safety analysis."""

from __future__ import annotations

from collections.abc import Iterator

from bladehold.report.document import Block, Points, Words, table
from bladehold.report.loss import (
    CONTROL_HEADS,
    blade_words,
    control_cells,
    headline,
    remarks,
    sentences,
    state_cells,
    throw_cells,
)
from bladehold.study.consequence import HAZARDOUS, MAJOR, ConsequenceAnswer
from bladehold.study.release import BOUNDS

_STATE_HEADS = (
    "state",
    "unbalance, g mm",
    "force, N",
    "thrust lost",
    "torque lost",
    "moment, N·m",
    "angle, deg",
)
_THROW_HEADS = ("from", "leaves, m/s", "height, m", *(f"{bound}, m" for bound in BOUNDS), "strikes, J")
_TONES = {HAZARDOUS: "fails", MAJOR: "little"}


def loss_blocks(found: ConsequenceAnswer) -> Iterator[Block]:
    """Yield headline, what follows each failure, the states behind it, control, throws, residual risk."""
    yield Words(headline(found), "lead" if found.contained else "fails")
    yield Points(tuple(line.removeprefix("! ") for line in sentences(found)))
    rows = [
        (
            f"{row.member}: {row.how}",
            f"{row.effect}: {row.because}",
            blade_words(row),
            row.hover or "not known",
            row.noticed,
            row.lowers,
        )
        for row in found.rows
    ]
    heads = ("failure", "effect", "blade", "hover then", "how it is noticed", "what lowers it")
    tones = [_TONES.get(row.effect, "") for row in found.rows]
    yield table("Every failure that is foreseen, the worst first", heads, rows, (), tones)
    yield table("States of a blade, in hover", _STATE_HEADS, state_cells(found), _numbers(_STATE_HEADS))
    if found.control is not None:
        cells = control_cells(found.control)
        yield table("A rotor lost: how far hover lies inside what is left", CONTROL_HEADS, cells, (2, 3))
    cells = throw_cells(found.release)
    yield table("A blade that leaves: where it lands", _THROW_HEADS, cells, _numbers(_THROW_HEADS))
    yield Words("What is left of risk", "lead")
    yield Points(tuple(found.rest), "caution")
    yield Points(tuple(remarks(found)))


def _numbers(heads: tuple[str, ...]) -> range:
    """All columns but the first."""
    return range(1, len(heads))
