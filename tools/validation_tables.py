"""Write docs/validation.md: every published figure the validation tests compare with ours.

Run it as `make validation`, or `python tools/validation_tables.py --check`, which writes nothing
and ends with 1 when the page no longer says what the tests find. The page is never edited by hand.
"""

from __future__ import annotations

import argparse
import json
import math
import subprocess
import sys
import tempfile
from itertools import groupby
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
PAGE = ROOT / "docs" / "validation.md"
# In the order of use.
ROOMS = (
    "air",
    "tables",
    "rotor",
    "blade",
    "joint",
    "power",
    "aircraft",
    "chance",
    "loss",
)  # in the order of use
OURS = 3  # column of our figure
FEWEST_DIGITS, MOST_DIGITS = 5, 9
NOISE = 1e-6  # relative; the rotor is solved to this, so another processor may differ by as much
NO_LINE = "(no line)"

Record = dict[str, Any]

HEAD = """# Validation

Every published figure below stands in the source named (or, where the source is a computation, comes from a
second one that shares no code with bladehold), beside what bladehold finds from the same inputs. The
tolerance is the rounding of the source unless the reason says otherwise. The tests that compare them are in
`tests/validation`, one file for each source; `make validation` writes this page from them, and `make test`
fails when the two differ.
"""


def page(records: list[Record]) -> str:
    """The page as Markdown, by room and source; records as `published` in tests/conftest.py keeps them."""
    return "\n".join(line for line, _ in _lines(records)) + "\n"


def differences(text: str, records: list[Record]) -> list[str]:
    """What a page says that the records do not, line by line; our figures may differ by noise only."""
    old, new = text.splitlines(), _lines(records)
    old += [NO_LINE] * (len(new) - len(old))
    new += [(NO_LINE, None)] * (len(old) - len(new))
    return [
        f"page  {line}\ntests {wanted}"
        for line, (wanted, record) in zip(old, new, strict=True)
        if line != wanted and not (record and _same_but_for_noise(line, wanted, record))
    ]


def _lines(records: list[Record]) -> list[tuple[str, Record | None]]:
    """The lines of the page, each with the record that it shows, if any."""
    lines: list[tuple[str, Record | None]] = [
        (text, None) for text in [*HEAD.splitlines(), "", _count(records)]
    ]
    ordered = sorted(records, key=lambda r: (ROOMS.index(r["room"]), r["source"].casefold()))
    for room, of_room in groupby(ordered, key=lambda r: r["room"]):
        lines += [("", None), (f"## {room}", None)]
        for source, of_source in groupby(of_room, key=lambda r: r["source"]):
            lines += [(text, None) for text in ("", f"### {source}", "", *_HEADER)]
            lines += [(_row(record), record) for record in of_source]
    return lines


_HEADER = (
    "| case | quantity | published | ours | tolerance | agrees | why this tolerance |",
    "| --- | --- | ---: | ---: | ---: | --- | --- |",
)


def _count(records: list[Record]) -> str:
    outside = sum(not record["agrees"] for record in records)
    agreeing = f"{len(records) - outside} of {len(records)} figures agree."
    if not outside:
        return agreeing
    return (
        f"{agreeing} The others are marked **no**, with the reason; they are not hidden by a wider tolerance."
    )


def _row(record: Record) -> str:
    cells = (
        record["case"],
        record["quantity"],
        f"{record['printed']:.10g}",
        f"{record['ours']:#.{_digits(record['printed'])}g}",
        record["tolerance"],
        "yes" if record["agrees"] else "**no**",
        record["why"],
    )
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def _digits(printed: float) -> int:
    """Figures to show of ours: one more than are printed, so that the difference can be seen."""
    significant = f"{abs(printed):.10g}".partition("e")[0].replace(".", "").lstrip("0")
    return min(max(len(significant) + 1, FEWEST_DIGITS), MOST_DIGITS)


def _same_but_for_noise(old: str, new: str, record: Record) -> bool:
    """Whether two rows differ only in our figure, and the old one is a rounding of it all the same."""
    before, after = old.split(" | "), new.split(" | ")
    if len(before) != len(after):
        return False
    shown, before[OURS] = before[OURS], after[OURS]
    try:
        missing = abs(float(shown) - record["ours"])
    except ValueError:
        return False
    size = abs(record["ours"])
    last_digit = 10.0 ** (math.floor(math.log10(size)) + 1 - _digits(record["printed"])) if size else 0.0
    return before == after and missing <= 0.5 * last_digit + NOISE * size


def _records() -> list[Record]:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "validation.json"
        command = [sys.executable, "-m", "pytest", "tests/validation", "-q", "--validation-json", str(file)]
        finished = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        if finished.returncode:
            sys.exit(f"{finished.stdout}{finished.stderr}\nThe validation tests must pass first.")
        records: list[Record] = json.loads(file.read_text(encoding="utf-8"))
    return records


def main() -> None:
    parser = argparse.ArgumentParser(description="Write docs/validation.md from the validation tests.")
    parser.add_argument("--check", action="store_true", help="write nothing, end with 1 when it is stale")
    check = parser.parse_args().check
    records = _records()
    old = PAGE.read_text(encoding="utf-8") if PAGE.exists() else ""
    stale = differences(old, records)
    if not stale:
        print(f"docs/validation.md is up to date: {len(records)} figures.")
    elif check:
        sys.exit("\n".join([*stale, "docs/validation.md is stale: run `make validation`"]))
    else:
        PAGE.write_text(page(records), encoding="utf-8")
        print(f"Wrote docs/validation.md: {len(records)} figures, {len(stale)} lines changed.")


if __name__ == "__main__":
    main()
