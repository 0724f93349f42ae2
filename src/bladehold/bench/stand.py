"""Reading a thrust-stand run: a CSV with anybody's column names, mapped in the sheet's [bench] table."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from bladehold.quantity import KINDS, to_si
from bladehold.sheet.flying import Bench
from bladehold.sheet.listing import numbered_rows
from bladehold.sheet.problem import Problem, SheetError, first_few
from bladehold.sheet.reader import text_of

FloatArray = NDArray[np.float64]

_KINDS = {
    "rpm": "rotational speed",
    "thrust": "force",
    "torque": "torque",
    "power": "power",
    "voltage": "voltage",
    "temperature_column": "temperature",
    "pressure_column": "stress",
}
_NAME_AND_UNIT = re.compile(r"\s*(.*?)\s*[(\[]\s*([^()\[\]]+?)\s*[)\]]\s*")
_MOST_ROWS = 20_000


@dataclass(frozen=True)
class StandRun:
    """One run: arrays [N] in SI, NaN in a column that was not measured.

    speed rad/s; thrust N; torque N*m (of the shaft); power W (electric); voltage V; temperature K and
    pressure Pa, NaN where not measured row by row; line - of the file.
    """

    name: str
    speed: FloatArray
    thrust: FloatArray
    torque: FloatArray
    power: FloatArray
    voltage: FloatArray
    temperature: FloatArray
    pressure: FloatArray
    line: NDArray[np.int_]

    def only(self, keep: NDArray[np.bool_]) -> StandRun:
        """Return the run with some of its rows."""
        arrays = {name: value[keep] for name, value in vars(self).items() if isinstance(value, np.ndarray)}
        return StandRun(name=self.name, **arrays)


def load_stand(bench: Bench, folder: Path) -> StandRun:
    """Read the run a sheet's [bench] table names; its file is looked for beside the sheet.

    Arguments: bench - the table; folder - of the sheet. Errors: SheetError naming the key, column and line.
    """
    if bench.file is None or bench.rpm is None or bench.thrust is None:
        missing = next(key for key in ("file", "rpm", "thrust") if getattr(bench, key) is None)
        message = (
            f"is missing: a stand run needs file, rpm and thrust in [bench], here {missing} is not given"
        )
        raise SheetError([Problem("[bench]", None, f"bench.{missing}", message)])
    path = folder / bench.file
    header, rows = _table(text_of(path), str(path))
    faults: list[Problem] = []
    columns: dict[str, tuple[int, str]] = {}
    for key, kind in _KINDS.items():
        wanted = getattr(bench, key)
        if wanted is not None:
            try:
                columns[key] = _column(header, wanted, kind)
            except ValueError as error:
                faults.append(Problem(str(path), 1, f"bench.{key}", str(error)))
    if faults:
        raise SheetError(faults)
    return _run(path, columns, rows)


def _table(text: str, name: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """Header and numbered rows of a comma- or semicolon-separated text.

    Empty rows and # lines are left out.
    """
    header = next((line for line in text.splitlines() if not line.startswith("#")), "")
    mark = ";" if header.count(";") > header.count(",") else ","
    listed = numbered_rows(text, name, delimiter=mark)
    if len(listed) < 2:
        raise SheetError([Problem(name, None, "", "a run has a line of column names and a line per point")])
    if len(listed) > _MOST_ROWS:
        raise SheetError([Problem(name, None, "", f"more than {_MOST_ROWS} rows")])
    return listed[0][1], listed[1:]


def _column(header: list[str], wanted: str, kind: str) -> tuple[int, str]:
    """Place and unit of a column: "Thrust (kgf)" names a column so called, or one called "Thrust"."""
    match = _NAME_AND_UNIT.fullmatch(wanted)
    bare, unit = (
        (match.group(1), match.group(2)) if match else (wanted, "rpm" if kind == "rotational speed" else "")
    )
    units = KINDS[kind].units
    if unit not in units:
        raise ValueError(f'read "{wanted}": add the unit in brackets, one of {KINDS[kind].allowed}')
    for name in (wanted, bare):
        if name in header:
            return header.index(name), unit
    near = difflib.get_close_matches(wanted, header, n=1, cutoff=0.4)
    hint = f'; did you mean "{near[0]}"?' if near else ""
    raise ValueError(f'no column "{wanted}"{hint or "."} The file has: {", ".join(header)[:300]}')


def _run(path: Path, columns: dict[str, tuple[int, str]], rows: list[tuple[int, list[str]]]) -> StandRun:
    values: dict[str, list[float]] = {key: [] for key in columns}
    lines, faults = [], []
    for number, row in rows:
        found = {}
        for key, (place, unit) in columns.items():
            cell = row[place] if place < len(row) else ""
            try:
                found[key] = to_si(float(cell), _KINDS[key], unit)
                if not math.isfinite(found[key]):
                    raise ValueError
            except ValueError:
                faults.append(
                    Problem(
                        str(path), number, f"bench.{key}", f'read "{cell[:40]}": a plain number is wanted'
                    )
                )
        if len(found) == len(columns):
            lines.append(number)
            for key, value in found.items():
                values[key].append(value)
    if faults:
        raise SheetError(first_few(faults))
    unknown = np.full(len(lines), np.nan)
    arrays = {key: np.array(column) for key, column in values.items()}
    return StandRun(
        name=path.name,
        speed=arrays["rpm"],
        thrust=arrays["thrust"],
        torque=arrays.get("torque", unknown),
        power=arrays.get("power", unknown),
        voltage=arrays.get("voltage", unknown),
        temperature=arrays.get("temperature_column", unknown),
        pressure=arrays.get("pressure_column", unknown),
        line=np.array(lines, dtype=int),
    )
